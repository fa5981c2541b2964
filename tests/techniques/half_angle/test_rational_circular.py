"""Fractions of sines and cosines with a shorter way, against SymPy's derivative and published answers; slips refuted."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.techniques import technique
from tests.techniques.solving import (
    X,
    agrees_with_sympy,
    board,
    check_carried,
    check_every_slip_occurs,
    check_published,
    check_solved,
    solved,
    tree,
    wrong_slips,
)

TECHNIQUE = technique("rational-circular")

#: answers worked by hand, common practice
TABLE = [
    ("sin(x)^3/(2 + cos(x))", "1/2 cos^2 x - 2 cos x + 3 ln(cos x + 2)"),
    ("sin(x)^2/(1 + cos(x))", "x - sin x"),
    ("5cos(2x)^2/(1 - sin(2x))", "5x - 5/2 cos 2x"),
    ("1/(1 + cos(x)^2)", "(1/sqrt(2)) arctan((tan x)/sqrt(2))"),
    ("1/(9 cos(x)^2 + 4 sin(x)^2)", "1/6 arctan((2 tan x)/3)"),
    ("1/(2 + tan(x))", "1/5 ln|tan x + 2| - 1/10 ln(tan^2 x + 1) + 2/5 x"),
    ("1/(cos(x) + sin(x))^2", "-1/(tan x + 1)"),
    ("sec(3x)^2/sin(3x)", None),
    ("1/(2 sin(x) + sin(2x))", None),
    ("sin(x)/cos(2x)", None),
    ("cos(x)/(2 - cos(x)^2)", None),
    ("1/(cos(x) (3 + 5 sin(x)))", None),
    ("1/(a + a cos(2x)^2)", None),
    ("3 tan(x)/(1 + cos(x))", None),
    ("sin(x)/(cos(x) + sin(x))", None),
    ("1/(1 - cos(2x - 1)^2)", "-1/2 cot(2x - 1)"),
    ("(3 + tan(b x))/(2 - tan(b x))", "-(ln|tan b x - 2|)/b + (ln(tan^2 b x + 1))/(2b) + x"),
    ("cosec(x)", "1/2 ln|(cos x - 1)/(cos x + 1)|"),
    # multiples of the angle over the angle: nothing is left below the line
    ("sin(3x)/sin(x)", "x + sin 2x"),
    ("cos(3x)/cos(x)", "-x + sin 2x"),
    ("2 sin(6x)/sin(2x)", "2x + sin 4x"),
    ("sin(5x)/sin(x)", "x + sin 2x + 1/2 sin 4x"),
    ("b cos(3x + 3)/cos(x + 1)", None),
    # letters for numbers, in the cosine, the sine and the tangent
    ("1/(a^2 sin(x)^2 + b^2 cos(x)^2)", "(arctan((a tan x)/b))/(a b)"),
    ("tan(x)/(a + b tan(x)^2)", "-(ln|(a - b) cos^2 x + b|)/(2(a - b))"),
    ("sin(x)^3/(a + b cos(x))", None),
    ("1/(a + b tan(x))", None),
    # a fourth power below the line, in the tangent
    (
        "1/(sin(x)^4 + cos(x)^4)",
        "(1/sqrt(2)) arctan(sqrt(2) tan x - 1) + (1/sqrt(2)) arctan(sqrt(2) tan x + 1)",
    ),
]

DECLINED = [
    "sin(x)^2",
    "1/(5 + 4 cos(x))",
    "1/(1 + sin(x))",
    "1/(2 + tan(x)) + x",
    "x/sin(x)",
    "1/(2 + sin(x^2))",
]
DECLINED_TOO = [
    "e^x tan(x)",
    "e^x/sin(x)",
    "1/(a + b cos(x)^2 + sin(x))",
    "1/(2 + e^x)",
    "sqrt(sin(x))/cos(x)",
    "1/sin(x)^40",
    "1/(cos(x) cos(x + 1))",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=0 if expected and "arc" not in expected else 1)


@pytest.mark.parametrize(
    ("text", "needed"),
    [("1/(a + b cos(x)^2)", "for a/(a + b) positive"), ("1/(cos(x) (a + b sin(x)^2))", "for b/a positive")],
)
def test_what_letters_must_be_is_said(text: str, needed: str) -> None:
    solution = TECHNIQUE.work(tree(text), X)
    assert solution is not None
    assert any(needed in line.reason for line in solution.lines)


@pytest.mark.parametrize("text", [*DECLINED, *DECLINED_TOO])
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


#: as published: MIT Integration Bee sheets and the Rubi test suite (TAB and RUBI numbers of the reference material)
PUBLISHED = [
    ("TAB0202", "1/(9 cos(x)^2 + 4 sin(x)^2)", "1/6 arctan(2 tan(x)/3)"),
    ("RUBI00289", "1/(1 + tan(x))^2", "1/2 ln(abs(cos(x) + sin(x))) - 1/(2(1 + tan(x)))"),
    ("RUBI00503", "sin(x)/(cos(x) + sin(x))", "1/2 x - 1/2 ln(abs(cos(x) + sin(x)))"),
    ("RUBI02386", "sin(x)^2/(1 + cos(x))", "x - sin(x)"),
    ("RUBI02527", "1/(3 + 5 tan(x))", "3x/34 + 5/34 ln(abs(3 cos(x) + 5 sin(x)))"),
]


@pytest.mark.parametrize(("number", "integrand", "answer"), PUBLISHED)
def test_published_answers(number: str, integrand: str, answer: str) -> None:
    check_published(number, integrand, answer, TECHNIQUE.identifier)


def test_the_board_with_a_tangent() -> None:
    assert board(solved(TECHNIQUE, "6/(1 + 3 cos(2x)^2)")) == [
        "∫ 6/(1 + 3 cos^2 2x) dx",
        "6 ∫ (1/(tan^2 2x + 4)) sec^2 2x dx",
        "u = tan 2x; du = 2 sec^2 2x dx",
        "3 ∫ 1/(u^2 + 4) du",
        "3/2 arctan(u/2) + C",
        "3/2 arctan((tan 2x)/2) + C",
    ]


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))


def test_the_lines_are_carried_into_others() -> None:
    check_carried("x/(1 + cos(x^2)^2)", "substitution-first")
    check_carried("sin(x)^2/(1 + cos(x)) + x e^x", "term-by-term")


@settings(max_examples=10)
@given(
    a=st.integers(1, 5),
    b=st.integers(-4, 4).filter(bool),
    m=st.integers(0, 3),
    form=st.sampled_from(
        (
            "sin(2x)^{n}/({a} + {b} cos(2x))",
            "cos(x)^{n}/({a} + {b} sin(x))",
            "{a}/({a} + {b} tan(x + 1))",
            "sin(x)^{m}/(cos(x) ({a} + {b} cos(x)^2))",
        )
    ),
)
def test_every_answer_is_right_and_every_slip_wrong(a: int, b: int, m: int, form: str) -> None:
    solution = TECHNIQUE.work(tree(form.format(a=a, b=f"({b})", m=m, n=2 * m - 1)), X)
    if solution is not None:
        assert agrees_with_sympy(solution)
        wrong_slips(TECHNIQUE, solution)
