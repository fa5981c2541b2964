"""The item: what a student is asked, and everything that is known and proved about it.

An item cannot be built without its evidence: the key carries a `Proof`, each distractor a `Witness` that it is
wrong. Writers turn items into files and never compute mathematics of their own.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from qbank.bank.policy import ACCEPTING, Policy
from qbank.items.applications.figure import Figure
from qbank.items.matched import Matching
from qbank.items.options import Choice, Option, Prose, SeveralAnswers
from qbank.items.tasks.asked import TaskName, WorkingTask
from qbank.maths.conventions import Conventions
from qbank.maths.expression import Expression, Symbol
from qbank.maths.verdict import Proof
from qbank.techniques.presenting import Row

__all__ = [
    "Check",
    "Choice",
    "CoefficientSlip",
    "Coefficients",
    "DecimalEntry",
    "FractionEntry",
    "FreeExpression",
    "Item",
    "Matching",
    "Numeric",
    "NumericSlip",
    "Option",
    "Prose",
    "Relation",
    "Response",
    "SamplePoint",
    "SeveralAnswers",
    "Through",
    "WorkingTask",
]


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
    """A number typed by the student: the value of a definite integral, or of an antiderivative.

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
class Through:
    """Which antiderivative is meant, and where its value is asked for.

    Attributes:
        point: where the antiderivative has a given value.
        value: the given value.
        at: where its value is asked for.
    """

    point: Expression
    value: Fraction
    at: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class Sought:
    """A limit that is asked for.

    Attributes:
        letter: what it is called.
        lower: it lies above this.
        upper: and below this.
        value: the integral up to it.
    """

    letter: Symbol
    lower: Expression
    upper: Expression
    value: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeExpression:
    """Any expression, marked by differentiation (by hand or by `qbank mark`, after the rubric).

    Attributes:
        rubric: how to mark, in words and mathematics: the key and what else is right.
        line_marks: how many of the marks each row of the worked solution earns; empty where that is not said.
        policy: the shares of the marks that are left to answers that lack something, and to slips.
    """

    rubric: Prose
    line_marks: tuple[int, ...] = ()
    policy: Policy = ACCEPTING


@dataclass(frozen=True, slots=True, kw_only=True)
class FractionEntry:
    """Each coefficient is a numerator and a denominator: whole numbers of size at most `bound`, below not 0."""

    bound: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DecimalEntry:
    """Each coefficient is a decimal that must come within half a unit of that decimal place."""

    places: int

    @property
    def margin(self) -> Fraction:
        """The largest distance from the exact value that is accepted."""
        return Fraction(1, 2 * 10**self.places)


@dataclass(frozen=True, slots=True, kw_only=True)
class Relation:
    """Numbers, not all 0, with which the derivatives of the functions of a form add up to 0.

    Attributes:
        free: the place at which this relation has 1 and every other relation of the form has 0.
        coefficients: one number for each function.
    """

    free: int
    coefficients: tuple[Fraction, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SamplePoint:
    """What differentiation gives at one point, as decimals of 17 digits that are all right.

    Attributes:
        at: the value of the variable.
        slopes: the derivative of each function of the form there.
        value: the integrand there.
    """

    at: Fraction
    slopes: tuple[str, ...]
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CoefficientSlip:
    """The coefficients that a slip leads to; they are wrong together, though some may be right alone."""

    slip: str
    values: tuple[Fraction, ...]
    feedback: Prose


@dataclass(frozen=True, slots=True, kw_only=True)
class Coefficients:
    """The coefficients of an antiderivative of a stated form, `A sin 6x + B sin 2x + D x`.

    The right coefficients are exactly `values`, and `values` with any multiples of the relations added.

    Attributes:
        letters: what the coefficients are called.
        functions: what each of them multiplies.
        values: one right answer.
        relations: how the derivatives of the functions depend on each other; empty when they do not, and then
            each coefficient is determined alone.
        entry: how the numbers are typed.
        points: sample points; at each of them the slopes times the right coefficients add up to the value.
        tolerance: the largest difference that counts as none there. No wrong fractions within the bound of the
            entry come as near at every point.
        condition: how much the numbers of the points enlarge an error at most (condition number, row sums).
        part_marks: the marks for that many coefficients right, beginning with none; one entry where there are
            no part marks. Only coefficients whose right value is not 0 count.
        slips: wrong answers that are recognised.
    """

    letters: tuple[Symbol, ...]
    functions: tuple[Expression, ...]
    values: tuple[Fraction, ...]
    relations: tuple[Relation, ...]
    entry: FractionEntry | DecimalEntry
    points: tuple[SamplePoint, ...]
    tolerance: Fraction
    condition: Fraction
    part_marks: tuple[int, ...]
    slips: tuple[CoefficientSlip, ...]

    def is_right(self, values: tuple[Fraction, ...]) -> bool:
        """Whether exact numbers are coefficients of an antiderivative: a matter of rational arithmetic alone."""
        rest = [value - right for value, right in zip(values, self.values, strict=True)]
        for relation in self.relations:
            part = rest[relation.free]
            rest = [number - part * one for number, one in zip(rest, relation.coefficients, strict=True)]
        return not any(rest)

    def is_alone_right(self, place: int, value: Fraction) -> bool:
        """Whether one number alone is the right coefficient, where each is determined alone."""
        if self.relations:
            return False
        if isinstance(self.entry, DecimalEntry):
            return abs(value - self.values[place]) <= self.entry.margin
        return value == self.values[place]

    def part(self, values: tuple[Fraction | None, ...]) -> int:
        """The marks for what is right in a wrong answer; None stands for a number that was not given."""
        if len(self.part_marks) == 1:
            return 0
        right = sum(
            1
            for place, value in enumerate(values)
            if self.values[place] and value is not None and self.is_alone_right(place, value)
        )
        return self.part_marks[right]


Response: TypeAlias = (
    Choice | SeveralAnswers | Matching | Numeric | Coefficients | FreeExpression | WorkingTask
)


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
        title: what students may see; it names no technique, as the template's own title does.
        technique: identifier of the technique (None for an author's own antiderivative).
        tags: the template's tags.
        language: BCP 47 tag of all texts.
        conventions: how the mathematics is to be written.
        parameters: the values drawn, by name.
        prompt: the question.
        integrand: what is integrated.
        variable: with respect to what.
        limits: lower and upper limit of a definite integral, None for an indefinite one.
        through: which antiderivative is evaluated, and where; None when none is.
        key: the right answer: an antiderivative without constant, or the exact value.
        proof: that the antiderivative's derivative is the integrand, or that the value is the right one.
        enclosure: for a value, its rigorous bounds, found without an antiderivative.
        working: the worked solution row by row, of a matching those of all its integrals; empty when only an author's antiderivative is known.
        checks: the integrand at sample points of its domain.
        response: how it is answered.
        marks: marks for a full answer.
        difficulty: lines of working plus the size of the numbers; comparable within a bank.
        figure: a picture of the question; None for none.
        sought: the limit that is asked for, which then is a letter in `limits`; None when none is.
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
    through: Through | None = None
    figure: Figure | None = None
    sought: Sought | None = None

    @property
    def asks_for_value(self) -> bool:
        """Whether the answer is a number, and not an antiderivative."""
        return self.limits is not None or self.through is not None

    @property
    def form(
        self,
    ) -> (
        Literal[
            "choice",
            "several-answers",
            "matching",
            "numeric",
            "evaluation",
            "coefficients",
            "free-expression",
            "show-that",
        ]
        | TaskName
    ):
        """The response form as one word."""
        match self.response:
            case Choice():
                return "choice"
            case SeveralAnswers():
                return "several-answers"
            case Matching():
                return "matching"
            case Numeric():
                return "numeric" if self.through is None else "evaluation"
            case Coefficients():
                return "coefficients"
            case FreeExpression():
                return "free-expression" if self.limits is None else "show-that"
            case WorkingTask(task=task):
                return task
