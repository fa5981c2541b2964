"""Even powers of sine and cosine, solved and proved; SymPy and published tables are the outside world."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.expression import Symbol
from qbank.techniques.circular.double_angles import AS_TAUGHT, Piece, collected, content
from qbank.techniques.circular.even_powers import TECHNIQUE
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
    "sin(x)^2",
    "cos(x)^2",
    "2cos(x)^2",
    "cos(3x)^2",
    "sin(x/2)^2",
    "sin(x/4)^2",
    "(sin 2x)^2/5",
    "-3 cos(5x)^2",
    "sin(2x+1)^2",
    "cos(1-x)^2",
    "sin(-x)^2",
    "cos(x+pi/4)^2",
    "cos(x/2+pi/4)^4",
    "sin(x+pi/2)^2 cos(x+pi/2)^2",
    "cos(pi x)^2",
    "sin(a x)^2",
    "sin(x/a)^2",
    "cos(b x + c)^2",
    "sin(x)^4",
    "cos(x)^4",
    "sin(3x)^4",
    "5 cos(2x)^4/3",
    "cos(x/2)^4",
    "sin(1-x)^4",
    "sin(pi x)^4",
    "cos(x)^6",
    "sin(x)^6",
    "sin(2x)^6",
    "cos(x)^8",
    "sin(x)^10",
    "sin(x)^2 cos(x)^2",
    "sin(3x)^2 cos(3x)^2",
    "(sin(x) cos(x))^2",
    "4(sin(x) cos(x))^4",
    "sin(x)^4 cos(x)^2",
    "sin(x)^2 cos(x)^4",
    "sin(x/2)^4 cos(x/2)^2",
    "sin(x)^2 cos(x)^6",
    "sin(x)^6 cos(x)^2",
    "sin(x)^4 cos(x)^4",
    "sin(x)^6 cos(x)^6",
    "sin x * sin x",
    "cos(x) sin(x)^2 cos(x)",
    "1/sec(x)^2",
    "cos(x)^2/cosec(x)^2",
    "tan(x)^2 cos(x)^4",
    "sqrt(2) sin(x)^2",
    "sqrt(2) k sin(pi x)^4/3",
    "cos(x)^14",
    "sin(x)^20",
)

DECLINED = (
    "sin(x)",
    "sin(x)^3",
    "sin(x)^2 cos(x)",
    "sin(x)^2 + 1",
    "sin(x)^2/cos(x)^2",
    "1/cos(x)^2",
    "sin(x)^2 cos(2x)^2",
    "x sin(x)^2",
    "sqrt(sin(x)) cos(x)^2",
    "sin(x^2)^2",
    "sin(2)^2",
    "3",
    "tan(x)^2",
    "sin(x)^22",
    "sinh(x)^2",
)


@pytest.mark.parametrize("text", TABLE)
def test_solved_and_slips_refuted(text: str) -> None:
    solution = assert_solved(TECHNIQUE, text)
    assert len(assert_slips_are_wrong(TECHNIQUE, solution)) >= 3


@pytest.mark.parametrize(
    "text", ["sin(x)^2", "5 cos(2x)^4/3", "cos(x)^6", "sin(x)^4 cos(x)^2", "sin(pi x)^4"]
)
def test_derivative_by_sympy(text: str) -> None:
    assert_derivative_by_sympy(worked(TECHNIQUE, text))


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_other_variable() -> None:
    theta = Symbol("theta")
    assert_solved(TECHNIQUE, "sin(2theta)^4", theta)


def test_the_board_of_a_fourth_power() -> None:
    assert board(worked(TECHNIQUE, "sin(x)^4")) == lines(
        "∫ ((1 - cos 2x)/2)^2 dx",
        "1/4 ∫ (1 - 2 cos 2x + cos^2 2x) dx",
        "1/4 ∫ (1 - 2 cos 2x + (1 + cos 4x)/2) dx",
        "1/8 ∫ (3 - 4 cos 2x + cos 4x) dx",
        "1/8 (3x - 2 sin 2x + 1/4 sin 4x)",
        "3/8 x - 1/4 sin 2x + 1/32 sin 4x",
    )


def test_odd_powers_on_the_way_stay_in_one_chain() -> None:
    solution = worked(TECHNIQUE, "cos(x)^6")
    assert board(solution)[2:4] == lines(
        "1/8 ∫ (1 + 3 cos 2x + 3/2 (1 + cos 4x) + (1 - sin^2 2x) cos 2x) dx",
        "1/16 ∫ (5 + 8 cos 2x + 3 cos 4x - 2 sin^2 2x cos 2x) dx",
    )
    assert {line.kind for line in solution.lines} == {"step"}


def test_reasons_name_the_identities() -> None:
    reasons = [line.reason for line in worked(TECHNIQUE, "sin(x)^2 cos(x)^4").lines]
    assert "sine times cosine is half the sine" in reasons[0]
    assert "cosine squared is half of one plus" in reasons[0]
    assert reasons[2] == "Use the double angle again for the even powers."
    alone = [line.reason for line in worked(TECHNIQUE, "cos(x)^14").lines]
    assert any("; write an odd power with one factor split off." in reason for reason in alone)


def test_slips_of_a_fourth_power() -> None:
    solution = worked(TECHNIQUE, "sin(3x)^4")
    found = {slip.slip: slip.answer for slip in TECHNIQUE.wrong_answers(solution)}
    assert same_text({"": solution.antiderivative}, {"": "3/8 x - 1/12 sin 6x + 1/96 sin 12x"})
    wanted = {
        "double-angle-sign": "3/8 x + 1/12 sin 6x - 1/96 sin 12x",
        "double-angle-cosine-not-divided": "3/8 x - 1/2 sin 6x + 1/8 sin 12x",
        "double-angle-half-lost": "2x - 1/3 sin 6x + 1/12 sin 12x",
        "even-power-raised-like-a-variable": "1/5 sin^5 3x",
        "double-angle-not-doubled": "3/8 x - 1/8 sin 3x",
        "double-angle-cosine-multiplied": "3/8 x - 3 sin 6x + 3/2 sin 12x",
        "double-angle-cosine-differentiated": "3/8 x + 3 sin 6x - 3/2 sin 12x",
        "double-angle-middle-term-lost": "1/8 x - 1/96 sin 12x",
        "even-power-differentiated-instead": "12 sin^3 3x cos 3x",
        "double-angle-power-lost": "1/2 x - 1/12 sin 6x",
    }
    assert same_text(found, wanted)


def test_slips_need_an_integrand_of_the_kind() -> None:
    from qbank.techniques.circular.odd_powers import TECHNIQUE as ODD

    found = {s.slip for s in TECHNIQUE.wrong_answers(worked(ODD, "cos(x)^3"))}
    assert found == {"even-power-differentiated-instead"}


@given(m=st.integers(0, 5), n=st.integers(0, 5))
def test_pieces_keep_the_value_at_the_ends(m: int, n: int) -> None:
    """At A = 0 and A = pi/2, t A is a multiple of pi/2, so both sides are whole numbers that can be added up."""
    if not m + n:
        return
    start = ((Piece.of(1, 2 * m, 2 * n), Fraction(1)),)
    finished = AS_TAUGHT.finished(start)
    for quarter in (0, 1):
        total = sum(
            number
            * _sine(quarter * piece.times) ** piece.sine
            * _cosine(quarter * piece.times) ** piece.cosine
            for piece, number in finished
        )
        assert total == _sine(quarter) ** (2 * m) * _cosine(quarter) ** (2 * n)


def _sine(quarters: int) -> int:
    return (0, 1, 0, -1)[quarters % 4]


def _cosine(quarters: int) -> int:
    return (1, 0, -1, 0)[quarters % 4]


def test_like_pieces_are_added_and_the_content_is_positive() -> None:
    one, cosine = Piece.of(0, 0, 0), Piece.of(2, 0, 1)
    terms = ((cosine, Fraction(1, 2)), (one, Fraction(-3, 4)), (cosine, Fraction(-1, 2)))
    assert collected(terms) == ((one, Fraction(-3, 4)),)
    assert content(((one, Fraction(-3, 4)), (cosine, Fraction(9, 2)))) == Fraction(3, 4)


@settings(max_examples=25)
@given(
    m=st.integers(0, 3),
    n=st.integers(0, 3),
    angle=st.sampled_from(("x", "2x", "-x", "x/3", "5x/2", "2x+1", "1-3x", "x+pi/2", "pi x")),
    factor=st.sampled_from(("", "-", "3*", "2/7*", "-5/3*")),
)
def test_always_solved(m: int, n: int, angle: str, factor: str) -> None:
    if m + n:
        text = f"{factor}sin({angle})^{2 * m} * cos({angle})^{2 * n}"
        assert_slips_are_wrong(TECHNIQUE, assert_solved(TECHNIQUE, text))
