"""The first step of a worked solution, and whether it would be a step towards another integral too.

A substitution is told by what is substituted, `let u = x^2 + 1`; any other step by its sentence, which names no numbers.
Whether it fits another integral is asked of every technique that works that one, at every line, and of the search for
substitutions: a step that is found there is taken to fit, and so is a substitution that differs from one there by a number
added or multiplied.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from qbank.maths.constant_factor import split_constant
from qbank.maths.deciding import decide_equal
from qbank.maths.derivative import derivative
from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Integral, Symbol
from qbank.maths.verdict import Refuted
from qbank.messages import in_language, languages
from qbank.techniques.planner import solve_all
from qbank.techniques.substituting.substitution_search import outer_forms
from qbank.techniques.working import Line, WorkedSolution

__all__ = ["FirstStep", "first_step", "fits", "is_step_of"]


@dataclass(frozen=True, slots=True)
class FirstStep:
    """A step: a substitution, or what a sentence says.

    Attributes:
        definition: `u = g(x)`; None for any other step.
        sentence: why; it alone tells a step that is no substitution.
    """

    definition: Equation | None
    sentence: str


def first_step(solution: WorkedSolution) -> FirstStep:
    """The step that a solution begins with.

    >>> from qbank.maths.expression import sin, cos
    >>> from qbank.techniques.planner import solve
    >>> x = Symbol("x")
    >>> first_step(solve(sin(x) ** 4 * cos(x), x)).definition.right == sin(x)
    True
    """
    return _step(solution.lines[0])


def fits(step: FirstStep, integrand: Expression, variable: Symbol) -> bool:
    """Whether a step could be one towards another integral, for all that the techniques know.

    Args:
        step: the step.
        integrand: of the other integral.
        variable: its letter.
    """
    return any(_alike(step, other, variable) for other in _steps(integrand, variable))


def _same(one: FirstStep, other: FirstStep) -> bool:
    """Whether two steps are one, the first perhaps told in another language."""
    if one.definition is not None or other.definition is not None:
        return one == other
    return any(one.sentence == in_language(other.sentence, tag) for tag in languages())


def is_step_of(step: FirstStep, integrand: Expression, variable: Symbol) -> bool:
    """Whether a solution of an integral begins with that very step."""
    return any(_same(step, other) for other in _beginnings(integrand, variable))


@lru_cache(maxsize=256)
def _solutions(integrand: Expression, variable: Symbol) -> tuple[WorkedSolution, ...]:
    return solve_all(integrand, variable)


def _beginnings(integrand: Expression, variable: Symbol) -> Iterator[FirstStep]:
    return (first_step(solution) for solution in _solutions(integrand, variable))


@lru_cache(maxsize=256)
def _steps(integrand: Expression, variable: Symbol) -> tuple[FirstStep, ...]:
    """All steps that are known to lead on, each once; kept, as many others are held against them."""
    lines = (_step(line) for solution in _solutions(integrand, variable) for line in solution.lines)
    seen = (FirstStep(Equation(one.letter, one.inner), "") for one in outer_forms(integrand, variable))
    return tuple(dict.fromkeys((*lines, *seen)))


def _step(line: Line) -> FirstStep:
    first = line.statements[0]
    if line.kind == "let" and isinstance(first, Equation) and not isinstance(first.right, Integral):
        return FirstStep(first, "")
    return FirstStep(None, line.reason)


def _alike(one: FirstStep, other: FirstStep, variable: Symbol) -> bool:
    if one.definition is None or other.definition is None:
        return _same(one, other)
    # the same up to a number in front and one that is added: then what du uses up is the same
    left, right = (_used_up(step.definition.right, variable) for step in (one, other) if step.definition)
    return left == right or not isinstance(decide_equal(left, right, variable), Refuted)


@lru_cache(maxsize=1024)
def _used_up(inner: Expression, variable: Symbol) -> Expression:
    """The derivative of what is substituted, without the constant in front."""
    return split_constant(derivative(inner, variable), variable)[1].tree()
