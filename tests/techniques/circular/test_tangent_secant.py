"""Powers of tangent and secant, solved and proved; SymPy and published tables are the outside world."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.expression import Symbol
from qbank.techniques.circular.tangent_secant import TECHNIQUE
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

TABLE = (
    "tan(x)^2",
    "cot(x)^2",
    "tan(3x)^2",
    "5 tan(x/2)^2",
    "-2cot(2x)^2/3",
    "tan(2x+1)^2",
    "tan(pi x)^2",
    "1/tan(2x)^2",
    "3/cot(x)^3",
    "tan(x)^3",
    "3tan(2x)^3",
    "cot(2x)^3",
    "tan(x)^4",
    "cot(3x)^4",
    "tan(x)^5",
    "cot(x)^5",
    "tan(2x)^6",
    "tan(x)^7",
    "k tan(b x)^3",
    "sec(x)^4",
    "sec(2x)^4",
    "cosec(x)^4",
    "(sec(x)^2)^3",
    "cosec(2x-1)^6",
    "sec(x)^2 tan(x)",
    "tan(x)^3 sec(x)^2",
    "cot(3x)^2 cosec(3x)^2",
    "tan(x)^2 sec(x)^4",
    "tan(x)^3 sec(x)^4",
    "tan(x) sec(x)^4",
    "tan(x)^5 sec(x)^6",
    "tan(2x)^3 sec(2x)",
    "tan(x)^3 sec(x)^3",
    "tan(x)^5 sec(x)",
    "cot(x)^3 cosec(x)",
    "cot(x/2)^3 cosec(x/2)^5",
    "tan(x) sec(x)^3",
    "sqrt(tan(x)) sec(x)^4",
    "tan(x)^3 sqrt(sec(x))",
    "tan(x) sqrt(sec(x))",
    "sec(x)^4/tan(x)^2",
    "sec(x)^2/tan(x)",
    "tan(x)^3/sec(x)^3",
    "1/cos(x)^4",
    "1/cos(2x)^4",
    "1/sin(x)^4",
    "sin(x)^2/cos(x)^4",
    "3 sin(x)^2/(5 cos(x)^6)",
    "cos(x)^2/sin(x)^4",
    "cos(x)^2/sin(x)^6",
    "sin(x)^2/cos(x)^2",
    "cos(3x)^4/sin(3x)^4",
    "1/(sin(x)^2 cos(x)^2)",
    "tan(x)^2/cos(x)^2",
    "sec(x)^2 cosec(x)^2",
    "sqrt(sin(x))/cos(x)^(5/2)",
    "sqrt(2) sec(pi x)^4",
    "tan(x)^20",
    "sec(x)^20",
)

DECLINED = (
    "tan(x)",
    "cot(2x)",
    "sec(x)",
    "sec(x)^2",
    "cosec(3x)^2",
    "1/cos(x)^2",
    "sec(x) tan(x)",
    "sec(x)^3",
    "tan(x)^2 sec(x)",
    "sin(x)^2",
    "sin(x)^3",
    "sin(x)^3/cos(x)^2",
    "sqrt(tan(x))",
    "sqrt(tan(x)) cos(x)^4 sqrt(sec(x))",
    "tan(x)^2 sec(2x)^2",
    "tan(x)^2 + 1",
    "x tan(x)^2",
    "tan(x)^21",
    "1",
)


@pytest.mark.parametrize("text", TABLE)
def test_solved_and_slips_refuted(text: str) -> None:
    solution = assert_solved(TECHNIQUE, text)
    # little can go wrong in the shortest of these
    fewest = 2 if text in ("sec(x)^2 tan(x)", "sec(x)^2/tan(x)") else 3
    assert len(assert_slips_are_wrong(TECHNIQUE, solution)) >= fewest


@pytest.mark.parametrize("text", ["tan(2x)^6", "cot(2x)^3", "cot(x/2)^3 cosec(x/2)^5", "sin(x)^2/cos(x)^4"])
def test_derivative_by_sympy(text: str) -> None:
    assert_derivative_by_sympy(worked(TECHNIQUE, text))


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_other_variable() -> None:
    t = Symbol("t")
    assert_solved(TECHNIQUE, "tan(2t)^3 sec(2t)^2", t)


def test_the_board_of_a_cube() -> None:
    assert board(worked(TECHNIQUE, "3tan(2x)^3")) == lines(
        "3 ∫ tan 2x * (sec^2 2x - 1) dx",
        "3 (∫ tan 2x sec^2 2x dx - ∫ tan 2x dx)",
        "u = tan 2x ; du = 2 sec^2 2x dx",
        "3/2 ∫ u du - 3 ∫ tan 2x dx",
        "3/4 u^2 + 3/2 ln|cos 2x|",
        "3/4 tan^2 2x + 3/2 ln|cos 2x|",
    )


def test_the_board_with_cosecants() -> None:
    assert board(worked(TECHNIQUE, "cosec(2x)^4")) == lines(
        "∫ cosec^2 2x cosec^2 2x dx",
        "∫ (1 + cot^2 2x) cosec^2 2x dx",
        "u = cot 2x ; du = -2 cosec^2 2x dx",
        "-1/2 ∫ (1 + u^2) du",
        "-1/2 (u + u^3/3)",
        "-1/2 cot 2x - 1/6 cot^3 2x",
    )


def test_reciprocals_are_written_with_their_own_name() -> None:
    assert same_text({"": worked(TECHNIQUE, "1/(sin(x)^2 cos(x)^2)").antiderivative}, {"": "-cot x + tan x"})
    assert same_text(
        {"": worked(TECHNIQUE, "tan(x)^3/sec(x)^3").antiderivative}, {"": "-cos x + 1/3 cos^3 x"}
    )


def test_slips_of_a_fifth_power() -> None:
    solution = worked(TECHNIQUE, "cot(2x)^5")
    found = {slip.slip: slip.answer for slip in TECHNIQUE.wrong_answers(solution)}
    right = "-1/8 cot^4 2x + 1/4 cot^2 2x + 1/2 ln|sin 2x|"
    assert same_text({"": solution.antiderivative}, {"": right})
    wanted = {
        "tangent-power-raised-like-a-variable": "1/6 cot^6 2x",
        "secant-identity-with-wrong-sign": "-1/8 cot^4 2x - 1/4 cot^2 2x + 1/2 ln|sin 2x|",
        "tangent-inner-coefficient-forgotten": "-1/4 cot^4 2x + 1/2 cot^2 2x + ln|sin 2x|",
        "tangent-inner-coefficient-multiplied": "-1/2 cot^4 2x + cot^2 2x + 2 ln|sin 2x|",
        "minus-of-cotangent-derivative-lost": "1/8 cot^4 2x - 1/4 cot^2 2x + 1/2 ln|sin 2x|",
        "tangent-left-over-term-lost": "-1/8 cot^4 2x + 1/4 cot^2 2x",
        "tangent-logarithm-sign": "-1/8 cot^4 2x + 1/4 cot^2 2x - 1/2 ln|sin 2x|",
        "left-over-tangent-differentiated": "-1/8 cot^4 2x + 1/4 cot^2 2x - cosec^2 2x",
        "tangent-not-divided-by-new-power": "-1/2 cot^4 2x + 1/2 cot^2 2x + 1/2 ln|sin 2x|",
        "tangent-divided-by-old-power": "-1/6 cot^4 2x + 1/2 cot^2 2x + 1/2 ln|sin 2x|",
        "tangent-differentiated-instead": "-10 cot^4 2x cosec^2 2x",
        "tangent-powers-differentiated": "-3/2 cot^2 2x + 1/2 ln|sin 2x|",
    }
    assert same_text(found, wanted)


def test_the_partner_is_no_slip_where_it_is_right() -> None:
    # tan x sec^2 x is the derivative of tan^2 x / 2 and of sec^2 x / 2
    solution = worked(TECHNIQUE, "tan(x) sec(x)^2")
    assert "secant-and-tangent-interchanged" not in {s.slip for s in TECHNIQUE.wrong_answers(solution)}
    other = worked(TECHNIQUE, "tan(x)^3 sec(x)^2")
    assert "secant-and-tangent-interchanged" in {s.slip for s in TECHNIQUE.wrong_answers(other)}


def test_every_slip_occurs_somewhere() -> None:
    found = {slip.slip for text in TABLE for slip in TECHNIQUE.wrong_answers(worked(TECHNIQUE, text))}
    assert found == {slip.identifier for slip in TECHNIQUE.slips}


def test_slips_need_an_integrand_of_the_kind() -> None:
    from qbank.techniques.circular.even_powers import TECHNIQUE as EVEN

    solution = worked(EVEN, "cos(x)^2")
    assert {s.slip for s in TECHNIQUE.wrong_answers(solution)} == {"tangent-differentiated-instead"}
    assert TECHNIQUE.wrong_answers(replace(solution, integrand=X)) == ()


@settings(max_examples=25)
@given(
    m=st.integers(0, 6),
    half=st.integers(0, 3),
    functions=st.sampled_from((("tan", "sec"), ("cot", "cosec"))),
    angle=st.sampled_from(("x", "2x", "-x", "x/3", "5x/2", "2x+1", "1-3x", "x-pi/6", "pi x")),
    factor=st.sampled_from(("", "-", "3*", "2/7*", "-5/3*")),
)
def test_always_solved(m: int, half: int, functions: tuple[str, str], angle: str, factor: str) -> None:
    n = 2 * half
    if (m, n) in ((0, 0), (1, 0), (0, 2)):
        return
    first, second = functions
    text = f"{factor}{first}({angle})^{m} * {second}({angle})^{n}"
    assert_slips_are_wrong(TECHNIQUE, assert_solved(TECHNIQUE, text))


@settings(max_examples=15)
@given(
    k=st.integers(0, 3),
    n=st.integers(-5, 6),
    functions=st.sampled_from((("tan", "sec"), ("cot", "cosec"))),
    angle=st.sampled_from(("x", "2x", "x/3", "1-3x")),
)
def test_odd_tangents_always_solved(k: int, n: int, functions: tuple[str, str], angle: str) -> None:
    m = 2 * k + 1
    if m == 1 and n in (0, 1):
        return
    first, second = functions
    assert_slips_are_wrong(
        TECHNIQUE, assert_solved(TECHNIQUE, f"{first}({angle})^{m} * {second}({angle})^({n})")
    )
