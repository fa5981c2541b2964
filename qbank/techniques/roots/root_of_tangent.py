"""The root of a tangent or cotangent alone: u is the root, and a fraction in u is left.

int sqrt(tan x) dx        u = sqrt(tan x)    tan x = u^2,  dx = 2u/(1 + u^4) du     int 2u^2/(1 + u^4) du
int 1/sqrt(tan x) dx      written as sqrt(cot x) first
int sqrt(tanh x) dx       the same with 1 - u^4

The derivative of each of these functions is one of `1 + f^2`, `-(1 + f^2)` and `1 - f^2` (NIST DLMF 4.20, 4.34).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import before_integral, number, over, split_constant, times
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Apply,
    Differential,
    Expression,
    Integer,
    Integral,
    Power,
    Root,
    Sum,
    Symbol,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, factored, power_tree
from qbank.maths.surds import with_one_root
from qbank.maths.tidying import scaled, tidy
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.circular.angles import Angle, as_angle
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.slips import last_term_lost, sign_of_a_term_lost, slips_of
from qbank.techniques.substituting.substitution_search import put_back
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["root_of_tangent"]

_IDENTIFIER = "root-of-tangent"

#: of each function: the sign of its derivative, that of its square in it, and one over it
_KINDS = {
    "tan": (1, 1, "cot"),
    "cot": (-1, 1, "tan"),
    "tanh": (1, -1, "coth"),
    "coth": (1, -1, "tanh"),
}

#: higher roots and powers are nobody's exercise
_MOST = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """`constant * f(A)^(power/index)` with `u` the root of f(A).

    Attributes:
        letter: u.
        constant: what stands in front.
        function: f(A).
        angle: A.
        power: of u, positive.
        index: of the root.
        turned: whether f is one over the function that was written.
        taken_out: whether a number stood under the root.
    """

    letter: Symbol
    constant: Factored
    function: Apply
    angle: Angle
    power: int
    index: int
    turned: bool
    taken_out: bool

    @property
    def meaning(self) -> Expression:
        """The root."""
        return Root(self.function, self.index)

    @property
    def integrand(self) -> Expression:
        """The integrand with the function that is substituted, the constant left out."""
        if self.power == 1:
            return self.meaning
        return power_tree(self.function, Fraction(self.power, self.index))

    @property
    def front(self) -> Factored:
        """What stands before the integral in u."""
        sign = _KINDS[self.function.function][0]
        size = number(sign * self.index / self.angle.slope)
        return times(self.constant, size, over(factored(self.angle.unit)))

    def below(self, power: int) -> Expression:
        """`1 + u^power`, or with a minus."""
        raised = Power(self.letter, Integer(power))
        return sum_of(Integer(1), scaled(_KINDS[self.function.function][1], raised))

    def outer(self, power: int | None = None) -> Expression:
        """What is integrated in u; a slip has another power below the line."""
        above = power_tree(self.letter, Fraction(self.power + self.index - 1))
        return above / self.below(2 * self.index if power is None else power)

    def equations(self) -> tuple[Equation, ...]:
        """What the function is in u, and what dx is."""
        du, dx = Differential(self.letter), Differential(self.angle.variable)
        raised = power_tree(self.letter, Fraction(self.index - 1))
        rate = times(over(self.constant), self.front, factored(raised / self.below(2 * self.index)))
        return (
            Equation(self.function, power_tree(self.letter, Fraction(self.index))),
            Equation(dx, tidy(product(rate.tree(), du))),
        )

    def answer(
        self, in_letter: Expression, front: Factored | None = None, back: Expression | None = None
    ) -> Expression:
        """An antiderivative in u with the constant in front and the root put back, or what a slip puts there."""
        whole = multiplied(self.front if front is None else front, in_letter)
        whole = put_back(whole, self.letter, self.meaning if back is None else back)
        return sum_of(*map(with_one_root, whole.terms if isinstance(whole, Sum) else (whole,)))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    plan: _Plan
    solution: WorkedSolution


def root_of_tangent(solve: Solver) -> Technique:
    """The technique, given what solves the fraction in u."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> _Found | None:
        plan = _plan(integrand, variable)
        solution = None if plan is None else solved_beside(integrand, solve, plan.outer(), plan.letter)
        return None if plan is None or solution is None else _Found(plan=plan, solution=solution)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, found)

    def square_of_square(found: _Found) -> Expression | None:
        """`tan^2 x = u^2` below the line."""
        wrong = solve(found.plan.outer(found.plan.index), found.plan.letter)
        return None if wrong is None else found.plan.answer(wrong.antiderivative)

    def derivative_lost(found: _Found) -> Expression | None:
        """`dx = 2u du`."""
        power = found.plan.power + found.plan.index
        return found.plan.answer(scaled(Fraction(1, power), Power(found.plan.letter, Integer(power))))

    def du_for_dx(found: _Found) -> Expression | None:
        power = found.plan.power + 1
        raised = scaled(Fraction(1, power), Power(found.plan.letter, Integer(power)))
        return found.plan.answer(raised, found.plan.constant)

    def index_lost(found: _Found) -> Expression | None:
        front = times(found.plan.front, number(Fraction(1, found.plan.index)))
        return found.plan.answer(found.solution.antiderivative, front)

    def root_lost(found: _Found) -> Expression | None:
        return found.plan.answer(found.solution.antiderivative, back=found.plan.function)

    slip = slips_of(_IDENTIFIER, find)
    return Technique(
        identifier=_IDENTIFIER,
        title="The root of a tangent as the new letter",
        work=work,
        slips=(
            slip(
                "square-of-the-square",
                say(
                    "The new letter is a root, so the square of the tangent is its fourth power and not its square."
                ),
                square_of_square,
            ),
            slip(
                "index-of-differential-forgotten",
                say("The differential brings the index of the root as a factor."),
                index_lost,
            ),
            slip(
                "derivative-of-function-lost",
                say("The derivative of the function under the root belongs to the differential too."),
                derivative_lost,
            ),
            slip(
                "differential-not-replaced",
                say("The differential must be replaced as well: dx is not du."),
                du_for_dx,
            ),
            slip(
                "root-not-put-back",
                say("The new letter is the root: put the root back, not what is under it."),
                root_lost,
            ),
            sign_of_a_term_lost(_IDENTIFIER),
            last_term_lost(_IDENTIFIER),
        ),
    )


def _plan(integrand: Expression, variable: Symbol) -> _Plan | None:
    constant, moving = split_constant(integrand, variable)
    if len(moving.powers) != 1:
        return None
    ((base, exponent),) = moving.powers
    if exponent.denominator == 1:
        return None
    size, inside = split_constant(base, variable)
    if len(inside.powers) != 1 or inside.powers[0][1] != 1 or size.coefficient < 0:
        return None
    function = inside.powers[0][0]
    if not isinstance(function, Apply) or function.function not in _KINDS:
        return None
    angle = as_angle(function.argument, variable)
    power, index = abs(exponent.numerator), exponent.denominator
    if angle is None or size.powers or max(power, index) > _MOST:
        return None
    if size != number(1):
        constant = times(constant, Factored(coefficient=fraction(1, 1), powers=((size.tree(), exponent),)))
    turned = exponent < 0
    if turned:
        function = Apply(_KINDS[function.function][2], function.argument)
    return _Plan(
        letter=spare_letter(product(integrand, variable)),
        constant=constant,
        function=function,
        angle=angle,
        power=power,
        index=index,
        turned=turned,
        taken_out=size != number(1),
    )


def _worked(integrand: Expression, variable: Symbol, found: _Found) -> WorkedSolution:
    plan = found.plan
    working = Working(_IDENTIFIER, integrand, variable)
    written = before_integral(plan.constant, Integral(plan.integrand, variable))
    if plan.turned:
        said = say("One over this function is the other one: write it with that above the line.")
        working.step(written, "rewrite", said)
    elif plan.taken_out:
        working.step(written, "constant-factor", say("Take the number out in front."))
    said = say(
        "Substitute the root. The derivative of the function under it is written with the function itself."
    )
    working.let_be(plan.letter, plan.meaning, *plan.equations(), reason=said)
    line = before_integral(plan.front, Integral(plan.outer(), plan.letter))
    said = say("Write everything in {letter} and simplify.", letter=plan.letter.name)
    working.step(line, "substitution", said)
    carry(working, found.solution.lines, lambda line: multiplied(plan.front, line))
    said = say("Put the root back for {letter}.", letter=plan.letter.name)
    working.step(plan.answer(found.solution.antiderivative), "substitute-back", said)
    return working.finish()
