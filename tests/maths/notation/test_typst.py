"""Typst: names stay text, and its own compiler, where it is installed, accepts every row."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qbank.maths.conventions import Conventions
from qbank.maths.expression import Apply, Decimal, Quotient, Symbol
from qbank.maths.functions import FUNCTIONS
from qbank.maths.notation import typst
from tests.maths.notation.cases import CASES

NAMES = ("speed", "v_max", "v_1", '"#evil', '\\"x', "a_b_c", "$x$", "#import", "naïve", "Gamma")


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("speed", 'italic("speed")'),
        ("v_max", 'v_(italic("max"))'),
        ("theta_0", "θ_(0)"),
        ('"#x', '"\\"#x"'),
        ("\\", '"\\\\"'),
    ],
)
def test_letters(name: str, text: str) -> None:
    assert typst(Symbol(name)) == text


@given(name=st.text(st.characters(codec="utf-8", exclude_categories=["L", "N", "C"]), min_size=1, max_size=8))
def test_a_name_never_becomes_code(name: str) -> None:
    assert re.fullmatch(r'"(?:[^"\\]|\\["\\])*"', typst(Symbol(name)), flags=re.DOTALL)


def test_a_decimal_comma_does_not_split_a_fraction() -> None:
    tree = Quotient(Decimal("0.5"), Symbol("x"))
    assert typst(tree, Conventions(decimal=",")) == 'frac("0,5", x)'


def test_the_compiler_accepts_everything() -> None:
    compiler = pytest.importorskip("typst", reason="the Typst compiler is not installed")
    rows = [typst(tree) for tree in CASES.values()]
    rows += [typst(Apply(name, Symbol("x")), Conventions(inverse="power")) for name in FUNCTIONS]
    rows += [typst(Symbol(name)) for name in NAMES]
    page = "\n\n".join(f"${row}$" for row in rows)
    assert compiler.compile(page.encode()).startswith(b"%PDF")
