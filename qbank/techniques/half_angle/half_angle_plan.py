"""What a working with t = tan(x/2) is written from: the whole part, if any, and the integral in t."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from qbank.maths.constant_factor import in_front, number, over, times
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Power,
    Quotient,
    Sum,
    Symbol,
    difference,
    product,
    sum_of,
)
from qbank.maths.factors import Factored
from qbank.maths.letter_fraction import ZERO, fraction_of
from qbank.maths.polynomial import divided_by, polynomial_tree
from qbank.maths.tidying import scaled
from qbank.techniques.carrying import multiplied
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.half_angle.circle import COSINE, SINE
from qbank.techniques.half_angle.circular_fraction import CircularFraction, circular_fraction
from qbank.techniques.half_angle.letter_kinds import (
    HALF_ANGLE,
    InLetter,
    LetterKind,
    gone_wrong,
    in_letter,
    slope,
)
from qbank.techniques.standard.standard_sums import expanded_terms, plan_as_written

__all__ = ["HalfAngle", "half_angle", "with_half_angle"]


_NOTHING = Integer(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class HalfAngle:
    """The numbers of one working.

    Attributes:
        variable: x.
        constant: the constant in front of the integrand.
        way: the integral in t of what is left after dividing.
        divided: the integrand after dividing; None where nothing was divided off.
        done: the integral of the whole part, the constant in front.
    """

    variable: Symbol
    constant: Factored
    way: InLetter
    divided: Expression | None = None
    done: Expression = _NOTHING

    def values(self) -> dict[Expression, Expression]:
        """Each function of the angle that occurs, in t."""
        t = self.way.letter
        plus, double = self.plus, product(Integer(2), t)
        minus = difference(Integer(1), Power(t, Integer(2)))
        written: dict[str, Expression] = {
            "sin": Quotient(double, plus),
            "cos": Quotient(minus, plus),
            "tan": Quotient(double, minus),
            "sec": Quotient(plus, minus),
            "cosec": Quotient(plus, double),
            "cot": Quotient(minus, double),
        }
        seen = self.way.seen
        return {Apply(name, seen.angle.tree): tree for name, tree in written.items() if name in seen.names}

    def rate(self) -> Expression:
        """What stands before dt in dx."""
        return in_front(times(number(2), over(slope(self.way.seen))), Quotient(Integer(1), self.plus))

    @property
    def plus(self) -> Expression:
        """`1 + t^2`."""
        return sum_of(Integer(1), Power(self.way.letter, Integer(2)))

    def raw(self, values: dict[Expression, Expression]) -> Expression:
        """The integrand in t before anything is simplified."""

        def put(tree: Expression) -> Expression:
            return values.get(tree) or tree.rebuild(put)

        return product(put(self.way.seen.core), self.rate())

    def answer(self, way: InLetter | None = None, meaning: Expression | None = None) -> Expression:
        """The antiderivative; with another integral in t, or another meaning of t, a slip."""
        part = (way or self.way).answer(meaning)
        if self.divided is None:
            return part
        whole = sum_of(self.done, part)
        # like terms may have come of the arctangent
        collected = expanded_terms(whole, self.variable)
        fewer = isinstance(whole, Sum) and len(collected) < len(whole.terms)
        return sum_of(*collected) if fewer else whole


@lru_cache(maxsize=64)
def half_angle(integrand: Expression, variable: Symbol) -> HalfAngle | None:
    """The numbers of an integrand of this kind, else None."""
    seen = circular_fraction(integrand, variable)
    if seen is None or not seen.single:
        return None
    letter = Symbol("t")
    if letter in integrand.symbols() | {variable}:
        letter = spare_letter(sum_of(integrand, variable))
    taken = integrand.symbols()
    divided = _divided(seen)
    if divided is not None:
        whole, rest = divided
        way = in_letter(rest, HALF_ANGLE, letter, taken)
        plan = plan_as_written(whole, variable)
        if way is not None and plan is not None:
            size, core = rest.constant.coefficient / seen.constant.coefficient, rest.core
            return HalfAngle(
                variable=variable,
                constant=seen.constant,
                way=way,
                divided=sum_of(whole, scaled(size, core)),
                done=multiplied(seen.constant, plan.answer()),
            )
    way = in_letter(seen, HALF_ANGLE, letter, taken)
    return None if way is None else HalfAngle(variable=variable, constant=seen.constant, way=way)


def with_half_angle(plan: HalfAngle, kind: LetterKind) -> InLetter | None:
    """The integral in t with another kind of substitution, for a slip."""
    return gone_wrong(plan.way, kind)


def _divided(seen: CircularFraction) -> tuple[Expression, CircularFraction] | None:
    """The whole part, and the proper fraction that is left, of a fraction in the sine or in the cosine alone."""
    for circle, name in ((COSINE, "cos"), (SINE, "sin")):
        value = seen.value(circle)
        if value is None or value.b != ZERO or value.a.is_polynomial:
            continue
        whole, rest = divided_by(value.a.over, value.a.under)
        function = Apply(name, seen.angle.tree)
        if not whole or not rest:
            continue
        u = Symbol("u")
        size, core = fraction_of(rest, value.a.under).written(u)
        left = replace(
            seen,
            constant=times(seen.constant, number(size)),
            core=core.substitute({u: function}),
            multiples=((seen.angle.tree, 1),),
            names=frozenset((name,)),
        )
        return polynomial_tree(whole, u).substitute({u: function}), left
    return None
