"""What each item must do in a browser: answered right, wrong, not at all, and with what is no answer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import assert_never

from qbank.items.item import (
    Choice,
    Coefficients,
    FractionEntry,
    FreeExpression,
    Item,
    Matching,
    Numeric,
    SeveralAnswers,
    WorkingTask,
)
from qbank.maths.notation import plain
from tests.marking.markers import marker_of
from tests.player.case import Case, Kind, reasons, texts, typed
from tests.player.choice_cases import choice, several
from tests.player.coefficient_cases import coefficients
from tests.player.gap_cases import gapped
from tests.player.matching_cases import matching
from tests.player.number_cases import number
from tests.player.task_cases import task

__all__ = ["cases_of", "every_case", "sort_of"]


def every_case(items: Iterable[Item]) -> Iterator[Case]:
    """The attempts at some items: every one at the first of each sort, and one or more of each kind at the others."""
    met = set()
    for item in items:
        sort = sort_of(item), item.technique if item.form == "choice" else None
        yield from cases_of(item, every=sort not in met)
        met.add(sort)


def sort_of(item: Item) -> str:
    """The row of the table: items of one sort have response processing of one shape."""
    match item.response:
        case Coefficients(relations=relations) if relations:
            return "coefficients, dependent"
        case Coefficients(entry=entry):
            return f"coefficients, {'fractions' if isinstance(entry, FractionEntry) else 'decimals'}"
        case WorkingTask(gaps=gaps) if gaps:
            return f"{item.form}, {'expressions' if any(one.letter for one in gaps) else 'numbers'} typed"
        case Matching(shows=shows):
            return f"matching, {shows}"
        case _:
            return item.form


def cases_of(item: Item, *, every: bool) -> Iterator[Case]:
    """The attempts at an item.

    Args:
        item: the item.
        every: also those that are much like another.
    """
    match item.response:
        case Choice():
            yield from choice(item, item.response, every=every)
        case SeveralAnswers():
            yield from several(item, item.response)
        case Matching():
            yield from matching(item, item.response)
        case Numeric():
            yield from number(item, item.response, every=every)
        case Coefficients():
            yield from coefficients(item, item.response, every=every)
        case WorkingTask(gaps=gaps) if gaps:
            yield from gapped(item, item.response)
        case WorkingTask():
            yield from task(item, item.response, every=every)
        case FreeExpression():
            yield from _free_expression(item, item.response)
        case _:
            assert_never(item.response)


def _free_expression(item: Item, response: FreeExpression) -> Iterator[Case]:
    """A person gives the score: none is set, what was typed is kept as typed, and our marker can mark it."""
    marker, hidden = marker_of(item), texts(response.rubric)
    key = plain(item.key, item.conventions)
    attempts: tuple[tuple[Kind, str, str], ...] = (
        ("right", key if item.asks_for_value else f"{key} + C", "correct"),
        ("wrong", f"2({key})", "incorrect"),
        ("malformed", f"({key}", "unreadable"),
    )
    for kind, text, outcome in attempts:
        assert marker.mark(text).outcome == outcome, text
        shown = reasons(item)
        yield Case(item=item, kind=kind, answers=typed(text), score=None, shows=shown, hides=hidden)
    yield Case(item=item, kind="blank", answers=(), score=None, hides=(*hidden, *reasons(item)))
