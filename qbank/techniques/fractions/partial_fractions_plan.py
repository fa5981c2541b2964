"""The numbers of a working with partial fractions: what is divided off, the brackets below the line, the simple fractions."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from math import gcd, lcm

from qbank.maths.constant_factor import number as constant
from qbank.maths.expression import Apply, Expression, Quotient, Symbol, fraction, product, rational, sum_of
from qbank.maths.factors import factored
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.polynomial_factors import factorise
from qbank.maths.tidying import scaled
from qbank.techniques.carrying import multiplied
from qbank.techniques.fractions import biquadratic
from qbank.techniques.fractions.fraction_letters import Sought
from qbank.techniques.fractions.repeated_quadratic import repeated_quadratic
from qbank.techniques.fractions.simple_fractions import Bracket, Simple, simple_fractions
from qbank.techniques.quadratics import quadratic_denominator
from qbank.techniques.quadratics.over_quadratic import (
    Coefficients,
    OverQuadratic,
    antiderivative_terms,
    over_quadratic,
)
from qbank.techniques.quadratics.polynomial_division import cancelled, divided
from qbank.techniques.standard import standard_forms
from qbank.techniques.term_by_term import collected
from qbank.techniques.working import WorkedSolution

__all__ = ["PartialPlan", "partial_plan", "quadratic_part"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartialPlan:
    """`whole + front * (sum of simple fractions)`.

    Attributes:
        start: the fraction before any division, with anything common cancelled.
        left: the fraction after it.
        whole: the whole part, lowest first; empty when none was divided off.
        number: what the product of the brackets is multiplied by in the denominator.
        brackets: the factors of the denominator, in the order in which they are written.
        front: the number before the simple fractions when their numerators are whole.
        size: by what those numerators are multiplied to be those of the fraction over the brackets.
        simple: the simple fractions, numerators whole without common factor; some may be 0.
        slope_ignored: whether the coefficient in a bracket is not divided by, a slip.
        power_sign: the sign of the integral of a power below the line, -1 when it is right.
    """

    start: OverQuadratic
    left: OverQuadratic
    whole: Coefficients
    number: Fraction
    brackets: tuple[Bracket[Fraction], ...]
    front: Fraction
    size: Fraction
    simple: tuple[Simple[Fraction], ...]
    slope_ignored: bool = False
    power_sign: int = -1

    @property
    def letter(self) -> Symbol:
        """The variable."""
        return self.left.letter

    def sought(self) -> Sought[Fraction]:
        """What the lines need that find the numerators."""
        simple = (replace(one, top=tuple(c * self.size for c in one.top)) for one in self.simple)
        return Sought(
            letter=self.letter,
            over=self.left.over,
            over_tree=self.left.over_tree,
            brackets=self.brackets,
            simple=tuple(simple),
            taken=self.start.over_tree.symbols() | self.start.under_tree.symbols(),
        )

    def below(self) -> Expression:
        """The brackets, multiplied."""
        return product(*(bracket.tree() for bracket in self.brackets))

    def fractions(self) -> Expression:
        """The sum of the simple fractions that are not 0."""
        return sum_of(*(_fraction(one, self.letter) for one in self.simple if any(one.top)))

    def whole_terms(self) -> tuple[Expression, ...]:
        """The integral of the whole part."""
        return tuple(antiderivative_terms(self.whole, self.letter))

    def linear_terms(self) -> tuple[Expression, ...]:
        """The integrals of the fractions over linear brackets and their powers."""
        found = (self._linear(one) for one in self.simple if len(one.top) == 1 and one.top[0])
        return tuple(found)

    def quadratic_parts(self) -> tuple[tuple[Fraction, Expression], ...]:
        """The fractions over quadratics, each with the number in front, still to be integrated."""
        found = (one for one in self.simple if len(one.top) > 1 and any(one.top))
        return tuple(
            (self.front * number, core) for number, core in (_parts(one, self.letter) for one in found)
        )

    def answer(self) -> Expression:
        """The antiderivative."""
        return collected(sum_of(*self.whole_terms(), *self.linear_terms(), *self.quadratic_terms()))

    def quadratic_terms(self) -> tuple[Expression, ...]:
        """The integrals of the fractions over quadratics."""
        found = ((number, quadratic_part(core, self.letter)) for number, core in self.quadratic_parts())
        return tuple(multiplied(constant(number), one.antiderivative) for number, one in found if one)

    def _linear(self, one: Simple[Fraction]) -> Expression:
        base, n = one.below.base, one.below.exponent
        number = self.front * one.top[0] / (1 if self.slope_ignored else one.below.factor[1])
        if n == 1:
            return scaled(number, Apply("ln", Apply("abs", base)))
        power = replace(one.below, exponent=n - 1).tree()
        return scaled(self.power_sign * number / (n - 1), Quotient(rational(1), power))


# a solution's slips ask for its plan one after the other
@lru_cache(maxsize=16)
def partial_plan(integrand: Expression, variable: Symbol) -> PartialPlan | None:
    """The numbers of a fraction whose denominator has at least two factors, or a repeated one; else None.

    >>> x = Symbol("x")
    >>> plan = partial_plan(1 / (x**3 - x), x)
    >>> [one.top for one in plan.simple], plan.front
    ([(Fraction(-2, 1),), (Fraction(1, 1),), (Fraction(1, 1),)], Fraction(1, 2))
    """
    seen = over_quadratic(integrand, variable, fraction(1, 1))
    if seen is None:
        return None
    start = cancelled(seen)
    whole, left = divided(start)
    if left is None or len(left.under) < 3:
        return None
    number, factors = factorise(left.under)
    brackets = _in_order(
        [
            Bracket(factor=tuple(map(Fraction, f)), base=polynomial_tree(f, variable), exponent=n)
            for f, n in factors
        ],
        left,
        variable,
    )
    if any(len(b.factor) > 3 and (len(b.factor) != 5 or b.exponent > 1) for b in brackets):
        return None
    if len(brackets) == 1 and len(brackets[0].factor) > 2:
        return None
    simple = simple_fractions(left.over, brackets)
    size, simple = _whole(simple)
    plan = PartialPlan(
        start=start,
        left=left,
        whole=whole,
        number=number,
        brackets=brackets,
        front=left.front / number * size,
        size=size,
        simple=simple,
    )
    done = all(quadratic_part(core, variable) is not None for _, core in plan.quadratic_parts())
    return plan if done else None


@lru_cache(maxsize=64)
def quadratic_part(part: Expression, variable: Symbol) -> WorkedSolution | None:
    """The working of a fraction over a quadratic without rational roots, a power of one, or a biquadratic."""
    return (
        repeated_quadratic(part, variable)
        or standard_forms.TECHNIQUE.work(part, variable)
        or quadratic_denominator.TECHNIQUE.work(part, variable)
        or biquadratic.TECHNIQUE.work(part, variable)
    )


def _fraction(one: Simple[Fraction], letter: Symbol) -> Expression:
    number, core = _parts(one, letter)
    return scaled(number, core)


def _parts(one: Simple[Fraction], letter: Symbol) -> tuple[Fraction, Expression]:
    """The number in front of a simple fraction, and what is left."""
    below = one.below.tree()
    if not any(one.top[1:]):
        return one.top[0], Quotient(rational(1), below)
    highest = next(c for c in reversed(one.top) if c)
    size = Fraction(gcd(*(int(c) for c in one.top))) * (1 if highest > 0 else -1)
    return size, Quotient(polynomial_tree(tuple(c / size for c in one.top), letter), below)


def _whole(simple: tuple[Simple[Fraction], ...]) -> tuple[Fraction, tuple[Simple[Fraction], ...]]:
    """A positive number in front, and the numerators whole without common factor."""
    tops = [c for one in simple for c in one.top]
    below = lcm(*(c.denominator for c in tops))
    size = Fraction(gcd(*(int(c * below) for c in tops)), below)
    return size, tuple(replace(one, top=tuple(c / size for c in one.top)) for one in simple)


def _in_order(
    brackets: list[Bracket[Fraction]], left: OverQuadratic, variable: Symbol
) -> tuple[Bracket[Fraction], ...]:
    """As the author wrote them; else the variable itself, larger roots, quadratics."""
    written: list[tuple[Fraction, ...]] = []
    for base, _ in factored(left.under_tree).powers:
        coefficients = as_polynomial(base, variable)
        parts = factorise(coefficients)[1] if coefficients else ()
        written += [tuple(map(Fraction, factor)) for factor, _ in parts] if len(parts) == 1 else []

    def place(bracket: Bracket[Fraction]) -> tuple[bool, int, int, Fraction]:
        root = bracket.root
        at = written.index(bracket.factor) if bracket.factor in written else len(written)
        return (root is None, at, 1 if root else 0, -(root or fraction(0, 1)))

    return tuple(sorted(brackets, key=place))
