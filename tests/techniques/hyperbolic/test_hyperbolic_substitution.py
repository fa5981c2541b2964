"""x = a sinh t and x = a cosh t, against SymPy's derivative and published answers; another way, and every slip refuted."""

from __future__ import annotations

import pytest

from qbank.maths.deciding import decide_same_up_to_constant
from qbank.maths.verdict import Proved
from qbank.techniques import solve_all, technique
from tests.techniques.solving import X, board, check_every_slip_occurs, check_solved, solved, tree

TECHNIQUE = technique("hyperbolic-substitution")

#: answers worked by hand, common practice
TABLE = [
    ("sqrt(x^2 + 4)", "1/2 x sqrt(x^2 + 4) + 2 arsinh(x/2)"),
    ("1/sqrt(9x^2 - 1)", "1/3 ln|3x + sqrt(9x^2 - 1)|"),
    ("x^2/sqrt(x^2 - 9)", "1/2 x sqrt(x^2 - 9) + 9/2 ln|x + sqrt(x^2 - 9)|"),
    ("x^2 sqrt(x^2 + 1)", "1/8 x sqrt(x^2 + 1) (2x^2 + 1) - 1/8 arsinh x"),
    ("1/(x^2 + 4)^(3/2)", "x/(4 sqrt(x^2 + 4))"),
    ("a/(x^2 sqrt(4x^2 + 9))", "-(a sqrt(4x^2 + 9))/(9x)"),
    ("1/(x^2 sqrt(x^2 - 4))", "sqrt(x^2 - 4)/(4x)"),
    ("(x^2 - 1)^(3/2)", None),
]

DECLINED = [
    "sqrt(4 - x^2)",
    "sqrt(x^2 + 3)",
    "sqrt(x^2 + 2x + 5)",
    "x + sqrt(x^2 + 4)",
    "1/(x sqrt(x^2 + 1))",
    "x^2 + 4",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=1)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


#: as published: B. O. Peirce, A Short Table of Integrals, with numbers for the letters (from memory)
PUBLISHED = [
    ("sqrt(x^2 + 9)", "1/2 (x sqrt(x^2 + 9) + 9 ln(x + sqrt(x^2 + 9)))"),
    ("x^2/sqrt(x^2 - 4)", "x/2 sqrt(x^2 - 4) + 2 ln|x + sqrt(x^2 - 4)|"),
]


@pytest.mark.parametrize(("text", "answer"), PUBLISHED)
def test_published(text: str, answer: str) -> None:
    verdict = decide_same_up_to_constant(tree(answer), solved(TECHNIQUE, text).antiderivative, X)
    assert isinstance(verdict, Proved)


def test_another_way_and_never_the_first() -> None:
    ways = [solution.technique for solution in solve_all(tree("sqrt(x^2 + 4)"), X)]
    assert ways[0] == "trigonometric-substitution"
    assert ways[-1] == "hyperbolic-substitution"


def test_multiples_of_the_letter_are_written_with_it() -> None:
    rows = board(solved(TECHNIQUE, "sqrt(x^2 + 4)"))
    assert rows[1] == "t = arsinh(x/2); x = 2 sinh t; sqrt(x^2 + 4) = 2 cosh t; dx = 2 cosh t dt"
    assert "sinh 2t = 2 sinh t cosh t" in rows


def test_every_slip_occurs() -> None:
    check_every_slip_occurs(TECHNIQUE, ["sqrt(x^2 + 4)"])
