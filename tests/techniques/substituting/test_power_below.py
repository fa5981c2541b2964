"""Powers of the variable substituted whose derivative is brought above the line first; letters for exponents too."""

from __future__ import annotations

import pytest

from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Symbol, rational
from qbank.maths.verdict import Proved
from qbank.techniques import technique
from qbank.techniques.planner import solve
from tests.techniques.solving import X, board, check_published, check_solved, solved, tree

TECHNIQUE = technique("substitution-first")

#: integrand and the answer as a teacher writes it; read by hand
TABLE = [
    ("1/(x^5 + x)", "1/4 ln|x^4/(x^4 + 1)|"),
    ("3/(2x^5 + 5x)", "3/20 ln|x^4/(2x^4 + 5)|"),
    ("1/(x^6 - x)", "1/5 ln|(x^5 - 1)/x^5|"),
    ("1/(x (x^7 + 3))", "1/21 ln|x^7/(x^7 + 3)|"),
    ("1/(x (x^n + a))", "(ln|x^n|)/(n a) - (ln|x^n + a|)/(n a)"),
    ("x^(2n - 1)/(x^n + 1)", "x^n/n - (ln|x^n + 1|)/n"),
    ("1/(x sqrt(x^n + 1))", "(ln|(sqrt(x^n + 1) - 1)/(sqrt(x^n + 1) + 1)|)/n"),
    ("(1 - x^7)/(x (1 + x^7))", "1/7 ln|x^7| - 2/7 ln|x^7 + 1|"),
]

#: the independent test suites of the Rubi project, as in the file beside the checkout
PUBLISHED = [("RUBI00746", "1/(x (1 + x^4))", "ln(x) - 1/4 ln(1 + x^4)")]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str) -> None:
    check_solved(TECHNIQUE, text, expected, slips=1)


@pytest.mark.parametrize(("number", "integrand", "answer"), PUBLISHED)
def test_published(number: str, integrand: str, answer: str) -> None:
    check_published(number, integrand, answer, by="substitution-first")


@pytest.mark.parametrize("text", ["1/(x^3 + x)", "1/(x - x^4)", "1/(x^7 - x)"])
def test_what_falls_into_factors_is_for_partial_fractions(text: str) -> None:
    solution = solve(tree(text), X)
    assert solution is not None
    assert solution.technique == "partial-fractions"


@pytest.mark.parametrize("text", [text for text, _ in TABLE if "n" in text])
def test_right_for_numbers(text: str) -> None:
    """Numbers are put in for the letters, and the answer proved anew."""
    for n in (3, -2):
        put = {Symbol("n"): rational(n), Symbol("a"): rational(5)}
        answer = solved(TECHNIQUE, text).antiderivative.substitute(put)
        assert isinstance(decide_antiderivative(answer, tree(text).substitute(put), X), Proved), (text, n)


def test_boards() -> None:
    """As a teacher writes it; read by hand."""
    assert board(solved(TECHNIQUE, "1/(x^5 + x)"))[:5] == [
        "∫ 1/(x^5 + x) dx",
        "∫ 1/(x (x^4 + 1)) dx",
        "∫ x^3/(x^4 (x^4 + 1)) dx",
        "u = x^4; du = 4x^3 dx",
        "1/4 ∫ 1/(u (u + 1)) du",
    ]
    # where the derivative stands above already nothing is multiplied
    assert board(solved(TECHNIQUE, "x/(x^4 (x^2 + 1))"))[1] == "u = x^2; du = 2x dx"


def test_what_is_divided_by_is_not_zero() -> None:
    for text, letter in (("1/(x (x^n + 1))", "n"), ("x e^(a x^2)", "a"), ("x^(n - 1) e^(x^n)", "n")):
        solution = solve(tree(text), X)
        assert solution is not None
        said = f"Here {letter} must not be zero, for it is divided by."
        assert any(line.reason.endswith(said) for line in solution.lines)
