"""Powers of hyperbolic functions, against SymPy's derivative, a handbook and published tables; every slip refuted."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.notation import plain
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

TECHNIQUE = technique("hyperbolic-powers")

#: answers worked by hand, common practice
TABLE = [
    ("sinh(x)^2", "1/4 sinh 2x - 1/2 x"),
    ("cosh(3x)^2", "1/12 sinh 6x + 1/2 x"),
    ("sinh(2x)^4", "1/64 sinh 8x - 1/8 sinh 4x + 3/8 x"),
    ("sinh(x)^2 cosh(x)^2", "1/32 sinh 4x - 1/8 x"),
    ("sinh(x)^4 cosh(x)^2", None),
    ("cosh(x)^6", None),
    ("5 sinh(2x)^3", "5/6 cosh^3 2x - 5/2 cosh 2x"),
    ("cosh(x)^5", "sinh x + 2/3 sinh^3 x + 1/5 sinh^5 x"),
    ("sinh(x)^3 cosh(x)^2", "1/5 cosh^5 x - 1/3 cosh^3 x"),
    ("sinh(x)^3/cosh(x)", "1/2 cosh^2 x - ln(cosh x)"),
    ("sinh(x) tanh(x)^2", "cosh x + 1/(cosh x)"),
    ("cosh(x)^3/sqrt(sinh(x))", None),
    ("tanh(x)^2", "x - tanh x"),
    ("coth(x/2)^2", "-2 coth(x/2) + x"),
    ("3 tanh(2x)^3", "3/2 ln(cosh 2x) - 3/4 tanh^2 2x"),
    ("tanh(x)^4", "x - 1/3 tanh^3 x - tanh x"),
    ("coth(x)^3", "-1/2 coth^2 x + ln|sinh x|"),
    ("tanh(x)^5", None),
    ("1/tanh(2x)^2", None),
    ("coth(x)^7", None),
    ("sech(x)^4", "tanh x - 1/3 tanh^3 x"),
    ("cosech(2x)^4", "-1/6 coth^3 2x + 1/2 coth 2x"),
    ("tanh(x)^2 sech(x)^2", "1/3 tanh^3 x"),
    ("tanh(x)^3 sech(x)", "-sech x + 1/3 sech^3 x"),
    ("coth(x)^3 cosech(x)^3", "-1/3 cosech^3 x - 1/5 cosech^5 x"),
    ("1/cosh(3x)^4", None),
    ("sinh(x)^2/cosh(x)^4", "1/3 tanh^3 x"),
    ("cosh(2x - 1)^2/sinh(2x - 1)^6", None),
    ("a sinh(b x + c)^2", None),
    ("sqrt(tanh(x)) sech(x)^4", None),
]

DECLINED = [
    "sinh(x)",
    "tanh(2x)",
    "sech(x)",
    "sech(x)^2",
    "sech(x)^3",
    "sinh(x) cosh(2x)",
    "sinh(x)^2 sin(x)",
    "x sinh(x)^2",
    "sinh(x^2)^2",
    "sqrt(sinh(x))",
    "sqrt(tanh(x)) sqrt(cosh(x))",
    "tanh(x)^21",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=2)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


#: as published, with their numbers there: MIT Integration Bee sheets and the Rubi test suite (TAB and RUBI numbers of the
#: reference material); NIST DLMF for the inverse functions, which go by parts
PUBLISHED = [
    ("TAB0295", "tanh(x)^2", "x - tanh(x)"),
    ("TAB0336", "sinh(x)^3 cosh(x)^2", "1/5 (sinh(x)^2 - 2/3) cosh(x)^3"),
    ("RUBI00986", "cosh(x)^2", "1/2 x + 1/2 cosh(x) sinh(x)"),
    ("RUBI00987", "sinh(x)^5", "cosh(x) - 2/3 cosh(x)^3 + 1/5 cosh(x)^5"),
    ("RUBI00988", "tanh(x)^4", "x - tanh(x) - 1/3 tanh(x)^3"),
    ("RUBI00993", "x tanh(x)^2", "1/2 x^2 + ln(cosh(x)) - x tanh(x)"),
    ("RUBI03371", "x sinh(x^2)^2", "-1/4 x^2 + 1/4 cosh(x^2) sinh(x^2)"),
    ("RUBI03662", "sinh(x) tanh(x)^2", "cosh(x) + sech(x)"),
    ("RUBI03669", "sech(x) sinh(x)^3", "1/2 cosh(x)^2 - ln(cosh(x))"),
    ("DLMF 4.40.11", "arsinh(x)", "x arsinh(x) - sqrt(1 + x^2)"),
    ("DLMF 4.40.12", "arcosh(x)", "x arcosh(x) - sqrt(x^2 - 1)"),
    ("DLMF 4.40.13", "artanh(x)", "x artanh(x) + 1/2 ln(1 - x^2)"),
    ("RUBI03688", "x arsinh(x)", "1/4 arsinh(x) + 1/2 x^2 arsinh(x) - 1/4 x sqrt(1 + x^2)"),
    ("DLMF 4.40.16", "arcoth(x)", "x arcoth(x) + 1/2 ln(x^2 - 1)"),
]


@pytest.mark.parametrize(("number", "integrand", "answer"), PUBLISHED)
def test_published_answers(number: str, integrand: str, answer: str) -> None:
    check_published(number, integrand, answer)


def test_the_board_of_an_odd_power() -> None:
    assert board(solved(TECHNIQUE, "sinh(2x)^3")) == [
        "∫ sinh^3 2x dx",
        "∫ sinh^2 2x sinh 2x dx",
        "∫ (cosh^2 2x - 1) sinh 2x dx",
        "u = cosh 2x; du = 2 sinh 2x dx",
        "1/2 ∫ (u^2 - 1) du",
        "1/2 (u^3/3 - u) + C",
        "1/6 cosh^3 2x - 1/2 cosh 2x + C",
    ]


def test_the_board_of_a_tanh() -> None:
    assert board(solved(TECHNIQUE, "3 tanh(2x)^4"))[1:] == [
        "3 ∫ tanh^2 2x * (1 - sech^2 2x) dx",
        "3(∫ tanh^2 2x dx - ∫ tanh^2 2x sech^2 2x dx)",
        "3(∫ 1 dx - ∫ tanh^2 2x sech^2 2x dx - ∫ sech^2 2x dx)",
        "u = tanh 2x; du = 2 sech^2 2x dx",
        "3 ∫ 1 dx - 3/2 ∫ (u^2 + 1) du",
        "3x - 3/2 (u^3/3 + u) + C",
        "3x - 1/2 tanh^3 2x - 3/2 tanh 2x + C",
    ]


def test_the_slips_of_a_square() -> None:
    """What students write for sinh^2 2x, each from one wrong line run to the end (common practice)."""
    found = wrong_slips(TECHNIQUE, solved(TECHNIQUE, "sinh(2x)^2"))
    assert {name.removeprefix("hyperbolic-"): plain(answer) for name, answer in found.items()} == {
        "identity-of-the-circle": "-1/8 sinh 4x + 1/2 x",
        "inner-coefficient-forgotten": "1/2 sinh 4x - 1/2 x",
        "half-lost": "1/4 sinh 4x - x",
        "squares-interchanged": "1/8 sinh 4x + 1/2 x",
        "raised-like-a-variable": "1/3 sinh^3 2x",
        "inner-coefficient-multiplied": "2 sinh 4x - 1/2 x",
        "argument-not-doubled": "1/4 sinh 2x - 1/2 x",
        "differentiated-instead": "4 sinh 2x cosh 2x",
    }


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))


def test_the_lines_are_carried_into_others() -> None:
    for text, by in (
        ("x sinh(x^2)^3", "substitution-first"),
        ("x coth(x)^2", "by-parts"),
        ("sinh(x)^2 + x e^x", "term-by-term"),
    ):
        check_carried(text, by)


@settings(max_examples=25)
@given(
    m=st.integers(0, 5),
    n=st.integers(-4, 5),
    functions=st.sampled_from((("sinh", "cosh"), ("tanh", "sech"), ("coth", "cosech"))),
    argument=st.sampled_from(("x", "2x", "-x", "x/3", "5x/2", "2x+1", "1-3x", "pi x", "b x")),
    factor=st.sampled_from(("", "-", "3*", "2/7*", "-a*")),
)
def test_every_answer_is_right_and_every_slip_wrong(
    m: int, n: int, functions: tuple[str, str], argument: str, factor: str
) -> None:
    first, second = functions
    integrand = tree(f"{factor}{first}({argument})^{m} * {second}({argument})^({n})")
    solution = TECHNIQUE.work(integrand, X)
    wanted = first == "sinh" and n >= 0 and m + n > 1 and not m == n == 1
    assert solution is not None or not wanted
    if solution is not None:
        assert agrees_with_sympy(solution)
        wrong_slips(TECHNIQUE, solution)
