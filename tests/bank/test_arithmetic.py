"""Exact values of parameter expressions."""

from __future__ import annotations

from fractions import Fraction

import pytest

from qbank.bank.arithmetic import NotRationalError, evaluate
from qbank.maths.reading import read

VALUES = {"a": Fraction(3), "b": Fraction(-1, 2)}


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("a^2 + b", Fraction(17, 2)),
        ("-a b", Fraction(3, 2)),
        ("a/b", Fraction(-6)),
        ("2^(-a)", Fraction(1, 8)),
        ("0.25 a", Fraction(3, 4)),
        ("sqrt(a^2 + 16)", Fraction(5)),
        ("sqrt(1/4)", Fraction(1, 2)),
        ("|b|", Fraction(1, 2)),
    ],
)
def test_value(text: str, wanted: Fraction) -> None:
    assert evaluate(read(text).tree, VALUES) == wanted


@pytest.mark.parametrize(
    "text", ["1/(a - 3)", "sqrt(2)", "sqrt(b)", "2^b", "0^(-1)", "sin a", "c", "(a^900)^900", "cbrt(8)", "pi"]
)
def test_no_rational_value(text: str) -> None:
    with pytest.raises(NotRationalError):
        evaluate(read(text).tree, VALUES)
