"""Every sentence that an item says to a student, in one place."""

from __future__ import annotations

from qbank.items.item import Prose
from qbank.maths.expression import Expression, Integral, Symbol
from qbank.techniques.presenting import with_constant

__all__ = [
    "key_feedback",
    "prompt_choice",
    "prompt_free",
    "prompt_numeric",
    "rubric",
    "slip_feedback",
    "value_feedback",
]


def prompt_choice(integral: Integral) -> Prose:
    """The question of a single choice."""
    verb = "Find " if integral.lower is None else "Evaluate "
    return (verb, integral, ".")


def prompt_numeric(integral: Integral, figures: int) -> Prose:
    """The question of a definite integral that is answered by a number."""
    return ("Evaluate ", integral, f". Give a decimal number, correct to {figures} significant figures.")


def prompt_free(integral: Integral) -> Prose:
    """The question that is answered by an expression."""
    return ("Find ", integral, ". Any equivalent form of the answer is right.")


def key_feedback(integrand: Expression, variable: Symbol) -> Prose:
    """What a student hears who chose the right antiderivative."""
    return ("Right. Differentiate it with respect to ", variable, " and you get ", integrand, " back.")


def value_feedback() -> Prose:
    """What a student hears who gave the right value."""
    return ("Right.",)


def slip_feedback(sentence: str) -> Prose:
    """What a student hears whose answer is that of a slip."""
    return (f"Not this one. {sentence}",)


def rubric(integrand: Expression, variable: Symbol, key: Expression, constant: str) -> Prose:
    """How a person marks a free answer."""
    return (
        "One right answer is ",
        with_constant(key, constant),
        ". Any other form is right if its derivative with respect to ",
        variable,
        " is ",
        integrand,
        " wherever that is defined. Differentiate the response; do not compare it with the key by eye.",
    )
