"""The root of a square under an integral with limits, written with the bars that it stands for.

int_0^pi sqrt(1 + cos 2x) dx     1 + cos 2x = 2 cos^2 x     int_0^pi sqrt 2 |cos x| dx
"""

from __future__ import annotations

from dataclasses import dataclass

from qbank.maths.constant_factor import times
from qbank.maths.deciding import decide_equal
from qbank.maths.expression import Integral
from qbank.maths.factors import factored
from qbank.maths.verdict import Proof, Proved
from qbank.messages import say
from qbank.techniques.circular.sign_of_function_plan import function_sign
from qbank.techniques.circular.single_squares import SingleSquare
from qbank.techniques.definites.chain import Chain
from qbank.techniques.definites.way import Place

__all__ = ["InBars", "in_bars"]


@dataclass(frozen=True, slots=True, kw_only=True)
class InBars:
    """An integral with its bars written.

    Attributes:
        integral: with them.
        squares: the sums that are single squares, each with the proof.
        proof: that the integrands are equal.
    """

    integral: Integral
    squares: tuple[tuple[SingleSquare, Proof], ...]
    proof: Proof

    def write(self, chain: Chain, place: Place) -> None:
        """Write the squares and the integral with bars."""
        for square, proof in self.squares:
            chain.note("aside", square.equation, rule=square.rule, reason=square.reason, proof=proof)
        said = say("Take the even power out of the root: the root of a square is a modulus.")
        chain.step(place(self.integral), "rewrite", said, self.proof)


def in_bars(integral: Integral) -> InBars | None:
    """An integral in which the root of a square is a modulus; None where there is none.

    >>> from qbank.maths.expression import PI, Integer, Root, Symbol, cos
    >>> x = Symbol("x")
    >>> found = in_bars(Integral(Root(1 + cos(2 * x)), x, Integer(0), PI))
    >>> found.squares[0][0].function == cos(x)
    True
    """
    plan = function_sign(integral.integrand, integral.variable)
    if plan is None or not plan.inside:
        return None
    shown = times(plan.constant, factored(plan.taken)).tree()
    if shown == integral.integrand:
        return None
    squares = []
    for square in plan.identities:
        verdict = decide_equal(square.equation.left, square.equation.right, integral.variable)
        if not isinstance(verdict, Proved):
            return None
        squares.append((square, verdict.proof))
    verdict = decide_equal(shown, integral.integrand, integral.variable)
    if not isinstance(verdict, Proved):
        return None
    written = Integral(shown, integral.variable, integral.lower, integral.upper)
    return InBars(integral=written, squares=tuple(squares), proof=verdict.proof)
