"""Checks shared by the tests of the three techniques for powers of circular functions."""

from __future__ import annotations

from collections.abc import Mapping

import mpmath
import sympy

from qbank.maths.deciding import decide_antiderivative, decide_equal
from qbank.maths.equation import Statement
from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import plain
from qbank.maths.oracle import to_sympy
from qbank.maths.reading import read
from qbank.maths.verdict import Proved, Refuted
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution

X = Symbol("x")


def tree(text: str, variable: Symbol = X) -> Expression:
    return read(text, variable=variable).tree


def worked(technique: Technique, text: str, variable: Symbol = X) -> WorkedSolution:
    solution = technique.work(tree(text, variable), variable)
    assert solution is not None, f"declined: {text}"
    return solution


def board(solution: WorkedSolution) -> list[str]:
    """The lines in plain text, squeezed."""
    return [" ; ".join(squeezed(statement) for statement in line.statements) for line in solution.lines]


def squeezed(statement: Statement) -> str:
    """Plain text without the blanks and times signs that are a matter of the notation alone."""
    return plain(statement).replace(" ", "").replace("*", "")


def lines(*texts: str) -> list[str]:
    """Lines as they are compared with `board`."""
    return [
        " ; ".join(part.replace(" ", "").replace("*", "") for part in text.split(" ; ")) for text in texts
    ]


def same_text(found: Mapping[str, Expression], wanted: Mapping[str, str]) -> bool:
    """Whether expressions are written as wanted."""
    assert {name: squeezed(answer) for name, answer in found.items()} == {
        name: text.replace(" ", "").replace("*", "") for name, text in wanted.items()
    }
    return True


def assert_solved(technique: Technique, text: str, variable: Symbol = X) -> WorkedSolution:
    """The answer is proved afresh, and defined wherever the integrand is."""
    solution = worked(technique, text, variable)
    assert solution.technique == technique.identifier
    verdict = decide_antiderivative(solution.antiderivative, solution.integrand, variable)
    assert isinstance(verdict, Proved), (text, plain(solution.antiderivative), verdict)
    assert verdict.undefined_at == (), (text, plain(solution.antiderivative), verdict)
    return solution


def assert_derivative_by_sympy(solution: WorkedSolution) -> None:
    """The derivative that SymPy finds agrees in numbers with the integrand (an oracle that shares no code)."""
    letter = sympy.Symbol(solution.variable.name, real=True)
    slope = sympy.diff(to_sympy(solution.antiderivative), letter)
    difference = sympy.lambdify(letter, slope - to_sympy(solution.integrand), "mpmath")
    for place in (mpmath.mpf("0.137"), mpmath.mpf("0.291")):
        with mpmath.workdps(30):
            assert abs(difference(place)) < mpmath.mpf(10) ** -20, plain(solution.antiderivative)


def assert_slips_are_wrong(technique: Technique, solution: WorkedSolution) -> set[str]:
    """Every slip's answer is refuted; the identifiers of those that occur."""
    found = set()
    for slip in technique.wrong_answers(solution):
        verdict = decide_antiderivative(slip.answer, solution.integrand, solution.variable)
        assert isinstance(verdict, Refuted), (slip.slip, plain(slip.answer), verdict)
        assert not isinstance(decide_equal(slip.answer, solution.antiderivative, solution.variable), Proved)
        found.add(slip.slip)
    return found
