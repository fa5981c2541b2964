"""Every sentence that an item says to a student, in one place."""

from __future__ import annotations

from qbank.items.item import Coefficients, FractionEntry, Prose, Through
from qbank.items.matched import Matching
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    Quotient,
    Symbol,
    product,
    rational,
    sum_of,
)
from qbank.maths.functions import FUNCTIONS
from qbank.techniques.first_step import FirstStep
from qbank.techniques.presenting import with_constant

__all__ = [
    "equivalent_feedback",
    "key_feedback",
    "prompt_choice",
    "prompt_coefficients",
    "prompt_evaluation",
    "prompt_free",
    "prompt_matching",
    "prompt_numeric",
    "prompt_row",
    "prompt_several",
    "rubric",
    "slip_feedback",
    "step_shown",
    "title",
    "two_slips",
    "value_feedback",
    "within",
]


#: after the question of a form whose functions depend on each other
_SEVERAL = " There is more than one right answer; any of them will do."


def title(*, definite: bool, evaluated: bool = False) -> str:
    """What the item is called where students see it: the same for every technique, so that it gives no hint."""
    if evaluated:
        return "Evaluate an antiderivative"
    return "Evaluate the integral" if definite else "Find the integral"


def prompt_choice(integral: Integral) -> Prose:
    """The question of a single choice."""
    verb = "Find " if integral.lower is None else "Evaluate "
    return (verb, integral, ".")


def prompt_several(integrand: Expression) -> Prose:
    """The question of a choice of all options that are right."""
    return (
        "Which of these are antiderivatives of ",
        integrand,
        "? Choose all that are; a wrong choice takes away what a right one gives.",
    )


def prompt_matching(response: Matching) -> Prose:
    """The question of a matching."""
    left = len(response.partners) - len(response.rows)
    if response.shows == "antiderivative":
        wanted, over = "its antiderivative", "One answer is left over."
    else:
        wanted, over = "the first step towards it", "One step is left over." if left else ""
    return (f"Match each integral to {wanted}. {over}".rstrip(),)


def prompt_row(response: Matching, integral: Integral) -> Prose:
    """The question of one integral of a matching, where each has to be asked by itself."""
    if response.shows == "antiderivative":
        return prompt_choice(integral)
    return ("What is the first step towards ", integral, "?")


def step_shown(step: FirstStep) -> Prose:
    """A first step as it stands among others."""
    return (step.sentence,) if step.definition is None else ("Let ", step.definition)


def prompt_numeric(integral: Integral, figures: int) -> Prose:
    """The question of a definite integral that is answered by a number."""
    return ("Evaluate ", integral, f". Give a decimal number, correct to {figures} significant figures.")


def prompt_evaluation(integral: Integral, through: Through, figures: int) -> Prose:
    """The question of the antiderivative with a given value, answered by another value of it."""
    given, wanted = (Equation(integral.variable, place) for place in (through.point, through.at))
    accuracy = f" as a decimal number, correct to {figures} significant figures."
    angles = (" Angles are in radians.",) if _has_circular_functions(integral.integrand) else ()
    question = (
        "Find ",
        integral,
        " with the constant for which it is ",
        rational(through.value),
        " at ",
        given,
    )
    return (*question, ". Give its value at ", wanted, accuracy, *angles)


def _has_circular_functions(tree: Expression) -> bool:
    functions = (node.function for node in tree.walk() if isinstance(node, Apply))
    return any(FUNCTIONS[name].family == "circular" for name in functions)


def prompt_free(integral: Integral) -> Prose:
    """The question that is answered by an expression."""
    return ("Find ", integral, ". Any equivalent form of the answer is right.")


def within(prompt: Prose, variable: Symbol, lower: Expression, upper: Expression) -> Prose:
    """The question with the interval on which it is asked."""
    return (*prompt, " Take ", variable, " between ", lower, " and ", upper, ".")


def prompt_coefficients(response: Coefficients, integrand: Expression) -> Prose:
    """The question that is answered by the coefficients of a given form."""
    pairs = zip(response.letters, response.functions, strict=True)
    form = sum_of(*(_term(letter, function) for letter, function in pairs))
    *first, last = response.letters
    names: list[str | Statement] = [last]
    for place, letter in enumerate(reversed(first)):
        names = [letter, ", " if place else " and ", *names]
    noun = "numbers" if first else "number"
    question = (f"Find the {noun} ", *names, " for which ", form, " is an antiderivative of ", integrand)
    if isinstance(response.entry, FractionEntry):
        return (*question, ". Give each as a fraction.", *((_SEVERAL,) if response.relations else ()))
    return (*question, f". Give each as a decimal number, correct to {_accuracy(response.entry.places)}.")


def _term(letter: Symbol, function: Expression) -> Expression:
    match function:
        case Quotient(numerator, denominator):
            return Quotient(letter if numerator == Integer(1) else product(letter, numerator), denominator)
        case _:
            return product(letter, function)


def _accuracy(places: int) -> str:
    if not places:
        return "the nearest whole number"
    return f"{places} decimal place{'s' if places > 1 else ''}"


def key_feedback(integrand: Expression, variable: Symbol) -> Prose:
    """What a student hears who chose the right antiderivative."""
    return ("Right. Differentiate it with respect to ", variable, " and you get ", integrand, " back.")


def equivalent_feedback(reason: str, key: Expression, constant: Expression | None) -> Prose:
    """What a student hears who recognised the answer in another form.

    Args:
        reason: how one comes from one form to the other; empty where a number was added.
        key: the form of the worked solution.
        constant: by which the two differ; the tree of 0 where they are equal, None where that is not known.
    """
    if constant is None:
        return ("Right. This differs from ", key, f" by a constant at most, {reason}.")
    if constant == Integer(0):
        return ("Right. This is the same as ", key, f", {reason}.")
    return (
        "Right. This differs from ",
        key,
        " only by the constant ",
        constant,
        f", {reason}." if reason else ".",
    )


def value_feedback() -> Prose:
    """What a student hears who gave the right value."""
    return ("Right.",)


def slip_feedback(sentence: str) -> Prose:
    """What a student hears whose answer is that of a slip."""
    return (f"Not this one. {sentence}",)


def two_slips(first: str, second: str) -> str:
    """What to say of an answer with two slips in it, from what is said of each."""
    return f"Two slips have come together. {first} {second}"


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
