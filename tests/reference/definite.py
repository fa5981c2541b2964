"""Published definite integrals put to quadrature: does each enclosure hold the published value?"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice
from pathlib import Path

from flint import acb, ctx

from qbank.maths.complex_balls import ball_function
from qbank.maths.expression import Symbol
from qbank.maths.quadrature import Enclosed, Enclosure, integrate_rigorously
from qbank.maths.reading import ReadingError
from tests.reference.rows import read_row

#: shares of the rows in the language that must get an enclosure, measured: of the project's own, and of all
SHARES = {"own": 1.0, "all": 0.98}


@dataclass(frozen=True, slots=True, kw_only=True)
class Definite:
    """A published definite integral with what was found.

    Attributes:
        name: the identifier in its file.
        enclosure: what quadrature says; None when the row is outside the language.
        holds: whether an enclosure meets the ball of the published value.
        numeric: the published value to 20 digits as the file has it.
    """

    name: str
    enclosure: Enclosure | None = None
    holds: bool = True
    numeric: str = ""


def definite(path: Path, every: int = 1) -> tuple[Definite, ...]:
    """What quadrature makes of every so many of the rows of a file."""
    with path.open(encoding="utf-8", newline="") as stream:
        return tuple(_definite(record) for record in islice(csv.DictReader(stream), 0, None, every))


def _definite(record: dict[str, str]) -> Definite:
    variable, numeric = Symbol(record["variable"]), record.get("numeric") or record["numeric_20"]
    try:
        tree, lower, upper, value = (
            read_row(record[column], variable) for column in ("integrand", "lower", "upper", "value")
        )
    except ReadingError:
        return Definite(name=record["id"], numeric=numeric)
    found = integrate_rigorously(tree, variable, lower, upper)
    holds = True
    if isinstance(found, Enclosed):
        with ctx.workprec(400):
            ball = ball_function(value, Symbol(""))(acb(0), False).real
            holds = _fraction(ball.lower()) <= found.upper and found.lower <= _fraction(ball.upper())
    return Definite(name=record["id"], enclosure=found, holds=holds, numeric=numeric)


def _fraction(point: object) -> Fraction:
    mantissa, exponent = (int(part) for part in point.man_exp())  # type: ignore[attr-defined]
    return Fraction(mantissa) * Fraction(2) ** exponent


def wrong(found: tuple[Definite, ...]) -> list[str]:
    """The rows whose published value lies outside the enclosure."""
    return [row.name for row in found if not row.holds]


def share(found: tuple[Definite, ...]) -> float:
    """Of the rows in the language, the share enclosed."""
    inside = [row for row in found if row.enclosure is not None]
    return sum(isinstance(row.enclosure, Enclosed) for row in inside) / len(inside)


def off_the_number(found: tuple[Definite, ...]) -> Iterator[str]:
    """Enclosures whose middle is far from the number that stands beside the exact value in the file."""
    for row in found:
        if isinstance(row.enclosure, Enclosed):
            middle = float((row.enclosure.lower + row.enclosure.upper) / 2)
            if abs(middle - float(row.numeric)) > 1e-6 * (1 + abs(middle)):
                yield row.name
