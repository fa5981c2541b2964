"""Attempts at workings with gaps to be filled: every form in which a number is right, wrong ones, some, none, and no number."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from qbank.items.item import Item, WorkingTask
from qbank.items.tasks.asked import Asked, TaskGap
from qbank.marking import TaskMarker
from qbank.maths.expression import as_fraction
from qbank.maths.notation import plain
from qbank.writers.qti.names import RESPONSE
from tests.player.case import Answer, Case, Kind, hidden_reasons, marks_of, reasons, texts

__all__ = ["gapped"]


def gapped(item: Item, response: WorkingTask) -> Iterator[Case]:
    """The attempts, scored by our marker; where an expression is asked for, a person scores.

    Args:
        item: the item.
        response: its questions, of which some are gaps.
    """
    by_person = any(one.letter is not None for one in response.gaps)
    right = {one.identifier: _right(one, item) for one in response.questions}
    wrong = {one.identifier: _wrong(one, item) for one in response.questions}
    first, *_ = response.gaps
    attempts: list[tuple[Kind, Mapping[str, str]]] = [("right", right), ("wrong", wrong)]
    if first.letter is None:
        value = as_fraction(first.value)
        assert value is not None
        forms = [f"{right[first.identifier]} ", f"{2 * value.numerator}/{2 * value.denominator}"]
        attempts += [("right", {**right, first.identifier: form}) for form in forms]
        near = [f"{value.numerator + 1}/{value.denominator}", str(-value), f"{right[first.identifier]}1"]
        kind: Kind = "partial" if len(right) > 1 else "near miss"
        attempts += [(kind, {**right, first.identifier: form}) for form in near]
    for one in response.questions:
        if len(right) > 1:
            attempts.append(("partial", {one.identifier: right[one.identifier]}))
    malformed: list[Mapping[str, str]] = [{first.identifier: text} for text in ("(", "x", "1/0", "0,,5")]
    attempts += [("malformed", given) for given in malformed]
    marker = TaskMarker(response, conventions=item.conventions)
    for attempt, given in attempts:
        yield Case(
            item=item,
            kind=attempt,
            answers=tuple(
                Answer(_variable(response, name), text if _is_gap(response, name) else (text,))
                for name, text in given.items()
            ),
            score=None if by_person else marks_of(marker.mark(given), item),
            shows=(*_told(response, given, right), *reasons(item)),
        )
    score = None if by_person else 0
    yield Case(item=item, kind="blank", answers=(), score=score, hides=hidden_reasons(item))


def _told(response: WorkingTask, given: Mapping[str, str], right: Mapping[str, str]) -> Iterator[str]:
    for gap in response.gaps:
        if gap.identifier in given and gap.letter is not None:
            yield from texts(gap.wrong)
        elif given.get(gap.identifier) == right[gap.identifier]:
            yield from texts(gap.right)


def _is_gap(response: WorkingTask, name: str) -> bool:
    return any(one.identifier == name for one in response.gaps)


def _right(asked: Asked, item: Item) -> str:
    return plain(asked.value, item.conventions) if isinstance(asked, TaskGap) else asked.key.identifier


def _wrong(asked: Asked, item: Item) -> str:
    if isinstance(asked, TaskGap):
        return f"{plain(asked.value, item.conventions)} + 1" if asked.letter is None else "1"
    return next(option.identifier for option in asked.options if not option.right)


def _variable(response: WorkingTask, question: str) -> str:
    return RESPONSE if len(response.questions) == 1 else f"{RESPONSE}_{question}"
