"""What is asked, and what comes of it when the integral is set up: the types between the stages."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal, TypeAlias

from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    Negate,
    Product,
    Symbol,
    product,
    sum_of,
)
from qbank.techniques.working import Line

__all__ = ["ApplicationRefused", "Asked", "Kind", "Part", "SetUp", "Wrong", "in_front", "signed"]

Kind: TypeAlias = Literal["area", "volume", "arc-length", "mean-value", "displacement", "distance"]


class ApplicationRefused(Exception):  # noqa: N818 - a refusal is an answer, not an error
    """The question makes no sense for these curves, or a step could not be proved; the text says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One question.

    Attributes:
        kind: what is wanted.
        curves: one function of the variable, or two for the region between them.
        variable: along the axis; the time for a velocity.
        limits: the two ends, the smaller first; None for all that the curves enclose.
    """

    kind: Kind
    curves: tuple[Expression, ...]
    variable: Symbol
    limits: tuple[Expression, Expression] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A definite integral that counts with a sign.

    Attributes:
        sign: 1 or -1.
        lower: the lower limit.
        upper: the upper limit.
    """

    sign: int
    lower: Expression
    upper: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """A slip, not yet run to its value.

    Attributes:
        slip: its identifier.
        sentence: what to tell the student.
        value: runs it: the wrong answer as written, or None where it cannot occur.
    """

    slip: str
    sentence: str
    value: Callable[[], Expression | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUp:
    """An answer as integrals, not yet evaluated.

    Attributes:
        asked: the question.
        letter: what the answer is called.
        lines: how one comes to the integrals, each proved; the last one states them.
        front: what multiplies them.
        integrand: of all of them.
        parts: their limits and signs, from left to right.
        places: where the curves meet, limits included.
        wrong: the slips that it invites, the most typical first.
    """

    asked: Asked
    letter: Symbol
    lines: tuple[Line, ...]
    front: Expression
    integrand: Expression
    parts: tuple[Part, ...]
    places: tuple[Expression, ...]
    wrong: tuple[Wrong, ...]

    @property
    def limits(self) -> tuple[Expression, Expression]:
        """From where to where."""
        return self.parts[0].lower, self.parts[-1].upper

    @property
    def one_integral(self) -> Integral:
        """One integral that is the answer, a modulus in it where parts count with different signs."""
        one = self.integrand if len(self.parts) == 1 else Apply("abs", self.integrand)
        return Integral(in_front(self.front, one), self.asked.variable, *self.limits)


def signed(integrand: Expression, variable: Symbol, parts: tuple[Part, ...]) -> Expression:
    """Integrals of one function, each with its sign."""
    terms = (Integral(integrand, variable, part.lower, part.upper) for part in parts)
    return sum_of(*(term if part.sign > 0 else Negate(term) for part, term in zip(parts, terms, strict=True)))


def in_front(factor: Expression, body: Expression) -> Expression:
    """A product, without a factor 1."""
    if factor == Integer(1):
        return body
    return Product((factor, body)) if not isinstance(factor, Product) else product(*factor.factors, body)
