"""No right answer refuted, no wrong one proved: a part of what `python -m tests.marking.adversary` does at length."""

from __future__ import annotations

import pytest

from qbank.maths.expression import Symbol
from qbank.maths.reading import read
from tests.marking.adversary import attack
from tests.marking.float_oracle import is_right

x = Symbol("x")


def test_attack() -> None:
    tally = attack(120, seed=20)
    assert tally.mistakes == []
    assert tally.share_decided("right") > 0.95
    assert tally.share_decided("wrong") > 0.95
    # both kinds were there
    assert (
        min(sum(n for (t, _), n in tally.counts.items() if t == truth) for truth in ("right", "wrong")) > 45
    )


@pytest.mark.parametrize(
    ("answer", "integrand", "right"),
    [
        ("sin x - sin^3 x/3 + C", "cos(x)^3", True),
        ("sin x + sin^3 x/3 + C", "cos(x)^3", False),
        ("ln|x|", "1/x", True),
        ("x^2/2 + 10^(-12) sin(pi x)", "x", False),
        ("x|x|/2", "x", False),
        ("arcsin(x/100)", "1/sqrt(10000 - x^2)", True),
        ("arccos(x + 90)", "1/sqrt(x - 90)", None),
    ],
)
def test_the_oracle(answer: str, integrand: str, right: bool | None) -> None:
    assert is_right(read(answer, variable=x).tree, read(integrand, variable=x).tree) is right
