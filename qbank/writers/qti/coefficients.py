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

from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import cache, lru_cache, partial
from itertools import chain, combinations, count
from typing import TypeAlias

from qbank.items.item import Coefficients, DecimalEntry, FractionEntry, Item, SamplePoint
from qbank.writers.formulas import AS_MATHML
from qbank.writers.numbers import decimal_text
from qbank.writers.qti.arithmetic import Words, add_all, words_of
from qbank.writers.qti.elements import QtiElement, add
from qbank.writers.qti.generation import Generation
from qbank.writers.qti.names import FEEDBACK, SCORE, SOLUTION
from qbank.writers.tree import Element, lasting

__all__ = [
    "PART",
    "add_coefficients_processing",
    "denominator_name",
    "number_name",
    "numerator_name",
]

#: the tests whether the coefficient at a place is a number
_Tests: TypeAlias = Callable[[int, Fraction], tuple[bytes, ...]]

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


def add_coefficients_processing(
    condition: QtiElement, item: Item, response: Coefficients, shown: str
) -> None:
    """Append the branches of a response condition.

    Args:
        condition: where they go.
        item: for its marks.
        response: the form.
        shown: the value of SOLUTION once the worked solution may be seen.
    """
    words = words_of(condition)
    # most slips have some coefficients right, and each test is written once
    tests = cache(partial(_tests, words, response))
    readable = [[*_readable(words, response, place)] for place in range(len(response.letters))]
    read = add(condition, "qti-response-if")
    add_all(read, chain.from_iterable(readable))
    _decided(add(read, "qti-response-condition"), item, response, tests, shown)
    for places, marks in _subsets(response):
        branch = add(condition, "qti-response-else-if")
        right = (test for at in places for test in (*readable[at], *tests(at, response.values[at])))
        add_all(branch, right)
        _set(branch, marks, PART, shown)
    _set(add(condition, "qti-response-else"), 0, "UNREAD", None)


def _decided(condition: QtiElement, item: Item, response: Coefficients, tests: _Tests, shown: str) -> None:
    """The branches for numbers that have all been read."""
    words = words_of(condition)
    right = add(condition, "qti-response-if")
    add_all(right, _all_right(words, response, tests))
    _set(right, item.marks, "RIGHT", shown)
    for number, slip in enumerate(response.slips):
        branch = add(condition, "qti-response-else-if")
        add_all(branch, chain.from_iterable(map(tests, count(), slip.values)))
        _set(branch, response.part(slip.values), f"SLIP{number + 1}", shown)
    for places, marks in _subsets(response):
        branch = add(condition, "qti-response-else-if")
        add_all(branch, chain.from_iterable(tests(place, response.values[place]) for place in places))
        _set(branch, marks, PART, shown)
    _set(add(condition, "qti-response-else"), 0, "WRONG", shown)


def _subsets(response: Coefficients) -> Iterator[tuple[tuple[int, ...], int]]:
    """Each set of coefficients that has marks without the others, the largest sets first."""
    counted = [place for place, value in enumerate(response.values) if value]
    for size in range(min(len(response.part_marks) - 1, len(counted)), 0, -1):
        if size < len(response.values) and response.part_marks[size]:
            for places in combinations(counted, size):
                yield places, response.part_marks[size]


def _all_right(words: Words, response: Coefficients, tests: _Tests) -> Iterator[bytes]:
    if isinstance(response.entry, DecimalEntry):
        yield from chain.from_iterable(map(tests, count(), response.values))
        return
    below = [denominator_name(letter.name) for letter in response.letters]
    tolerance = decimal_text(response.tolerance)
    for point in response.points:
        remainder = words.apply("qti-product", _remainder(words, response, point), words.variables(below))
        for comparison, size in (("qti-gte", tolerance), ("qti-lte", "-" + tolerance)):
            margin = words.apply("qti-product", words.literal(size), words.variables((*below, *below)))
            yield words.apply(comparison, words.apply("qti-sum", remainder, margin), words.literal("0"))


def _remainder(words: Words, response: Coefficients, point: SamplePoint) -> bytes:
    """Q R_i."""
    names = [letter.name for letter in response.letters]
    terms = []
    for name, slope in zip(names, point.slopes, strict=True):
        factors = [numerator_name(name), *(denominator_name(n) for n in names if n != name)]
        terms.append(words.apply("qti-product", words.literal(slope), words.variables(factors)))
    factors = [denominator_name(name) for name in names]
    terms.append(words.apply("qti-product", words.literal(_negated(point.value)), words.variables(factors)))
    return words.apply("qti-sum", *terms)


def _negated(decimal: str) -> str:
    return decimal[1:] if decimal.startswith("-") else f"-{decimal}"


def _tests(words: Words, response: Coefficients, place: int, value: Fraction) -> tuple[bytes, ...]:
    """Whether one coefficient, which has been read, is that number."""
    return tuple(_is(words, response, place, value))


def _is(words: Words, response: Coefficients, place: int, value: Fraction) -> Iterator[bytes]:
    name = response.letters[place].name
    if isinstance(response.entry, DecimalEntry):
        margin = response.entry.margin
        # bounds are rounded inwards, so that no number outside them is let in
        for comparison, bound in (
            ("qti-gte", decimal_text(value - margin, "up")),
            ("qti-lte", decimal_text(value + margin, "down")),
        ):
            yield words.apply(comparison, words.variables([number_name(name)]), words.literal(bound))
        return
    terms = [
        words.apply("qti-product", words.variables([variable]), words.literal(str(factor)))
        for variable, factor in (
            (numerator_name(name), value.denominator),
            (denominator_name(name), -value.numerator),
        )
    ]
    difference = words.apply("qti-sum", *terms)
    for comparison, bound in (("qti-gte", "-" + _EQUAL), ("qti-lte", _EQUAL)):
        yield words.apply(comparison, difference, words.literal(bound))


def _readable(words: Words, response: Coefficients, place: int) -> Iterator[bytes]:
    """One coefficient is given as the boxes want it."""
    name = response.letters[place].name
    if isinstance(response.entry, FractionEntry):
        above, below = numerator_name(name), denominator_name(name)
        for variable in (above, below):
            yield from _within(words, variable, str(response.entry.bound))
        square = words.apply("qti-product", words.variables([below, below]))
        yield words.apply("qti-gte", square, words.literal("1"))
        return
    wide = _WIDE
    while any(
        abs(value) >= wide for value in (*response.values, *(v for s in response.slips for v in s.values))
    ):
        wide *= 10
    yield from _within(words, number_name(name), decimal_text(wide))


def _within(words: Words, variable: str, bound: str) -> Iterator[bytes]:
    value = words.variables([variable])
    yield words.apply("qti-not", words.apply("qti-is-null", value))
    for comparison, limit in (("qti-gte", "-" + bound), ("qti-lte", bound)):
        yield words.apply(comparison, value, words.literal(limit))


def _set(branch: QtiElement, marks: int, feedback: str, shown: str | None) -> None:
    branch.parts += _settings(branch.generation, marks, feedback, shown)


@lru_cache(maxsize=256)
def _settings(generation: Generation, marks: int, feedback: str, shown: str | None) -> tuple[Element, ...]:
    """What is set, in many branches."""
    top = QtiElement(b"", b"", generation, AS_MATHML)
    settings = [(SCORE, "float", str(marks)), (FEEDBACK, "identifier", feedback)]
    if shown is not None:
        settings.append((SOLUTION, "identifier", shown))
    for outcome, base_type, literal in settings:
        target = add(top, "qti-set-outcome-value", {"identifier": outcome})
        add(target, "qti-base-value", {"base-type": base_type}, literal)
    return tuple(map(lasting, top.children))
