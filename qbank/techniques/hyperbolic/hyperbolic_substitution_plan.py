"""What a working with x = a sinh t or x = a cosh t is written from, and the way back to x.

x^m (p x^2 + q)^(n/2)     k sinh^m t cosh^(n+1) t      t = arsinh(x/a)
x^m (p x^2 - q)^(n/2)     k cosh^m t sinh^(n+1) t      t = arcosh(x/a), ln|x + root| but for a constant
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.constant_factor import number, split_constant, times
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Power,
    Quotient,
    Root,
    Sum,
    Symbol,
    product,
    rational,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.surds import square_root
from qbank.maths.tidying import scaled, tidy
from qbank.techniques.circular.circular_powers import HYPERBOLIC, power_product

__all__ = ["HyperbolicPlan", "back", "hyperbolic_plan", "logarithm_of", "multiples_of"]

#: higher powers are nobody's exercise
_MOST = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class HyperbolicPlan:
    """`constant * x^beside * (root of p x^2 + q or p x^2 - q)^power`.

    Attributes:
        variable: x.
        constant: in front.
        beside: the power of x.
        power: that of the root, odd.
        inside: what stands under the root.
        scale: a, the root of q/p.
        size: the root of q.
        plus: whether it is a sum, and x a sinh t.
        rate: by how much the differential raises the power of the other function; 0 is a slip.
    """

    variable: Symbol
    constant: Factored
    beside: int
    power: int
    inside: Expression
    scale: Fraction
    size: Fraction
    plus: bool
    rate: int = 1

    @property
    def letter(self) -> Symbol:
        """T, or u where that is taken."""
        return (
            Symbol("t")
            if Symbol("t") not in self.constant.tree().symbols() | {self.variable}
            else Symbol("u")
        )

    @property
    def names(self) -> tuple[str, str]:
        """What x is, and what the root is."""
        return ("sinh", "cosh") if self.plus else ("cosh", "sinh")

    @property
    def functions(self) -> tuple[Expression, Expression]:
        """The same of the letter."""
        first, second = self.names
        return Apply(first, self.letter), Apply(second, self.letter)

    @property
    def front(self) -> Factored:
        """The constant before the integral in the letter."""
        return times(self.constant, number(self.scale ** (self.beside + 1) * self.size**self.power))

    @property
    def core(self) -> Expression:
        """The integrand in the letter."""
        first, second = self.names
        powers = ((first, Fraction(self.beside)), (second, Fraction(self.power + self.rate)))
        return power_product(self.letter, powers)

    @property
    def meaning(self) -> Expression:
        """What the letter stands for."""
        over = (
            scaled(1 / self.scale, self.variable)
            if self.scale.numerator == 1
            else Quotient(scaled(self.scale.denominator, self.variable), Integer(self.scale.numerator))
        )
        return Apply("arsinh" if self.plus else "arcosh", over)

    def values(self) -> dict[Expression, Expression]:
        """The two functions in the variable."""
        first, second = self.functions
        return {
            first: self.meaning.children[0],
            second: tidy(Quotient(Root(self.inside), rational(self.size))),
        }


class _OfTheLetterError(Exception):
    """A function of the letter that has no simple form in the variable."""


def hyperbolic_plan(integrand: Expression, variable: Symbol) -> HyperbolicPlan | None:
    """The numbers of an integrand of this kind, else None.

    >>> x = Symbol("x")
    >>> plan = hyperbolic_plan(Root(x**2 + 4), x)
    >>> plan.scale, plan.plus, plan.power
    (Fraction(2, 1), True, 1)
    """
    constant, moving = split_constant(integrand, variable)
    rooted = [(base, n) for base, n in moving.powers if n.denominator == 2]
    others = [(base, n) for base, n in moving.powers if n.denominator != 2]
    if len(rooted) != 1 or any(base != variable or n.denominator != 1 for base, n in others):
        return None
    inside, n = rooted[0]
    line = as_polynomial(inside, variable)
    if line is None or len(line) != 3 or line[1] or line[2] < 0 or not line[0]:
        return None
    beside, power = int(moving.exponent(variable)), int(2 * n)
    lead, size = square_root(line[2]), square_root(abs(line[0]))
    if (
        abs(beside) + abs(power) > _MOST
        or lead is None
        or size is None
        or (lead.radicand, size.radicand) != (1, 1)
    ):
        return None
    return HyperbolicPlan(
        variable=variable,
        constant=constant,
        beside=beside,
        power=power,
        inside=inside,
        scale=size.rational / lead.rational,
        size=size.rational,
        plus=line[0] > 0,
    )


def multiples_of(t: Symbol, double: int = 2) -> dict[Expression, Expression]:
    """The sinh of twice and four times t."""
    s, c = Apply("sinh", t), Apply("cosh", t)
    square = sum_of(product(Integer(2), Power(s, Integer(2))), Integer(1))
    return {
        Apply("sinh", scaled(2, t)): scaled(double, product(s, c)),
        Apply("sinh", scaled(4, t)): product(Integer(2 * double), s, c, square),
    }


def back(plan: HyperbolicPlan, tree: Expression, double: int = 2) -> Expression | None:
    """An antiderivative in the variable again, with the constant in front; None where something of t is left."""
    values = plan.values()
    sinh, cosh = (values[Apply(name, plan.letter)] for name in ("sinh", "cosh"))
    t = plan.letter
    known: dict[Expression, Expression] = values | {
        Apply("tanh", t): Quotient(sinh, cosh),
        Apply("coth", t): Quotient(cosh, sinh),
        Apply("sech", t): Quotient(Integer(1), cosh),
        Apply("cosech", t): Quotient(Integer(1), sinh),
        Power(plan.functions[1], Integer(2)): tidy(Quotient(plan.inside, rational(plan.size**2))),
        t: plan.meaning if plan.plus else Apply("ln", Apply("abs", logarithm_of(plan))),
    }
    multiples = multiples_of(t, double)

    def put(part: Expression) -> Expression:
        if part in multiples:
            return put(multiples[part])
        if isinstance(part, Apply) and part.function in HYPERBOLIC and part not in known:
            raise _OfTheLetterError
        return known.get(part) or part.rebuild(put)

    try:
        whole = put(tree)
    except _OfTheLetterError:
        return None
    terms = whole.terms if isinstance(whole, Sum) else (whole,)
    return sum_of(*(_neat(times(plan.front, factored(term)), plan.variable) for term in terms))


def logarithm_of(plan: HyperbolicPlan) -> Expression:
    """The sum whose logarithm is t but for a constant."""
    lead = plan.size / plan.scale
    return sum_of(scaled(lead, plan.variable), Root(plan.inside))


def _neat(term: Factored, variable: Symbol) -> Expression:
    """A term with its polynomials in order, the variable first."""
    powers = list[tuple[Expression, Fraction]]()
    for base, n in term.powers:
        line = as_polynomial(base, variable) if isinstance(base, Sum) and n == 1 else None
        powers.append((base if line is None else polynomial_tree(line, variable), n))
    powers.sort(key=lambda pair: pair[0] != variable)
    return Factored(coefficient=term.coefficient, powers=tuple(powers)).tree()
