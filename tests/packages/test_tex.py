"""LaTeX of packages read back to what the notation wrote, and packages with it verified."""

from __future__ import annotations

from pathlib import Path

import pytest

from qbank.bank.loading import parse_bank
from qbank.items.decking import deal
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    PI,
    Differential,
    Evaluated,
    Integer,
    Integral,
    Limit,
    Symbol,
    cos,
    exp,
    rational,
    sin,
)
from qbank.maths.notation import latex
from qbank.packages.formulas import FormulaError
from qbank.packages.tex import tex_formulas
from qbank.packages.verifying import verify
from qbank.writers import WRITERS, Options, save
from tests.maths.notation.cases import CASES
from tests.packages.sample import BANK, FORMS

X, THETA = Symbol("x"), Symbol("theta")
WORKING = (Integral, Evaluated, Limit, Differential)


@pytest.mark.parametrize(
    "text",
    [
        text
        for text, tree in CASES.items()
        # x2 and x_2 look alike; lines of working are never read back
        if text != "x2"
        and not isinstance(tree, Equation)
        and not any(isinstance(n, WORKING) for n in tree.walk())
    ],
)
def test_the_table_of_notation_reads_back(text: str) -> None:
    tree = CASES[text]
    assert list(tex_formulas(rf"so \(\displaystyle {latex(tree)}\).")) == [tree]


@pytest.mark.parametrize(
    "integral",
    [
        Integral(2 * X, X),
        Integral(sin(THETA) ** 2 + 1, THETA),
        Integral(cos(X) / 3, X, Integer(0), rational(1, 2) * PI),
        Integral(exp(2 * X), X, -PI, PI / 3),
    ],
)
def test_integrals_read_back(integral: Integral) -> None:
    assert list(tex_formulas(rf"Find \(\displaystyle {latex(integral)}\).")) == [integral]


@pytest.mark.parametrize(
    "text",
    [
        r"\int x",
        r"\int_{0} x \, dx",
        r"\int_{0^{1} x",
        r"\int x \, d2",
        r"\int x + \, dx",
        r"\frac{1}",
        "",
        r"\input{x}",
    ],
)
def test_what_is_not_read(text: str) -> None:
    with pytest.raises(FormulaError):
        list(tex_formulas(rf"\({text}\)"))


def test_text_without_formulas() -> None:
    assert list(tex_formulas(None)) == []
    assert list(tex_formulas("( a) \\")) == []


@pytest.mark.parametrize("form", ["qti3", "qti22", "qti21"])
@pytest.mark.parametrize("text", [BANK, FORMS], ids=["bank", "forms"])
def test_packages_with_latex_are_sound(form: str, text: str, tmp_path: Path) -> None:
    deck = deal(parse_bank(text.encode(), "small.yaml"), count=1, seed=1)
    report = verify(save(WRITERS[form], deck, tmp_path / "a.zip", options=Options(math="tex")))
    assert report.problems == []
    assert sum(row.proved + row.agreeing for row in report.rows.values()) == len(deck.sections)
