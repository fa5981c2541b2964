"""Published integrands and answers: each is written so that it reads back, is valid, and is said like no other.

The rows come from the reference tables beside the checkout (their README names the handbooks and problem sets).
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from lxml import etree

from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import latex, mathml, plain, speech
from qbank.maths.reading import ReadingError, read

pytestmark = pytest.mark.reference

#: file -> every how many rows one is tried; what each file must at least yield
SAMPLES = {"tables.csv": (2, 100), "openstax.csv": (2, 100), "rubi.csv": (24, 150)}


def published(path: Path, step: int) -> list[tuple[Expression, Symbol]]:
    """The expressions of a file that are in the language, with their variable."""
    found: list[tuple[Expression, Symbol]] = []
    with path.open(encoding="utf-8", newline="") as lines:
        for row in list(csv.DictReader(lines))[::step]:
            variable = Symbol(row["variable"] or "x")
            for column in ("integrand", "antiderivative"):
                try:
                    found.append((read(row[column], variable=variable).tree, variable))
                except ReadingError:
                    continue
    return found


@pytest.mark.parametrize("name", SAMPLES)
def test_published_mathematics(name: str, shared: Path, schema: etree.XMLSchema) -> None:
    step, least = SAMPLES[name]
    rows = published(shared / "reference" / name, step)
    assert len(rows) >= least
    said: dict[str, Expression] = {}
    for tree, variable in rows:
        names = frozenset(symbol.name for symbol in tree.symbols())
        for text in (plain(tree), latex(tree)):
            assert read(text, variable=variable, names=names).tree == tree, text
        schema.assertValid(mathml(tree))
        assert said.setdefault(speech(tree).replace(",", ""), tree) == tree
