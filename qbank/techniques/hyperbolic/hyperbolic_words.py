"""What a teacher says where powers of hyperbolic functions are worked: whole sentences, one for each function."""

from __future__ import annotations

from dataclasses import dataclass

from qbank.messages import Message, say
from qbank.techniques.circular.even_plan import EvenWords

__all__ = ["DOUBLE", "REWRITING", "SPLITTING", "SplitWords"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitWords:
    """The sentences of a substitution after an identity.

    Attributes:
        save: why some factors are set aside.
        identity: which identity replaces the even power.
        fact: the derivative that makes it work, up to a sign or a number; without its full stop.
    """

    save: Message
    identity: Message
    fact: Message


#: for each function that is replaced
SPLITTING: dict[str, SplitWords] = {
    "sinh": SplitWords(
        save=say("The power of sinh is odd: split off one factor for the substitution."),
        identity=say("Cosh squared minus sinh squared is one, so sinh squared is cosh squared minus one."),
        fact=say("The sinh beside the differential is the derivative of cosh"),
    ),
    "cosh": SplitWords(
        save=say("The power of cosh is odd: split off one factor for the substitution."),
        identity=say("Cosh squared minus sinh squared is one, so cosh squared is one plus sinh squared."),
        fact=say("The cosh beside the differential is the derivative of sinh"),
    ),
    "sech": SplitWords(
        save=say("The power of sech is even: keep one sech squared for the substitution."),
        identity=say("Sech squared is one minus tanh squared."),
        fact=say("Sech squared is the derivative of tanh"),
    ),
    "tanh": SplitWords(
        save=say("The power of tanh is odd: keep one sech times tanh for the substitution."),
        identity=say("Tanh squared is one minus sech squared."),
        fact=say("Sech times tanh is the derivative of sech"),
    ),
    "cosech": SplitWords(
        save=say("The power of cosech is even: keep one cosech squared for the substitution."),
        identity=say("Cosech squared is coth squared minus one."),
        fact=say("Cosech squared is the derivative of coth"),
    ),
    "coth": SplitWords(
        save=say("The power of coth is odd: keep one cosech times coth for the substitution."),
        identity=say("Coth squared is one plus cosech squared."),
        fact=say("Cosech times coth is the derivative of cosech"),
    ),
}

DOUBLE = EvenWords(
    sine=say("Double argument: sinh squared is half of cosh of twice the argument, minus one half."),
    cosine=say("Double argument: cosh squared is half of cosh of twice the argument, plus one half."),
    product=say("Double argument: sinh times cosh is half of sinh of twice the argument."),
    product_and_sine=say(
        "Double argument: sinh times cosh is half of sinh of twice the argument,"
        " and sinh squared is half of cosh of twice the argument, minus one half."
    ),
    product_and_cosine=say(
        "Double argument: sinh times cosh is half of sinh of twice the argument,"
        " and cosh squared is half of cosh of twice the argument, plus one half."
    ),
    divided=say("Integrate term by term, dividing by the number inside."),
    powers=say("Integrate term by term; a power of sinh times cosh goes by substitution."),
    powers_divided=say(
        "Integrate term by term, dividing by the number inside; a power of sinh times cosh goes by substitution."
    ),
)

_SINH, _TANH, _COTH = (
    say("Write everything with sinh and cosh."),
    say("Write everything with tanh and sech."),
    say("Write everything with coth and cosech."),
)
#: for a function that the integrand is written with
REWRITING = {"sinh": _SINH, "cosh": _SINH, "tanh": _TANH, "sech": _TANH, "coth": _COTH, "cosech": _COTH}
