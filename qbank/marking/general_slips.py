"""Slips that need no technique: the function handed back, and its derivative in place of its integral.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from qbank.maths.derivative import derivative
from qbank.maths.expression import Expression, Symbol
from qbank.techniques.technique import SlipAnswer

__all__ = ["general_slips"]


def general_slips(integrand: Expression, variable: Symbol) -> tuple[SlipAnswer, ...]:
    """What may be handed in for any integral.

    >>> x = Symbol("x")
    >>> [slip.slip for slip in general_slips(x**3, x)]
    ['integrand-handed-back', 'differentiated-instead']
    """
    return (
        SlipAnswer(
            slip="integrand-handed-back",
            sentence="This is the function to be integrated; the answer is a function that has it as its derivative.",
            answer=integrand,
        ),
        SlipAnswer(
            slip="differentiated-instead",
            sentence="This is the derivative; the question asks for the integral.",
            answer=derivative(integrand, variable),
        ),
    )
