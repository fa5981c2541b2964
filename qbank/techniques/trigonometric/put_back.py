"""An antiderivative in t written in the variable again: double angles, the triangle, and what is collected.

2t + sin 2t
2t + 2 sin t cos t                        sin 2t = 2 sin t cos t
2 arcsin(x/2) + 2 (x/2) sqrt(4 - x^2)/2   sin t = x/2, cos t = sqrt(4 - x^2)/2
2 arcsin(x/2) + 1/2 x sqrt(4 - x^2)
"""

from __future__ import annotations

from dataclasses import dataclass

from qbank.maths.constant_factor import times
from qbank.maths.equation import Equation
from qbank.maths.expression import Apply, Expression, Sum
from qbank.maths.factors import Factored
from qbank.maths.surds import Surd
from qbank.maths.tidying import tidy
from qbank.techniques.carrying import multiplied
from qbank.techniques.circular.circular_powers import CIRCULAR
from qbank.techniques.trigonometric.collected_sides import collected
from qbank.techniques.trigonometric.double_sines import identities, without_multiples
from qbank.techniques.trigonometric.triangle import NotOfTheTriangleError, Triangle

__all__ = ["PutBack", "put_back"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PutBack:
    """What the last lines are written from.

    Attributes:
        identities: the double angles that occur; empty when there are none.
        expanded: the antiderivative in t without them.
        sides: the functions of t, read from the triangle; empty when there is only t itself.
        raw: the antiderivative in the variable, nothing collected.
        answer: the same, collected.
    """

    identities: tuple[Equation, ...]
    expanded: Expression
    sides: tuple[Equation, ...]
    raw: Expression
    answer: Expression


def put_back(
    in_letter: Expression, triangle: Triangle, angle: Expression, constant: Factored, number: Surd
) -> PutBack | None:
    """The way back, or None when the antiderivative holds something that no triangle shows.

    Args:
        in_letter: the antiderivative in t, without what stands in front.
        triangle: of the substitution.
        angle: what t is in the variable.
        constant: what stands in front and is no number of the substitution.
        number: the number of the substitution in front.
    """
    terms = in_letter.terms if isinstance(in_letter, Sum) else (in_letter,)
    expanded = tuple(tidy(without_multiples(term, triangle.letter, triangle.kind)) for term in terms)
    try:
        answer = collected(expanded, triangle, angle, constant, number)
    except NotOfTheTriangleError:
        return None
    front = times(constant, number.factor())
    whole = _joined(tuple(multiplied(front, term) for term in expanded))
    return PutBack(
        identities=identities(in_letter, triangle.letter, triangle.kind),
        expanded=whole,
        sides=_sides(whole, triangle),
        raw=_replaced(whole, triangle, angle),
        answer=answer,
    )


def _joined(terms: tuple[Expression, ...]) -> Expression:
    return Sum(terms) if len(terms) > 1 else terms[0]


def _sides(tree: Expression, triangle: Triangle) -> tuple[Equation, ...]:
    used = {node.function for node in tree.walk() if isinstance(node, Apply)}
    return tuple(
        Equation(Apply(name, triangle.letter), triangle.ratio(name)) for name in CIRCULAR if name in used
    )


def _replaced(tree: Expression, triangle: Triangle, angle: Expression) -> Expression:
    """The functions of t, and t itself, as they are in the variable."""
    match tree:
        case Apply(name, argument) if name in CIRCULAR and argument == triangle.letter:
            return triangle.ratio(name)
        case triangle.letter:
            return angle
        case _:
            return tree.rebuild(lambda child: _replaced(child, triangle, angle))
