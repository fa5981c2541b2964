"""Matching: several integrals, and what belongs to each of them.

Each integral has exactly one partner, its antiderivative or the first step of its solution; one more is left over. Where
antiderivatives are shown, every pair that is not right carries the witness that it is wrong.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from qbank.items.options import Prose
from qbank.maths.expression import Expression
from qbank.maths.verdict import Proof, Witness
from qbank.techniques.first_step import FirstStep
from qbank.techniques.presenting import Row

__all__ = ["Matching", "MatchingRow", "Mismatch", "Partner"]


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchingRow:
    """One integral.

    Attributes:
        identifier: `Q1`, `Q2`, ...
        integrand: what is integrated.
        key: its antiderivative.
        proof: that it is one.
        working: how it is found.
        partner: the identifier of what belongs to it.
    """

    identifier: str
    integrand: Expression
    key: Expression
    proof: Proof
    working: tuple[Row, ...]
    partner: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Partner:
    """What may belong to an integral.

    Attributes:
        identifier: a capital letter.
        answer: an antiderivative without constant, or a first step.
        shown: how it is shown.
        slip: identifier of the slip that leads here from one of the integrals; None for all others.
        feedback: what a student is told who takes the answer of the slip for that integral; empty for all others.
        misled: the row where the slip leads here; None for all others.
    """

    identifier: str
    answer: Expression | FirstStep
    shown: Prose
    slip: str | None = None
    feedback: Prose = ()
    misled: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Mismatch:
    """The witness that a partner is no antiderivative for a row."""

    row: str
    partner: str
    witness: Witness


@dataclass(frozen=True, slots=True, kw_only=True)
class Matching:
    """Several integrals to be matched.

    Attributes:
        shows: what belongs to an integral.
        rows: the integrals.
        partners: what may belong to them, in the order in which it is shown.
        mismatches: for antiderivatives, a witness for every pair that is not right.

    Raises:
        ValueError: identifiers repeat, a partner is missing or has two rows, or a pair is without its witness.
    """

    shows: Literal["antiderivative", "first-step"]
    rows: tuple[MatchingRow, ...]
    partners: tuple[Partner, ...]
    mismatches: tuple[Mismatch, ...]

    def __post_init__(self) -> None:
        names = [row.identifier for row in self.rows] + [one.identifier for one in self.partners]
        if len(set(names)) != len(names):
            raise ValueError("rows and partners have different identifiers")
        wanted = [row.partner for row in self.rows]
        if len(set(wanted)) != len(wanted) or not set(wanted) <= {one.identifier for one in self.partners}:
            raise ValueError("each row has a partner of its own")
        wrong = {
            (row.identifier, one.identifier)
            for row in self.rows
            for one in self.partners
            if one.identifier != row.partner
        }
        refuted = {(one.row, one.partner) for one in self.mismatches}
        if self.shows == "antiderivative" and refuted != wrong:
            raise ValueError("every pair that is not right has its witness")

    @property
    def pairs(self) -> tuple[tuple[str, str], ...]:
        """The right pairs, row by row."""
        return tuple((row.identifier, row.partner) for row in self.rows)

    def partner(self, identifier: str) -> Partner:
        """The partner of that name.

        Raises:
            KeyError: there is none.
        """
        return {one.identifier: one for one in self.partners}[identifier]

    def share(self, marks: int) -> Fraction:
        """What a right pair adds to the score."""
        return Fraction(marks, len(self.rows))

    def score(self, pairs: Collection[tuple[str, str]], marks: int) -> Fraction:
        """The score of some pairs.

        Args:
            pairs: row and partner; wrong pairs count nothing.
            marks: for all right pairs.
        """
        return self.share(marks) * sum(1 for pair in self.pairs if pair in pairs)
