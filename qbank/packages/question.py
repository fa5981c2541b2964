"""A question as a package shows it: what is asked, and what the package scores as right.

It holds nothing that was proved before. `qbank.packages.proving` starts from here and believes none of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from qbank.maths.expression import Expression, Integral

__all__ = ["Accepted", "Answers", "ModelAnswer", "Offered", "Options", "Question", "QuestionError"]


class QuestionError(Exception):
    """An item that cannot be read back, or whose scoring contradicts itself; the text says how."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offered:
    """One option.

    Attributes:
        identifier: as in the package.
        answer: the mathematics shown.
        right: whether choosing it scores full marks; otherwise it scores nothing.
    """

    identifier: str
    answer: Expression
    right: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """A choice between options."""

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
class ModelAnswer:
    """A free answer with one that the marker is shown."""

    answer: Expression


Answers: TypeAlias = Options | Accepted | ModelAnswer


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One item, read back.

    Attributes:
        identifier: of the item.
        integral: what is asked for, read from the question that students see.
        answers: what is offered or accepted.
        values: the integrand at points, where the package states them: a point and a decimal.
    """

    identifier: str
    integral: Integral
    answers: Answers
    values: tuple[tuple[Fraction, str], ...] = ()

    @property
    def kind(self) -> str:
        """The kind of item, as a table calls it."""
        form = {Options: "choice", Accepted: "numeric", ModelAnswer: "free expression"}[type(self.answers)]
        return f"{form}, {'antiderivative' if self.integral.lower is None else 'definite integral'}"
