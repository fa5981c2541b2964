"""The substitution t = tan(x/2), against SymPy's derivative, quadrature and published answers; every slip refuted."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Symbol
from qbank.maths.notation import plain
from qbank.maths.verdict import Proved
from qbank.techniques import solve_all, technique
from qbank.techniques.presenting import rows
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

TECHNIQUE = technique("half-angle-substitution")

#: answers worked by hand, common practice
TABLE = [
    ("1/(5 + 4 cos(x))", "2/3 arctan((tan(x/2))/3)"),
    ("1/(1 + cos(x))", "tan(x/2)"),
    ("1/(1 - cos(2x))", "-1/2 cot x"),
    ("1/(1 + sin(x))", "-2/(tan(x/2) + 1)"),
    ("1/(1 + sin(x) + cos(x))", "ln|tan(x/2) + 1|"),
    ("1/(3 sin(x) + 4 cos(x))", "-1/5 ln|(tan(x/2) - 2)/(2 tan(x/2) + 1)|"),
    ("cos(x)/(1 + cos(x))", "x - tan(x/2)"),
    ("sin(x)/(1 + sin(x))", "x + 2/(tan(x/2) + 1)"),
    ("cosec(x)", "ln|tan(x/2)|"),
    ("7/(3 + 5 cos(4x))", None),
    ("1/(5 + 3 sin(2x + 1))", None),
    ("1/(a + a sin(b x))", None),
    ("(2 - sin(x))/(2 + sin(x))", None),
    ("cos(x)^2/(2 + cos(x))", None),
    ("1/(sin(x) + tan(x))", None),
    ("1/(1 + cos(x))^2", None),
    ("sec(x)/(1 + sec(x))", None),
    ("5/(3 - 2 sec(x))", None),
]

DECLINED = ["sin(x)", "cos(x)^2", "1/(a + x cos(x))", "x/(1 + cos(x))", "1/(2 + cos(x)) + 1/(2 + sin(x))"]
DECLINED_TOO = [
    "e^x/(1 + cos(x))",
    "1/(2 + cos(x) + cos(3x))",
    "1/(2 + cos(x^2))",
    "1/(1 + cosh(x))",
    "sqrt(1 + cos(x))",
    "1",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=3)


@pytest.mark.parametrize("text", [*DECLINED, *DECLINED_TOO])
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


#: with letters for numbers; what must be positive is said in a line, and there the answer is real everywhere
WITH_LETTERS = [
    ("1/(2a + b cos(x))", "(2a - b)/(2a + b) positive", {"a": "b + c"}),
    ("1/(a + 2b sin(3x))", "(a - 2b) (a + 2b) positive", {"a": "2b + c"}),
    ("k/(a cos(x) + b sin(x))", "", {}),
    ("cos(x)/(a + 2b cos(x))", "positive", {"a": "2b + c"}),
]


@pytest.mark.parametrize(("text", "said", "where"), WITH_LETTERS)
def test_letters_for_numbers(text: str, said: str, where: dict[str, str]) -> None:
    solution = TECHNIQUE.work(tree(text), X)
    assert solution is not None
    assert any(said in row.reason for row in rows(solution, "C"))
    assert said or not any("positive" in row.reason for row in rows(solution, "C"))
    values = {Symbol(name): tree(value) for name, value in where.items()}
    answer, integrand = (one.substitute(values) for one in (solution.antiderivative, solution.integrand))
    verdict = decide_antiderivative(answer, integrand, X, positive=integrand.symbols() - {X})
    assert isinstance(verdict, Proved)
    assert verdict.undefined_at == ()
    assert len(wrong_slips(TECHNIQUE, solution)) >= 5


#: as published: the Rubi test suite and the tables of Thompson's Calculus Made Easy (numbers of the reference material)
PUBLISHED = [
    ("RUBI00322", "1/(1 + cos(x))", "sin(x)/(1 + cos(x))"),
    ("RUBI00324", "1/(1 + sin(x))", "-cos(x)/(1 + sin(x))"),
    ("RUBI00698", "1/(4 cos(x) + 3 sin(x))", "-1/5 artanh((3 cos(x) - 4 sin(x))/5)"),
    ("RUBI02221", "1/(5 + 3 sin(x))", "x/4 + 1/2 arctan(cos(x)/(3 + sin(x)))"),
    ("RUBI02370", "1/(5 + 3 cos(x))", "x/4 - 1/2 arctan(sin(x)/(3 + cos(x)))"),
    ("RUBI00805", "sin(x)/(1 + sin(x))", "x + cos(x)/(1 + sin(x))"),
]


@pytest.mark.parametrize(("number", "integrand", "answer"), PUBLISHED)
def test_published_answers(number: str, integrand: str, answer: str) -> None:
    check_published(number, integrand, answer, TECHNIQUE.identifier)


def test_the_board() -> None:
    assert board(solved(TECHNIQUE, "3/(5 + 4 cos(2x))")) == [
        "∫ 3/(5 + 4 cos 2x) dx",
        "t = tan x; cos 2x = (1 - t^2)/(1 + t^2); dx = (1/(1 + t^2)) dt",
        "3 ∫ (1/(5 + 4 * ((1 - t^2)/(1 + t^2)))) * (1/(1 + t^2)) dt",
        "3 ∫ 1/(t^2 + 9) dt",
        "arctan(t/3) + C",
        "arctan((tan x)/3) + C",
    ]


def test_a_whole_part_is_divided_off_first() -> None:
    assert board(solved(TECHNIQUE, "cos(x)/(1 + cos(x))"))[1:] == [
        "∫ (1 - 1/(cos x + 1)) dx",
        "x - ∫ 1/(cos x + 1) dx",
        "t = tan(x/2); cos x = (1 - t^2)/(1 + t^2); dx = (2/(1 + t^2)) dt",
        "x - ∫ (1/((1 - t^2)/(1 + t^2) + 1)) * (2/(1 + t^2)) dt",
        "x - ∫ 1 dt",
        "x - t + C",
        "x - tan(x/2) + C",
    ]


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("sin(x)/(1 + cos(x))", "substitution"),
        ("cos(x)/(4 + sin(x)^2)", "substitution"),
        ("sin(x)^3/(1 + cos(x)^2)", "rational-circular"),
        ("1/(1 + sin(x)^2)", "rational-circular"),
        ("1/(1 + sin(x))", "half-angle-substitution"),
        ("cosec(x)", "standard-forms"),
        ("(tan(x) - sec(x))^2", "term-by-term"),
        ("(2 - sin(x))/(2 + sin(x))", "half-angle-substitution"),
    ],
)
def test_a_shorter_way_comes_first(text: str, first: str) -> None:
    assert solve_all(tree(text), X)[0].technique == first


def test_letters() -> None:
    t = tree("t")
    assert board(solved(TECHNIQUE, "t/(1 + cos(x))"))[1].startswith("u = tan(x/2)")
    assert board(solved(TECHNIQUE, "1/(1 + cos(t))", t))[1].startswith("u = tan(t/2)")  # type: ignore[arg-type]


def test_the_slips_of_a_cosine() -> None:
    """What students write for 1/(5 + 4 cos 2x), each from one wrong line run to the end (common practice)."""
    found = wrong_slips(TECHNIQUE, solved(TECHNIQUE, "1/(5 + 4 cos(2x))"))
    assert {name.removeprefix("half-angle-"): plain(answer) for name, answer in found.items()} == {
        "two-of-differential-lost": "1/6 arctan((tan x)/3)",
        "square-below-differential-forgotten": "tan x - 8/3 arctan((tan x)/3)",
        "differential-not-replaced": "1/2 tan x - 4/3 arctan((tan x)/3)",
        "cosine-upside-down": "2/15 ln|tan x - 3| - 2/15 ln|tan x + 3| + 1/5 x",
        "sign-of-cosine": "1/3 arctan(3 tan x)",
        "sine-and-cosine-interchanged": "1/3 arctan((5 tan x + 4)/3)",
        "whole-angle-put-back": "1/3 arctan((tan 2x)/3)",
        "inner-coefficient-forgotten": "2/3 arctan((tan x)/3)",
        "inner-coefficient-multiplied": "4/3 arctan((tan x)/3)",
        "differentiated-instead": "(8 sin 2x)/(5 + 4 cos 2x)^2",
    }


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))


def test_the_lines_are_carried_into_others() -> None:
    check_carried("x/(1 + cos(x^2))", "substitution-first")
    check_carried("1/(1 + cos(x)) + x e^x", "term-by-term")
    check_carried("x/(1 + cos(x))", "by-parts")


@settings(max_examples=10)
@given(
    a=st.integers(-5, 5),
    b=st.integers(-5, 5),
    c=st.integers(-5, 5),
    over=st.sampled_from(("1", "sin({k})", "3 - 2 cos({k})")),
    k=st.sampled_from(("x", "2x", "x/3", "1 - x")),
)
def test_every_answer_is_right_and_every_slip_wrong(a: int, b: int, c: int, over: str, k: str) -> None:
    text = f"({over.format(k=k)})/({a} + ({b})*cos({k}) + ({c})*sin({k}))"
    solution = TECHNIQUE.work(tree(text), X) if b or c else None
    assert solution is not None or over != "1" or not (b or c)
    if solution is not None:
        assert agrees_with_sympy(solution)
        wrong_slips(TECHNIQUE, solution)
