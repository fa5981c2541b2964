"""A tree as a function on complex balls, for rigorous integration along the real line.

`acb.integral` asks for the integrand in two ways. On a real ball (`analytic` false) it wants any ball that holds
all the values. On a complex ball around a piece of the path (`analytic` true) it wants the values of ONE analytic
function that is the integrand on the real points of the ball, and a non-finite ball when there is none: when the
ball meets a pole, a branch cut, or the corner of a modulus.

What "the integrand" means is fixed by the real line: an odd root of a negative number is negative, `sqrt` and
`ln` of a negative number have no value (a non-finite ball), a modulus has two analytic pieces. The complex
extension is a device of the computation: `x^(1/3)` is `-(-x)^(1/3)` on a ball around negative numbers.

A real ball that is only partly inside a domain (`sqrt` on a ball about 0) is cut down to the part inside; one
that lies wholly outside has no value.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any, TypeAlias

from flint import acb, arb, fmpq

from qbank.maths.expression import (
    Apply,
    Constant,
    Decimal,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
)

__all__ = ["BallFunction", "OutsideTheLanguage", "as_ball", "ball_function", "exact_number", "real_power"]

#: python-flint's `acb`; the library has no types
Ball: TypeAlias = Any
BallFunction: TypeAlias = Callable[[Ball, bool], Ball]


class OutsideTheLanguage(ValueError):  # noqa: N818 - says what the tree is, not what went wrong
    """A tree that is not a function of the one variable: a free letter, an integral sign, an infinity."""


def exact_number(tree: Expression) -> Fraction | None:
    """The exact value of arithmetic on written rational numbers, or None.

    >>> from qbank.maths.expression import Integer, rational
    >>> exact_number(rational(1, 2) * rational(2, 3) - 1)
    Fraction(-2, 3)
    """
    match tree:
        case Integer() | Decimal():
            return as_fraction(tree)
        case Negate(operand):
            inner = exact_number(operand)
            return None if inner is None else -inner
        case Sum() | Product():
            values = [exact_number(child) for child in tree.children]
            known = [value for value in values if value is not None]
            if len(known) < len(values):
                return None
            total = Fraction(isinstance(tree, Product))
            for value in known:
                total = total + value if isinstance(tree, Sum) else total * value
            return total
        case Quotient(numerator, denominator):
            over, under = exact_number(numerator), exact_number(denominator)
            return None if over is None or not under else over / under
        case Power(base, exponent):
            under, index = exact_number(base), exact_number(exponent)
            if under is None or index is None or index.denominator != 1 or abs(index) > 64:
                return None
            return None if index < 0 and not under else under ** int(index)
        case _:
            return None


def as_ball(value: Fraction) -> Ball:
    """The real ball of a fraction at the working precision (exact when it is a binary fraction)."""
    return arb(fmpq(value.numerator, value.denominator))


def ball_function(tree: Expression, variable: Symbol) -> BallFunction:
    """The function that a tree is, on complex balls, with `acb.integral`'s flag `analytic`.

    Args:
        tree: an expression in `variable` alone.
        variable: the variable.

    Returns:
        A function of (ball, analytic). Its result is non-finite where the tree has no real value, and with
        `analytic` true also where it is not analytic.

    Raises:
        OutsideTheLanguage: when the tree holds another letter, an infinity or a sign of calculus.

    >>> from flint import acb
    >>> x = Symbol("x")
    >>> f = ball_function(Root(x), x)
    >>> f(acb(4), False), f(acb(-4), False).is_finite()
    (2.00000000000000, False)
    """
    match tree:
        case Symbol():
            if tree != variable:
                raise OutsideTheLanguage(f"the letter {tree.name} has no value")
            return lambda z, _: z
        case Integer() | Decimal():
            value = tree.value
            return lambda _z, _a: acb(as_ball(Fraction(value)))
        case Constant("pi"):
            return lambda _z, _a: acb.pi()
        case Constant("e"):
            return lambda _z, _a: acb(1).exp()
        case Negate(operand):
            inner = ball_function(operand, variable)
            return lambda z, a: -inner(z, a)
        case Sum(terms):
            return _sum([ball_function(term, variable) for term in terms])
        case Product(factors):
            return _product([ball_function(factor, variable) for factor in factors])
        case Quotient(numerator, denominator):
            over, under = ball_function(numerator, variable), ball_function(denominator, variable)
            return lambda z, a: over(z, a) / under(z, a)
        case Root(radicand, index):
            inner = ball_function(radicand, variable)
            return lambda z, a: real_power(inner(z, a), Fraction(1, index), a)
        case Power():
            return _power(tree, variable)
        case Apply(function, argument):
            apply, inner = _APPLY[function], ball_function(argument, variable)
            return lambda z, a: apply(inner(z, a), a)
        case _:
            raise OutsideTheLanguage(f"a {type(tree).__name__} is not a function of {variable.name}")


def _sum(parts: list[BallFunction]) -> BallFunction:
    def evaluate(z: Ball, analytic: bool) -> Ball:
        total = parts[0](z, analytic)
        for part in parts[1:]:
            total = total + part(z, analytic)
        return total

    return evaluate


def _product(parts: list[BallFunction]) -> BallFunction:
    def evaluate(z: Ball, analytic: bool) -> Ball:
        total = parts[0](z, analytic)
        for part in parts[1:]:
            total = total * part(z, analytic)
        return total

    return evaluate


def _power(tree: Power, variable: Symbol) -> BallFunction:
    exponent = exact_number(tree.exponent)
    if exponent is not None:
        base = ball_function(tree.base, variable)
        return lambda z, a: real_power(base(z, a), exponent, a)
    index = ball_function(tree.exponent, variable)
    if tree.base == Constant("e"):
        return lambda z, a: index(z, a).exp()
    base = ball_function(tree.base, variable)
    return lambda z, a: (index(z, a) * _ln(base(z, a), a)).exp()


_NAN = acb(arb.nan(), arb.nan())


def real_power(z: Ball, exponent: Fraction, analytic: bool) -> Ball:
    """A rational power as the real line has it: with an odd denominator it takes negative numbers too."""
    over, under = exponent.numerator, exponent.denominator
    if under == 1:
        return z**over
    root = _even_root(z, under, analytic) if under % 2 == 0 else _odd_root(z, under, analytic)
    return root if over == 1 else root**over


def _even_root(z: Ball, index: int, analytic: bool) -> Ball:
    if analytic:
        return _NAN if _meets(z, None, 0) else _principal_root(z, index)
    inside = _cut_down(z, 0, None)
    return _NAN if inside is None else _monotone(*inside, lambda end: end.root(index))


def _odd_root(z: Ball, index: int, analytic: bool) -> Ball:
    if not _meets(z, None, 0):
        return _principal_root(z, index)
    if not _meets(z, 0, None):
        return -_principal_root(-z, index)
    if analytic or not z.imag.is_zero():
        return _NAN

    def signed(end: Ball) -> Ball:
        return -((-end).root(index)) if end < 0 else end.root(index)

    return _monotone(z.real.lower(), z.real.upper(), signed)


def _principal_root(z: Ball, index: int) -> Ball:
    return z.sqrt() if index == 2 else z.root(index)


def _meets(z: Ball, low: int | None, high: int | None) -> bool:
    """Whether a ball may meet the piece [low, high] of the real axis (None: no end on that side)."""
    if not z.is_finite():
        return True
    if not z.imag.contains(0):
        return False
    beyond = high is not None and z.real > high
    short = low is not None and z.real < low
    return not (beyond or short)


def _cut_down(z: Ball, low: int | None, high: int | None) -> tuple[Ball, Ball] | None:
    """The ends of the part of a real ball inside [low, high]; None when nothing is, or when the ball is not real."""
    if not z.is_finite() or not z.imag.is_zero():
        return None
    least, most = z.real.lower(), z.real.upper()
    if low is not None:
        if most < low:
            return None
        least = least.max(arb(low))
    if high is not None:
        if least > high:
            return None
        most = most.min(arb(high))
    return least, most


def _monotone(least: Ball, most: Ball, function: Callable[[Ball], Ball]) -> Ball:
    """The values of an increasing or decreasing function between two points."""
    low, high = function(least), function(most)
    return acb(low if least == most else low.union(high))


def _ln(z: Ball, analytic: bool) -> Ball:
    if _meets(z, None, 0):
        return _NAN  # a real ball that touches 0 has no bounded logarithm either
    return z.log(analytic=analytic)


def _in_interval(low: int | None, high: int | None, name: str) -> Callable[[Ball, bool], Ball]:
    """A monotone function on the real interval [low, high], analytic off the rest of the real axis."""

    def apply(z: Ball, analytic: bool) -> Ball:
        if analytic:
            outside = (low is not None and _meets(z, None, low)) or (
                high is not None and _meets(z, high, None)
            )
            return _NAN if outside else getattr(z, name)()
        inside = _cut_down(z, low, high)
        if inside is None:
            return _NAN
        return _monotone(*inside, lambda end: getattr(end, name)())

    return apply


def _on_the_whole_line(name: str) -> Callable[[Ball, bool], Ball]:
    """For arctan and arsinh: analytic except on the imaginary axis from i and from -i outwards."""

    def apply(z: Ball, _analytic: bool) -> Ball:
        near_the_cuts = z.real.contains(0) and not abs(z.imag) < 1
        return _NAN if near_the_cuts else getattr(z, name)()

    return apply


_arcsin = _in_interval(-1, 1, "asin")
_arccos = _in_interval(-1, 1, "acos")
_artanh = _in_interval(-1, 1, "atanh")
_arcosh = _in_interval(1, None, "acosh")
_arctan = _on_the_whole_line("atan")
_arsinh = _on_the_whole_line("asinh")


_APPLY: dict[str, Callable[[Ball, bool], Ball]] = {
    "sin": lambda z, _: z.sin(),
    "cos": lambda z, _: z.cos(),
    "tan": lambda z, _: z.tan(),
    "sec": lambda z, _: z.sec(),
    "cosec": lambda z, _: z.csc(),
    "cot": lambda z, _: z.cot(),
    "sinh": lambda z, _: z.sinh(),
    "cosh": lambda z, _: z.cosh(),
    "tanh": lambda z, _: z.tanh(),
    "sech": lambda z, _: z.sech(),
    "cosech": lambda z, _: z.csch(),
    "coth": lambda z, _: z.coth(),
    "arcsin": _arcsin,
    "arccos": _arccos,
    "arctan": _arctan,
    "arcsec": lambda z, a: _arccos(1 / z, a),
    "arccosec": lambda z, a: _arcsin(1 / z, a),
    "arccot": lambda z, a: acb.pi() / 2 - _arctan(z, a),  # the continuous one, from 0 to pi
    "arsinh": _arsinh,
    "arcosh": _arcosh,
    "artanh": _artanh,
    "arsech": lambda z, a: _arcosh(1 / z, a),
    "arcosech": lambda z, a: _arsinh(1 / z, a),
    "arcoth": lambda z, a: _artanh(1 / z, a),
    "exp": lambda z, _: z.exp(),
    "ln": _ln,
    "abs": lambda z, a: z.real_abs(analytic=a),
}
