"""What an item shows: its formulas, its words, and what of both is seen before an answer; and its full marks."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from qbank.maths.equation import Statement
from qbank.packages.formulas import formula
from qbank.packages.parsing import Element, attribute, children, kind
from qbank.packages.processing import literal
from qbank.packages.question import QuestionError
from qbank.packages.tex import tex_formulas, without_tex

__all__ = [
    "FEEDBACK",
    "RUBRIC",
    "formulas_below",
    "formulas_in",
    "full_marks",
    "shown_before_answering",
    "words_in",
]

#: what is seen after an answer only
FEEDBACK = frozenset({"feedbackblock", "feedbackinline", "modalfeedback"})
#: what a marker sees and a student does not
RUBRIC = "rubricblock"


def formulas_in(page: Element) -> Iterator[Statement]:
    """The formulas of a page, as MathML or as LaTeX, in their order.

    Args:
        page: a piece of HTML or of an item.

    Raises:
        FormulaError: one of them cannot be read.
    """
    return formulas_below(page, hidden=FEEDBACK)


def formulas_below(parent: Element, *, hidden: frozenset[str]) -> Iterator[Statement]:
    """The formulas below an element, as MathML or as LaTeX, but for those inside the kinds named."""
    yield from tex_formulas(parent.text)
    for child in parent:
        if kind(child) == "math":
            yield formula(child)
        elif kind(child) not in hidden:
            yield from formulas_below(child, hidden=hidden)
        yield from tex_formulas(child.tail)


def words_in(parent: Element) -> str:
    """The words below an element, without formulas and feedback."""
    parts = [parent.text or ""]
    for child in parent:
        if kind(child) != "math" and kind(child) not in FEEDBACK:
            parts.append(words_in(child))
        parts.append(child.tail or "")
    return without_tex(" ".join(parts))


def shown_before_answering(item: Element, *without: str) -> list[Statement]:
    """The formulas in what a student reads before answering, but for those inside the kinds named."""
    hidden = FEEDBACK | {RUBRIC, "simplechoice", *without}
    return [
        statement for body in children(item, "itembody") for statement in formulas_below(body, hidden=hidden)
    ]


def full_marks(item: Element) -> Fraction:
    """The full marks that an item declares.

    Raises:
        QuestionError: it does not say.
    """
    for declaration in children(item, "outcomedeclaration"):
        if attribute(declaration, "identifier") == "SCORE":
            marks = literal(attribute(declaration, "normalmaximum") or "", "float")
            if isinstance(marks, Fraction) and marks > 0:
                return marks
    raise QuestionError("it does not say what its full marks are")
