"""Fractions with letters for numbers, against published tables and SymPy's derivative; every slip refuted.

The letters are positive where an answer asks for that; the working says so.
"""

from __future__ import annotations

import pytest

from qbank.maths.deciding import decide_antiderivative, decide_same_up_to_constant
from qbank.maths.notation import plain
from qbank.maths.verdict import Proved
from qbank.techniques import solve, technique
from qbank.techniques.presenting import rows
from qbank.techniques.working import WorkedSolution
from tests.techniques.solving import X, agrees_with_sympy, board, tree, wrong_slips

TECHNIQUE = technique("letter-fractions")

#: B. O. Peirce, A Short Table of Integrals, by number; `log` there is of a positive number
PEIRCE = [
    ("29", "x/(a + b x)", "(a + b x - a ln|a + b x|)/b^2"),
    ("30", "x/(a + b x)^2", "(ln|a + b x| + a/(a + b x))/b^2"),
    ("31", "x/(a + b x)^3", "(-1/(a + b x) + a/(2(a + b x)^2))/b^2"),
    ("32", "x^2/(a + b x)", "((a + b x)^2/2 - 2a (a + b x) + a^2 ln|a + b x|)/b^3"),
    ("33", "x^2/(a + b x)^2", "(a + b x - 2a ln|a + b x| - a^2/(a + b x))/b^3"),
    ("34", "1/(x (a + b x))", "-ln|(a + b x)/x|/a"),
    ("35", "1/(x (a + b x)^2)", "1/(a (a + b x)) - ln|(a + b x)/x|/a^2"),
    ("36", "1/(x^2 (a + b x))", "-1/(a x) + b/a^2 ln|(a + b x)/x|"),
    ("39", "1/(a + b x^2)", "arctan(x sqrt(b/a))/sqrt(a b)"),
    ("41", "1/(a + b x^2)^2", "x/(2a (a + b x^2)) + arctan(x sqrt(b/a))/(2a sqrt(a b))"),
    ("45", "1/(x (a + b x^2))", "ln|x^2/(a + b x^2)|/(2a)"),
    ("46", "x^2/(a + b x^2)", "x/b - a/b arctan(x sqrt(b/a))/sqrt(a b)"),
    ("47", "1/(x^2 (a + b x^2))", "-1/(a x) - b/a arctan(x sqrt(b/a))/sqrt(a b)"),
]

#: answers worked by hand, common practice
TABLE = [
    ("1/((x - a) (x + b))", "(ln|x - a|)/(a + b) - (ln|x + b|)/(a + b)"),
    ("(x + a)/(x + b)", "x + (a - b) ln|x + b|"),
    ("(x^2 + a)/(x + a)", "1/2 (x + a)^2 - 2a x + a (a + 1) ln|x + a|"),
    ("1/(a - b x^2)", "(ln|(1 + sqrt(b/a) x)/(1 - sqrt(b/a) x)|)/(2a sqrt(b/a))"),
    ("1/(x^2 + a x)", "(ln|x|)/a - (ln|x + a|)/a"),
    ("1/(x^2 + b)", "(arctan(x/sqrt(b)))/sqrt(b)"),
    ("1/(x^2 + 2a x + a^2 + b^2)", "(arctan((x + a)/b))/b"),
    ("1/(a x^2 + b x + c)", "(2 arctan(2a (x + b/(2a))/sqrt(4a c - b^2)))/sqrt(4a c - b^2)"),
    ("x/(x^2 + a x - b)", None),
    ("1/(x^2 + a x - b)^2", None),
    ("1/((x^2 + x + 1) (x + a))", None),
    ("1/((x^2 + x - 1) (x + a))", None),
    ("1/(1 + pi x + 2x^2)", None),
    ("k x/(x^2 - a^2)^2", None),
    ("1/((x^2 + 2) (x + a))", None),
    ("x^5/(a + x^2)^2", None),
    ("1/(x^4 - a^4)", None),
    ("1/(x^2 + a^2)^3", None),
    ("(p x + q)/(2x + b)^2", None),
]

DECLINED = [
    "1/(x (x + 1))",
    "x/sqrt(a + b x)",
    "a x + b",
    "1/(a + b x + sin(x))",
    "1/(x^3 + a)",
    "1/(x (a + b x)^9)",
    "k x/((a x^2 + b x + c) (x + a + b) (4a x^2 + b))",  # its numerators fill a page
]


def _solved(text: str) -> WorkedSolution:
    solution = TECHNIQUE.work(tree(text), X)
    assert solution is not None, text
    positive = solution.integrand.symbols() - {X}
    for letters in (frozenset(), positive):
        verdict = decide_antiderivative(solution.antiderivative, solution.integrand, X, positive=letters)
        assert isinstance(verdict, Proved), (text, plain(solution.antiderivative), verdict)
    assert agrees_with_sympy(solution)
    wrong_slips(TECHNIQUE, solution)
    return solution


@pytest.mark.parametrize(("number", "text", "answer"), PEIRCE)
def test_published(number: str, text: str, answer: str) -> None:
    solution = _solved(text)
    positive = solution.integrand.symbols() - {X}
    verdict = decide_same_up_to_constant(solution.antiderivative, tree(answer), X, positive=positive)
    assert isinstance(verdict, Proved), (number, plain(solution.antiderivative), verdict)
    assert solve(tree(text), X) is not None


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_worked_by_hand(text: str, expected: str | None) -> None:
    solution = _solved(text)
    assert expected is None or plain(solution.antiderivative) == expected


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_what_must_not_be_zero_or_must_be_positive_is_said() -> None:
    def said(text: str) -> str:
        return " ".join(row.reason for row in rows(_solved(text), "C"))

    assert "b must not be zero" in said("x/(a + b x)")
    assert "a + b must not be zero" in said("1/((x - a) (x + b))")
    assert "None of a, b may be zero" in said("1/(x (a + b x))")
    assert "b/a positive" in said("1/(a + b x^2)")
    assert "zero" not in said("x/(x + a)^2")
    assert "positive" not in said("1/(x^2 + a^2)^2")
    assert "a^2 - b positive" in said("1/(x^2 + 2a x + b)")


def test_letters_are_found_for_the_numerators() -> None:
    assert board(_solved("1/(x (a + b x))"))[1:5] == [
        "1/(x (a + b x)) = A/x + B/(a + b x)",
        "1 = A (a + b x) + B x",
        "1 = a A; A = 1/a",
        "1 = -(a B)/b; B = -b/a",
    ]


@pytest.mark.parametrize(
    ("text", "by"),
    # NIST DLMF 4.10.9 is the first
    [("1/(e^(a x) + b)", "substitution-first"), ("sin(x) + 1/(x (x + a))", "term-by-term")],
)
def test_carried(text: str, by: str) -> None:
    solution = solve(tree(text), X)
    assert solution is not None
    assert solution.technique == by
    assert agrees_with_sympy(solution)


def test_every_slip_occurs() -> None:
    texts = ["x^2/(a + b x^2)", "1/(x (a + b x)^2)"]
    found = {one.slip for text in texts for one in TECHNIQUE.wrong_answers(_solved(text))}
    assert found == {slip.identifier for slip in TECHNIQUE.slips}
