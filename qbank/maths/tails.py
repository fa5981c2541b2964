"""A tree far out: its expansion for y to infinity, and the tail of its integral.

Each function of the language is brought back to a few: sine, exponential, logarithm, arctangent and powers
(the formulas are those of NIST DLMF 4.14, 4.23, 4.28 and 4.37).
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import factorial
from typing import Any, TypeAlias

from flint import arb, arb_series, fmpq_poly

from qbank.maths.complex_balls import OutsideTheLanguage, exact_number
from qbank.maths.expansions import Algebra, Expansion, as_arb
from qbank.maths.expression import (
    Apply,
    Constant,
    E,
    Expression,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    fraction,
)
from qbank.maths.growth import ONE, Beyond, Coefficient, Growth, TooSoon, Undecided, exact, number

__all__ = ["Diverges", "expand", "tail_integral"]

Ball: TypeAlias = Any

_LOG = Growth(logs=fraction(1, 1))
_HALF = fraction(1, 2)


class Diverges(ArithmeticError):  # noqa: N818 - an outcome, not a fault
    """The integral over the tail is infinite.

    Attributes:
        growth: how fast the integrand grows, in y and with dx/dy in it.
    """

    def __init__(self, growth: Growth) -> None:
        super().__init__("the integral over the tail is infinite")
        self.growth = growth


def tail_integral(integrand: Expansion, algebra: Algebra) -> Ball:
    """A ball that holds the integral of an expansion from the start to infinity.

    Terms y^p (ln y)^n are integrated by the usual reduction of n, and those with p = -1 by u = ln y; whatever else there is, is
    bounded.

    Raises:
        Diverges: when the leading term is no faster falling than 1/y.
        Undecided, TooSoon: when there is no such bound, or none from this start on.
    """
    total = arb(0)
    for growth, coefficient in integrand.terms:
        if _diverges(growth):
            raise Diverges(growth)
        total += number(coefficient) * _integral(growth, algebra.beyond)
    if integrand.rest is not None:
        growth, size = integrand.rest
        if _diverges(growth):
            raise Undecided("no bound that falls fast enough for the integral to converge")
        total += size * arb(0).union(_integral(growth, algebra.beyond))
    return total


def _diverges(growth: Growth) -> bool:
    if growth.exponent:
        return growth.trend > 0
    return growth.power > -1 or (growth.power == -1 and growth.logs >= -1)


def _integral(growth: Growth, beyond: Beyond) -> Ball:
    """The integral of one growth from the start to infinity, or a ball from 0 to a bound for it."""
    if not growth.exponent and growth.power == -1 and growth.logs < -1:
        # with u = ln y it is that of u^n
        return beyond.log ** as_arb(growth.logs + 1) / as_arb(-growth.logs - 1)
    if growth.exponent or growth.logs.denominator > 1 or growth.logs < 0 or growth.power == -1:
        return arb(0).union(_bound(growth, beyond))
    decay = as_arb(-growth.power - 1)
    total, factor = arb(0), 1 / decay
    for left in range(int(growth.logs), -1, -1):
        total += factor * beyond.log**left
        factor = factor * left / decay
    return total * beyond.value(Growth(power=growth.power + 1))


def _bound(growth: Growth, beyond: Beyond) -> Ball:
    """If y^s g(y) falls for an s > 1, then the integral of g from Y is at most g(Y) Y / (s - 1)."""
    slope = fraction(2, 1) if growth.exponent else -growth.power
    if growth.logs > 0 and not growth.exponent:
        slope -= growth.logs / int(beyond.log.floor().lower().unique_fmpz())
    if slope <= 1 or not beyond.falls(growth * Growth(power=slope)):
        raise TooSoon
    return beyond.value(growth) * beyond.start / as_arb(slope - 1)


def expand(  # noqa: PLR0911 - one case per node
    tree: Expression, variable: Symbol, x: Expansion, algebra: Algebra
) -> Expansion:
    """The expansion of a tree in which the variable is itself an expansion.

    Args:
        tree: an expression in the variable alone.
        variable: the variable.
        x: what the variable is, `a + 1/y` near the number a.
        algebra: the arithmetic, beyond a start.

    Raises:
        Undecided, TooSoon: when there is none, or none from this start on.
        OutsideTheLanguage: when the tree is not a function of the variable alone.
    """

    def of(part: Expression) -> Expansion:
        return expand(part, variable, x, algebra)

    value = exact_number(tree)
    if value is not None:
        return algebra.constant(exact(value))
    match tree:
        case Symbol() if tree == variable:
            return x
        case Constant("pi"):
            return algebra.constant(exact(0, 1))
        case Constant("e"):
            return algebra.constant(arb(1).exp())
        case Negate(operand):
            return algebra.negative(of(operand))
        case Sum(terms):
            return algebra.add(*(of(term) for term in terms))
        case Product(factors):
            total = of(factors[0])
            for factor in factors[1:]:
                total = algebra.multiply(total, of(factor))
            return total
        case Quotient(numerator, denominator):
            return algebra.divide(of(numerator), of(denominator))
        case Root(radicand, index):
            return algebra.power(of(radicand), Fraction(1, index))
        case Power(base, exponent):
            index_value = exact_number(exponent)
            if index_value is not None:
                return algebra.power(of(base), index_value)
            index_tree = of(exponent)
            if base == E:
                return exponential(index_tree, algebra)
            return exponential(algebra.multiply(index_tree, logarithm(of(base), algebra)), algebra)
        case Apply(function, argument):
            return _APPLY[function](of(argument), algebra)
        case _:
            raise OutsideTheLanguage(f"a {type(tree).__name__} is not a function of {variable.name}")


def _limit(value: Expansion) -> tuple[Coefficient, Expansion]:
    """The constant term, and the rest of a bounded expansion."""
    if value.terms and value.terms[0][0] == ONE:
        return value.terms[0][1], Expansion(value.terms[1:], value.rest)
    return exact(0), value


def _grows(value: Expansion) -> bool:
    return value.lead is not None and value.lead.trend > 0


def _positive(value: Expansion) -> bool | None:
    """The sign of the leading coefficient; None when there is none."""
    return bool(number(value.terms[0][1]) > 0) if value.terms else None


_INVERSE_FACTORIALS = [Fraction(1, factorial(k)) for k in range(12)]


def exponential(value: Expansion, algebra: Algebra) -> Expansion:
    """exp: growing terms become a growth, the constant a factor, the small part a Taylor polynomial."""
    exponent: list[tuple[Fraction, Fraction, Coefficient]] = []
    power, certain, front, small = fraction(0, 1), True, exact(1), []
    for growth, coefficient in value.terms:
        if growth.trend < 0:
            small.append((growth, coefficient))
        elif growth.trend == 0:
            front = number(coefficient).exp()
        elif growth.exponent:
            raise Undecided("an exponential of an exponential")
        elif growth == _LOG:
            power, certain = _as_power(coefficient)
        else:
            exponent.append((growth.power, growth.logs, coefficient))

    def series(at: Ball, length: int) -> list[Ball]:
        return [at.exp() * as_arb(_INVERSE_FACTORIALS[k]) for k in range(length)]

    known = [exact(value) for value in _INVERSE_FACTORIALS]
    growth = Growth(tuple(exponent), power)
    outer = Expansion(((growth, front),))
    if not certain:
        outer = Expansion((), (growth, arb(0).union(number(front))))
    return algebra.multiply(
        outer, algebra.taylor(Expansion(tuple(small), value.rest), series, exact(0), known)
    )


def _as_power(coefficient: Coefficient) -> tuple[Fraction, bool]:
    """The power of y in exp(c ln y): c itself, or a rational number a little above (then only a bound)."""
    if isinstance(coefficient, fmpq_poly) and coefficient.degree() <= 0:
        return Fraction(int(coefficient[0].p), int(coefficient[0].q)), True
    above = (number(coefficient) * 1024).ceil().upper()
    return Fraction(int(above.ceil().unique_fmpz()), 1024), False


def logarithm(value: Expansion, algebra: Algebra) -> Expansion:
    """The logarithm of an expansion that is positive from the start on."""
    if not value.terms:
        size = algebra.factor(value, ONE)
        if not size > 0:
            raise Undecided("a logarithm of numbers that are not shown to be positive")
        return Expansion((), (ONE, size.log()))
    growth, coefficient = value.terms[0]
    if not number(coefficient) > 0:
        raise Undecided("a logarithm of negative numbers")
    if growth.logs:
        raise Undecided("a logarithm of a logarithm")
    terms = [(Growth((), r, k), c) for r, k, c in growth.exponent]
    if growth.power:
        terms.append((_LOG, exact(growth.power)))
    if not (isinstance(coefficient, fmpq_poly) and coefficient == exact(1)):
        terms.append((ONE, number(coefficient).log()))

    def series(at: Ball, length: int) -> list[Ball]:
        rest = [as_arb(Fraction((-1) ** (k - 1), k)) / (1 + at) ** k for k in range(1, length)]
        return [(1 + at).log(), *rest][:length]

    known = [exact(0), *(exact(Fraction((-1) ** (k - 1), k)) for k in range(1, 12))]
    small = algebra.taylor(algebra.smaller_part(value), series, exact(0), known)
    return algebra.add(Expansion(tuple(terms)), small)


_SINE_AT_QUARTERS = (0, 1, 0, -1)


def _sine(value: Expansion, algebra: Algebra, quarters: int = 0) -> Expansion:
    """sin(value + quarters pi/2); some number of [-1, 1] when the angle has no limit."""
    if _grows(value):
        return Expansion((), (ONE, arb(0, 1)))
    limit, small = _limit(value)
    known: list[Coefficient] = []
    if isinstance(limit, fmpq_poly) and limit.degree() <= 1 and limit[0] == 0 and (2 * limit[1]).q == 1:
        quarters += int((2 * limit[1]).p)
        limit = exact(0)
        known = [exact(_SINE_AT_QUARTERS[(quarters + k) % 4] * _INVERSE_FACTORIALS[k]) for k in range(12)]

    def series(at: Ball, length: int) -> list[Ball]:
        cycle = (at.sin(), at.cos(), -at.sin(), -at.cos())
        return [cycle[(quarters + k) % 4] * as_arb(_INVERSE_FACTORIALS[k]) for k in range(length)]

    return algebra.taylor(small, series, limit, known)


def _cosine(value: Expansion, algebra: Algebra) -> Expansion:
    return _sine(value, algebra, 1)


def _arctangent(value: Expansion, algebra: Algebra) -> Expansion:
    if _grows(value):
        positive = _positive(value)
        if positive is None:
            return Expansion((), (ONE, arb(0, 2)))
        quarter = algebra.constant(exact(0, _HALF if positive else -_HALF))
        inverse = algebra.power(value, fraction(-1, 1))
        return algebra.add(quarter, algebra.negative(_arctangent(inverse, algebra)))
    limit, small = _limit(value)
    known: list[Coefficient] = []
    if isinstance(limit, fmpq_poly) and limit.degree() <= 0:
        if limit == exact(0):
            known = [exact(Fraction((0, 1, 0, -1)[k % 4], max(k, 1))) for k in range(12)]
        elif limit in (exact(1), exact(-1)):
            known = [exact(0, Fraction(int(limit[0].p), 4))]

    def series(at: Ball, length: int) -> list[Ball]:
        found = arb_series([at, 1], prec=length).atan()
        return [found[k] for k in range(length)]

    return algebra.taylor(small, series, limit, known)


def _half_sum(value: Expansion, algebra: Algebra, sign: int) -> Expansion:
    """(e^z + sign e^-z) / 2."""
    other = exponential(algebra.negative(value), algebra)
    total = algebra.add(exponential(value, algebra), other if sign > 0 else algebra.negative(other))
    return algebra.multiply(algebra.constant(exact(_HALF)), total)


def _sinh(value: Expansion, algebra: Algebra) -> Expansion:
    return _half_sum(value, algebra, -1)


def _cosh(value: Expansion, algebra: Algebra) -> Expansion:
    return _half_sum(value, algebra, 1)


def _square_plus(value: Expansion, number_added: int, algebra: Algebra, sign: int = 1) -> Expansion:
    """sqrt(number_added + sign value^2)."""
    square = algebra.multiply(value, value)
    total = algebra.add(
        algebra.constant(exact(number_added)), square if sign > 0 else algebra.negative(square)
    )
    return algebra.power(total, _HALF)


def _arcsine(value: Expansion, algebra: Algebra) -> Expansion:
    """2 arctan(z / (1 + sqrt(1 - z^2)))."""
    under = algebra.add(algebra.constant(exact(1)), _square_plus(value, 1, algebra, -1))
    return algebra.multiply(algebra.constant(exact(2)), _arctangent(algebra.divide(value, under), algebra))


def _arccosine(value: Expansion, algebra: Algebra) -> Expansion:
    """2 arctan(sqrt(1 - z^2) / (1 + z)), and pi less that of -z when z is near -1."""
    limit, _ = _limit(value)
    if not number(limit) > -0.5:
        mirrored = _arccosine(algebra.negative(value), algebra)
        return algebra.add(algebra.constant(exact(0, 1)), algebra.negative(mirrored))
    under = algebra.add(algebra.constant(exact(1)), value)
    ratio = algebra.divide(_square_plus(value, 1, algebra, -1), under)
    return algebra.multiply(algebra.constant(exact(2)), _arctangent(ratio, algebra))


def _arsinh(value: Expansion, algebra: Algebra) -> Expansion:
    if _grows(value) and _positive(value) is False:
        return algebra.negative(_arsinh(algebra.negative(value), algebra))
    return logarithm(algebra.add(value, _square_plus(value, 1, algebra)), algebra)


def _arcosh(value: Expansion, algebra: Algebra) -> Expansion:
    return logarithm(algebra.add(value, _square_plus(value, -1, algebra)), algebra)


def _artanh(value: Expansion, algebra: Algebra) -> Expansion:
    one = algebra.constant(exact(1))
    upper = logarithm(algebra.add(one, value), algebra)
    lower = logarithm(algebra.add(one, algebra.negative(value)), algebra)
    return algebra.multiply(algebra.constant(exact(_HALF)), algebra.add(upper, algebra.negative(lower)))


def _arccot(value: Expansion, algebra: Algebra) -> Expansion:
    """The continuous one, pi/2 - arctan z."""
    quarter = algebra.constant(exact(0, _HALF))
    return algebra.add(quarter, algebra.negative(_arctangent(value, algebra)))


def _abs(value: Expansion, algebra: Algebra) -> Expansion:
    if not value.terms:
        return value if value.rest is None else Expansion((), (value.rest[0], abs(value.rest[1])))
    algebra.smaller_part(value)  # the sign does not change beyond the start
    return value if _positive(value) else algebra.negative(value)


_Function: TypeAlias = Callable[[Expansion, Algebra], Expansion]


def _over(top: _Function, bottom: _Function) -> _Function:
    return lambda value, algebra: algebra.divide(top(value, algebra), bottom(value, algebra))


def _one_over(bottom: _Function) -> _Function:
    return lambda value, algebra: algebra.power(bottom(value, algebra), fraction(-1, 1))


def _of_inverse(function: _Function) -> _Function:
    return lambda value, algebra: function(algebra.power(value, fraction(-1, 1)), algebra)


_APPLY: dict[str, _Function] = {
    "sin": _sine,
    "cos": _cosine,
    "tan": _over(_sine, _cosine),
    "sec": _one_over(_cosine),
    "cosec": _one_over(_sine),
    "cot": _over(_cosine, _sine),
    "sinh": _sinh,
    "cosh": _cosh,
    "tanh": _over(_sinh, _cosh),
    "sech": _one_over(_cosh),
    "cosech": _one_over(_sinh),
    "coth": _over(_cosh, _sinh),
    "arcsin": _arcsine,
    "arccos": _arccosine,
    "arctan": _arctangent,
    "arcsec": _of_inverse(_arccosine),
    "arccosec": _of_inverse(_arcsine),
    "arccot": _arccot,
    "arsinh": _arsinh,
    "arcosh": _arcosh,
    "artanh": _artanh,
    "arsech": _of_inverse(_arcosh),
    "arcosech": _of_inverse(_arsinh),
    "arcoth": _of_inverse(_artanh),
    "exp": exponential,
    "ln": logarithm,
    "abs": _abs,
}
