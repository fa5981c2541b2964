"""An integrand with |g| in it, g linear, as the sign of g times an integrand without: |g| = (|g|/g) g.

    |x|^3 sqrt(1 - x^2)           (|x|/x) times x^3 sqrt(1 - x^2)
    sqrt(x^6 - x^8)               the same, the even power taken out of the root first
    sqrt(x^4 + x^5)               x^2 sqrt(1 + x), where no sign is needed

The sign is a constant on either side of the place where g is 0. Where the integrand is real on both sides and there,
the antiderivative must have no jump, so the constant is chosen for which it is 0 there.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.constant_factor import number, times
from qbank.maths.deciding import enclose
from qbank.maths.exact_values import exact_value
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    Sum,
    Symbol,
    fraction,
    product,
    rational,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.number_system import NotSettled, Undefined
from qbank.maths.polynomial import as_linear, as_polynomial, polynomial_tree
from qbank.maths.tidying import split_coefficient, tidy
from qbank.techniques.carrying import multiplied
from qbank.techniques.standard.standard_sums import plan_as_written

__all__ = ["SignPlan", "meets", "sign_plan"]

#: higher powers are nobody's exercise
_POWER_LIMIT = 24
#: how far from the place of 0 it is asked whether the integrand is real there
_STEP = fraction(1, 1024)


@dataclass(frozen=True, slots=True, kw_only=True)
class SignPlan:
    """`integrand = (|g|/g) core`, or the core alone.

    Attributes:
        variable: the variable.
        inside: g.
        taken: the integrand after even powers have been taken out of roots; None where there are none.
        signed: whether the sign stands in front.
        core: what is left, without modulus signs where the sign stands in front.
        whole: the core when a student forgets to halve the power that is taken out; None where no root is.
        meets: whether the integrand is real on both sides of the place where g is 0, and there.
    """

    variable: Symbol
    inside: Expression
    taken: Expression | None
    signed: bool
    core: Expression
    whole: Expression | None
    meets: bool

    @property
    def sign(self) -> Factored:
        """`|g|/g`, or 1."""
        powers = ((Apply("abs", self.inside), fraction(1, 1)), (self.inside, fraction(-1, 1)))
        return Factored(coefficient=fraction(1, 1), powers=powers if self.signed else ())

    def with_sign(self, line: Expression) -> Expression:
        """A line of the working of the core with the sign in front."""
        if not self.signed:
            return line
        if isinstance(line, Sum):
            return product(self.sign.tree(), line)
        if line.holds(Integral):
            return multiplied(self.sign, line)
        return times(self.sign, factored(line)).tree()

    def joined(self, antiderivative: Expression) -> Expression | None:
        """The antiderivative of the core that is 0 where g is, if that is needed; None when it cannot be found."""
        if not (self.meets and self.signed):
            return antiderivative
        linear = as_linear(self.inside, self.variable)
        assert linear is not None  # it was seen to be
        try:
            value = exact_value(antiderivative.substitute({self.variable: rational(-linear[1] / linear[0])}))
        except (NotSettled, Undefined):
            return None
        return antiderivative if value == Integer(0) else sum_of(antiderivative, tidy(-value))


def sign_plan(integrand: Expression, variable: Symbol) -> SignPlan | None:
    """The plan of an integrand with a modulus or an even power under a root, else None.

    >>> from qbank.maths.expression import sqrt
    >>> x = Symbol("x")
    >>> sign_plan(sqrt(x**6 - x**8), x).core == x**3 * sqrt(1 - x**2)
    True
    """
    seen = factored(integrand)
    taken, plain, whole = [number(seen.coefficient)], [number(seen.coefficient)], [number(seen.coefficient)]
    found, odd, rooted = set[Expression](), False, False
    for base, n in seen.powers:
        size, inside, power, rest = _modulus(base, n, variable)
        if inside is None:
            for parts in (taken, plain, whole):
                parts.append(_one(base, n))
            continue
        found.add(inside)
        odd, rooted = odd ^ (power % 2 == 1), rooted or n.denominator == 2
        shown = Apply("abs", inside) if power % 2 else inside
        taken += [size, _one(shown, power), rest]
        plain += [size, _one(inside, power), rest]
        whole += [size, _one(inside, power * n.denominator), rest]
    if len(found) != 1 or not (odd or rooted):
        return None
    (inside,), outside = found, times(*taken).tree()
    # with the modulus it may be a standard form
    signed = odd and not (rooted and plan_as_written(outside, variable) is not None)
    return SignPlan(
        variable=variable,
        inside=inside,
        taken=outside if rooted else None,
        signed=signed,
        core=times(*plain).tree() if signed else outside,
        whole=times(*whole).tree() if rooted else None,
        meets=signed and meets(integrand, inside, variable),
    )


def _one(base: Expression, exponent: Fraction) -> Factored:
    return Factored(coefficient=fraction(1, 1), powers=((base, exponent),) if exponent else ())


_Seen = tuple[Factored, Expression | None, Fraction, Factored]


def _modulus(base: Expression, n: Fraction, variable: Symbol) -> _Seen:
    """`base^n = size |g|^power rest`; g is None where neither a modulus nor an even power under a root is seen."""
    nothing = (number(1), None, fraction(0, 1), number(1))
    if isinstance(base, Apply) and base.function == "abs" and n.denominator == 1 and abs(n) <= _POWER_LIMIT:
        size, body = split_coefficient(base.argument)
        known = size and _is_line(body, variable)
        return (number(abs(size) ** int(n)), body, n, number(1)) if known else nothing
    if n.denominator != 2 or abs(n) > _POWER_LIMIT or variable not in base.symbols():
        return nothing
    out = _even_power(base, variable)
    if out is None or out[1] * abs(n) > _POWER_LIMIT:
        return nothing
    inside, even, rest = out
    return number(1), inside, even * n, _one(rest, n) if rest != Integer(1) else number(1)


def _even_power(base: Expression, variable: Symbol) -> tuple[Expression, Fraction, Expression] | None:
    """`(g, 2k, rest)` of `g^(2k) rest`, k positive."""
    whole = as_polynomial(base, variable)
    if whole is not None:
        low = next((i for i, c in enumerate(whole) if c), 0)
        even = low - low % 2
        # a number below the root stays there
        return (
            (variable, Fraction(even), polynomial_tree(whole[even:], variable))
            if even
            else _squared(base, variable)
        )
    return _squared(base, variable)


def _squared(base: Expression, variable: Symbol) -> tuple[Expression, Fraction, Expression] | None:
    seen = factored(base)
    for inside, m in seen.powers:
        even = m - m % 2
        if m.denominator == 1 and even > 0 and _is_line(inside, variable):
            rest = times(seen, _one(inside, -even)).tree()
            return inside, even, rest
    return None


def _is_line(inside: Expression, variable: Symbol) -> bool:
    """Whether g is linear, and so changes its sign at one place."""
    linear = as_linear(inside, variable)
    return linear is not None and bool(linear[0])


def meets(integrand: Expression, inside: Expression, variable: Symbol) -> bool:
    """Whether an integrand is real where a linear expression is 0, and on both sides of that place."""
    linear = as_linear(inside, variable)
    if linear is None:
        return False
    place = -linear[1] / linear[0]
    return all(
        enclose(integrand, at={variable: at}, digits=5) is not None
        for at in (place, place - _STEP, place + _STEP)
    )
