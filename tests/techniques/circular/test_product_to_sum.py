"""Products of sines and cosines of different angles, against published tables, SymPy's derivative and every slip refuted."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.notation import plain
from qbank.techniques import solve
from qbank.techniques.circular.product_to_sum import TECHNIQUE
from tests.techniques.circular_checks import (
    X,
    assert_derivative_by_sympy,
    assert_slips_are_wrong,
    assert_solved,
    board,
    lines,
    tree,
    worked,
)

#: with the answer for sin ax sin bx, cos ax cos bx and sin ax cos bx of DLMF 4.26.14-16 (a, b letters)
TABLE = (
    ("sin(a x) sin(b x)", "sin((a - b) x)/(2(a - b)) - sin((a + b) x)/(2(a + b))"),
    ("cos(a x) cos(b x)", "sin((a + b) x)/(2(a + b)) + sin((a - b) x)/(2(a - b))"),
    ("sin(a x) cos(b x)", "-cos((a + b) x)/(2(a + b)) - cos((a - b) x)/(2(a - b))"),
    ("sin(3x) cos(5x)", "-1/16 cos 8x + 1/4 cos 2x"),
    ("6 sin(2x) sin(5x)", "sin 3x - 3/7 sin 7x"),
    ("-2 cos(x) cos(4x)/3", "-1/15 sin 5x - 1/9 sin 3x"),
    ("3 cos(2x-1) sin(x/2)", "-3/5 cos(5x/2 - 1) + cos(3x/2 - 1)"),
    ("cos(x+pi/4) cos(x)", "1/4 sin(2x + pi/4) + 1/2 x cos(pi/4)"),
    ("sin(x) sin(2x) sin(3x)", "-1/16 cos 4x - 1/8 cos 2x + 1/24 cos 6x"),
    ("sin(x)^2 cos(3x)", "1/6 sin 3x - 1/20 sin 5x - 1/4 sin x"),
    ("cos(x)^2 cos(3x)^2", None),
    ("sin(pi x) sin(2 pi x)", None),
    ("sin(2x)^3 cos(x)", None),
    ("sqrt(2) cos(2 - x) cos(x)", None),
)

DECLINED = (
    "sin(x) cos(x)",
    "sin(2x)^2",
    "sin(x)/cos(2x)",
    "x sin(x) sin(2x)",
    "sin(x^2) cos(x)",
    "tan(x) sin(2x)",
)
DECLINED_TOO = ("sin(x)^4 cos(2x)^2", "sqrt(sin(x)) cos(2x)", "sin(x) sin(-x)")


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    solution = assert_solved(TECHNIQUE, text)
    if expected is not None:
        assert lines(plain(solution.antiderivative)) == lines(plain(tree(expected)))
    assert len(assert_slips_are_wrong(TECHNIQUE, solution)) >= 4
    if "a x" not in text:
        assert_derivative_by_sympy(solution)


@pytest.mark.parametrize("text", [*DECLINED, *DECLINED_TOO])
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_board() -> None:
    assert board(worked(TECHNIQUE, "sin(x)^2 cos(3x)")) == lines(
        "∫ 1/2 (1 - cos 2x) cos 3x dx",
        "1/2 ∫ (cos 3x - cos 2x cos 3x) dx",
        "1/2 ∫ (cos 3x - 1/2 (cos 5x + cos x)) dx",
        "1/4 ∫ (2 cos 3x - cos 5x - cos x) dx",
        "1/4 (2/3 sin 3x - 1/5 sin 5x - sin x)",
        "1/6 sin 3x - 1/20 sin 5x - 1/4 sin x",
    )


def test_every_slip_occurs_somewhere() -> None:
    found = {slip.slip for text, _ in TABLE for slip in TECHNIQUE.wrong_answers(worked(TECHNIQUE, text))}
    assert found == {slip.identifier for slip in TECHNIQUE.slips}


ANGLES = st.sampled_from(("x", "2x", "3x", "5x/2", "4x + 1", "1 - x", "x - pi/3", "7x"))
NAMES = st.sampled_from(("sin", "cos"))


@settings(max_examples=20)
@given(
    first=ANGLES, second=ANGLES, names=st.tuples(NAMES, NAMES), factor=st.sampled_from(("", "-3*", "2/7*"))
)
def test_always_solved(first: str, second: str, names: tuple[str, str], factor: str) -> None:
    if first == second:
        return
    integrand = f"{factor}{names[0]}({first}) * {names[1]}({second})"
    found = solve(tree(integrand), X)
    assert found is not None
    assert found.technique == TECHNIQUE.identifier
    assert_slips_are_wrong(TECHNIQUE, assert_solved(TECHNIQUE, integrand))
