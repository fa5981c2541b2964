"""A modulus as the new letter, against SymPy's derivative on both sides, no jump between them, and every slip refuted."""

from __future__ import annotations

from fractions import Fraction

import mpmath
import pytest

from qbank.maths.deciding import decide_antiderivative, enclose
from qbank.maths.notation import plain
from qbank.maths.verdict import Proved
from qbank.techniques import solve, technique
from tests.techniques.solving import X, agrees_with_sympy, board, tree, wrong_slips

TECHNIQUE = technique("modulus-as-letter")

#: answers worked by hand, by cases: common practice
TABLE = [
    ("e^abs(x)", "((abs(x))/x) (e^(abs(x)) - 1)"),
    ("sin(abs(x))", "((abs(x))/x) (-cos|x| + 1)"),
    ("abs(x) e^abs(x)", "((abs(x))/x) (abs(x) e^(abs(x)) - e^(abs(x)) + 1)"),
    ("3 e^(-2 abs(2x - 1))", None),
    ("cos(x) e^(-abs(x))", None),
    ("sin(x) e^abs(x)", "1/2 e^(abs(x)) (sin|x| - cos|x|)"),
    ("sqrt(1 + abs(x))", "((abs(x))/x) (2/3 (abs(x) + 1)^(3/2) - 2/3)"),
    ("1/(1 + abs(x))", "(abs(x) ln(abs(x) + 1))/x"),
]

#: neither even nor odd about the place, more than one modulus, no modulus inside, letters
DECLINED = [
    "e^abs(x) e^x",
    "e^abs(x - 1) cos(x)",
    "abs(x) e^x",
    "abs(x)",
    "e^x",
    "e^abs(x^2 - 1)",
    "e^abs(x) abs(x - 1)",
    "e^abs(a x)",
    "e^abs(a)",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_on_both_sides_and_slips_refuted(text: str, expected: str | None) -> None:
    integrand = tree(text)
    solution = TECHNIQUE.work(integrand, X)
    assert solution is not None
    assert isinstance(decide_antiderivative(solution.antiderivative, integrand, X), Proved)
    assert agrees_with_sympy(solution)
    if expected is not None:
        assert plain(solution.antiderivative) == expected
    assert wrong_slips(TECHNIQUE, solution)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


@pytest.mark.parametrize("text", ["e^abs(x)", "cos(x) e^(-abs(x))", "sqrt(1 + abs(x))"])
def test_values_between_the_sides_are_those_of_quadrature(text: str) -> None:
    """F(1) - F(-1) is the integral over both sides: there is no jump at 0."""
    solution = TECHNIQUE.work(tree(text), X)
    assert solution is not None
    ends = [enclose(solution.antiderivative, at={X: Fraction(place)}, digits=20) for place in (1, -1)]
    assert ends[0] is not None
    assert ends[1] is not None
    functions = {
        "e^abs(x)": lambda x: mpmath.exp(abs(x)),
        "cos(x) e^(-abs(x))": lambda x: mpmath.cos(x) * mpmath.exp(-abs(x)),
        "sqrt(1 + abs(x))": lambda x: mpmath.sqrt(1 + abs(x)),
    }
    wanted = mpmath.quad(functions[text], [-1, 0, 1])
    assert abs(float(ends[0].lower - ends[1].lower) - float(wanted)) < 1e-12


def test_the_cases_are_said_once() -> None:
    solution = solve(tree("e^abs(x)"), X)
    assert solution is not None
    assert solution.technique == "modulus-as-letter"
    assert board(solution)[1:] == [
        "u = abs(x); du = ((abs(x))/x) dx",
        "((abs(x))/x) ∫ e^u du",
        "(abs(x) e^u)/x + C",
        "(abs(x) e^(abs(x)))/x + C",
        "((abs(x))/x) (e^(abs(x)) - 1) + C",
    ]


def test_every_slip_occurs_somewhere() -> None:
    """The slips of the letter itself; those of standard forms are seen to with these."""
    found = set[str]()
    for text, _ in TABLE:
        solution = TECHNIQUE.work(tree(text), X)
        assert solution is not None
        found |= {slip.slip for slip in TECHNIQUE.wrong_answers(solution)}
    own = {slip.identifier for slip in TECHNIQUE.slips if "-standard-" not in slip.identifier}
    assert own <= found
    assert "modulus-letter-standard-inner-coefficient-forgotten" in found
