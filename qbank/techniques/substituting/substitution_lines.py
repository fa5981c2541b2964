"""The first two lines of a substitution: the letter with its differential, and the integral written in it."""

from __future__ import annotations

from qbank.maths.constant_factor import before_integral, number
from qbank.maths.expression import Integral
from qbank.messages import say
from qbank.techniques.substituting.substitution_search import Outer
from qbank.techniques.working import Working

__all__ = ["substitution_lines"]


def substitution_lines(working: Working, seen: Outer) -> None:
    """Write `let u = g, du = g' dx` and the integral in u.

    Args:
        working: where the lines go.
        seen: the parts of the integrand.
    """
    whole = seen.rate == number(1)
    working.let(
        seen.letter,
        seen.inner,
        seen.slope,
        say("The derivative of this part stands beside it.")
        if whole
        else say("The derivative of this part stands beside it, up to a constant."),
    )
    working.step(
        before_integral(seen.front, Integral(seen.outer, seen.letter)),
        "substitution",
        say("Write everything in {letter}.", letter=seen.letter.name),
    )
