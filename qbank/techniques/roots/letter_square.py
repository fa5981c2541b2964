"""The root of a quadratic with letters: the square is completed, and the bracket is the new letter.

1/sqrt(2a x - x^2)     2a x - x^2 = a^2 - (x - a)^2                 arcsin((x - a)/|a|)
1/sqrt((x - a)(x - b)) the square of x - (a + b)/2, less a constant
sqrt(x^2 + b x + c)    (x + b/2)^2 + c - b^2/4

What is left has no linear term under the root and is for the other techniques.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import before_integral, split_constant
from qbank.maths.expression import (
    Constant,
    Expression,
    Integer,
    Integral,
    Negate,
    Power,
    Product,
    Sum,
    Symbol,
    fraction,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.parametric import Letters, Parametric
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, letters_of, multiplied
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost, slips_of
from qbank.techniques.substituting.substitution_search import put_back
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["letter_square"]

_IDENTIFIER = "letter-square"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """`constant * rest * under^n`.

    Attributes:
        variable: the variable.
        constant: in front.
        under: the quadratic as it was written.
        moved: the variable and what is added to it in the square.
        square: the quadratic with its square completed, in the variable.
        letter: a new letter for the bracket.
        core: the integrand in the letter, without the constant.
        rises: whether the number before the square is positive.
    """

    variable: Symbol
    constant: Factored
    under: Expression
    moved: Expression
    square: Expression
    letter: Symbol
    core: Expression
    rises: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """A quadratic with its square completed, and the working of what is left."""

    seen: _Seen
    solution: WorkedSolution

    def answer(self, antiderivative: Expression, moved: Expression | None = None) -> Expression:
        """An antiderivative in the letter, written in the variable; with another bracket, a slip."""
        seen = self.seen
        back = put_back(antiderivative, seen.letter, moved or seen.moved)
        # the quadratic stands as it was given, not with its square completed
        return multiplied(seen.constant, back if moved else back.replaced(seen.square, seen.under))


def letter_square(solve: Solver) -> Technique:
    """The technique, given what solves the integral without the linear term."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> _Found | None:
        seen = _seen(integrand, variable)
        solution = None if seen is None else solve(seen.core, seen.letter)
        if seen is None or solution is None or letters_of(solution) & integrand.symbols():
            return None
        return _Found(seen=seen, solution=solution)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, found)

    slip = slips_of("letter-square", find)

    return Technique(
        identifier=_IDENTIFIER,
        title="Roots of quadratics with letters: the square is completed",
        work=work,
        slips=(
            slip(
                "sign-in-bracket",
                say("Multiply the square out again: the linear term shows which sign stands in the bracket."),
                _sign_in_bracket,
            ),
            slip(
                "bracket-not-put-back",
                say("The new letter stands for the whole bracket: put all of it back."),
                lambda found: found.answer(found.solution.antiderivative, found.seen.variable),
            ),
            sign_of_a_term_lost("letter-square"),
            last_term_lost("letter-square"),
            differentiated_instead("letter-square"),
        ),
    )


def _sign_in_bracket(found: _Found) -> Expression | None:
    """`x + a` for `x - a`; not where the root is real for a part of the line only, which is another part then."""
    moved = found.seen.moved
    if not found.seen.rises or not isinstance(moved, Sum):
        return None
    x, shift = moved.terms[0], sum_of(*moved.terms[1:])
    wrong = sum_of(x, shift.operand if isinstance(shift, Negate) else Negate(shift))
    return found.answer(found.solution.antiderivative, wrong)


def _seen(integrand: Expression, variable: Symbol) -> _Seen | None:
    constant, moving = split_constant(integrand, variable)
    roots = [pair for pair in moving.powers if pair[1].denominator == 2]
    if len(roots) != 1 or not constant.coefficient or not isinstance(roots[0][0], Sum | Product):
        return None
    under, n = roots[0]
    letters = sorted(under.symbols() - {variable}, key=lambda one: one.name)
    atoms = (*letters, *dict.fromkeys(node for node in under.walk() if isinstance(node, Constant)), variable)
    known = Letters(atoms)
    coefficients = known.polynomial(under, variable) if letters else None
    if coefficients is None or len(coefficients) != 3 or not coefficients[1]:
        return None
    c, b, a = coefficients
    size = a.as_fraction()
    if size is None or not size:
        return None
    shift, rest = b / (size * 2), c - b * b / (size * 4)
    if not rest:
        return None
    letter = spare_letter(integrand)
    moved = sum_of(variable, shift.tree())
    square = _square(size, moved, rest)
    others = moving.without(under).tree().substitute({variable: _less(letter, shift)})
    core = factored(others), Factored(coefficient=fraction(1, 1), powers=((_square(size, letter, rest), n),))
    whole = Factored(coefficient=core[0].coefficient, powers=(*core[0].powers, *core[1].powers)).tree()
    return _Seen(
        variable=variable,
        constant=constant,
        under=under,
        moved=moved,
        square=square,
        letter=letter,
        core=whole,
        rises=size > 0,
    )


def _less(letter: Symbol, shift: Parametric) -> Expression:
    return sum_of(letter, (-shift).tree())


def _square(size: Fraction, bracket: Expression, rest: Parametric) -> Expression:
    """`size * bracket^2 + rest`, what is positive first where that can be told."""
    square = scaled(size, Power(bracket, Integer(2)))
    other = rest.tree()
    return sum_of(other, square) if isinstance(square, Negate) else sum_of(square, other)


def _worked(integrand: Expression, found: _Found) -> WorkedSolution:
    seen = found.seen
    working = Working(_IDENTIFIER, integrand, seen.variable)
    working.aside(seen.under, seen.square, "complete-square", say("Complete the square."))
    working.let(seen.letter, seen.moved, Integer(1), say("Let the bracket be the new letter."))
    said = say("Write everything in {letter}.", letter=seen.letter.name)
    working.step(before_integral(seen.constant, Integral(seen.core, seen.letter)), "substitution", said)
    carry(working, found.solution.lines, lambda line: multiplied(seen.constant, line))
    said = say("Put the bracket back for {letter}; its square is in the quadratic.", letter=seen.letter.name)
    working.step(found.answer(found.solution.antiderivative), "substitute-back", said)
    return working.finish()
