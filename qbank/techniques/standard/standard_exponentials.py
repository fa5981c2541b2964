"""Exponentials as standard forms: one of them, several of one base, or of different bases brought together.

3 e^(2x + 1)     3/2 e^(2x + 1)
e^x e^(2x)       e^(3x)
2^x e^x          (2e)^x/(ln 2 + 1)
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.constant_factor import in_front, number, over, times
from qbank.maths.expression import Apply, E, Expression, Integer, Power, Quotient, Symbol, fraction, sum_of
from qbank.maths.factors import Factored, factored
from qbank.maths.letter_exponents import exponent_sum
from qbank.maths.tidying import scaled, tidy
from qbank.messages import say
from qbank.techniques.standard.exponential_base import brought_together, logarithm_of
from qbank.techniques.standard.linear_inner import Inner, as_inner
from qbank.techniques.standard.standard_terms import Habit, slope_factor

__all__ = ["ExponentialTerm", "base_and_exponent", "exponentials_joined", "standard_exponential"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ExponentialTerm:
    """`constant * base^inner`, the base e or another positive constant.

    Attributes:
        constant: the constant in front.
        inner: the exponent.
        base: the base.
        named: whether it is written `exp(...)`.
        joined: whether exponentials of different bases were brought together.
    """

    constant: Factored
    inner: Inner
    base: Expression
    named: bool = False
    joined: bool = False

    @property
    def reason(self) -> str:
        """What the teacher says."""
        if self.base == E:
            if self.inner.plain:
                return say("An exponential stays.")
            return say("An exponential stays; divide by the slope of the exponent.")
        if self.inner.plain:
            return say("An exponential stays; divide by ln of its base.")
        return say("An exponential stays; divide by ln of its base and by the slope of the exponent.")

    def core(self) -> Expression:
        """The exponential."""
        return Apply("exp", self.inner.tree) if self.named else Power(self.base, self.inner.tree)

    def draft(self) -> Expression | None:
        """Nothing in between."""
        return None

    def answer(self, habit: Habit = "right") -> Expression:
        """The exponential, divided by the slope and by ln of the base."""
        if habit == "differentiated":
            front = times(self.constant, self.inner.slope, self._ln())
        elif habit == "exponent raised":
            raised = sum_of(self.inner.tree, Integer(1))
            ordered = Power(self.base, tidy(raised))
            return in_front(self.constant, Quotient(ordered, ordered.exponent))
        else:
            base = (
                self._ln() if habit == "base multiplied" else number(1) if habit == "base ignored" else None
            )
            front = times(self.constant, slope_factor(self.inner, habit), base or over(self._ln()))
        return in_front(front, self.core())

    def _ln(self) -> Factored:
        found = logarithm_of(self.base)
        assert found is not None  # it was seen to be a base
        return number(1) if self.base == E else factored(found)


def standard_exponential(constant: Factored, moving: Factored, variable: Symbol) -> ExponentialTerm | None:
    """One exponential, or a product of exponentials with linear exponents, their bases constant; else None."""
    exponents = list[tuple[Expression, Expression, Fraction]]()
    for part, n in moving.powers:
        pair = base_and_exponent(part)
        if pair is None or variable in pair[0].symbols():
            return None
        exponents.append((*pair, n))
    if len({base for base, _, _ in exponents}) > 1:
        joined = brought_together(exponents, variable)
        if joined is None:
            return None
        return ExponentialTerm(
            constant=times(constant, joined.constant),
            inner=joined.inner,
            base=joined.base,
            joined=True,
        )
    (base, first, n), *others = exponents
    alone = not others and n == 1
    linear = as_inner(
        first if alone else exponent_sum(*(scaled(n, tree) for _, tree, n in exponents)), variable
    )
    if linear is None or logarithm_of(base) is None:
        return None
    named = alone and isinstance(moving.powers[0][0], Apply)
    return ExponentialTerm(constant=constant, inner=linear, base=base, named=named)


def base_and_exponent(tree: Expression) -> tuple[Expression, Expression] | None:
    """Base and exponent of a power, e and the argument of `exp`; None for anything else."""
    match tree:
        case Power(base, exponent):
            return base, exponent
        case Apply("exp", argument):
            return E, argument
        case _:
            return None


def exponentials_joined(part: Factored) -> Factored:
    """`(e^x)^2 e^x` as `e^(3x)`, so that like terms are seen.

    >>> x = Symbol("x")
    >>> exponentials_joined(factored(Power(Power(E, x), Integer(2)) * Power(E, x))).tree() == Power(E, 3 * x)
    True
    """
    found = [(pair, base_and_exponent(pair[0])) for pair in part.powers]
    exponentials = [(seen[1], pair[1]) for pair, seen in found if seen is not None and seen[0] == E]
    if not exponentials or (len(exponentials) == 1 and exponentials[0][1] == 1):
        return part
    rest = tuple(pair for pair, seen in found if seen is None or seen[0] != E)
    exponent = exponent_sum(*(scaled(n, tree) for tree, n in exponentials))
    joined = ((Power(E, exponent), fraction(1, 1)),) if exponent != Integer(0) else ()
    return Factored(coefficient=part.coefficient, powers=(*rest, *joined))
