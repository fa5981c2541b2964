"""Workings with one fault: what follows from a wrong line is worked to the end, and nothing but that line is wrong."""

from __future__ import annotations

import pytest

from qbank.cli.board import board
from qbank.maths.conventions import DEFAULT
from qbank.maths.expression import Expression, Integral, Symbol
from qbank.maths.reading import read
from qbank.maths.verdict import Proof, Proved, Refuted, Witness
from qbank.techniques.faulty_working import FaultyWorking, faulty_places, faulty_working, wrong_versions
from qbank.techniques.following import follow
from qbank.techniques.planner import solve
from qbank.techniques.presenting import Row
from qbank.techniques.working import WorkedSolution
from tests.marking.float_oracle import is_right

X = Symbol("x")


def solution_of(text: str) -> WorkedSolution:
    found = solve(read(text, variable=X).tree, X)
    assert found is not None
    return found


def workings(text: str) -> dict[tuple[int, str], FaultyWorking]:
    solution = solution_of(text)
    found: dict[tuple[int, str], FaultyWorking] = {}
    for place in faulty_places(solution):
        for wrong in wrong_versions(solution, place):
            working = faulty_working(solution, place, wrong)
            if working is not None:
                found.setdefault((place, wrong.slip), working)
    return found


def written(working: FaultyWorking) -> list[str]:
    return [line.partition("[")[0].strip() for line in board(working.rows, DEFAULT)]


def test_a_forgotten_constant_is_carried_to_the_end() -> None:
    found = workings("x (x^2 + 1)^3")[1, "constant-of-du-forgotten"]
    assert written(found) == [
        "let u = x^2 + 1, so du = 2x dx",
        "= \u222b u^3 du",
        "= 1/4 u^4",
        "= 1/4 (x^2 + 1)^4",
    ]
    assert found.place == 1
    kinds = [type(one) for one in found.evidence]
    assert kinds == [Proof, Witness, Proof, Proof]


def test_what_stands_after_a_wrong_identity_is_worked_by_the_planner() -> None:
    found = workings("sin(2x)^2")[0, "sign-of-a-term-turned"]
    assert written(found)[0] == "= \u222b (1 + cos 4x)/2 dx"
    assert written(found)[-1] == "= 1/2 x + 1/8 sin 4x"


def test_by_parts_with_the_sign_lost() -> None:
    found = workings("x^2 ln(x)")[2, "sign-of-a-term-turned"]
    assert written(found)[2:] == ["= 1/3 x^3 ln x + 1/3 \u222b x^2 dx", "= 1/3 x^3 ln x + 1/9 x^3"]
    assert found.wrong.sentence == "By parts, the integral that is left is subtracted."


@pytest.mark.parametrize(
    "text",
    [
        "3 sin(2x)^3",
        "(5x + 1)/(x^2 + x - 2)",
        "sin(3x) cos(5x)",
        "x sqrt(3x + 1)",
        "x^2 e^(3x)",
        "tan(x)^3 sec(x)",
    ],
)
def test_exactly_one_line_is_wrong(text: str) -> None:
    """The last line by high-precision differences, which know nothing of verdicts; the others by deciding again."""
    found = workings(text)
    assert len(found) >= 3
    solution = solution_of(text)
    for working in found.values():
        verdicts = follow(working.rows, Integral(solution.integrand, X))
        assert [isinstance(verdict, Refuted) for verdict in verdicts] == [
            at == working.place for at in range(len(verdicts))
        ]
        (answer,) = working.rows[-1].statements
        assert isinstance(answer, Expression)
        assert is_right(answer, solution.integrand) is False, written(working)
        assert working.right.statements == solution.lines[working.place].statements


def test_the_lines_of_a_solution_follow_and_others_do_not() -> None:
    solution = solution_of("x e^(2x)")
    integral = Integral(solution.integrand, X)
    assert all(isinstance(verdict, Proved) for verdict in follow(solution.lines, integral))
    rows = [Row(kind="step", statements=(X,)), Row(kind="step", statements=(X + 1,))]
    first, second = follow(rows, integral)
    assert isinstance(first, Refuted)
    assert isinstance(second, Proved)
