"""Attempts at items with coefficients: right in more than one guise, near misses, swapped, blank, malformed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from qbank.items.item import Coefficients, FractionEntry, Item
from qbank.marking import CoefficientsMarker
from qbank.writers.numbers import decimal_text
from qbank.writers.qti.coefficients import denominator_name, number_name, numerator_name
from tests.player.case import Answer, Case, Kind, marks_of, reasons
from tests.player.number_cases import MALFORMED, some_of

__all__ = ["coefficients"]

_NEAR = Fraction(1, 1000)
_UNREAD = "Not all boxes could be read."

_Values = tuple[Fraction, ...]


def coefficients(item: Item, response: Coefficients, *, every: bool) -> Iterator[Case]:
    """What is tried, scored by the exact marker, which is given what stands in the boxes.

    Args:
        item: the item.
        response: its form.
        every: each coefficient missed nearly, and each malformed text.
    """
    form = _Form(item, response)
    values = response.values
    yield form.case("right", values)
    if isinstance(response.entry, FractionEntry):
        yield form.case("right", values, times=-2)
    for place in range(len(values) if every else 1):
        yield form.case("near miss", (*values[:place], form.near(values[place]), *values[place + 1 :]))
    if len(set(values)) > 1:
        yield form.case("swapped", values[1:] + values[:1])
    for relation in response.relations:
        for many in (Fraction(1), Fraction(-3, 2)):
            yield form.case(
                "dependent",
                tuple(v + many * one for v, one in zip(values, relation.coefficients, strict=True)),
            )
    for slip in response.slips[: None if every else 1]:
        yield form.case("wrong", slip.values)
    yield form.case("wrong", tuple(value + 1 for value in values))
    yield Case(item=item, kind="blank", answers=(), score=0, shows=(_UNREAD,), hides=reasons(item))
    # a reader was seen to take a blank for 0, so a box is taken in which 0 would be wrong
    place = next(place for place, value in enumerate(values) if value)
    boxes = form.boxes(values)
    for box in form.boxes_of(place):
        rest = {name: text for name, text in boxes.items() if name != box}
        yield form.of("blank", rest)
        for text in some_of(MALFORMED, item, every=every):
            yield form.of("malformed", rest, malformed={box: text})


class _Form:
    """The boxes of an item, and what the marker makes of them."""

    def __init__(self, item: Item, response: Coefficients) -> None:
        self._item, self._response = item, response
        self._marker = CoefficientsMarker(response, item.marks, conventions=item.conventions)

    def near(self, value: Fraction) -> Fraction:
        """A number that can be typed, and lies a thousandth away (of a decimal, beyond what is accepted)."""
        entry = self._response.entry
        if isinstance(entry, FractionEntry):
            return (value + _NEAR).limit_denominator(entry.bound)
        return value + 2 * entry.margin + _NEAR

    def boxes_of(self, place: int) -> tuple[str, ...]:
        letter = self._response.letters[place].name
        if isinstance(self._response.entry, FractionEntry):
            return numerator_name(letter), denominator_name(letter)
        return (number_name(letter),)

    def boxes(self, values: _Values, times: int = 1) -> dict[str, str]:
        """What is typed for some values; of fractions, with both numbers multiplied."""
        typed: dict[str, str] = {}
        for place, value in enumerate(values):
            names = self.boxes_of(place)
            if isinstance(self._response.entry, FractionEntry):
                texts = [str(part * times) for part in value.as_integer_ratio()]
            else:
                texts = [decimal_text(round(value, self._response.entry.places))]
            typed.update(zip(names, texts, strict=True))
        return typed

    def case(self, kind: Kind, values: _Values, *, times: int = 1) -> Case:
        return self.of(kind, self.boxes(values, times))

    def of(self, kind: Kind, boxes: Mapping[str, str], malformed: Mapping[str, str] | None = None) -> Case:
        """An attempt; the marker sees the coefficients whose boxes are all there, and no malformed text."""
        seen = {}
        for place, letter in enumerate(self._response.letters):
            names = self.boxes_of(place)
            if all(name in boxes for name in names):
                seen[letter.name] = "/".join(f"({boxes[name]})" for name in names)
        mark = self._marker.mark(seen)
        told, solution = self._told(mark.message, mark.slip), reasons(self._item)
        shows, hides = ((*told, *solution), ()) if mark.score is not None else ((_UNREAD,), solution)
        if malformed is not None:
            # how much of it a reader takes for a number is the reader's affair
            shows, hides = (), ("Right.",)
        typed = {**boxes, **(malformed or {})}
        answers = tuple(Answer(name, text) for name, text in typed.items())
        score = marks_of(mark, self._item)
        return Case(item=self._item, kind=kind, answers=answers, score=score, shows=shows, hides=hides)

    def _told(self, message: str, slip: str | None) -> tuple[str, ...]:
        return (message.partition(". ")[2] or message,) if slip is not None else (message,)
