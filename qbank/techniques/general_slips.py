"""Slips that need no technique: the function handed back, and its derivative in place of its integral.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from qbank.maths.derivative import derivative
from qbank.maths.expression import Expression, Symbol
from qbank.messages import say
from qbank.techniques.technique import SlipAnswer

__all__ = ["GENERAL_SLIPS", "general_slips"]

#: their identifiers, with those of answers that marking finds to be nearly right
GENERAL_SLIPS = (
    "integrand-handed-back",
    "differentiated-instead",
    "rounded-number",
    "off-by-a-factor",
    "a-term-too-many",
    "a-term-with-another-factor",
    "a-term-missing",
)

#: longer integrands are not differentiated as trees: their derivative grows with the square of their length
_SIZE_LIMIT = 80


def general_slips(integrand: Expression, variable: Symbol) -> tuple[SlipAnswer, ...]:
    """What may be handed in for any integral.

    >>> x = Symbol("x")
    >>> [slip.slip for slip in general_slips(x**3, x)]
    ['integrand-handed-back', 'differentiated-instead']
    """
    handed_back = SlipAnswer(
        slip="integrand-handed-back",
        sentence=say(
            "This is the function to be integrated; the answer is a function that has it as its derivative."
        ),
        answer=integrand,
    )
    if sum(1 for _ in integrand.walk()) > _SIZE_LIMIT:
        return (handed_back,)
    differentiated = SlipAnswer(
        slip="differentiated-instead",
        sentence=say("This is the derivative; the question asks for the integral."),
        answer=derivative(integrand, variable),
    )
    return (handed_back, differentiated)
