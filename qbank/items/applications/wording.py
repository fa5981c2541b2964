"""Every sentence of the questions of applications."""

from __future__ import annotations

from qbank.bank.application import Application
from qbank.items.applications import units
from qbank.items.options import Prose
from qbank.maths.equation import Equation
from qbank.maths.expression import Apply, Expression, Symbol
from qbank.maths.functions import FUNCTIONS
from qbank.messages import Message, prose, say, together
from qbank.techniques.applications.asked import Asked, Kind

__all__ = ["prompt", "question", "title"]

_Y, _V = Symbol("y"), Symbol("v")


def title(kind: Kind) -> Message:
    """What the item is called where students see it."""
    return {
        "area": say("Find the area"),
        "volume": say("Find the volume"),
        "arc-length": say("Find the length"),
        "mean-value": say("Find the mean value"),
        "displacement": say("Find the displacement"),
        "distance": say("Find the distance"),
    }[kind]


def prompt(application: Application, asked: Asked, figures: int | None) -> Prose:
    """The question.

    Args:
        application: how it is dressed.
        asked: what is asked.
        figures: significant figures of the number that answers it; None where it is one of several options.
    """
    return together(
        application.setting,
        question(application, asked),
        _units(application),
        _accuracy(application, figures),
        _angles(asked),
    )


def question(application: Application, asked: Asked) -> Prose:
    """What is asked, without units and accuracy.

    Args:
        application: how it is dressed.
        asked: what is asked.
    """
    match asked.kind:
        case "area":
            return _area(asked)
        case "volume":
            return _volume(asked)
        case "arc-length":
            lower, upper = _ends(asked)
            return prose(
                "Find the length of the curve {curve} from {lower} to {upper}.",
                curve=Equation(_Y, asked.curves[0]), lower=lower, upper=upper,
            )  # fmt: skip
        case "mean-value":
            lower, upper = _ends(asked)
            return prose(
                "Find the mean value of {curve} from {lower} to {upper}.",
                curve=Equation(_Y, asked.curves[0]), lower=lower, upper=upper,
            )  # fmt: skip
        case "displacement":
            lower, upper = _ends(asked)
            return together(
                _velocity(application, asked),
                prose("Find the displacement from {lower} to {upper}.", lower=lower, upper=upper),
            )
        case "distance":
            lower, upper = _ends(asked)
            return together(
                _velocity(application, asked),
                prose("Find the distance travelled from {lower} to {upper}.", lower=lower, upper=upper),
            )


def _ends(asked: Asked) -> tuple[Equation, Equation]:
    assert asked.limits is not None
    return Equation(asked.variable, asked.limits[0]), Equation(asked.variable, asked.limits[1])


def _area(asked: Asked) -> Prose:
    match asked.curves, asked.limits:
        case (curve,), None:
            return prose(
                "Find the area of the region enclosed by the curve {curve} and the horizontal axis.",
                curve=Equation(_Y, curve),
            )
        case (curve,), _:
            lower, upper = _ends(asked)
            return prose(
                "Find the area of the region between the curve {curve} and the horizontal axis from {lower} to {upper}.",
                curve=Equation(_Y, curve), lower=lower, upper=upper,
            )  # fmt: skip
        case (first, second), None:
            return prose(
                "Find the area of the region enclosed by the curves {first} and {second}.",
                first=Equation(_Y, first), second=Equation(_Y, second),
            )  # fmt: skip
        case (first, second), _:
            lower, upper = _ends(asked)
            return prose(
                "Find the area of the region between the curves {first} and {second} from {lower} to {upper}.",
                first=Equation(_Y, first), second=Equation(_Y, second), lower=lower, upper=upper,
            )  # fmt: skip
    raise ValueError("a region has one curve or two")


def _volume(asked: Asked) -> Prose:
    turned = say("It is turned once about the horizontal axis. Find the volume of the solid.")
    return together(_region(asked), turned)


def _region(asked: Asked) -> Prose:
    match asked.curves, asked.limits:
        case (curve,), None:
            return prose(
                "A region is enclosed by the curve {curve} and the horizontal axis.",
                curve=Equation(_Y, curve),
            )
        case (curve,), _:
            lower, upper = _ends(asked)
            return prose(
                "A region lies between the curve {curve} and the horizontal axis from {lower} to {upper}.",
                curve=Equation(_Y, curve), lower=lower, upper=upper,
            )  # fmt: skip
        case (first, second), None:
            return prose(
                "A region is enclosed by the curves {first} and {second}.",
                first=Equation(_Y, first), second=Equation(_Y, second),
            )  # fmt: skip
        case (first, second), _:
            lower, upper = _ends(asked)
            return prose(
                "A region lies between the curves {first} and {second} from {lower} to {upper}.",
                first=Equation(_Y, first), second=Equation(_Y, second), lower=lower, upper=upper,
            )  # fmt: skip
    raise ValueError("a region has one curve or two")


def _velocity(application: Application, asked: Asked) -> Prose:
    velocity = Equation(_V, asked.curves[0])
    if not application.unit:
        return prose("A body moves along a straight line with the velocity {velocity}.", velocity=velocity)
    return prose(
        "The velocity along a straight line is {velocity}, in {speed}, and the time {letter} is in {time}.",
        velocity=velocity,
        speed=units.speed(application.unit, application.time),
        letter=asked.variable,
        time=units.plain(application.time),
    )


def _units(application: Application) -> Message | str:
    if not application.unit or application.kind in ("displacement", "distance"):
        return ""
    if application.kind == "mean-value":
        return say("The values are in {unit}.", unit=units.plain(application.unit))
    return say("Both axes are in {unit}.", unit=units.plain(application.unit))


def _accuracy(application: Application, figures: int | None) -> Message | str:
    unit = _unit_of_answer(application)
    if figures is None:
        return say("The answer is in {unit}.", unit=unit) if unit else ""
    if not unit:
        return say("Give a decimal number, correct to {figures} significant figures.", figures=str(figures))
    return say(
        "Give the answer in {unit} as a decimal number, correct to {figures} significant figures.",
        unit=unit,
        figures=str(figures),
    )


def _unit_of_answer(application: Application) -> Message | str:
    if not application.unit:
        return ""
    match application.kind:
        case "area":
            return units.square(application.unit)
        case "volume":
            return units.cubic(application.unit)
        case _:
            return units.plain(application.unit)


def _angles(asked: Asked) -> Message | str:
    return say("Angles are in radians.") if any(map(_is_circular, asked.curves)) else ""


def _is_circular(tree: Expression) -> bool:
    functions = (node.function for node in tree.walk() if isinstance(node, Apply))
    return any(FUNCTIONS[name].family == "circular" for name in functions)
