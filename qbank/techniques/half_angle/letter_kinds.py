"""The substitutions for a fraction of sines and cosines, and the integral in the letter that each leaves.

u = cos A     sin A stands beside the differential        1/(sin x (1 + cos x))      -int du/((1 - u^2)(1 + u))
u = sin A     cos A stands beside it                      1/(cos x (1 + sin x))
u = tan A     everything in tangents, sec^2 A beside it   1/(1 + cos^2 x)            int du/(u^2 + 2)
t = tan(A/2)  anything                                    1/(5 + 4 cos x)            int 2 dt/(t^2 + 9)

For hyperbolic functions the last one is u = e^A, and the others are the same with other signs.
What is left is a fraction of polynomials, which standard forms, quadratics and partial fractions take.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal, TypeAlias

from qbank.maths.constant_factor import number, over, times
from qbank.maths.expression import (
    Apply,
    E,
    Expression,
    Integer,
    Integral,
    Power,
    Quotient,
    Sum,
    Symbol,
    fraction,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.letter_fraction import ONE, ZERO, LetterFraction, polynomial
from qbank.maths.tidying import scaled, tidy
from qbank.techniques.carrying import letters_of, multiplied
from qbank.techniques.circular import even_powers
from qbank.techniques.circular.angles import Angle
from qbank.techniques.fractions import biquadratic, letter_fractions, partial_fractions
from qbank.techniques.fractions.letter_plan import letter_plan
from qbank.techniques.fractions.partial_fractions_plan import partial_plan
from qbank.techniques.half_angle.circle import (
    COSINE,
    EXPONENTIAL,
    HALF,
    HYPERBOLIC_COSINE,
    HYPERBOLIC_SINE,
    HYPERBOLIC_TANGENT,
    SINE,
    TANGENT,
    Circle,
)
from qbank.techniques.half_angle.circular_fraction import CircularFraction
from qbank.techniques.half_angle.with_letters import with_letters
from qbank.techniques.quadratics import quadratic_denominator
from qbank.techniques.quadratics.denominator_plan import plan_of
from qbank.techniques.standard import standard_forms
from qbank.techniques.standard.standard_sums import plan_as_written
from qbank.techniques.substituting import substitution as by_substitution
from qbank.techniques.substituting.substitution_search import put_back, substitution
from qbank.techniques.trigonometric.trigonometric_substitution import trigonometric_substitution
from qbank.techniques.working import Line, WorkedSolution

__all__ = [
    "COS",
    "COSH",
    "EXP",
    "HALF_ANGLE",
    "SIN",
    "SINH",
    "TAN",
    "TANH",
    "InLetter",
    "LetterKind",
    "gone_wrong",
    "in_letter",
    "slip_in",
    "slope",
]

Name: TypeAlias = Literal["cos", "sin", "tan", "half", "cosh", "sinh", "tanh", "exp"]


def _even(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    """What is left of a power of `u^2 + 1` below the line, after a substitution of its own."""
    return standard_forms.TECHNIQUE.work(integrand, variable) or even_powers.TECHNIQUE.work(
        integrand, variable
    )


#: where a function in the answer undoes what the letter stands for
_ANGLES_BACK = ("tan", "half", "exp")

_SOLVERS = (
    standard_forms.TECHNIQUE,
    by_substitution.TECHNIQUE,
    quadratic_denominator.TECHNIQUE,
    partial_fractions.TECHNIQUE,
    biquadratic.TECHNIQUE,
    letter_fractions.TECHNIQUE,
    trigonometric_substitution(_even),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterKind:
    """One substitution; a slip changes one of these.

    Attributes:
        name: what the letter is.
        circle: sine and cosine in the letter.
        odd: whether the integrand must be v times a fraction in the letter, and not that fraction alone.
        rate: by what that fraction is multiplied, for an angle of slope 1.
    """

    name: Name
    circle: Circle
    odd: bool
    rate: LetterFraction

    def fraction(self, seen: CircularFraction) -> LetterFraction | None:
        """What is integrated in the letter, for an angle of slope 1; None where the substitution does not fit."""
        value = seen.value(self.circle)
        if value is None:
            return None
        wanted, other = (value.b, value.a) if self.odd else (value.a, value.b)
        return None if other != ZERO or wanted == ZERO else wanted.times(self.rate)

    def meaning(self, angle: Angle) -> Expression:
        """What the letter stands for."""
        if self.name == "exp":
            return Power(E, angle.tree)
        if self.name != "half":
            return Apply(self.name, angle.tree)
        even = all((n / 2).denominator == 1 for n in (angle.slope, angle.number)) and not angle.others
        half = angle.times(fraction(1, 2)).tree if even else tidy(Quotient(angle.tree, Integer(2)))
        return Apply("tan", half)


COS = LetterKind(name="cos", circle=COSINE, odd=True, rate=polynomial(-1))
SIN = LetterKind(name="sin", circle=SINE, odd=True, rate=ONE)
TAN = LetterKind(name="tan", circle=TANGENT, odd=False, rate=polynomial(1, 0, 1).inverse())
HALF_ANGLE = LetterKind(
    name="half", circle=HALF, odd=False, rate=polynomial(2).times(polynomial(1, 0, 1).inverse())
)

COSH = LetterKind(name="cosh", circle=HYPERBOLIC_COSINE, odd=True, rate=ONE)
SINH = LetterKind(name="sinh", circle=HYPERBOLIC_SINE, odd=True, rate=ONE)
TANH = LetterKind(name="tanh", circle=HYPERBOLIC_TANGENT, odd=False, rate=polynomial(1, 0, -1).inverse())
EXP = LetterKind(name="exp", circle=EXPONENTIAL, odd=False, rate=polynomial(0, 1).inverse())


@dataclass(frozen=True, slots=True, kw_only=True)
class InLetter:
    """The integral in the letter, solved.

    Attributes:
        seen: the integrand.
        kind: the substitution.
        letter: its letter.
        fraction: the integrand in the letter, for an angle of slope 1; None with letters for numbers.
        front: the constant in front of the integral in the letter.
        outer: the integrand in the letter, without a constant.
        antiderivative: its antiderivative.
        lines: how that is worked; none for a slip, of which only the answer is wanted.
    """

    seen: CircularFraction
    kind: LetterKind
    letter: Symbol
    fraction: LetterFraction | None
    front: Factored
    outer: Expression
    antiderivative: Expression
    lines: tuple[Line, ...]

    @property
    def meaning(self) -> Expression:
        """What the letter stands for."""
        return self.kind.meaning(self.seen.angle)

    def answer(self, meaning: Expression | None = None) -> Expression:
        """The antiderivative in the variable; with another meaning of the letter, a slip."""
        whole = multiplied(self.front, self.antiderivative)
        if meaning is None and self.kind.name in _ANGLES_BACK:
            return _neat_terms(put_back(self._angles_back(whole), self.letter, self.meaning))
        return put_back(whole, self.letter, self.meaning if meaning is None else meaning)

    @property
    def jumps(self) -> bool:
        """Whether the answer jumps where the tangent does: an inverse tangent of a tangent."""
        inverse = (
            node for node in self.answer().walk() if isinstance(node, Apply) and node.function == "arctan"
        )
        return any(
            isinstance(node, Apply) and node.function == "tan" for one in inverse for node in one.walk()
        )

    def _angles_back(self, tree: Expression) -> Expression:
        """`arctan t` as half the angle: equal up to a constant between two places where the tangent jumps; `ln u` as x."""
        inverse = (
            Apply("ln", Apply("abs", self.letter))
            if self.kind.name == "exp"
            else Apply("arctan", self.letter)
        )
        if tree == inverse:
            angle = self.seen.angle
            return scaled(angle.slope / 2 if self.kind.name == "half" else angle.slope, angle.moving)
        return tidy(tree.rebuild(self._angles_back))


def slope(seen: CircularFraction) -> Factored:
    """The derivative of the angle."""
    return times(number(seen.angle.slope), factored(seen.angle.unit))


@lru_cache(maxsize=256)
def in_letter(
    seen: CircularFraction, kind: LetterKind, letter: Symbol, taken: frozenset[Symbol]
) -> InLetter | None:
    """The integral after a substitution, worked; None where it does not fit or is not solved.

    Args:
        seen: the integrand.
        kind: the substitution.
        letter: its letter.
        taken: letters that the working may not use again.
    """
    way = _unsolved(seen, kind, letter)
    if way is None:
        return None
    found = (technique.work(way.outer, letter) for technique in _SOLVERS)
    solution = next((one for one in found if one is not None), None)
    if solution is None or letters_of(solution) & taken or any(line.domain for line in solution.lines):
        return None
    return replace(way, antiderivative=solution.antiderivative, lines=solution.lines)


def gone_wrong(right: InLetter, kind: LetterKind) -> InLetter | None:
    """The integral after a substitution with a slip in it, its answer without lines; None where it makes no difference.

    Args:
        right: the integral without the slip.
        kind: the substitution with it.
    """
    way = _unsolved(right.seen, kind, right.letter)
    if way is None or (way.front, way.outer) == (right.front, right.outer):
        return None
    plans = (
        find(way.outer, way.letter)
        for find in (plan_as_written, plan_of, partial_plan, letter_plan, substitution)
    )
    plan = next((plan for plan in plans if plan is not None), None)
    return None if plan is None else replace(way, antiderivative=plan.answer())


def slip_in(
    find: Callable[[Expression, Symbol], object], wrong: Callable[[InLetter], Expression | None]
) -> Callable[[WorkedSolution], Expression | None]:
    """What a slip makes of a solved integral, as a technique lists it.

    Args:
        find: what finds the substitution of an integral again.
        wrong: the answer with the slip, or None where it cannot occur.
    """

    def answer(solution: WorkedSolution) -> Expression | None:
        way = find(solution.integrand, solution.variable)
        found = wrong(way) if isinstance(way, InLetter) else None
        if found is None or found == solution.antiderivative:
            return None
        return found if solution.variable in found.symbols() else None

    return answer


def _unsolved(seen: CircularFraction, kind: LetterKind, letter: Symbol) -> InLetter | None:
    fraction = kind.fraction(seen)
    if fraction is None:
        found = with_letters(seen, kind.circle, kind.rate, letter, odd=kind.odd)
        if found is None:
            return None
        size, outer = found
    else:
        number_before, outer = fraction.written(letter)
        size = number(number_before)
    front = times(seen.constant, size, over(slope(seen)))
    return InLetter(
        seen=seen,
        kind=kind,
        letter=letter,
        fraction=fraction,
        front=front,
        outer=outer,
        antiderivative=Integral(outer, letter),
        lines=(),
    )


def _neat_terms(tree: Expression) -> Expression:
    """`1/tan x` as a term of an answer is `cot x`, and `(b x)/b` is x."""
    return sum_of(*map(_neat_term, tree.terms if isinstance(tree, Sum) else (tree,)))


def _neat_term(term: Expression) -> Expression:
    seen = factored(term)
    functions = [(base, n) for base, n in seen.powers if isinstance(base, Apply)]
    if not functions:
        return seen.tree()
    base, n = functions[0]
    if base.function != "tan" or n > 0:
        return term
    cotangent = Factored(coefficient=fraction(1, 1), powers=((Apply("cot", base.argument), -n),))
    return times(seen.without(base), cotangent).tree()
