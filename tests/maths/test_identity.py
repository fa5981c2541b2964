"""The course of a decision at its edges: what is said when nothing can be compared, and how agreement is counted."""

from __future__ import annotations

import re
from fractions import Fraction

from flint import arb

from qbank.maths.balls import precision
from qbank.maths.deciding import decide_antiderivative, decide_equal
from qbank.maths.domain import Domain
from qbank.maths.expression import Apply, Expression, Symbol, cos, ln, sin, sqrt, sum_of
from qbank.maths.identity import COVERING_POINTS, _agreeing_digits, _texts, _widest
from qbank.maths.points import Comparison, _right_side
from qbank.maths.verdict import Proved, Unsettled

x, a = Symbol("x"), Symbol("a")


def test_agreement_is_counted_in_decimal_digits() -> None:
    with precision(128):
        assert _agreeing_digits(arb(2), arb(2)) == 150
        assert _agreeing_digits(arb(1), arb("1.00001")) in (4, 5)
        assert _agreeing_digits(arb(10**6), arb(10**6 + 1)) in (5, 6)
        assert _agreeing_digits(arb(1), arb(5)) == 0
        assert _agreeing_digits(arb(0, 1e-40), arb(0)) in (38, 39, 40)


def test_texts_of_a_witness() -> None:
    with precision(64):
        close = Comparison(outcome="differ", left=arb("1.0000001", 1e-9), right=arb(1))
        assert _texts(close) == ("1.0000001", "1")
        alone = Comparison(outcome="left undefined", right=arb(1) / 3)
        assert _texts(alone) == ("undefined", "0.33333333333333333")
        # too wide to show any digit of the left side: the right one still shows
        wide = Comparison(outcome="differ", left=arb(5, 4.5), right=arb(100))
        assert _texts(wide) == ("0", "100")
        assert _widest(arb(2)) == "2"


def test_a_side_that_divides_by_zero_is_unsettled() -> None:
    verdict = decide_equal(1 / (x - x), x, x)
    assert isinstance(verdict, Unsettled)
    assert verdict.points == 0


def moduli(count: int) -> Expression:
    return sum_of(*(Apply("abs", x - k) for k in range(count)))


def test_few_signs_are_tried_in_all_patterns_and_many_are_not() -> None:
    beyond = Domain(Fraction(20), None)
    assert isinstance(decide_equal(moduli(5), 5 * x - 10, x, domain=beyond), Proved)
    assert isinstance(decide_equal(moduli(8), 8 * x - 28, x, domain=beyond), Unsettled)


def test_smooth_sides_are_compared_at_few_points_beside_the_proof_and_others_over_the_domain() -> None:
    smooth = decide_antiderivative(sin(x) ** 2 / 2, sin(x) * cos(x), x)
    assert isinstance(smooth, Proved)
    assert smooth.points == 1
    half = decide_antiderivative(ln(x), 1 / x, x)
    assert isinstance(half, Proved)
    assert half.points == COVERING_POINTS
    assert all(place < 0 for place in half.undefined_at)
    assert len(half.undefined_at) > 3


def test_what_is_remembered_of_an_integrand_changes_no_verdict() -> None:
    integrand = 1 / (x**2 + a)
    answers = (ln(x**2 + a), Apply("arctan", x / sqrt(a)) / sqrt(a), a * x, x / (x - x))
    alone = []
    for answer in answers:
        _right_side.cache_clear()
        alone.append(repr(decide_antiderivative(answer, integrand, x)))
    together = [repr(decide_antiderivative(answer, integrand, x)) for answer in (*answers, *answers)]
    seal = re.compile(r"seal=<object object at \w+>")
    assert [seal.sub("", text) for text in together] == [seal.sub("", text) for text in alone * 2]
