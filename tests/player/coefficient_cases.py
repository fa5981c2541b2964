"""Attempts at items with coefficients: right in more than one guise, near misses, swapped, blank, malformed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from qbank.items.item import Coefficients, FractionEntry, Item
from qbank.marking.coefficients import CoefficientsMarker
from qbank.writers.numbers import decimal_text
from qbank.writers.qti.coefficients import denominator_name, number_name, numerator_name

__all__ = ["Attempt", "attempts"]

#: kind, what is typed in which box, the marks, a text that must be seen
Attempt = tuple[str, tuple[tuple[str, str], ...], int, str]

_NEAR = Fraction(1, 1000)


def attempts(item: Item, response: Coefficients, malformed: Iterable[str]) -> Iterator[Attempt]:
    """What is tried, with the marks that the exact marker gives.

    Args:
        item: the item.
        response: its form.
        malformed: texts that are no number.
    """
    values = response.values
    yield _attempt("right", item, response, values)
    if isinstance(response.entry, FractionEntry):
        yield _attempt("right", item, response, values, times=-2)
    near = (values[0] + _NEAR, *values[1:])
    if isinstance(response.entry, FractionEntry):
        near = tuple(value.limit_denominator(response.entry.bound) for value in near)
    else:
        near = (values[0] + 2 * response.entry.margin + _NEAR, *values[1:])
    yield _attempt("near miss", item, response, near)
    if len(set(values)) > 1:
        yield _attempt("swapped", item, response, values[1:] + values[:1])
    for relation in response.relations:
        for many in (Fraction(1), Fraction(-3, 2)):
            moved = tuple(v + many * one for v, one in zip(values, relation.coefficients, strict=True))
            yield _attempt("dependent", item, response, moved)
    for slip in response.slips[:1]:
        yield _attempt("wrong", item, response, slip.values)
    yield _attempt("wrong", item, response, tuple(value + 1 for value in values))
    yield "blank", (), 0, "Not all boxes could be read."
    right = _typed(response, values, 1)
    each = len(right) // len(values)
    # a reader was seen to take a blank for 0, so a box is taken in which 0 would be wrong
    place = next(place for place, value in enumerate(values) if value)
    part = response.part((*values[:place], None, *values[place + 1 :]))
    for box in range(place * each, (place + 1) * each):
        rest = (*right[:box], *right[box + 1 :])
        yield "blank", rest, part, _told(part)
        for text in malformed:
            yield "malformed", ((right[box][0], text), *rest), part, _told(part)


def _told(part: int) -> str:
    return "Some of the numbers are right" if part else "Not all boxes could be read."


def _attempt(
    kind: str, item: Item, response: Coefficients, values: tuple[Fraction, ...], *, times: int = 1
) -> Attempt:
    typed = {letter.name: str(value) for letter, value in zip(response.letters, values, strict=True)}
    mark = CoefficientsMarker(response, item.marks, conventions=item.conventions).mark(typed)
    marks = round((mark.score or 0) * item.marks)
    if mark.slip is not None:
        told = mark.message.partition(". ")[2]
    else:
        told = "Right." if mark.outcome == "correct" else mark.message
    return kind, _typed(response, values, times), marks, told


def _typed(response: Coefficients, values: tuple[Fraction, ...], times: int) -> tuple[tuple[str, str], ...]:
    boxes: list[tuple[str, str]] = []
    for letter, value in zip(response.letters, values, strict=True):
        if isinstance(response.entry, FractionEntry):
            boxes.append((numerator_name(letter.name), str(value.numerator * times)))
            boxes.append((denominator_name(letter.name), str(value.denominator * times)))
        else:
            boxes.append((number_name(letter.name), decimal_text(round(value, response.entry.places))))
    return tuple(boxes)
