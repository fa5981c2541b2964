"""The picture in words: what it shows, for whoever cannot see it, and no more than whoever sees it is told."""

from __future__ import annotations

from qbank.maths.conventions import Conventions
from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import lay_out, speech
from qbank.messages import Message, say
from qbank.techniques.applications.asked import Asked, SetUp

__all__ = ["describe", "picture_title"]


def picture_title(asked: Asked) -> Message:
    """What is pictured, in few words."""
    match asked.kind:
        case "area":
            return say("The region whose area is wanted")
        case "volume":
            return say("The region that is turned about the axis")
        case "arc-length":
            return say("The curve whose length is wanted")
        case "mean-value":
            return say("The curve whose mean value is wanted")
        case "displacement" | "distance":
            return say("The velocity against the time")


def describe(plan: SetUp, conventions: Conventions) -> Message:
    """The picture in words.

    Args:
        plan: the question.
        conventions: how mathematics is spoken.
    """
    asked = plan.asked

    def spoken(tree: Expression, letter: str = "y") -> str:
        return speech(lay_out(Equation(Symbol(letter), tree), conventions))

    first = spoken(asked.curves[0], "v" if asked.kind in ("displacement", "distance") else "y")
    if len(asked.curves) > 1:
        second = spoken(asked.curves[1])
        if asked.limits is None:
            region = say("The curves {first} and {second}; the region that they enclose is shaded.", first=first, second=second)  # fmt: skip
        else:
            region = say(
                "The curves {first} and {second}; the region between them from {lower} to {upper} is shaded.",
                first=first,
                second=second,
                lower=spoken(asked.limits[0], asked.variable.name),
                upper=spoken(asked.limits[1], asked.variable.name),
            )
    elif asked.limits is None:
        region = say("The curve {first}; the region that it encloses with the horizontal axis is shaded.", first=first)  # fmt: skip
    else:
        lower, upper = (spoken(limit, asked.variable.name) for limit in asked.limits)
        if asked.kind == "arc-length":
            return say(
                "The curve {first}; it is drawn thick from {lower} to {upper}.",
                first=first,
                lower=lower,
                upper=upper,
            )
        region = say(
            "The curve {first}; the region between it and the horizontal axis from {lower} to {upper} is shaded.",
            first=first,
            lower=lower,
            upper=upper,
        )
    if asked.kind == "volume":
        return say("{region} Dashed lines show the solid when it is turned about the horizontal axis.", region=region)  # fmt: skip
    return region
