"""Published integrals by kind: which rows are worked line by line beside SymPy's step-by-step integrator.

Kinds are told by where a row was published: the section of a textbook, or the part of a suite that is sorted by the shape of
the integrand. So neither program chooses them.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from qbank.maths.expression import Expression, Symbol
from qbank.maths.reading import ReadingError, read

__all__ = ["KINDS", "Kind", "Row", "rows_of"]

#: an integrand, and the letter it is integrated over
Row = tuple[Expression, Symbol]


@dataclass(frozen=True, slots=True)
class Kind:
    """Rows that were published as being of one kind.

    Attributes:
        name: of the technique, and where the rows stand.
        file: the file beside the checkout.
        starts: how their locators (or sources) begin.
        spread: whether the suite has so many that every so many are taken.
    """

    name: str
    file: str
    starts: tuple[str, ...]
    spread: bool = False


KINDS = (
    Kind("substitution (OpenStax 1.5)", "openstax", ("sec. 1.5",)),
    Kind("exponentials, logarithms (OpenStax 1.6)", "openstax", ("sec. 1.6",)),
    Kind("inverse circular functions (OpenStax 1.7)", "openstax", ("sec. 1.7",)),
    Kind("parts (OpenStax 3.1)", "openstax", ("sec. 3.1",)),
    Kind("powers of circular functions (OpenStax 3.2)", "openstax", ("sec. 3.2",)),
    Kind("trigonometric substitution (OpenStax 3.3)", "openstax", ("sec. 3.3",)),
    Kind("partial fractions (OpenStax 3.4)", "openstax", ("sec. 3.4",)),
    Kind("a course, mixed (Stewart)", "rubi", ("0 Independent test suites/Stewart",), spread=True),
    Kind("a course, mixed (Apostol)", "rubi", ("0 Independent test suites/Apostol",), spread=True),
    Kind(
        "handbooks (DLMF, Abramowitz & Stegun, Thompson, Peirce)", "tables", ("NIST", "Abr", "S. P.", "B. O.")
    ),
    Kind(
        "rational functions (Rubi 1.3.1)",
        "rubi",
        ("1 Algebraic functions/1.3 Miscellaneous/1.3.1",),
        spread=True,
    ),
    Kind(
        "products of linear factors and roots (Rubi 1.1.1)",
        "rubi",
        ("1 Algebraic functions/1.1 Binomial products/1.1.1",),
        spread=True,
    ),
    Kind(
        "roots of quadratics (Rubi 1.1.2, 1.2.1.1)",
        "rubi",
        (
            "1 Algebraic functions/1.1 Binomial products/1.1.2",
            "1 Algebraic functions/1.2 Trinomial products/1.2.1 Quadratic/1.2.1.1",
        ),
        spread=True,
    ),
    Kind("exponentials (Rubi 2)", "rubi", ("2 Exp",), spread=True),
    Kind("logarithms (Rubi 3)", "rubi", ("3 Log",), spread=True),
    Kind(
        "powers of circular functions (Rubi 4.1.0 to 4.6.0)",
        "rubi",
        tuple(
            f"4 Trig functions/4.{k} {name}/4.{k}.0"
            for k, name in enumerate(("Sine", "Cosine", "Tangent", "Cotangent", "Secant", "Cosecant"), 1)
        ),
        spread=True,
    ),
    Kind(
        "a + b sin, a + b cos below (Rubi 4.1.1.1, 4.2.1.1)",
        "rubi",
        ("4 Trig functions/4.1 Sine/4.1.1.1", "4 Trig functions/4.2 Cosine/4.2.1.1"),
    ),
    Kind("different angles (Rubi 4.7.1)", "rubi", ("4 Trig functions/4.7 Miscellaneous/4.7.1",), spread=True),
    Kind("inverse circular functions (Rubi 5)", "rubi", ("5 Inv",), spread=True),
    Kind("hyperbolic functions (Rubi 6)", "rubi", ("6 Hyp",), spread=True),
)


def rows_of(kind: Kind, folder: Path, every: int) -> Iterator[Row]:
    """The indefinite rows of a kind that are right and in the reader's language."""
    with (folder / f"{kind.file}.csv").open(encoding="utf-8", newline="") as file:
        column = "source" if kind.file == "tables" else "locator"
        right = (
            row
            for row in csv.DictReader(file)
            if row[column].startswith(kind.starts) and not row.get("lower") and row["status"].startswith("ok")
        )
        for row in islice(right, 0, None, every if kind.spread else 1):
            variable = Symbol(row["variable"])
            try:
                yield read(row["integrand"].replace("E**", "e**"), variable=variable).tree, variable
            except ReadingError:
                continue
