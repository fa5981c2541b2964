"""The six circular functions as the recurrence formulae need them: the partner, and what is integrated by parts."""

from __future__ import annotations

from dataclasses import dataclass

from qbank.messages import Message, say

__all__ = ["KINDS", "Kind"]


@dataclass(frozen=True, slots=True)
class Kind:
    """What is known of a function f.

    Attributes:
        partner: g, which stands beside the power of f in the formula.
        parts: p, the power of f that is integrated by parts; 0 where no parts are needed.
        sign: of the integral of f^p, which is sign * g over the slope; for p = 0 of the derivative of f.
        identity: the square that is replaced.
        integrated: what is said when parts begin.
    """

    partner: str
    parts: int
    sign: int
    identity: Message
    integrated: Message


#: by the name of the function
KINDS = {
    "sin": Kind(
        "cos",
        1,
        -1,
        say("Cosine squared is one minus sine squared."),
        say("By parts: one factor sine is integrated."),
    ),
    "cos": Kind(
        "sin",
        1,
        1,
        say("Sine squared is one minus cosine squared."),
        say("By parts: one factor cosine is integrated."),
    ),
    "sec": Kind(
        "tan",
        2,
        1,
        say("Tangent squared is secant squared minus one."),
        say("By parts: one squared secant is integrated."),
    ),
    "cosec": Kind(
        "cot",
        2,
        -1,
        say("Cotangent squared is cosecant squared minus one."),
        say("By parts: one squared cosecant is integrated."),
    ),
    "tan": Kind(
        "sec",
        0,
        1,
        say("Tangent squared is secant squared minus one."),
        say(
            "The squared secant is the derivative of the tangent: raise the power by one and divide."
            " This is the recurrence formula."
        ),
    ),
    "cot": Kind(
        "cosec",
        0,
        -1,
        say("Cotangent squared is cosecant squared minus one."),
        say(
            "The squared cosecant is minus the derivative of the cotangent: raise the power by one and divide."
            " This is the recurrence formula."
        ),
    ),
}
