"""Division and cancelling: SymPy's `div` and `cancel` are the outside world."""

from __future__ import annotations

from fractions import Fraction

import sympy
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.expression import Quotient, Symbol
from qbank.maths.oracle import to_sympy
from qbank.maths.polynomial import polynomial_tree
from qbank.techniques.quadratics.over_quadratic import OverQuadratic
from qbank.techniques.quadratics.polynomial_division import cancelled, divided

X = Symbol("x")
x = sympy.Symbol("x", real=True)
numbers = st.builds(Fraction, st.integers(-6, 6), st.integers(1, 3))


def fraction(over: list[Fraction], under: list[Fraction]) -> OverQuadratic:
    return OverQuadratic(
        letter=X,
        front=Fraction(3, 2),
        over=tuple(over),
        over_tree=polynomial_tree(tuple(over), X),
        under=tuple(under),
        under_tree=polynomial_tree(tuple(under), X),
        power=Fraction(1),
    )


def number(value: Fraction) -> sympy.Rational:
    return sympy.Rational(value.numerator, value.denominator)


def value(seen: OverQuadratic) -> sympy.Expr:
    return number(seen.front) * to_sympy(Quotient(seen.over_tree, seen.under_tree))


def polynomials(size: int) -> st.SearchStrategy[list[Fraction]]:
    return st.lists(numbers, min_size=2, max_size=size).filter(lambda found: bool(found[-1]))


@settings(max_examples=30)
@given(polynomials(5), polynomials(4))
def test_divided(over: list[Fraction], under: list[Fraction]) -> None:
    seen = fraction(over, under)
    whole, left = divided(seen)
    quotient, remainder = sympy.div(to_sympy(seen.over_tree), to_sympy(seen.under_tree), x)
    assert sum(number(c) * x**n for n, c in enumerate(whole)) == sympy.expand(quotient * 3 / 2)
    if left is None:
        assert remainder == 0
    else:
        assert sympy.cancel(value(left) - sympy.Rational(3, 2) * remainder / to_sympy(seen.under_tree)) == 0
        assert len(left.over) < len(left.under)
        if whole:
            assert all(c.denominator == 1 for c in left.over)


@settings(max_examples=30)
@given(polynomials(3), polynomials(3), polynomials(3))
def test_cancelled(over: list[Fraction], under: list[Fraction], common: list[Fraction]) -> None:
    a, b, c = (sympy.Poly([number(n) for n in reversed(part)], x) for part in (over, under, common))
    seen = fraction(*([Fraction(int(n.p), int(n.q)) for n in reversed((p * c).all_coeffs())] for p in (a, b)))
    left = cancelled(seen)
    assert sympy.cancel(value(left) - value(seen)) == 0
    _, lowest = sympy.fraction(sympy.cancel(a.as_expr() / b.as_expr()))
    assert len(left.under) - 1 == sympy.degree(lowest, x)
