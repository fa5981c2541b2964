"""Every sentence that an item says to a student, in one place."""

from __future__ import annotations

from qbank.items.item import Coefficients, FractionEntry, Prose, Sought, Through
from qbank.items.matched import Matching
from qbank.items.tasks.asked import TaskName
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
from qbank.messages import Message, prose, say, say_count, together
from qbank.techniques.first_step import FirstStep

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
    "prompt_show_that",
    "prompt_sought",
    "significant_figures",
    "slip_feedback",
    "step_shown",
    "task_title",
    "title",
    "two_slips",
    "value_feedback",
    "within",
]


def title(*, definite: bool, evaluated: bool = False) -> Message:
    """What the item is called where students see it: the same for every technique, so that it gives no hint."""
    if evaluated:
        return say("Evaluate an antiderivative")
    return say("Evaluate the integral") if definite else say("Find the integral")


def task_title(task: TaskName) -> Message:
    """What an item with a task about working is called."""
    match task:
        case "first-step":
            return say("Choose the first step")
        case "find-fault":
            return say("Find the fault")
        case "complete-working":
            return say("Complete the working")


def prompt_choice(integral: Integral) -> Prose:
    """The question of a single choice."""
    if integral.lower is None:
        return prose("Find {integral}.", integral=integral)
    return prose("Evaluate {integral}.", integral=integral)


def prompt_several(integrand: Expression) -> Prose:
    """The question of a choice of all options that are right."""
    return prose(
        "Which of these are antiderivatives of {integrand}? Choose all that are; a wrong choice takes away what a"
        " right one gives.",
        integrand=integrand,
    )


def prompt_matching(response: Matching) -> Prose:
    """The question of a matching."""
    if response.shows == "antiderivative":
        return (say("Match each integral to its antiderivative. One answer is left over."),)
    if len(response.partners) > len(response.rows):
        return (say("Match each integral to the first step towards it. One step is left over."),)
    return (say("Match each integral to the first step towards it."),)


def prompt_row(response: Matching, integral: Integral) -> Prose:
    """The question of one integral of a matching, where each has to be asked by itself."""
    if response.shows == "antiderivative":
        return prompt_choice(integral)
    return prose("What is the first step towards {integral}?", integral=integral)


def step_shown(step: FirstStep) -> Prose:
    """A first step as it stands among others."""
    if step.definition is None:
        return (step.sentence,)
    return prose("Let {definition}", definition=step.definition)


def prompt_numeric(integral: Integral, figures: int) -> Prose:
    """The question of a definite integral that is answered by a number."""
    accuracy = say("Give a decimal number, correct to {accuracy}.", accuracy=significant_figures(figures))
    return together(prompt_choice(integral), accuracy)


def significant_figures(figures: int) -> Message:
    """How accurate a number is, as a part of a sentence; packages are read back by it."""
    return say_count("{count} significant figure", "{count} significant figures", figures)


def prompt_evaluation(integral: Integral, through: Through, figures: int) -> Prose:
    """The question of the antiderivative with a given value, answered by another value of it."""
    question: Prose = prose(
        "Find {integral} with the constant for which it is {value} at {given}. Give its value at {wanted} as a decimal"
        " number, correct to {accuracy}.",
        integral=integral,
        value=rational(through.value),
        given=Equation(integral.variable, through.point),
        wanted=Equation(integral.variable, through.at),
        accuracy=significant_figures(figures),
    )
    circular = _has_circular_functions(integral.integrand)
    return together(question, say("Angles are in radians.")) if circular else question


def _has_circular_functions(tree: Expression) -> bool:
    functions = (node.function for node in tree.walk() if isinstance(node, Apply))
    return any(FUNCTIONS[name].family == "circular" for name in functions)


def prompt_free(integral: Integral) -> Prose:
    """The question that is answered by an expression."""
    return prose("Find {integral}. Any equivalent form of the answer is right.", integral=integral)


def within(prompt: Prose, variable: Symbol, lower: Expression, upper: Expression) -> Prose:
    """The question with the interval on which it is asked."""
    return together(
        prompt,
        prose("Take {variable} between {lower} and {upper}.", variable=variable, lower=lower, upper=upper),
    )


def prompt_coefficients(response: Coefficients, integrand: Expression) -> Prose:
    """The question that is answered by the coefficients of a given form."""
    pairs = zip(response.letters, response.functions, strict=True)
    form = sum_of(*(_term(letter, function) for letter, function in pairs))
    question: Prose
    if len(response.letters) == 1:
        question = prose(
            "Find the number {letter} for which {form} is an antiderivative of {integrand}.",
            letter=response.letters[0],
            form=form,
            integrand=integrand,
        )
    else:
        question = prose(
            "Find the numbers {letters} for which {form} is an antiderivative of {integrand}.",
            letters=_listed(response.letters),
            form=form,
            integrand=integrand,
        )
    if not isinstance(response.entry, FractionEntry):
        return together(question, _accuracy(response.entry.places))
    fractions = say("Give each as a fraction.")
    if not response.relations:
        return together(question, fractions)
    # the functions of the form depend on each other
    return together(question, fractions, say("There is more than one right answer; any of them will do."))


def _listed(letters: tuple[Symbol, ...]) -> Prose:
    """Two letters or more."""
    *first, last = letters
    others: tuple[str | Statement, ...] = tuple(part for letter in first for part in (", ", letter))[1:]
    return prose("{others} and {last}", others=others, last=last)


def _term(letter: Symbol, function: Expression) -> Expression:
    match function:
        case Quotient(numerator, denominator):
            return Quotient(letter if numerator == Integer(1) else product(letter, numerator), denominator)
        case _:
            return product(letter, function)


def _accuracy(places: int) -> Message:
    if not places:
        return say("Give each as a decimal number, correct to the nearest whole number.")
    return say_count(
        "Give each as a decimal number, correct to {count} decimal place.",
        "Give each as a decimal number, correct to {count} decimal places.",
        places,
    )


def key_feedback(integrand: Expression, variable: Symbol) -> Prose:
    """What a student hears who chose the right antiderivative."""
    return prose(
        "Right. Differentiate it with respect to {variable} and you get {integrand} back.",
        variable=variable,
        integrand=integrand,
    )


def equivalent_feedback(reason: str, key: Expression, constant: Expression | None) -> Prose:
    """What a student hears who recognised the answer in another form.

    Args:
        reason: how one comes from one form to the other, a sentence; empty where a number was added.
        key: the form of the worked solution.
        constant: by which the two differ; the tree of 0 where they are equal, None where that is not known.
    """
    if constant is None:
        return together(prose("Right. This differs from {key} by a constant at most.", key=key), reason)
    if constant == Integer(0):
        return together(prose("Right. This is the same as {key}.", key=key), reason)
    differs = prose(
        "Right. This differs from {key} only by the constant {constant}.", key=key, constant=constant
    )
    return together(differs, reason)


def value_feedback() -> Prose:
    """What a student hears who gave the right value."""
    return (say("Right."),)


def slip_feedback(sentence: str) -> Prose:
    """What a student hears whose answer is that of a slip."""
    return (say("Not this one. {reason}", reason=sentence),)


def two_slips(first: str, second: str) -> Message:
    """What to say of an answer with two slips in it, from what is said of each."""
    return say("Two slips have come together. {first} {second}", first=first, second=second)


def prompt_show_that(integral: Integral, value: Expression) -> Prose:
    """The question whose answer is known; the integral and its value stand apart, so that either can be read back."""
    return prose(
        "Show that {integral} is equal to {value}. Write down each line of your working.",
        integral=integral,
        value=value,
    )


def prompt_sought(integral: Integral, sought: Sought, figures: int) -> Prose:
    """The question for a limit; packages are read back by the order of its formulas."""
    asked = prose(
        "The number {letter} lies between {lower} and {upper}, and {integral} is equal to {value}. Find {wanted}.",
        letter=sought.letter,
        lower=sought.lower,
        upper=sought.upper,
        integral=integral,
        value=sought.value,
        wanted=sought.letter,
    )
    accuracy = say("Give a decimal number, correct to {accuracy}.", accuracy=significant_figures(figures))
    return together(asked, accuracy)
