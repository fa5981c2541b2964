"""Roots of even powers of circular and hyperbolic functions, against published answers and quadrature; every slip refuted."""

from __future__ import annotations

import pytest

from qbank.maths.deciding import decide_antiderivative, decide_same_up_to_constant
from qbank.maths.expression import Integral, rational
from qbank.maths.notation import plain
from qbank.maths.verdict import Proved
from qbank.techniques import solve, technique
from qbank.techniques.definites.choosing import value_of
from tests.techniques.solving import X, agrees_with_sympy, board, tree, wrong_slips

TECHNIQUE = technique("function-sign")

#: as published: the Rubi test suite, 4.2 to 4.6 and 6 (answers simplified there)
PUBLISHED = [
    ("sqrt(a cos(x)^2)", "sqrt(a cos(x)^2) tan(x)"),
    ("1/sqrt(cosec(x)^2)", "-cot(x)/sqrt(cosec(x)^2)"),
    ("(a cot(x)^2)^(3/2)", "-a/2 cot(x) sqrt(a cot(x)^2) - a sqrt(a cot(x)^2) tan(x) ln|sin(x)|"),
    ("sqrt(a cosec(x)^4)", "-cos(x) sqrt(a cosec(x)^4) sin(x)"),
    ("sqrt(a sech(x)^2)", "arctan(sinh(x)) cosh(x) sqrt(a sech(x)^2)"),
    ("sqrt(1 - sech(x)^2)", "coth(x) ln(cosh(x)) sqrt(tanh(x)^2)"),
    ("sqrt(a + a sin(c + d x))", "-2 a cos(c + d x)/(d sqrt(a + a sin(c + d x)))"),
    ("1/(a sec(x)^2)^(5/2)", "(a sec(x)^2)^(-5/2) sec(x)^5 (sin(x) - 2/3 sin(x)^3 + 1/5 sin(x)^5)"),
]

#: worked by hand, common practice
TABLE = [
    ("sqrt(4 - 4 sin(x)^2)", "(2 abs(cos x) sin x)/(cos x)"),
    ("abs(sin(2x))", "-(abs(sin 2x) cos 2x)/(2 sin 2x)"),
    ("abs(cos(x)) sin(x)^3", "(abs(cos x) sin^4 x)/(4 cos x)"),
    ("sqrt(8 cosh(x)^2)", "2 sqrt(2) sinh x"),
    ("sqrt(1 + cos(2x))", "(sin 2x)/sqrt(1 + cos 2x)"),
    ("sqrt(1 - cos(x))", "-(2 sin x)/sqrt(1 - cos x)"),
    ("sqrt(1 + sin(x))", "-(2 cos x)/sqrt(1 + sin x)"),
    ("3 sqrt(2 - 2 sin(3x + 1))", "(4 cos(3x + 1))/sqrt(2 - 2 sin(3x + 1))"),
    ("sqrt(a + a cos(b x + c))", "(2a sin(b x + c))/(b sqrt(a + a cos(b x + c)))"),
    ("sqrt(2 + 2 cosh(3x))", "4/3 sinh(3x/2)"),
    ("cos(x) sqrt(1 + cos(x))", None),
    ("1/sqrt(1 + sin(x))", None),
    ("(1 - sin(2x))^(3/2)", None),
]

DECLINED = [
    "cos(x)^2",
    "sqrt(cos(x))",
    "sqrt(1 + cos(x)^2)",
    "sqrt(2 - sin(x)^2)",
    "sqrt(2 + cos(x))",
    "sqrt(1 + tan(x))",
    "sqrt(cos(x) - sin(x))",
    "x abs(cos(x))",
    "abs(cos(x)) + 1",
]


@pytest.mark.parametrize(("text", "answer"), PUBLISHED)
def test_published(text: str, answer: str) -> None:
    solution = solve(tree(text), X)
    assert solution is not None
    assert solution.technique == "function-sign"
    verdict = decide_same_up_to_constant(tree(answer), solution.antiderivative, X)
    assert isinstance(verdict, Proved), plain(solution.antiderivative)
    assert agrees_with_sympy(solution)
    wrong_slips(TECHNIQUE, solution)


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_worked_by_hand(text: str, expected: str | None) -> None:
    solution = TECHNIQUE.work(tree(text), X)
    assert solution is not None
    assert expected is None or plain(solution.antiderivative) == expected
    assert wrong_slips(TECHNIQUE, solution)
    assert isinstance(decide_antiderivative(solution.antiderivative, solution.integrand, X), Proved)
    assert agrees_with_sympy(solution)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_modulus_is_shown_before_its_sign() -> None:
    solution = TECHNIQUE.work(tree("sqrt(1 - sech(x)^2)"), X)
    assert solution is not None
    assert board(solution)[1:4] == [
        "1 - sech^2 x = tanh^2 x",
        "∫ abs(tanh x) dx",
        "((abs(tanh x))/(tanh x)) ∫ tanh x dx",
    ]


def test_half_the_angle_and_back() -> None:
    solution = TECHNIQUE.work(tree("sqrt(1 + cos(2x))"), X)
    assert solution is not None
    assert board(solution)[1:] == [
        "1 + cos 2x = 2 cos^2 x",
        "sqrt(2) ∫ abs(cos x) dx",
        "((sqrt(2) abs(cos x))/(cos x)) ∫ cos x dx",
        "(sqrt(2) abs(cos x) sin x)/(cos x) + C",
        "(sin 2x)/sqrt(1 + cos 2x) + C",
    ]


@pytest.mark.parametrize(
    ("text", "upper", "value"),
    [
        # each is four, three or two times the integral of sqrt(2) cos or sin over a quarter of its period, by hand
        ("sqrt(1 + cos(2x))", "pi", "2 sqrt(2)"),
        ("sqrt(1 - cos(x))", "2 pi", "4 sqrt(2)"),
        ("sqrt(1 + cos(x))", "3 pi", "6 sqrt(2)"),
        ("sqrt(1 + sin(x))", "2 pi", "4 sqrt(2)"),
    ],
)
def test_over_an_interval_the_bars_are_split(text: str, upper: str, value: str) -> None:
    """The antiderivative jumps where the function changes its sign; with bars nothing is put in there."""
    found = value_of(Integral(tree(text), X, rational(0), tree(upper)))
    assert found is not None
    assert (found.way, plain(found.value)) == ("absolute-value", value)


def test_every_slip_occurs() -> None:
    texts = ("1/(sec(x)^2)^(5/2)", "sqrt(1 - cos(x))")
    solutions = [solution for text in texts if (solution := TECHNIQUE.work(tree(text), X)) is not None]
    found = {slip for solution in solutions for slip in wrong_slips(TECHNIQUE, solution)}
    assert found == {slip.identifier for slip in TECHNIQUE.slips}
