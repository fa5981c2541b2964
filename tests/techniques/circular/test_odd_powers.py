"""Odd powers of sine and cosine, solved and proved; SymPy and published tables are the outside world."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.expression import Symbol
from qbank.techniques.circular.odd_powers import TECHNIQUE
from tests.techniques.circular_checks import (
    X,
    assert_derivative_by_sympy,
    assert_slips_are_wrong,
    assert_solved,
    board,
    lines,
    same_text,
    tree,
    worked,
)

#: integrands with real values near 0.2, so that numbers can be compared there
TABLE = (
    "sin(x)^3",
    "cos(x)^3",
    "sin(2x)^3",
    "(sin 2x)^3/5",
    "-4 cos(3x)^5",
    "sin(x)^5",
    "cos(x)^7",
    "sin(x)^9",
    "sin(x/2)^3",
    "cos(2x/3)^3",
    "sin(2x+1)^3",
    "cos(1-x)^5",
    "sin(-x)^3",
    "sin(x + pi/4)^3",
    "cos(2x - pi/3)^3",
    "cos(pi x)^3",
    "sin(b x + c)^3",
    "sin(x) cos(x)",
    "3 sin(2x) cos(2x)",
    "sin(x)^3 cos(x)^2",
    "sin(x)^2 cos(x)^3",
    "sin x * cos^2 x * sin^2 x",
    "sin(x)^3 cos(x)^3",
    "sin(x)^5 cos(x)^3",
    "sin(x)^4 cos(x)^5",
    "sin(3x)^3 cos(3x)^4",
    "sin(x)^2 cos(x)",
    "cos(x)^6 sin(x)",
    "(sin(x) cos(x))^3",
    "cos(x)^3/sin(x)",
    "cos(x)^3/sin(x)^2",
    "sin(x)^3/cos(x)^4",
    "5sin(2x)^5/(3cos(2x)^2)",
    "cos(x)/sin(x)^3",
    "1/(sin(x)^2/cos(x)^5)",
    "cos(x)^3/sqrt(sin(x))",
    "sqrt(cos(x)) sin(x)^3",
    "sin(x)^3 cos(x)^(3/2)",
    "cos(x) sin(x)^(1/3)",
    "sqrt(sin(x)^3) cos(x)^3",
    "cbrt(sin(x)^2) cos(x)^3",
    "sin(x)^3 sec(x)^2",
    "cos(x)^3 cosec(x)^4",
    "tan(x)^2 cos(x)^3",
    "tan(x) sin(x)^2",
    "1/sec(x)^3",
    "sqrt(2) cos(x)^3",
    "a cos(x)^3",
    "sin(x)^19",
    "sin(3x+1)^11 cos(3x+1)^2",
    "-3cos((2x+pi)/4)^3",
    "sin(x/3)^3/k",
    "sin(x)^3 cos(x)^20",
)

DECLINED = (
    "sin(x)",
    "cos(2x)",
    "5",
    "x",
    "0*sin(x)^3",
    "sin(x)^2",
    "sin(x)^2 cos(x)^4",
    "sin(x)^3 cos(2x)",
    "sin(x)^3 + 1",
    "x sin(x)^3",
    "sin(x^2)^3",
    "sin(3)^3",
    "1/sin(x)^3",
    "cos(x)^2/sin(x)^3",
    "tan(x)^3 sec(x)^3",
    "sqrt(tan(x)) cos(x)^3",
    "sinh(x)^3",
    "e^x sin(x)^3",
    "sin(x)^21",
    "sin(x)^x",
    "sin(2x)^3 cos(x + x a)",
    "sin(x a + 2x)^3",
    "sin(x^2 + pi)^3",
    "sin(x (x+pi))^3",
    "sqrt(sin(x)^2) cos(x)^3",
)


@pytest.mark.parametrize("text", TABLE)
def test_solved_and_slips_refuted(text: str) -> None:
    solution = assert_solved(TECHNIQUE, text)
    assert len(assert_slips_are_wrong(TECHNIQUE, solution)) >= 3


@pytest.mark.parametrize("text", TABLE[::4])
def test_derivative_by_sympy(text: str) -> None:
    if "b x" not in text:
        assert_derivative_by_sympy(worked(TECHNIQUE, text))


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_other_variable() -> None:
    t = Symbol("t")
    assert_solved(TECHNIQUE, "sin(2t)^3", t)
    u = Symbol("u")
    solution = assert_solved(TECHNIQUE, "cos(u)^3 sin(u)^2", u)
    assert board(solution)[2:3] == lines("v = sin u ; dv = cos u du")


def test_the_board_of_a_cube() -> None:
    # the lines of the example in the project's own specification of this family
    assert board(worked(TECHNIQUE, "sin(2x)^3")) == lines(
        "∫ sin^2 2x sin 2x dx",
        "∫ (1 - cos^2 2x) sin 2x dx",
        "u = cos 2x ; du = -2 sin 2x dx",
        "-1/2 ∫ (1 - u^2) du",
        "-1/2 (u - u^3/3)",
        "-1/2 cos 2x + 1/6 cos^3 2x",
    )


def test_two_minus_signs_are_merged() -> None:
    assert board(worked(TECHNIQUE, "sin(x)^3/cos(x)^4"))[-2:] == lines(
        "1/(3u^3) - 1/u",
        "1/(3 cos^3 x) - 1/(cos x)",
    )


def test_slips_of_a_fifth_power() -> None:
    solution = worked(TECHNIQUE, "cos(2x)^5")
    found = {slip.slip: slip.answer for slip in TECHNIQUE.wrong_answers(solution)}
    assert same_text({"": solution.antiderivative}, {"": "1/2 sin 2x - 1/3 sin^3 2x + 1/10 sin^5 2x"})
    wanted = {
        "minus-given-to-sine-derivative": "-1/2 sin 2x + 1/3 sin^3 2x - 1/10 sin^5 2x",
        "odd-power-inner-coefficient-forgotten": "sin 2x - 2/3 sin^3 2x + 1/5 sin^5 2x",
        "odd-power-inner-coefficient-multiplied": "2 sin 2x - 4/3 sin^3 2x + 2/5 sin^5 2x",
        "odd-power-raised-like-a-variable": "1/6 cos^6 2x",
        "pythagoras-with-plus": "1/2 sin 2x + 1/3 sin^3 2x + 1/10 sin^5 2x",
        "odd-power-middle-term-lost": "1/2 sin 2x - 1/10 sin^5 2x",
        "odd-power-not-divided-by-new-power": "1/2 sin 2x - sin^3 2x + 1/2 sin^5 2x",
        "odd-power-divided-by-old-power": "1/2 sin 2x - 1/2 sin^3 2x + 1/8 sin^5 2x",
        "odd-power-powers-differentiated": "-2 sin 2x + 2 sin^3 2x",
        "odd-power-differentiated-instead": "-10 cos^4 2x sin 2x",
        "wrong-function-put-back": "1/2 cos 2x - 1/3 cos^3 2x + 1/10 cos^5 2x",
    }
    assert same_text(found, wanted)


def test_every_slip_occurs_somewhere() -> None:
    found = {slip.slip for text in TABLE for slip in TECHNIQUE.wrong_answers(worked(TECHNIQUE, text))}
    assert found == {slip.identifier for slip in TECHNIQUE.slips}


def test_slips_need_an_integrand_of_the_kind() -> None:
    # the planner may ask about a solution that another technique worked
    from qbank.techniques.circular.even_powers import TECHNIQUE as EVEN

    assert {s.slip for s in TECHNIQUE.wrong_answers(worked(EVEN, "cos(x)^2"))} == {
        "odd-power-raised-like-a-variable",
        "odd-power-differentiated-instead",
    }


@settings(max_examples=25)
@given(
    odd=st.integers(0, 3).map(lambda k: 2 * k + 1),
    other=st.integers(-5, 6),
    swap=st.booleans(),
    slope=st.sampled_from(("x", "2x", "-x", "x/3", "5x/2", "2x+1", "1-3x", "x-pi/6")),
    factor=st.sampled_from(("", "-", "3*", "2/7*", "-5/3*")),
)
def test_always_solved(odd: int, other: int, swap: bool, slope: str, factor: str) -> None:
    first, second = ("cos", "sin") if swap else ("sin", "cos")
    if odd == 1 and other == 0:
        return
    text = f"{factor}{first}({slope})^{odd} * {second}({slope})^({other})"
    assert_slips_are_wrong(TECHNIQUE, assert_solved(TECHNIQUE, text))
