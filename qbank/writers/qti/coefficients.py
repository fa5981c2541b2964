"""Response processing of coefficients: marked by differentiation, in any system that runs response processing.

For the form c1 g1 + ... + cn gn the derivatives g_j'(x_i) and the integrand f(x_i) stand in the file as literals. With
c_j = p_j / q_j and Q = q_1 ... q_n, the remainder R_i = c_1 g_1'(x_i) + ... + c_n g_n'(x_i) - f(x_i) is small exactly when

    Q (Q R_i) + T Q^2 >= 0   and   Q (Q R_i) - T Q^2 <= 0

where Q R_i is a sum of products, so that nothing is divided and a denominator may be negative. A number counts only
after `not null` and within bounds of its own, since readers were seen to take "1/8" for 1 inside a product. One was
also seen to take a blank typed into a box for 0, which nothing here can stop: where 0 is the right numerator, such a
blank counts as 0 there; no other number is ever got by leaving something out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations

from lxml import etree

from qbank.items.item import Coefficients, DecimalEntry, FractionEntry, Item, SamplePoint
from qbank.writers.numbers import decimal_text
from qbank.writers.qti.elements import add
from qbank.writers.qti.names import FEEDBACK, SCORE, SOLUTION

__all__ = [
    "PART",
    "add_coefficients_processing",
    "denominator_name",
    "number_name",
    "numerator_name",
    "one_test_to_a_line",
]

_Element = etree._Element  # noqa: SLF001 - the public functions of lxml return it

#: the value of FEEDBACK when some coefficients are right alone
PART = "PART"
#: whole numbers multiplied and subtracted are equal, or at least 1 apart
_EQUAL = "0.000001"
#: beyond what anybody types, for decimals
_WIDE = Fraction(10**6)


def number_name(letter: str) -> str:
    """The response variable of a coefficient that is a decimal."""
    return f"{letter}_NUMBER"


def numerator_name(letter: str) -> str:
    """The response variable of the upper box of a coefficient."""
    return f"{letter}_NUMERATOR"


def denominator_name(letter: str) -> str:
    """The response variable of the lower box of a coefficient."""
    return f"{letter}_DENOMINATOR"


def add_coefficients_processing(condition: _Element, item: Item, response: Coefficients, shown: str) -> None:
    """Append the branches of a response condition.

    Args:
        condition: where they go.
        item: for its marks.
        response: the form.
        shown: the value of SOLUTION once the worked solution may be seen.
    """
    read = add(condition, "qti-response-if")
    every = add(read, "qti-and")
    for place in range(len(response.letters)):
        _readable(every, response, place)
    _decided(add(read, "qti-response-condition"), item, response, shown)
    for places, marks in _subsets(response):
        branch = add(condition, "qti-response-else-if")
        every = add(branch, "qti-and")
        for place in places:
            _readable(every, response, place)
            _is(every, response, place, response.values[place])
        _set(branch, marks, PART, shown)
    _set(add(condition, "qti-response-else"), 0, "UNREAD", None)


def one_test_to_a_line(top: _Element) -> None:
    """Take the line ends inside each part of an `and` out again: they are a third of such a file."""
    for every in top.iter("{*}qti-and", "{*}and"):
        for part in every:
            for element in part.iterdescendants():
                element.tail = None
                if len(element):
                    element.text = None
            part.text = None


def _decided(condition: _Element, item: Item, response: Coefficients, shown: str) -> None:
    """The branches for numbers that have all been read."""
    right = add(condition, "qti-response-if")
    _all_right(add(right, "qti-and"), response)
    _set(right, item.marks, "RIGHT", shown)
    for number, slip in enumerate(response.slips):
        branch = add(condition, "qti-response-else-if")
        every = add(branch, "qti-and")
        for place, value in enumerate(slip.values):
            _is(every, response, place, value)
        _set(branch, response.part(slip.values), f"SLIP{number + 1}", shown)
    for places, marks in _subsets(response):
        branch = add(condition, "qti-response-else-if")
        every = add(branch, "qti-and")
        for place in places:
            _is(every, response, place, response.values[place])
        _set(branch, marks, PART, shown)
    _set(add(condition, "qti-response-else"), 0, "WRONG", shown)


def _subsets(response: Coefficients) -> Iterator[tuple[tuple[int, ...], int]]:
    """Each set of coefficients that has marks without the others, the largest sets first."""
    counted = [place for place, value in enumerate(response.values) if value]
    for size in range(min(len(response.part_marks) - 1, len(counted)), 0, -1):
        if size < len(response.values) and response.part_marks[size]:
            for places in combinations(counted, size):
                yield places, response.part_marks[size]


def _all_right(every: _Element, response: Coefficients) -> None:
    if isinstance(response.entry, DecimalEntry):
        for place, value in enumerate(response.values):
            _is(every, response, place, value)
        return
    below = [denominator_name(letter.name) for letter in response.letters]
    tolerance = decimal_text(response.tolerance)
    for point in response.points:
        for comparison, size in (("qti-gte", tolerance), ("qti-lte", "-" + tolerance)):
            sides = add(every, comparison)
            both = add(sides, "qti-sum")
            _variables(_remainder(add(both, "qti-product"), response, point), below)
            margin = add(both, "qti-product")
            _literal(margin, size)
            _variables(margin, (*below, *below))
            _literal(sides, "0")


def _remainder(product: _Element, response: Coefficients, point: SamplePoint) -> _Element:
    """Q R_i as the first factor of a product."""
    total = add(product, "qti-sum")
    names = [letter.name for letter in response.letters]
    for name, slope in zip(names, point.slopes, strict=True):
        term = add(total, "qti-product")
        _literal(term, slope)
        _variables(term, [numerator_name(name), *(denominator_name(n) for n in names if n != name)])
    last = add(total, "qti-product")
    _literal(last, _negated(point.value))
    _variables(last, [denominator_name(name) for name in names])
    return product


def _negated(decimal: str) -> str:
    return decimal[1:] if decimal.startswith("-") else f"-{decimal}"


def _is(every: _Element, response: Coefficients, place: int, value: Fraction) -> None:
    """One coefficient, which has been read, is that number."""
    name = response.letters[place].name
    if isinstance(response.entry, DecimalEntry):
        margin = response.entry.margin
        # bounds are rounded inwards, so that no number outside them is let in
        for comparison, bound in (
            ("qti-gte", decimal_text(value - margin, "up")),
            ("qti-lte", decimal_text(value + margin, "down")),
        ):
            sides = add(every, comparison)
            _variables(sides, [number_name(name)])
            _literal(sides, bound)
        return
    for comparison, bound in (("qti-gte", "-" + _EQUAL), ("qti-lte", _EQUAL)):
        sides = add(every, comparison)
        difference = add(sides, "qti-sum")
        for variable, factor in (
            (numerator_name(name), value.denominator),
            (denominator_name(name), -value.numerator),
        ):
            term = add(difference, "qti-product")
            _variables(term, [variable])
            _literal(term, str(factor))
        _literal(sides, bound)


def _readable(every: _Element, response: Coefficients, place: int) -> None:
    """One coefficient is given as the boxes want it."""
    name = response.letters[place].name
    if isinstance(response.entry, FractionEntry):
        above, below = numerator_name(name), denominator_name(name)
        for variable in (above, below):
            _within(every, variable, str(response.entry.bound))
        square = add(every, "qti-gte")
        _variables(add(square, "qti-product"), [below, below])
        _literal(square, "1")
        return
    wide = _WIDE
    while any(
        abs(value) >= wide for value in (*response.values, *(v for s in response.slips for v in s.values))
    ):
        wide *= 10
    _within(every, number_name(name), decimal_text(wide))


def _within(every: _Element, variable: str, bound: str) -> None:
    _variables(add(add(every, "qti-not"), "qti-is-null"), [variable])
    for comparison, limit in (("qti-gte", "-" + bound), ("qti-lte", bound)):
        sides = add(every, comparison)
        _variables(sides, [variable])
        _literal(sides, limit)


def _variables(parent: _Element, names: Sequence[str]) -> None:
    for name in names:
        add(parent, "qti-variable", {"identifier": name})


def _literal(parent: _Element, text: str) -> None:
    add(parent, "qti-base-value", {"base-type": "float"}, text)


def _set(branch: _Element, marks: int, feedback: str, shown: str | None) -> None:
    settings = [(SCORE, "float", str(marks)), (FEEDBACK, "identifier", feedback)]
    if shown is not None:
        settings.append((SOLUTION, "identifier", shown))
    for outcome, base_type, literal in settings:
        target = add(branch, "qti-set-outcome-value", {"identifier": outcome})
        add(target, "qti-base-value", {"base-type": base_type}, literal)
