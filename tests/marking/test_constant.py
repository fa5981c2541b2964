"""Whether an answer holds a constant of integration."""

from __future__ import annotations

import pytest

from qbank.marking.constant import has_constant
from qbank.maths.expression import Symbol
from qbank.maths.reading import read

x = Symbol("x")


@pytest.mark.parametrize(
    ("text", "held"),
    [
        ("x^2 + C", True),
        ("x^2 - k", True),
        ("x^2 + C/3", True),
        ("C + x^2", True),
        ("x^2 + 2C", True),
        ("ln|k x|", True),
        ("ln(C(x^2 + 1))", True),
        ("x^2 + C_1 + C_2", True),
        ("x^2", False),
        ("x^2 + 5", False),
        ("x^2 + C - C", False),
        ("x^2 + C/C", False),
        ("C x^2/C", False),
        ("x^2 + 0 C", False),
        # real nowhere, so that nothing can be compared
        ("ln(-x^2 - C^2)", True),
    ],
)
def test_held(text: str, held: bool) -> None:
    assert has_constant(read(text, variable=x).tree, x) is held
