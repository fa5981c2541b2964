"""What is known of tan, cot, tanh and coth: their partners, their integrals, and how a teacher says it."""

from __future__ import annotations

from dataclasses import dataclass

from qbank.messages import Message, say

__all__ = ["FUNCTIONS", "TangentFunction"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TangentFunction:
    """What is known of tan, cot, tanh or coth.

    Attributes:
        squared: the partner s in `t^2 = one + second s^2`.
        below: what stands below the line when t is a quotient; its logarithm is the integral, up to the sign.
        logarithm: the sign of that integral.
        identity: how the teacher says the identity.
        derivative: how the teacher says the derivative.
        beside: the same where the partner's square stands beside the differential.
    """

    squared: str
    below: str
    logarithm: int
    identity: Message
    derivative: Message
    beside: Message


FUNCTIONS = {
    "tan": TangentFunction(
        squared="sec",
        below="cos",
        logarithm=-1,
        identity=say("Tangent squared is secant squared minus one."),
        derivative=say("The derivative of the tangent is secant squared."),
        beside=say("The squared secant is the derivative of the tangent"),
    ),
    "cot": TangentFunction(
        squared="cosec",
        below="sin",
        logarithm=1,
        identity=say("Cotangent squared is cosecant squared minus one."),
        derivative=say("The derivative of the cotangent is minus cosecant squared."),
        beside=say("The squared cosecant is the derivative of the cotangent"),
    ),
    "tanh": TangentFunction(
        squared="sech",
        below="cosh",
        logarithm=1,
        identity=say("Tanh squared is one minus sech squared."),
        derivative=say("The derivative of tanh is sech squared."),
        beside=say("Sech squared is the derivative of tanh"),
    ),
    "coth": TangentFunction(
        squared="cosech",
        below="sinh",
        logarithm=1,
        identity=say("Coth squared is one plus cosech squared."),
        derivative=say("The derivative of coth is minus cosech squared."),
        beside=say("Cosech squared is the derivative of coth"),
    ),
}
