"""Simplified, as a question asks for it: forms that a marking guide accepts, and forms it does not (common practice)."""

from __future__ import annotations

import pytest

from qbank.maths.reading import read
from qbank.maths.simplified import is_simplified


@pytest.mark.parametrize(
    "text",
    [
        "x^2/2", "1/2 x^2", "0.5x", "sin^2 x/2", "1/3 sin 3x - x", "-ln|cos x|", "2 sqrt(3)", "sqrt(10)", "(x + 1)^3/3",
        "1 + x^2", "x^2 + 1", "e^(2x)/2", "3/2", "x/3 + C", "2/3 (x + 1)^(3/2)", "(sin x + cos x)/2",
    ],
)  # fmt: skip
def test_simplified(text: str) -> None:
    assert is_simplified(read(text).tree)


@pytest.mark.parametrize(
    "text",
    [
        "2/4 x^2", "6x/9", "1*x", "x + x", "sin x + sin x", "x^2/2 + x^2/2", "2*3 x", "--x", "x^1", "sqrt(12)", "sqrt(4)",
        "x + 0", "4/2", "1/(2/3)", "(2x)/2", "sin x/2 + 3 sin x", "³√16",
    ],
)  # fmt: skip
def test_not_simplified(text: str) -> None:
    assert not is_simplified(read(text).tree)
