"""Numbers whose accepted spellings are listed, read back and held against the value.

The question says to how many significant figures the number is wanted. Every number on the list has to be the value as far
as that goes, the rounded value has to be among them, and no number that is right may be refused by name.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from fractions import Fraction

from qbank.items.rounding import round_to_figures
from qbank.items.wording import significant_figures
from qbank.maths.quadrature import Enclosed
from qbank.messages import in_language, languages
from qbank.packages.question import QuestionError, Spelled

__all__ = ["exact_number", "read_spelled", "spelling_problems"]

_FIGURES = range(1, 16)
_MOST = 400
_NUMBER = re.compile(r"([-\u2212]?)([0-9]{0,40})(?:[.,]([0-9]{0,40}))?")
#: a sign, digits, then a decimal sign with more of them or a denominator
_EXACT = re.compile(r"(?:([-\u2212]) ?)?([0-9]{0,40})(?:([.,][0-9]{1,40})| ?/ ?([0-9]{1,40}))?")


def read_spelled(question: str, texts: Iterable[str], scores: Callable[[str], bool]) -> Spelled:
    """The numbers that are listed, as far as they score.

    Args:
        question: the words of the question.
        texts: everything that a response is compared with.
        scores: whether a text scores full marks; otherwise it scores nothing.

    Raises:
        QuestionError: the question does not say how accurate the number is to be, or a text on the list is no number.

    >>> read_spelled("Give it correct to 2 significant figures.", ["0.50", ".5"], lambda text: True).right
    (Fraction(1, 2), Fraction(1, 2))
    """
    figures = {count for count in _FIGURES if _says(question, count)}
    if len(figures) != 1:
        raise QuestionError("the question does not say to how many figures the number is wanted")
    numbers = {text: _number(text) for text in texts}
    if len(numbers) > _MOST:
        raise QuestionError("there are too many spellings")
    right = {text: scores(text) for text in numbers}
    if not any(right.values()):
        raise QuestionError("no number scores")
    return Spelled(
        figures=min(figures),
        right=tuple(number for text, number in numbers.items() if right[text]),
        wrong=tuple(number for text, number in numbers.items() if not right[text]),
    )


def _says(question: str, figures: int) -> bool:
    """Whether a question, in whatever language, wants so many significant figures."""
    texts = {in_language(significant_figures(figures), tag) for tag in languages()}
    return any(re.search(rf"(?<![0-9]){re.escape(text)}", question) for text in texts)


def _number(text: str) -> Fraction:
    found = _NUMBER.fullmatch(text)
    if found is None or not (found[2] or found[3]):
        raise QuestionError(f"{text[:40]!r} is compared with, and is not a decimal number")
    size = Fraction(f"{found[2] or 0}.{found[3] or 0}")
    return -size if found[1] else size


def exact_number(text: str) -> Fraction | None:
    """A whole number, a fraction or a decimal, with blanks and either decimal sign; None for anything else.

    >>> exact_number("\u2212 2 / 8"), exact_number("0,25"), exact_number("1/0"), exact_number("x")
    (Fraction(-1, 4), Fraction(1, 4), None, None)
    """
    found = _EXACT.fullmatch(text.strip(" "))
    if (
        found is None
        or not (found[2] or found[3])
        or (found[4] is not None and not (found[2] and int(found[4])))
    ):
        return None
    size = Fraction(int(found[2]), int(found[4])) if found[4] else _number(f"{found[2]}{found[3] or ''}")
    return -size if found[1] else size


def spelling_problems(spelled: Spelled, value: Enclosed) -> tuple[str, ...]:
    """What is wrong with a list of numbers.

    Args:
        spelled: the list.
        value: rigorous bounds of the value asked for.
    """
    rounded = round_to_figures((value.lower + value.upper) / 2, spelled.figures)
    if rounded is None or not rounded.lower <= value.lower <= value.upper <= rounded.upper:
        return ("the value is not known well enough to be rounded",)
    problems = []
    if Fraction(rounded.text) not in spelled.right:
        problems.append(f"the value {rounded.text} is not among the numbers that score")
    if any(not rounded.lower <= number <= rounded.upper for number in spelled.right):
        problems.append(f"numbers score that are not {rounded.text} to {spelled.figures} significant figures")
    if any(rounded.lower <= number <= rounded.upper for number in spelled.wrong):
        problems.append(
            f"a number that is {rounded.text} to {spelled.figures} significant figures does not score"
        )
    return tuple(problems)
