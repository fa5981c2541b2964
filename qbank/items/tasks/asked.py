"""What a task about working asks: lines of a working, and one question or several, each a choice or a gap to be filled.

    first-step         no lines; which step does the solution begin with?
    find-fault         all lines, one of them wrong; which?
    complete-working   some lines left blank; for each of them, what belongs there?

A line is left blank whole, and its line chosen among options, or a piece of it is, and typed (`TaskGap`).
Every option carries why it is right or wrong: a proof, a witness, or what the techniques say of a step.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from qbank.items.options import Prose
from qbank.maths.expression import Expression, Symbol
from qbank.maths.verdict import Proof, Witness
from qbank.techniques.presenting import Row

__all__ = [
    "Asked",
    "Judgement",
    "TaskGap",
    "TaskLine",
    "TaskName",
    "TaskOption",
    "TaskQuestion",
    "WorkingTask",
]

TaskName: TypeAlias = Literal["first-step", "find-fault", "complete-working"]

#: why an option is right or wrong. First steps: `begins` a solution; `useless`, a valid step after which no technique
#: finishes; `invalid`, it leads to something refuted; `unfit`, a step of other integrals. Lines: `follows` from the line
#: before, or `refuted`.
Judgement: TypeAlias = Literal["begins", "useless", "invalid", "unfit", "follows", "refuted"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskOption:
    """One option.

    Attributes:
        identifier: unique in the item, `Q1A`.
        shown: what students see.
        right: whether it scores.
        judgement: why.
        slip: identifier of the slip that leads here, if any.
        feedback: what a student who picks it is told.
        evidence: a proof or a witness; None where the techniques alone judge.
    """

    identifier: str
    shown: Prose
    right: bool
    judgement: Judgement
    slip: str | None
    feedback: Prose
    evidence: Proof | Witness | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskQuestion:
    """One choice.

    Attributes:
        identifier: `Q1`, `Q2`, ...
        line: the number of the line that is left blank for it, counted from 1; None when there is none.
        options: in the order in which they are shown.
        ordered: whether they stand in an order of their own, so that they are never shuffled.
    """

    identifier: str
    line: int | None
    options: tuple[TaskOption, ...]
    ordered: bool = False

    def __post_init__(self) -> None:
        if sum(option.right for option in self.options) != 1:
            raise ValueError("a question has exactly one right option")

    @property
    def key(self) -> TaskOption:
        """The right option."""
        return next(option for option in self.options if option.right)


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskGap:
    """A piece of a line, to be typed. A number is right in any form of it, an expression in any equivalent form.

    Attributes:
        identifier: `Q1`, `Q2`, ...
        line: the number of the line that it is missing from, counted from 1.
        kind: what is to be typed.
        value: what stands in the line.
        letter: in which an expression is to be written; None for a number.
        meaning: what that letter stands for; None for the variable of the integral, and for a number.
        up_to_constant: whether a constant may be added to an expression.
        raised: whether it is an exponent.
        right: what a student who is right is told.
        wrong: what a student is told otherwise.
        evidence: that the line holds with the value, and where it does not hold with another.
    """

    identifier: str
    line: int
    kind: Literal["number", "expression"]
    value: Expression
    letter: Symbol | None
    meaning: Expression | None
    up_to_constant: bool
    raised: bool
    right: Prose
    wrong: Prose
    evidence: tuple[Proof, Witness]


Asked: TypeAlias = TaskQuestion | TaskGap


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskLine:
    """A line of the working that is shown.

    Attributes:
        number: counted from 1.
        row: what stands there, of a blank what belongs there.
        question: identifier of the question that asks for it, which may stand in another item; None where it is shown.
        gapped: the row with a gap in one of its statements (see `maths.notation.gapped`), where a piece is asked for.
    """

    number: int
    row: Row
    question: str | None = None
    gapped: Row | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkingTask:
    """A task about working.

    Raises:
        ValueError: identifiers repeat, or a line that is asked for is not blank.
    """

    task: TaskName
    lines: tuple[TaskLine, ...]
    questions: tuple[Asked, ...]

    def __post_init__(self) -> None:
        names = [option.identifier for one in self.choices for option in one.options]
        names += [one.identifier for one in self.questions]
        if not self.questions or len(set(names)) != len(names):
            raise ValueError("questions and options have different identifiers")
        blank = {line.question: line.number for line in self.lines if line.question is not None}
        asked = {one.identifier: one.line for one in self.questions if one.line is not None}
        if not asked.items() <= blank.items():
            raise ValueError("a line that is asked for is left blank")

    @property
    def choices(self) -> tuple[TaskQuestion, ...]:
        """The questions that are answered by a choice."""
        return tuple(one for one in self.questions if isinstance(one, TaskQuestion))

    @property
    def gaps(self) -> tuple[TaskGap, ...]:
        """The questions that are answered by typing."""
        return tuple(one for one in self.questions if isinstance(one, TaskGap))

    @property
    def reasons(self) -> bool:
        """Whether each line is shown with its reason; the reason would show where a fault is."""
        return self.task == "complete-working"

    def share(self, marks: int) -> Fraction:
        """What a right answer to one question adds to the score."""
        return Fraction(marks, len(self.questions))

    def score(self, right: Collection[str], marks: int) -> Fraction:
        """The score of right answers, by the identifiers of the questions."""
        return self.share(marks) * sum(1 for one in self.questions if one.identifier in right)
