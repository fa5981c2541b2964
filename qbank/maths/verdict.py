"""What deciding can answer: proved, refuted with a witness, or unsettled with what is known.

    Proved      an exact normal form is zero
    Refuted     a point where rigorous bounds show that the two sides differ
    Unsettled   neither; says how far the numbers agree, and why no proof was reached

Only `qbank.maths.deciding` makes a `Proof`: the constructor asks for the seal that module holds, so that
nothing later in the flow can be built on a proof that nobody carried out.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

__all__ = ["SEAL", "Proof", "Proved", "Refuted", "Unsettled", "Verdict", "Witness"]

#: held by the deciding modules alone; see `Proof`
SEAL = object()


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """That an identity holds, and how it was shown.

    Attributes:
        claim: the identity in words a person can check, `d/dx (...) = ...` in plain text.
        method: how it was shown, for example `normal form`.
        seal: the object that only the deciding modules hold.

    Raises:
        TypeError: when built by anybody else.
    """

    claim: str
    method: str
    seal: object

    def __post_init__(self) -> None:
        if self.seal is not SEAL:
            raise TypeError("a Proof is made by qbank.maths.deciding, not by hand")


@dataclass(frozen=True, slots=True, kw_only=True)
class Witness:
    """A point where the two sides provably differ.

    Attributes:
        point: the value of the variable.
        left: the left side there, as a decimal with every digit shown correct; `undefined` where it has no real value.
        right: the right side, likewise.
        others: values taken for the other letters, by name.
    """

    point: Fraction
    left: str
    right: str
    others: tuple[tuple[str, Fraction], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Proved:
    """The identity holds.

    Attributes:
        proof: the proof.
        undefined_at: sample points in the domain where the identity's left side has no real value though the
            right side has one (`ln x` offered for the integral of 1/x, at negative x). Empty in the usual case.
        points: how many points in the domain were looked at; few when both sides have values nearly everywhere by how
            they are made.
    """

    proof: Proof
    undefined_at: tuple[Fraction, ...] = ()
    points: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Refuted:
    """The identity fails, shown by a witness."""

    witness: Witness


@dataclass(frozen=True, slots=True, kw_only=True)
class Unsettled:
    """Neither proved nor refuted.

    Attributes:
        reason: why, in one sentence.
        points: at how many points of the domain both sides were compared.
        digits: to how many decimal digits they agreed at every one of them.
    """

    reason: str
    points: int = 0
    digits: int = 0


Verdict: TypeAlias = Proved | Refuted | Unsettled
