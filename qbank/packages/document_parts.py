"""The parts of a JSON document of items that are read alike wherever they stand: mathematics and numbers."""

from __future__ import annotations

from fractions import Fraction
from typing import Any, TypeAlias

from qbank.maths.equation import Statement
from qbank.maths.expression import Expression
from qbank.packages.formulas import formula
from qbank.packages.parsing import parse
from qbank.packages.processing import ProcessingError, literal
from qbank.packages.question import QuestionError

__all__ = ["Json", "decimal", "expression", "fraction", "statement"]

Json: TypeAlias = dict[str, Any]

_LONGEST_FRACTION = 2000


def statement(mathematics: Json) -> Statement:
    """What mathematics says, by its MathML.

    Raises:
        FormulaError: it cannot be read.
        XmlError: it is no MathML.
    """
    return formula(parse(mathematics["mathml"].encode("utf-8", "replace")))


def expression(mathematics: Json) -> Expression:
    """The same of an expression.

    Raises:
        QuestionError: it is an equation.
    """
    found = statement(mathematics)
    if not isinstance(found, Expression):
        raise QuestionError("an answer is an expression")
    return found


def fraction(text: str) -> Fraction:
    """An exact number.

    Raises:
        QuestionError: the text is none.
    """
    if len(text) > _LONGEST_FRACTION:
        raise QuestionError("a number is too long")
    try:
        return Fraction(text)
    except (ValueError, ZeroDivisionError) as problem:
        raise QuestionError(f"{text[:40]!r} is not a number") from problem


def decimal(text: str) -> Fraction:
    """A decimal, exactly.

    Raises:
        QuestionError: the text is none.
    """
    try:
        value = literal(text, "float")
    except ProcessingError as problem:
        raise QuestionError(str(problem)) from problem
    assert isinstance(value, Fraction)
    return value
