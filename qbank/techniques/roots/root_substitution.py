"""Everything in an integrand written with u, the root that occurs in it.

x sqrt(2x + 1)        u = sqrt(2x + 1),  x = (u^2 - 1)/2,  dx = u du
1/(sqrt x + cbrt x)   u = x^(1/6),       x = u^6,          dx = 6u^5 du
x^3/sqrt(x^2 + 4)     u = sqrt(x^2 + 4), x^2 = u^2 - 4,    x dx = u du
sqrt(e^x - 1)         u = sqrt(e^x - 1), e^x = u^2 + 1,    dx = 2u/(u^2 + 1) du
x (1 - x)^9           u = 1 - x,         x = 1 - u,        dx = -du
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm

from qbank.maths.constant_factor import number, over, split_constant, times
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Differential,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, factored, power_tree
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.tidying import scaled, tidy
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.roots.plain_inner import plain_inner
from qbank.techniques.roots.radicals import Radical, radical, rate_of_exponential

__all__ = ["RootSubstitution", "root_substitution"]


class _NotInLetterError(Exception):
    """Something depends on the variable in another way."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RootSubstitution:
    """`integrand dx = front * outer du`.

    Attributes:
        variable: x.
        letter: u.
        seen: what is under the root.
        front: the constant in front.
        outer: the integrand in u, without a constant.
        bare: the same without what dx brings, for a slip.
    """

    variable: Symbol
    letter: Symbol
    seen: Radical
    front: Factored
    outer: Expression
    bare: Expression

    @property
    def meaning(self) -> Expression:
        """The root, or the bracket or exponential itself."""
        return Root(self.seen.under, self.seen.index) if self.seen.index > 1 else self.seen.under

    def equations(self) -> tuple[Equation, ...]:
        """What x (or its power, or the exponential under a root) is in u, and what dx is."""
        seen, x = self.seen, self.variable
        t = power_tree(x, Fraction(seen.power)) if seen.power else _exponential(seen.rate, x)
        beside = power_tree(x, Fraction(seen.power - 1)) if seen.power > 1 else Integer(1)
        left = tidy(product(beside, Differential(x)))
        right = tidy(product(_rate(seen, self.letter).tree(), Differential(self.letter)))
        inverse, rate = Equation(t, _inverse(seen, self.letter)), Equation(left, right)
        return (rate,) if t == self.meaning else (inverse, rate)


def root_substitution(
    integrand: Expression, variable: Symbol, *, shift_sign: int = 1
) -> RootSubstitution | None:
    """The substitution of the only root in an integrand, else of a bracket or exponential; None when something is left.

    Args:
        integrand: any expression.
        variable: x.
        shift_sign: -1 when the sign is lost in solving for x, a slip.

    >>> x = Symbol("x")
    >>> found = root_substitution(x / Root(2 * x + 1), x)
    >>> found.front.coefficient, found.outer == Symbol("u") ** 2 - 1
    (Fraction(1, 2), True)
    """
    seen = radical(integrand, variable) or plain_inner(integrand, variable)
    if seen is None:
        return None
    letter = spare_letter(product(integrand, variable))
    inverse = _inverse(seen, letter, shift_sign)
    try:
        inside = _written(integrand, seen, variable, letter, inverse)
    except _NotInLetterError:
        return None
    constant, bare = split_constant(_neat(inside, letter).tree(), letter)
    whole = _neat(times(inside, _rate(seen, letter)), letter)
    front, outer = split_constant(whole.tree(), letter)
    return RootSubstitution(
        variable=variable,
        letter=letter,
        seen=seen,
        front=front,
        outer=outer.tree(),
        bare=times(constant, bare).tree(),
    )


def _exponential(rate: Fraction, variable: Symbol) -> Expression:
    return Power(E, scaled(rate, variable))


def _inverse(seen: Radical, letter: Symbol, shift_sign: int = 1) -> Expression:
    """`(u^n - shift)/slope`."""
    if not seen.numeric:
        return _inverse_with_letters(seen, letter, shift_sign)
    slope, shift = seen.slope.coefficient, seen.shift.coefficient * shift_sign
    if slope.denominator != 1 or shift.denominator != 1:
        zeros = (fraction(0, 1),) * (seen.index - 1)
        return polynomial_tree((-shift / slope, *zeros, 1 / slope), letter)
    sign = 1 if slope > 0 else -1
    above = polynomial_tree((-shift * sign, *((0,) * (seen.index - 1)), sign), letter)
    return above if abs(slope) == 1 else Quotient(above, Integer(int(abs(slope))))


def _inverse_with_letters(seen: Radical, letter: Symbol, shift_sign: int) -> Expression:
    """`(u^2 - a)/b`; `(a - u^2)/b` where b is taken away under the root."""
    shift = times(seen.shift, number(shift_sign))
    size = Factored(coefficient=abs(seen.slope.coefficient), powers=seen.slope.powers)
    terms = [power_tree(letter, Fraction(seen.index))]
    terms += [tidy(Negate(shift.tree()))] if shift.coefficient else []
    if seen.slope.coefficient < 0:
        terms = [tidy(Negate(term)) for term in reversed(terms)]
    return times(over(size), factored(sum_of(*terms))).tree()


def _rate(seen: Radical, letter: Symbol) -> Factored:
    """What stands before du when dx (or a power times dx) is written in u."""
    raised = factored(power_tree(letter, Fraction(seen.index - 1))) if seen.index > 1 else number(1)
    if seen.power:
        return times(number(Fraction(seen.index, seen.power)), over(seen.slope), raised)
    below = polynomial_tree((-seen.shift.coefficient, *((0,) * (seen.index - 1)), 1), letter)
    return times(number(seen.index / seen.rate), raised, over(factored(below)))


def _written(
    integrand: Expression, seen: Radical, variable: Symbol, letter: Symbol, inverse: Expression
) -> Factored:
    """The integrand (less the power of x that goes with dx) in u."""
    whole = factored(integrand)
    parts = [number(whole.coefficient)]
    if seen.power > 1:
        parts.append(_power_of(inverse, (whole.exponent(variable) - seen.power + 1) / seen.power))
        whole = whole.without(variable)
    for base, n in whole.powers:
        parts.append(_factor(base, n, seen, variable, letter, inverse))
    return times(*parts)


def _factor(
    base: Expression, n: Fraction, seen: Radical, variable: Symbol, letter: Symbol, inverse: Expression
) -> Factored:
    """One base with its exponent in u."""
    if variable not in base.symbols():
        return Factored(coefficient=fraction(1, 1), powers=((base, n),))
    root = _as_root(base, n, seen, variable)
    if root is not None:
        return _power_of(letter, root)
    inside = _tree(base, seen, variable, letter, inverse)
    if n.denominator != 1:
        raise _NotInLetterError
    return _power_of(inside, n)


def _as_root(base: Expression, n: Fraction, seen: Radical, variable: Symbol) -> Fraction | None:
    """The exponent of u for a power of what stands under the root."""
    polynomial = as_polynomial(base, variable)
    same = base == seen.under or (
        seen.power and polynomial is not None and polynomial == as_polynomial(seen.under, variable)
    )
    inner = factored(base)
    if not same and seen.under == variable and inner.coefficient == 1 and len(inner.powers) == 1:
        # x^3 under a root, where u is a root of x
        n, same = n * inner.powers[0][1], inner.powers[0][0] == variable
    if not same:
        return None
    power = n * seen.index
    if power.denominator != 1:
        raise _NotInLetterError
    return power


def _power_of(tree: Expression, n: Fraction) -> Factored:
    if n.denominator != 1:
        raise _NotInLetterError
    seen = factored(tree)
    return times(
        number(1),
        Factored(
            coefficient=seen.coefficient ** int(n), powers=tuple((b, e * n) for b, e in seen.powers if n)
        ),
    )


def _tree(
    tree: Expression, seen: Radical, variable: Symbol, letter: Symbol, inverse: Expression
) -> Expression:
    """An expression inside the integrand in u."""
    if variable not in tree.symbols():
        return tree
    if seen.index == 1 and tree == seen.under:
        return letter
    if tree == variable:
        if seen.power != 1:
            raise _NotInLetterError
        return inverse
    rate = rate_of_exponential(tree, variable) if seen.rate else None
    if rate is not None:
        return _power_of(inverse, rate / seen.rate).tree()
    match tree:
        case Power(base, exponent) if as_fraction(exponent) is not None:
            n = as_fraction(exponent) or fraction(0, 1)
            if base == variable and seen.power > 1:
                return _power_of(inverse, n / seen.power).tree()
            return _factor(base, n, seen, variable, letter, inverse).tree()
        case Root(base, index):
            return _factor(base, Fraction(1, index), seen, variable, letter, inverse).tree()
        case _:
            return tree.rebuild(lambda child: _tree(child, seen, variable, letter, inverse))


def _neat(whole: Factored, letter: Symbol) -> Factored:
    """Polynomials in u in order, their number and their power of u in front."""
    parts = [number(whole.coefficient)]
    for base, n in _without_negative_powers(whole, letter).powers:
        coefficients = as_polynomial(base, letter)
        if coefficients is None or n.denominator != 1 or not coefficients:
            parts.append(Factored(coefficient=fraction(1, 1), powers=((_inside(base, letter), n),)))
            continue
        low = next(i for i, c in enumerate(coefficients) if c)
        below = lcm(*(c.denominator for c in coefficients))
        above = gcd(*(int(c * below) for c in coefficients))
        size = Fraction(above, below)
        rest = polynomial_tree(tuple(c / size for c in coefficients[low:]), letter)
        parts.append(number(size ** int(n)))
        powers = ((letter, low * n), (rest, n))
        parts.append(
            Factored(
                coefficient=fraction(1, 1), powers=tuple((b, e) for b, e in powers if e and b != Integer(1))
            )
        )
    # a power of u stands first, then polynomials in u, then everything else
    joined = times(*parts)
    order = sorted(
        joined.powers, key=lambda pair: (pair[0] != letter, as_polynomial(pair[0], letter) is None)
    )
    return Factored(coefficient=joined.coefficient, powers=tuple(order))


def _without_negative_powers(whole: Factored, letter: Symbol) -> Factored:
    """Sums such as u + 1/u as (u^2 + 1)/u."""
    parts = [number(whole.coefficient)]
    for base, n in whole.powers:
        terms = [factored(term) for term in base.terms] if isinstance(base, Sum) else []
        lowest = min((term.exponent(letter) for term in terms), default=fraction(0, 1))
        if lowest < 0 and n.denominator == 1:
            raised = power_tree(letter, -lowest)
            cleared = tidy(sum_of(*(times(term, factored(raised)).tree() for term in terms)))
            parts += [_power_of(letter, lowest * n), _power_of(cleared, n)]
        else:
            parts.append(Factored(coefficient=fraction(1, 1), powers=((base, n),)))
    return times(*parts)


def _inside(tree: Expression, letter: Symbol) -> Expression:
    coefficients = as_polynomial(tree, letter)
    if coefficients is not None and isinstance(tree, Sum):
        return polynomial_tree(coefficients, letter)
    return tree.rebuild(lambda child: _inside(child, letter))
