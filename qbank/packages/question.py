"""A question as a package shows it: what is asked, and what the package scores as right.

It holds nothing that was proved before. `qbank.packages.proving` starts from here and believes none of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from qbank.bank.policy import ACCEPTING, Policy
from qbank.items.tasks.asked import TaskName
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Differential, Expression, Integral, Symbol
from qbank.techniques.first_step import FirstStep

__all__ = [
    "Accepted",
    "Answers",
    "AskedTask",
    "Condition",
    "Form",
    "Matched",
    "MatchedRow",
    "ModelAnswer",
    "Offered",
    "Options",
    "Question",
    "QuestionError",
    "Several",
    "SoughtLimit",
    "Spelled",
    "Stated",
    "TaskChoice",
    "TaskLine",
    "TaskShown",
    "TaskTyped",
    "Tried",
]


class QuestionError(Exception):
    """An item that cannot be read back, or whose scoring contradicts itself; the text says how."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offered:
    """One option.

    Attributes:
        identifier: as in the package.
        answer: the mathematics shown.
        right: whether it scores; otherwise it scores nothing, or takes away from the score.
    """

    identifier: str
    answer: Expression
    right: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """A choice between options."""

    offered: tuple[Offered, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Several:
    """A choice of all options that are right."""

    offered: tuple[Offered, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Accepted:
    """A number to be typed.

    Attributes:
        lower: the smallest number that scores full marks.
        upper: the largest.
        keyed: the number that the package gives as correct, as text.
        exact: the value as an expression, where the package states it.
    """

    lower: Fraction
    upper: Fraction
    keyed: str
    exact: Expression | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Spelled:
    """A number to be typed, where texts are compared and each spelling that scores is listed.

    Attributes:
        figures: the significant figures that the question asks for.
        right: the numbers whose spellings score full marks.
        wrong: those that are listed too, but score nothing.
    """

    figures: int
    right: tuple[Fraction, ...]
    wrong: tuple[Fraction, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelAnswer:
    """A free answer with one that the marker is shown."""

    answer: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """Numbers that were given as an answer, one for each letter, and whether they scored full marks."""

    values: tuple[Fraction, ...]
    full: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """The coefficients of a given form.

    Attributes:
        letters: what the coefficients are called.
        form: what they stand in.
        tried: answers that were tried, the keyed one first.
        accepted: for decimals, the bounds in which each number is taken as right; None where the numbers are exact.
    """

    letters: tuple[Symbol, ...]
    form: Expression
    tried: tuple[Tried, ...]
    accepted: tuple[tuple[Fraction, Fraction], ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """A value that a package states of an expression, or of its derivative, at a point, as a decimal."""

    of: Expression
    slope: bool = False
    at: Fraction
    decimal: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """The antiderivative that has a given value at a point, and where its value is asked for."""

    point: Expression
    given: Expression
    at: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class SoughtLimit:
    """The upper limit that is asked for: between which numbers it lies, and the integral up to it."""

    lower: Expression
    upper: Expression
    value: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchedRow:
    """One integral of a matching, and the identifier of what is scored as belonging to it."""

    identifier: str
    integral: Integral
    partner: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Matched:
    """Several integrals, to be matched to antiderivatives or to first steps, by identifier."""

    rows: tuple[MatchedRow, ...]
    partners: tuple[tuple[str, Expression | FirstStep], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskShown:
    """An option of a task about working: its formulas, and its words without them."""

    identifier: str
    statements: tuple[Statement, ...]
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskChoice:
    """One question of a task: the response variable, the options, and the one that scores."""

    identifier: str
    options: tuple[TaskShown, ...]
    key: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskTyped:
    """One gap of a line: the response variable, what belongs there, and whether it is a number."""

    identifier: str
    key: Expression
    number: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskLine:
    """A line of a working: its mathematics, and the response variable of what is to be chosen for it or typed into it.

    Attributes:
        statements: the mathematics, empty where the whole line is blank; with a gap in one statement where a piece is.
        question: the response variable.
        place: of the statement that has the gap; None for no gap.
    """

    statements: tuple[Statement, ...]
    question: str | None = None
    place: int | None = None

    @property
    def kind(self) -> str:
        """What kind of line the mathematics is."""
        match self.statements:
            case (Equation(Symbol()), *others) if any(_has_differential(one) for one in others):
                return "let"
            case (Equation(), *_):
                return "aside"
            case _:
                return "step"


def _has_differential(statement: Statement) -> bool:
    sides = (statement.left, statement.right) if isinstance(statement, Equation) else (statement,)
    return any(isinstance(node, Differential) for side in sides for node in side.walk())


@dataclass(frozen=True, slots=True, kw_only=True)
class AskedTask:
    """A task about working.

    Attributes:
        task: which.
        questions: what is asked.
        lines: of the working that is shown.
    """

    task: TaskName
    questions: tuple[TaskChoice | TaskTyped, ...]
    lines: tuple[TaskLine, ...] = ()


Answers: TypeAlias = Options | Several | Matched | AskedTask | Accepted | Spelled | ModelAnswer | Form


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One item, read back.

    Attributes:
        identifier: of the item.
        integral: what is asked for, read from the question that students see.
        answers: what is offered or accepted.
        stated: values that the package states, of the integrand and of other expressions.
        condition: which antiderivative is evaluated, and where, or which limit is sought, read from the question too; None
            when neither is.
        policy: what answers score that lack something, and slips.
        language: BCP 47 tag of its texts, where results are marked.
    """

    identifier: str
    integral: Integral
    answers: Answers
    stated: tuple[Stated, ...] = ()
    condition: Condition | SoughtLimit | None = None
    policy: Policy = ACCEPTING
    language: str = "en"

    @property
    def is_shown(self) -> bool:
        """Whether the value is given and its working asked for, which a person marks."""
        return isinstance(self.answers, ModelAnswer) and self.integral.lower is not None

    @property
    def kind(self) -> str:
        """The kind of item, as a table calls it."""
        forms = {
            Options: "choice",
            Several: "several answers",
            Matched: "matching",
            Accepted: "numeric",
            Spelled: "numeric",
            ModelAnswer: "free expression",
            Form: "coefficients",
        }
        if isinstance(self.answers, AskedTask):
            return self.answers.task.replace("-", " ")
        form = "evaluation" if self.condition is not None else forms[type(self.answers)]
        if isinstance(self.condition, SoughtLimit):
            form = "limit sought"
        if self.is_shown:
            form = "show that"
        return f"{form}, {'antiderivative' if self.integral.lower is None else 'definite integral'}"
