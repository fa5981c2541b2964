"""How a solution opens, in words and mathematics, and whether an opening leads on.

An opening is a substitution, the two parts of an integration by parts, or a sentence. It leads on if the techniques know
it as a step towards the integral, or finish the integral that it leaves.
"""

from __future__ import annotations

from typing import TypeAlias

from qbank.maths.derivative import derivative
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import (
    Differential,
    Expression,
    Integral,
    Symbol,
    product,
    rational,
)
from qbank.maths.tidying import tidy
from qbank.messages import prose
from qbank.techniques.first_step import FirstStep, fits
from qbank.techniques.planner import solve, solve_all
from qbank.techniques.undoing import in_the_letter, is_of_higher_degree
from qbank.techniques.working import Line, WorkedSolution

__all__ = ["Pieces", "by_parts_with", "leads_on", "let", "opening_lines", "opening_of"]

#: text with mathematics in it
Pieces: TypeAlias = tuple["str | Statement", ...]


def opening_of(solution: WorkedSolution) -> Pieces:
    """How a solution begins, but for a constant that is taken out: a substitution, the two parts, or a sentence.

    >>> from qbank.maths.expression import exp
    >>> x = Symbol("x")
    >>> opening_of(solve(x * exp(x**2), x))[0]
    'Let '
    """
    first, *rest = opening_lines(solution)
    following = rest[0].statements if rest and rest[0].kind == "let" else ()
    match first.kind, first.statements, following:
        case "let", (Equation() as u, Equation(Differential())), (Equation(), Equation(Differential()) as dv):
            return by_parts_with(u, dv)
        case "let", (Equation(_, Integral()),), _:
            return (first.reason,)
        case "let", (Equation() as definition, *_), _:
            return let(definition)
        case _:
            return (first.reason,)


def opening_lines(solution: WorkedSolution) -> tuple[Line, ...]:
    """The lines of a solution from its opening on."""
    plain = [place for place, line in enumerate(solution.lines) if line.rule != "constant-factor"]
    return solution.lines[plain[0] :]


def leads_on(shown: Pieces, integrand: Expression, variable: Symbol) -> bool:
    """Whether the techniques know a step as one towards an integral, or finish what it leaves.

    Args:
        shown: the step, as `opening_of` writes one.
        integrand: of the integral.
        variable: its letter.

    Raises:
        ValueError: it is a step of no kind that is written here.
    """
    match shown:
        case (str() as sentence,):
            return fits(FirstStep(None, sentence), integrand, variable)
        case (str(), Equation() as definition, str()) if shown == let(definition):
            return fits(FirstStep(definition, ""), integrand, variable) or _finishes_after(
                definition, integrand, variable
            )
        case (str(), Equation() as u, str(), Equation() as dv, str()) if shown == by_parts_with(u, dv):
            known = (opening_of(solution) for solution in solve_all(integrand, variable))
            return shown in known or _parts_finish(u, dv, variable)
    raise ValueError("a step of no known kind")


def let(definition: Equation) -> Pieces:
    """The opening of a substitution."""
    return prose("Let {definition}.", definition=definition)


def by_parts_with(u: Equation, dv: Equation) -> Pieces:
    """The opening of an integration by parts: u and dv."""
    return prose("Integrate by parts with {u} and {dv}.", u=u, dv=dv)


def _finishes_after(definition: Equation, integrand: Expression, variable: Symbol) -> bool:
    """Whether some technique finishes the integral in the new letter, where the substitution can be undone.

    Where it is a function of a polynomial of a higher degree, that is taken for granted: a root leads back then.
    """
    letter, inner = definition.left, definition.right
    assert isinstance(letter, Symbol)
    if is_of_higher_degree(inner, variable):
        return True
    left = in_the_letter(inner, letter, integrand, variable)
    return left is not None and solve(left, letter) is not None


def _parts_finish(u: Equation, dv: Equation, variable: Symbol) -> bool:
    """Whether techniques integrate one part and finish the integral that is then left."""
    body = tidy(_without_differential(dv.right))
    found = solve(body, variable)
    if found is None:
        return False
    left = tidy(product(found.antiderivative, derivative(u.right, variable)))
    return solve(left, variable) is not None


def _without_differential(tree: Expression) -> Expression:
    return rational(1) if isinstance(tree, Differential) else tree.rebuild(_without_differential)
