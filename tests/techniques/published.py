"""What a technique makes of the published integrals beside the checkout, against the published answers."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import islice
from pathlib import Path

from qbank.maths.deciding import decide_same_up_to_constant
from qbank.maths.enclosing import enclose
from qbank.maths.expression import Expression, Integral, Symbol
from qbank.maths.notation import plain
from qbank.maths.reading import ReadingError, read
from qbank.maths.verdict import Proved, Unsettled
from qbank.techniques.definite import DefiniteRefused, work_definite
from qbank.techniques.definites.choosing import value_of
from qbank.techniques.technique import Technique
from tests.reference.rows import read_row

__all__ = [
    "NOT_REAL",
    "OTHER_LETTERS",
    "Agreement",
    "Expected",
    "agreement",
    "expected",
    "published_values",
    "published_ways",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """What is expected of a technique over the published rows.

    Attributes:
        fewest: how many rows it works at least, of those that the report takes.
        report: of so many rows `python -m tests.reference.report` takes one.
        suite: of so many rows the tests of the suite take one.
    """

    fewest: int
    report: int = 1
    suite: int = 8


EXPECTED = {
    "standard-forms": Expected(fewest=300),
    "substitution": Expected(fewest=80, report=4, suite=48),
    "odd-powers": Expected(fewest=110),
    "even-powers": Expected(fewest=40),
    "product-to-sum": Expected(fewest=20),
    "tangent-secant": Expected(fewest=110),
    "odd-secants": Expected(fewest=20),
    "hyperbolic-powers": Expected(fewest=16),
    "hyperbolic-exponentials": Expected(fewest=20),
    "quadratic-denominator": Expected(fewest=100),
    "root-of-quadratic": Expected(fewest=60),
    "by-parts": Expected(fewest=60, report=4, suite=48),
    "recurrence-formulae": Expected(fewest=140, suite=24),
    "algebraic-substitution": Expected(fewest=40, report=4, suite=48),
    "substitution-first": Expected(fewest=60, report=4, suite=48),
    "partial-fractions": Expected(fewest=100),
    "biquadratic-denominator": Expected(fewest=20),
    "trigonometric-substitution": Expected(fewest=40, report=4, suite=48),
    "rational-circular": Expected(fewest=200, report=2, suite=24),
    "half-angle-substitution": Expected(fewest=150, report=2, suite=24),
    "rational-hyperbolic": Expected(fewest=130),
    "variable-sign": Expected(fewest=5, suite=5),
    # no published row has a modulus inside a function
    "modulus-as-letter": Expected(fewest=0, suite=48),
    "reciprocal-substitution": Expected(fewest=10),
    "scaled-letter": Expected(fewest=10),
    "root-of-tangent": Expected(fewest=1, suite=3),
    "rationalised-denominator": Expected(fewest=6),
    "root-of-fraction": Expected(fewest=3),
    "multiple-angles": Expected(fewest=12),
    "double-angle-first": Expected(fewest=10, suite=5),
    # no published row has two angles that differ by a constant
    "shifted-angles": Expected(fewest=0, suite=48),
    "letter-square": Expected(fewest=2, suite=34),
    "quotient-as-letter": Expected(fewest=3, suite=5),
    "root-by-parts": Expected(fewest=1, suite=26),
    "logarithm-undone": Expected(fewest=2, suite=31),
    "inverse-substitution": Expected(fewest=150, suite=24),
    "term-by-term": Expected(fewest=60, report=4, suite=48),
}


def expected(technique: Technique) -> Expected:
    """What is expected of a technique; of one not listed yet, that it works some row."""
    return EXPECTED.get(technique.identifier, Expected(fewest=1))


#: published answers without a real value where the integrand is real, as the file says: artanh of something larger than 1,
#: the logarithm of a negative logarithm, roots of -x and x at once
NOT_REAL = frozenset(
    f"RUBI{number:05d}"
    for number in (215, 373, 642, 648, 694, 985, 1008, 1430, 1639, 2088, 3015, 3625, 3756, 3758, 3786)
)

#: published answers that are real for other values of the letters than ours, whose working says for which it is:
#: |a| < 1 where ours is for |a| > 1, and 1 + b^2 > a^2 where ours is for less
OTHER_LETTERS = frozenset({"RUBI00139", "RUBI00327"})

#: published answers with the inverse tangent of another angle, arctan(sqrt(x + 1) - sqrt(x)) = pi/4 - arctan(sqrt(x))/2, which no
#: normal form relates: the two have to agree at many points to many digits
OTHER_ANGLE = frozenset(f"RUBI{number:05d}" for number in range(3279, 3286))
_POINTS, _DIGITS = 30, 50


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """A row of a published table.

    Attributes:
        identifier: as in the file.
        integrand: what is integrated.
        antiderivative: the published answer.
        variable: the variable.
        real: whether that answer has a real value somewhere, as the file says.
    """

    identifier: str
    integrand: Expression
    antiderivative: Expression
    variable: Symbol
    real: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Agreement:
    """How the answers of a technique compare with the published ones.

    Attributes:
        applied: how many rows it works.
        same: of those, how many published answers are proved the same up to a constant.
        unsettled: the rows whose answers could not be compared, though the published one is real somewhere.
        different: the rows whose answers are proved different, with what was found.
    """

    applied: int
    same: int
    unsettled: frozenset[str]
    different: tuple[str, ...]


@cache
def published(shared: Path, every: int) -> tuple[Published, ...]:
    """Every so many of the rows that are indefinite, with status ok, and in the reader's language."""
    return tuple(_published(shared, every))


def _published(shared: Path, every: int) -> Iterator[Published]:
    for name in ("tables.csv", "openstax.csv", "rubi.csv"):
        with (shared / "reference" / name).open(encoding="utf-8", newline="") as file:
            for row in islice(csv.DictReader(file), 0, None, every):
                variable = Symbol(row["variable"])
                if row.get("lower") or not row["status"].startswith("ok"):
                    continue
                try:
                    # the tables write E for the number e, which the reader takes for a letter
                    integrand, antiderivative = (
                        read(row[part].replace("E**", "e**"), variable=variable).tree
                        for part in ("integrand", "antiderivative")
                    )
                except ReadingError:
                    continue
                yield Published(
                    identifier=row["id"],
                    integrand=integrand,
                    antiderivative=antiderivative,
                    variable=variable,
                    real=not row["domain_note"].endswith("F real on nowhere"),
                )


def agreement(technique: Technique, shared: Path, every: int) -> Agreement:
    """Work the rows that a technique fits, and compare the answers."""
    applied, same, unsettled, different = 0, 0, set(), []
    for row in published(shared, every):
        solution = technique.work(row.integrand, row.variable)
        if solution is None:
            continue
        applied += 1
        # the parameters of the files are positive
        positive = row.integrand.symbols() - {row.variable}
        verdict = decide_same_up_to_constant(
            row.antiderivative, solution.antiderivative, row.variable, positive=positive
        )
        match verdict:
            case Proved():
                same += 1
            case Unsettled(points=points, digits=digits) if (
                row.identifier in OTHER_ANGLE and points >= _POINTS and digits >= _DIGITS
            ):
                pass
            case Unsettled():
                unsettled |= {row.identifier} if row.real else set()
            case _:
                different.append(f"{row.identifier}: {plain(solution.antiderivative)}: {verdict}")
    return Agreement(applied=applied, same=same, unsettled=frozenset(unsettled), different=tuple(different))


def published_values(shared: Path, every: int = 1) -> tuple[int, list[str]]:
    """How many published definite integrals are worked, and those whose value has not their twenty digits."""
    worked, wrong = 0, []
    with (shared / "reference" / "definite.csv").open(encoding="utf-8", newline="") as file:
        for row in islice(csv.DictReader(file), 0, None, every):
            variable = Symbol(row["variable"])
            try:
                integrand, lower, upper = (
                    read(row[name], variable=variable).tree for name in ("integrand", "lower", "upper")
                )
                solution = work_definite(integrand, variable, lower, upper)
            except (ReadingError, DefiniteRefused):
                continue
            worked += 1
            bounds, known = enclose(solution.value, at={}, digits=30), Fraction(row["numeric_20"])
            if bounds is None or abs(bounds.lower - known) > abs(known) * Fraction(1, 10**18):
                wrong.append(row["id"])
    return worked, wrong


def published_ways(shared: Path, every: int = 1) -> tuple[Counter[str], list[str]]:
    """How many published definite integrals each way works, and those whose value has not their twenty digits."""
    worked: Counter[str] = Counter()
    wrong: list[str] = []
    with (shared / "reference" / "definite.csv").open(encoding="utf-8", newline="") as file:
        for row in islice(csv.DictReader(file), 0, None, every):
            variable = Symbol(row["variable"])
            try:
                integrand, lower, upper = (
                    read_row(row[name], variable) for name in ("integrand", "lower", "upper")
                )
            except ReadingError:
                continue
            found = value_of(Integral(integrand, variable, lower, upper))
            if found is None:
                continue
            worked[found.way] += 1
            bounds, known = enclose(found.value, at={}, digits=30), Fraction(row["numeric_20"])
            if bounds is None or abs(bounds.lower - known) > abs(known) * Fraction(1, 10**18):
                wrong.append(row["id"])
    return worked, wrong
