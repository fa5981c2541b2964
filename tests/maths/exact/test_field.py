"""Laws of the elements: ring and field axioms, normal forms, bounds on cost."""

from __future__ import annotations

import time
from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from qbank.maths.clock import Deadline
from qbank.maths.exact.field import Element, Field, OutOfGenerators
from qbank.maths.exact.system import Exact
from qbank.maths.expression import Expression, Integer, Symbol, cos, exp, ln, sin, sqrt
from qbank.maths.forward import NotSettled, Undefined, Walk

x = Symbol("x")
FAR = Deadline(10**6)
FIELD = Field(16, FAR)
WALK = Walk(Exact(FIELD, {}), x, {})

PARTS: tuple[Expression, ...] = (
    x,
    x + 1,
    Integer(2),
    sin(x),
    cos(x),
    sin(2 * x),
    exp(x),
    sqrt(x),
    sqrt(x + 1),
    sqrt(Integer(2)),
    ln(x),
    x**2 - 1,
)
ELEMENTS = tuple(WALK.value(part) for part in PARTS)


def elements() -> SearchStrategy[Element]:
    leaves = st.one_of(st.sampled_from(ELEMENTS), st.fractions(-3, 3, max_denominator=4).map(FIELD.number))
    return st.recursive(
        leaves,
        lambda part: st.one_of(
            st.tuples(part, part).map(lambda pair: pair[0] + pair[1]),
            st.tuples(part, part).map(lambda pair: pair[0] * pair[1]),
            part.map(lambda e: -e),
            part.map(lambda e: e if e.is_zero() else 1 / e),
        ),
        max_leaves=4,
    )


LAWS: dict[str, Callable[[Element, Element, Element], tuple[Element, Element]]] = {
    "addition commutes": lambda a, b, _: (a + b, b + a),
    "addition associates": lambda a, b, c: ((a + b) + c, a + (b + c)),
    "multiplication commutes": lambda a, b, _: (a * b, b * a),
    "multiplication associates": lambda a, b, c: ((a * b) * c, a * (b * c)),
    "distribution": lambda a, b, c: (a * (b + c), a * b + a * c),
    "zero": lambda a, _, __: (a + 0, a),
    "one": lambda a, _, __: (a * 1, a),
    "opposite": lambda a, b, _: (a - b, a + (-b)),
    "from a number": lambda a, _, __: (1 - a, -(a - 1)),
    "square": lambda a, b, _: ((a + b).to_the(2), a * a + 2 * a * b + b * b),
}


@pytest.mark.parametrize("law", LAWS)
@settings(max_examples=25)
@given(elements(), elements(), elements())
def test_laws(law: str, first: Element, second: Element, third: Element) -> None:
    left, right = LAWS[law](first, second, third)
    assert left.same(right)
    assert (left - right).is_zero()


@settings(max_examples=60)
@given(elements(), elements())
def test_division(first: Element, second: Element) -> None:
    assume(not second.is_zero())
    assert (first / second * second).same(first)
    assert second.to_the(-2).same(1 / (second * second))


@settings(max_examples=60)
@given(elements(), elements())
def test_reduction_is_idempotent_and_respects_sums_and_products(first: Element, second: Element) -> None:
    a, b, reduce = first.num, second.num, FIELD.reduce
    assert reduce(reduce(a)) == reduce(a)
    assert reduce(a + b) == reduce(reduce(a) + reduce(b))
    assert reduce(a * b) == reduce(reduce(a) * reduce(b))


@settings(max_examples=40)
@given(elements(), elements())
def test_a_different_element_is_not_the_same(first: Element, second: Element) -> None:
    assert not first.same(first + 1)
    assert first.same(second) == (first - second).is_zero()


def test_numbers() -> None:
    assert FIELD.number(Fraction(2, 6)).as_fraction() == Fraction(1, 3)
    assert FIELD.zero.as_fraction() == 0
    assert ELEMENTS[0].as_fraction() is None
    assert FIELD.number(3).is_constant()
    assert not ELEMENTS[0].is_constant()
    assert (FIELD.number(3) / 2).as_fraction() == Fraction(3, 2)
    assert "/" in repr(ELEMENTS[0])


def test_roots_leave_the_denominator() -> None:
    root = WALK.value(sqrt(x))
    assert (1 / root).den.degrees()[next(g.index for g in FIELD.generators if g.kind == "root")] == 0


@pytest.mark.parametrize("bottom", [Integer(0), x - x, sin(x) ** 2 + cos(x) ** 2 - 1, sqrt(x) ** 2 - x])
def test_division_by_zero(bottom: Expression) -> None:
    walk = Walk(Exact(Field(16, FAR), {}), x, {})
    walk.value(sqrt(x))
    with pytest.raises(Undefined):
        walk.value(1 / bottom)


def test_generators_run_out() -> None:
    field = Field(2, FAR)
    field.add_generator("letter", "x")
    field.add_generator("letter", "y")
    with pytest.raises(OutOfGenerators):
        field.add_generator("letter", "z")


def test_large_powers_and_products_are_refused_before_they_are_tried() -> None:
    started = time.process_time()
    several = ELEMENTS[0] + ELEMENTS[3] + ELEMENTS[6] + ELEMENTS[7]
    hopeless: tuple[Callable[[], Element], ...] = (
        lambda: several.to_the(500),
        lambda: FIELD.number(7).to_the(10**9),
        lambda: (several.to_the(12) + 1) * (several.to_the(12) + 2) * (several.to_the(11) + ELEMENTS[10]),
    )
    for attempt in hopeless:
        with pytest.raises(NotSettled):
            attempt()
    assert time.process_time() - started < 20  # refused at once; tried, they would take minutes


def test_the_deadline_stops_work() -> None:
    field = Field(8, Deadline(0))
    letter = Walk(Exact(field, {}), x, {}).value(x)
    with pytest.raises(NotSettled, match="budget"):
        _ = letter * letter
