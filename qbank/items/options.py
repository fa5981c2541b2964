"""Options to choose from: one of them right, or several of them.

A right option carries the proof that it is right, a wrong one a witness that it is not; an item of either kind cannot be
built otherwise.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from qbank.maths.equation import Statement
from qbank.maths.expression import Expression
from qbank.maths.verdict import Proof, Witness

__all__ = ["Choice", "Option", "Prose", "SeveralAnswers"]

#: text with mathematics in it, piece by piece; text is plain, never markup
Prose: TypeAlias = tuple["str | Statement", ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One option of a choice.

    Attributes:
        identifier: a capital letter, by position.
        answer: what is shown, with its constant of integration where it has one.
        slip: identifier of the slip that leads here; None for what is right.
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
        """Whether this is a right option: exactly when its evidence is a proof."""
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
class SeveralAnswers:
    """A choice of all options that are right, two or more.

    Each right option that is chosen adds a share of the marks, each wrong one takes a share away. There are as many wrong
    options as right ones at least, so that nothing is won by choosing all.

    Raises:
        ValueError: there are fewer than two right options or fewer wrong ones than right ones, or identifiers repeat.
    """

    options: tuple[Option, ...]

    def __post_init__(self) -> None:
        right = len(self.keys)
        if not 2 <= right <= len(self.options) - right:
            raise ValueError("several answers are at least two, and no more than the wrong ones")
        if len({option.identifier for option in self.options}) != len(self.options):
            raise ValueError("options have different identifiers")

    @property
    def keys(self) -> tuple[Option, ...]:
        """The right options."""
        return tuple(option for option in self.options if option.is_key)

    def share(self, marks: int) -> Fraction:
        """What a right option adds to the score, and a wrong one takes from it."""
        return Fraction(marks, len(self.keys))

    def score(self, chosen: Collection[str], marks: int) -> Fraction:
        """The score of a set of options.

        Args:
            chosen: their identifiers; what is no option counts nothing.
            marks: for all right options and no other.

        Returns:
            At least 0, at most the marks.
        """
        right = sum(1 for option in self.options if option.is_key and option.identifier in chosen)
        wrong = sum(1 for option in self.options if not option.is_key and option.identifier in chosen)
        return self.share(marks) * max(0, right - wrong)
