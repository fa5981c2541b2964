"""Powers with a letter for exponent, alone, in sums, beside a logarithm, and after a substitution; the exception is said."""

from __future__ import annotations

import pytest

from qbank.maths.deciding import decide_antiderivative, decide_same_up_to_constant
from qbank.maths.expression import Symbol, rational
from qbank.maths.notation import plain
from qbank.maths.verdict import Proved
from qbank.techniques import technique
from qbank.techniques.planner import solve
from tests.techniques.solving import X, agrees_with_sympy, check_solved, tree

N = Symbol("n")

#: technique, integrand, the answer as a teacher writes it; read by hand
TABLE = [
    ("standard-forms", "x^n", "x^(n + 1)/(n + 1)"),
    ("standard-forms", "3x^(n - 1)", "(3x^n)/n"),
    ("standard-forms", "x^(2n)", "x^(2n + 1)/(2n + 1)"),
    ("standard-forms", "1/x^n", "x^(1 - n)/(1 - n)"),
    ("standard-forms", "x^n sqrt(x)", "2x^(n + 3/2)/(2n + 3)"),
    ("standard-forms", "x^pi", "x^(pi + 1)/(pi + 1)"),
    ("standard-forms", "(a x + b)^n", "(a x + b)^(n + 1)/(a (n + 1))"),
    ("standard-forms", "(5 - 2x)^(n - 1)", "-(5 - 2x)^n/(2n)"),
    ("standard-forms", "x^n + 2 e^x", "x^(n + 1)/(n + 1) + 2e^x"),
    ("standard-forms", "(x^n + 1)^2", "x^(2n + 1)/(2n + 1) + 2x^(n + 1)/(n + 1) + x"),
    ("substitution", "x (x^2 + 1)^n", "(x^2 + 1)^(n + 1)/(2(n + 1))"),
    ("substitution", "sin(x)^n cos(x)", "(sin^(n + 1) x)/(n + 1)"),
    ("by-parts", "x^n ln(x)", "(x^(n + 1) ln x)/(n + 1) - x^(n + 1)/(n + 1)^2"),
    ("by-parts", "ln(x)/x^n", "(x^(1 - n) ln x)/(1 - n) - x^(1 - n)/(1 - n)^2"),
    ("by-parts", "x^n cos(ln(x))", "(x^(n + 1) ((n + 1) cos(ln x) + sin(ln x)))/((n + 1)^2 + 1)"),
    ("algebraic-substitution", "x (x + 1)^n", "(x + 1)^(n + 2)/(n + 2) - (x + 1)^(n + 1)/(n + 1)"),
]

#: S. P. Thompson, Calculus Made Easy (1914), table of standard forms: x^n, and (a + x)^n as its rule has it; the others are
#: from a handbook as remembered
HANDBOOK = [
    ("x^n", "1/(n + 1) x^(n + 1)"),
    ("(a + x)^n", "(a + x)^(n + 1)/(n + 1)"),
    ("x^n ln(x)", "x^(n + 1) (ln(x)/(n + 1) - 1/(n + 1)^2)"),
    ("x^n (ln x)^2", "x^(n + 1)/(n + 1) (ln(x)^2 - 2 ln(x)/(n + 1) + 2/(n + 1)^2)"),
    ("x (a + b x)^n", "(a + b x)^(n + 2)/(b^2 (n + 2)) - a (a + b x)^(n + 1)/(b^2 (n + 1))"),
]


@pytest.mark.parametrize(("by", "text", "expected"), TABLE)
def test_solved_and_slips_refuted(by: str, text: str, expected: str) -> None:
    check_solved(technique(by), text, expected, slips=1)


@pytest.mark.parametrize(("text", "answer"), HANDBOOK)
def test_handbook(text: str, answer: str) -> None:
    solution = solve(tree(text), X)
    assert solution is not None
    assert agrees_with_sympy(solution)
    assert isinstance(decide_same_up_to_constant(tree(answer), solution.antiderivative, X), Proved)


@pytest.mark.parametrize("text", [text for _, text, _ in TABLE])
def test_right_for_numbers(text: str) -> None:
    """A number is put in for the letter, and the answer proved anew."""
    solution = solve(tree(text), X)
    assert solution is not None
    for value in (rational(2), rational(-4), rational(7, 3)):
        answer, integrand = (side.substitute({N: value}) for side in (solution.antiderivative, tree(text)))
        assert isinstance(decide_antiderivative(answer, integrand, X), Proved), (text, value)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("x^n", "Here n must not be -1: the reciprocal gives a logarithm."),
        ("x^(2n)", "Here n must not be -1/2: the reciprocal gives a logarithm."),
        ("1/x^(n + m)", "Here n + m must not be 1: the reciprocal gives a logarithm."),
        ("x (x + 1)^n", "Here n must not be -2: the reciprocal gives a logarithm. Nor may n be -1."),
        ("x^n + x^2 + e^x + sin(x)", "Here n must not be -1: the reciprocal gives a logarithm."),
        ("x^n ln(x)", "Here n must not be -1: the reciprocal gives a logarithm."),
    ],
)
def test_the_exception_is_said(text: str, said: str) -> None:
    solution = solve(tree(text), X)
    assert solution is not None
    assert any(line.reason.endswith(said) for line in solution.lines)


def test_a_constant_is_no_letter() -> None:
    solution = solve(tree("x^pi"), X)
    assert solution is not None
    assert not any("must not be" in line.reason for line in solution.lines)


@pytest.mark.parametrize("text", ["(x^2)^n", "x^n ln(x + 1)", "(x^2 + 1)^n", "x^n e^x sin(x)", "n^x x"])
def test_not_standard(text: str) -> None:
    assert technique("standard-forms").work(tree(text), X) is None


def test_slips_of_the_plain_power() -> None:
    solution = solve(tree("x^n"), X)
    assert solution is not None
    found = {one.slip: plain(one.answer) for one in technique("standard-forms").wrong_answers(solution)}
    assert found == {
        "standard-not-divided-by-new-power": "x^(n + 1)",
        "standard-divided-by-old-power": "x^(n + 1)/n",
        "standard-power-not-raised": "x^n/(n + 1)",
        "standard-differentiated-instead": "n x^(n - 1)",
    }
