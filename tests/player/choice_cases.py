"""Attempts at choices, of one answer and of several."""

from __future__ import annotations

from collections.abc import Iterator

from qbank.items.item import Choice, Item, SeveralAnswers
from qbank.marking import SeveralMarker
from qbank.maths.notation import plain
from tests.marking.markers import marker_of
from tests.player.case import Case, Kind, chosen, marks_of, reasons, sent, texts

__all__ = ["NONE", "choice", "several"]

#: no item has so many options
NONE = "Z"


def choice(item: Item, response: Choice, *, every: bool) -> Iterator[Case]:
    """Each option, scored as what it says when typed; nothing; an option that does not exist.

    Args:
        item: the item.
        response: its options.
        every: all wrong options, and not only the first.
    """
    marker = marker_of(item)
    wrong = [option for option in response.options if not option.is_key]
    for option in (response.key, *wrong[: None if every else 1]):
        yield Case(
            item=item,
            kind="right" if option.is_key else "wrong",
            answers=chosen(option.identifier),
            score=marks_of(marker.mark(plain(option.answer, item.conventions)), item),
            shows=(*texts(option.feedback), *reasons(item)),
        )
    hidden = texts(response.key.feedback)
    yield Case(item=item, kind="blank", answers=(), score=0, hides=(*hidden, *reasons(item)))
    yield Case(item=item, kind="malformed", answers=sent(NONE), score=0, shows=reasons(item))


def several(item: Item, response: SeveralAnswers) -> Iterator[Case]:
    """All right options, some of them, right ones with wrong ones, wrong ones, all options, none, one that does not exist."""
    marker = SeveralMarker(response, conventions=item.conventions)
    right = [option for option in response.options if option.is_key]
    wrong = [option for option in response.options if not option.is_key]
    everything = [*right, *wrong]
    attempts: tuple[tuple[Kind, list[str]], ...] = (
        ("right", [option.identifier for option in right]),
        ("partial", [right[0].identifier]),
        ("partial", [option.identifier for option in (*right, wrong[0])]),
        ("wrong", [right[0].identifier, wrong[-1].identifier]),
        ("wrong", [option.identifier for option in wrong[:2]]),
        ("wrong", [option.identifier for option in everything]),
        ("malformed", [NONE]),
        ("malformed", [right[0].identifier, NONE]),
    )
    for kind, letters in attempts:
        told = tuple(
            text for option in everything if option.identifier in letters for text in texts(option.feedback)
        )
        untold = {text for option in everything for text in texts(option.feedback)} - set(told)
        yield Case(
            item=item,
            kind=kind,
            answers=chosen(*letters) if NONE not in letters else sent(tuple(letters)),
            score=marks_of(marker.mark(letters), item),
            shows=(*told, *reasons(item)),
            hides=tuple(sorted(text for text in untold if text.strip() not in " ".join(told))),
        )
    hidden = tuple(text for option in right for text in texts(option.feedback))
    yield Case(item=item, kind="blank", answers=(), score=0, hides=(*hidden, *reasons(item)))
