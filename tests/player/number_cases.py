"""Attempts at numbers, of definite integrals and of evaluated antiderivatives."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from qbank.items.item import Item, Numeric
from qbank.writers.numbers import decimal_text
from tests.marking.markers import marker_of
from tests.player.case import Case, Kind, marks_of, reasons, texts, typed

__all__ = ["MALFORMED", "number", "some_of"]

#: none of these is a decimal number, and none may score
MALFORMED = ("1/8", "ln 2", "0,125", "abc", " ")

#: beyond a bound by this part of a unit of the last figure
_BEYOND = Fraction(1, 10**6)


def number(item: Item, response: Numeric, *, every: bool) -> Iterator[Case]:
    """The rounded value, the bounds and just beyond them, the next numbers, slips, nothing, and what is no number.

    Args:
        item: the item.
        response: what is accepted.
        every: both bounds, both neighbours and each malformed text.
    """
    marker = marker_of(item)
    right, unit = Fraction(response.decimal), response.upper - response.lower
    bounds = ((response.lower, -1), (response.upper, 1))
    attempts: list[tuple[Kind, str]] = [("right", response.decimal)]
    for place, (bound, outwards) in enumerate(bounds):
        if every or place == len(response.slips) % 2:
            attempts += [
                ("right", decimal_text(bound)),
                ("near miss", decimal_text(bound + outwards * unit * _BEYOND)),
                ("near miss", decimal_text(right + outwards * unit)),
            ]
    attempts.append(("wrong", decimal_text(-right)))
    for kind, text in attempts:
        mark = marker.mark(text)
        told = "Right." if mark.outcome == "correct" else ""
        assert (kind == "right") == (mark.outcome == "correct"), text
        yield Case(
            item=item,
            kind=kind,
            answers=typed(text),
            score=marks_of(mark, item),
            shows=(told, *reasons(item)),
            hides=() if told else ("Right.",),
        )
    # of an evaluation the last slip is one with the given value
    for slip in response.slips[:1] if item.through is None else (response.slips[0], response.slips[-1]):
        # between two typed figures the middle of the bounds may fall; it is inside them all the same
        middle = decimal_text((slip.lower + slip.upper) / 2)
        yield Case(
            item=item,
            kind="wrong",
            answers=typed(middle),
            score=marks_of(marker.mark(middle), item),
            shows=(*texts(slip.feedback), *reasons(item)),
        )
    unread = ("No number was read.",)
    yield Case(item=item, kind="blank", answers=(), score=0, shows=unread, hides=reasons(item))
    for text in some_of(MALFORMED, item, every=every):
        # a package asks for a decimal; our marker would read 1/8
        yield Case(item=item, kind="malformed", answers=typed(text), score=0, hides=("Right.",))


def some_of(malformed: tuple[str, ...], item: Item, *, every: bool) -> tuple[str, ...]:
    """All the texts, or one of them by the item's name, so that all are met over many items."""
    return malformed if every else (malformed[sum(map(ord, item.identifier)) % len(malformed)],)
