"""The item: what a student is asked, and everything that is known and proved about it.

An item cannot be built without its evidence: the key carries a `Proof`, each distractor a `Witness` that it is
wrong. Writers turn items into files and never compute mathematics of their own.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from qbank.maths.conventions import Conventions
from qbank.maths.equation import Statement
from qbank.maths.expression import Expression, Symbol
from qbank.maths.verdict import Proof, Witness
from qbank.techniques.presenting import Row

__all__ = [
    "Check",
    "Choice",
    "FreeExpression",
    "Item",
    "Numeric",
    "NumericSlip",
    "Option",
    "Prose",
    "Response",
]

#: text with mathematics in it, piece by piece; text is plain, never markup
Prose: TypeAlias = tuple["str | Statement", ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One option of a choice.

    Attributes:
        identifier: a capital letter, by position.
        answer: what is shown, with its constant of integration where it has one.
        slip: identifier of the slip that leads here; None for the key.
        feedback: what a student who picks it is told.
        evidence: the proof that it is right, or the witness that it is wrong.
    """

    identifier: str
    answer: Expression
    slip: str | None
    feedback: Prose
    evidence: Proof | Witness

    @property
    def is_key(self) -> bool:
        """Whether this is the right option: exactly when its evidence is a proof."""
        return isinstance(self.evidence, Proof)


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Single choice.

    Raises:
        ValueError: there is not exactly one key, or identifiers repeat.
    """

    options: tuple[Option, ...]

    def __post_init__(self) -> None:
        if sum(option.is_key for option in self.options) != 1:
            raise ValueError("a choice has exactly one key")
        if len({option.identifier for option in self.options}) != len(self.options):
            raise ValueError("options have different identifiers")

    @property
    def key(self) -> Option:
        """The right option."""
        return next(option for option in self.options if option.is_key)


@dataclass(frozen=True, slots=True, kw_only=True)
class NumericSlip:
    """A wrong value that a slip leads to, with the bounds in which a response counts as this slip."""

    slip: str
    value: Expression
    lower: Fraction
    upper: Fraction
    feedback: Prose


@dataclass(frozen=True, slots=True, kw_only=True)
class Numeric:
    """A number typed by the student, for a definite integral.

    Attributes:
        value: the exact value.
        decimal: the value rounded to the accuracy asked for, as text.
        figures: how many significant figures are asked for.
        lower: the smallest number that is accepted.
        upper: the largest number that is accepted.
        slips: wrong values that are recognised; none of their bounds overlaps the accepted ones or another's.
    """

    value: Expression
    decimal: str
    figures: int
    lower: Fraction
    upper: Fraction
    slips: tuple[NumericSlip, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeExpression:
    """Any expression, marked by differentiation (by hand or by `qbank mark`, after the rubric).

    Attributes:
        rubric: how to mark, in words and mathematics: the key and what else is right.
    """

    rubric: Prose


Response: TypeAlias = Choice | Numeric | FreeExpression


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """The integrand at one sample point, so that a reader without algebra can mark by differentiation.

    Attributes:
        at: the value of the variable.
        value: the integrand there, a decimal with every digit right.
    """

    at: Fraction
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One question.

    Attributes:
        identifier: unique in the bank, usable as an XML name.
        bank: identifier of the bank.
        template: identifier of the template it was drawn from.
        title: the template's title.
        technique: identifier of the technique (None for an author's own antiderivative).
        tags: the template's tags.
        language: BCP 47 tag of all texts.
        conventions: how the mathematics is to be written.
        parameters: the values drawn, by name.
        prompt: the question.
        integrand: what is integrated.
        variable: with respect to what.
        limits: lower and upper limit of a definite integral, None for an indefinite one.
        key: the right answer: an antiderivative without constant, or the exact value.
        proof: that the antiderivative's derivative is the integrand.
        enclosure: for a definite integral, the rigorous bounds of its value.
        working: the worked solution row by row; empty when only an author's antiderivative is known.
        checks: the integrand at sample points of its domain.
        response: how it is answered.
        marks: marks for a full answer.
        difficulty: lines of working plus the size of the numbers; comparable within a bank.
    """

    identifier: str
    bank: str
    template: str
    title: str
    technique: str | None
    tags: tuple[str, ...]
    language: str
    conventions: Conventions
    parameters: tuple[tuple[str, Fraction], ...]
    prompt: Prose
    integrand: Expression
    variable: Symbol
    limits: tuple[Expression, Expression] | None
    key: Expression
    proof: Proof
    enclosure: tuple[Fraction, Fraction] | None
    working: tuple[Row, ...]
    checks: tuple[Check, ...]
    response: Response
    marks: int
    difficulty: int

    @property
    def form(self) -> Literal["choice", "numeric", "free-expression"]:
        """The response form as one word."""
        match self.response:
            case Choice():
                return "choice"
            case Numeric():
                return "numeric"
            case FreeExpression():
                return "free-expression"
