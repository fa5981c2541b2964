"""Checks shared by the tests of quadratics below the line, with and without a root."""

from __future__ import annotations

from fractions import Fraction

import mpmath
import sympy

from qbank.maths.deciding import decide_antiderivative
from qbank.maths.enclosing import enclose
from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import plain
from qbank.maths.oracle import to_sympy
from qbank.maths.reading import read
from qbank.maths.verdict import Proved, Refuted
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution

X = Symbol("x")
#: places where an integrand may be real; none is the root of a quadratic in the tables
_PATIENT = 20.0  #: seconds: the tests must not depend on how busy a machine is
_PLACES = tuple(Fraction(n, 1009) for n in (137, 1741, -613, -3557, 5443, -7919, 29989, -30983))


def tree(text: str, variable: Symbol = X) -> Expression:
    return read(text, variable=variable).tree


def worked(technique: Technique, text: str, variable: Symbol = X) -> WorkedSolution:
    solution = technique.work(tree(text, variable), variable)
    assert solution is not None, f"declined: {text}"
    return solution


def board(solution: WorkedSolution) -> list[str]:
    """The lines in plain text without blanks and times signs, which are a matter of the notation alone."""
    return [
        " ; ".join(_squeezed(plain(statement)) for statement in line.statements) for line in solution.lines
    ]


def lines(*texts: str) -> list[str]:
    """Lines as they are compared with `board`."""
    return [_squeezed(text) for text in texts]


def answers(technique: Technique, solution: WorkedSolution) -> dict[str, str]:
    """What each slip makes of a solution, in squeezed plain text."""
    return {s.slip: _squeezed(plain(s.answer)) for s in technique.wrong_answers(solution)}


def _squeezed(text: str) -> str:
    return text.replace(" ", "").replace("*", "")


def assert_solved(solution: WorkedSolution) -> None:
    """The answer is proved afresh, and defined wherever the integrand is."""
    verdict = decide_antiderivative(
        solution.antiderivative, solution.integrand, solution.variable, budget=_PATIENT
    )
    assert isinstance(verdict, Proved), (plain(solution.antiderivative), verdict)
    assert verdict.undefined_at == (), (plain(solution.antiderivative), verdict)


def assert_derivative_by_sympy(solution: WorkedSolution) -> None:
    """SymPy's derivative agrees in numbers with the integrand, at a place where that is real (no code is shared)."""
    letter = sympy.Symbol(solution.variable.name, real=True)
    slope = sympy.diff(to_sympy(solution.antiderivative), letter)
    difference = sympy.lambdify(letter, slope - to_sympy(solution.integrand), "mpmath")
    places = [p for p in _PLACES if enclose(solution.integrand, at={solution.variable: p}) is not None]
    assert places, plain(solution.integrand)
    for place in places[:2]:
        with mpmath.workdps(40):
            gap = difference(mpmath.mpf(place.numerator) / place.denominator)
            assert abs(gap) < mpmath.mpf(10) ** -25, plain(solution.antiderivative)


def wrong_slips(technique: Technique, solution: WorkedSolution) -> set[str]:
    """The slips that occur, every answer refuted."""
    found = set()
    for slip in technique.wrong_answers(solution):
        verdict = decide_antiderivative(slip.answer, solution.integrand, solution.variable, budget=_PATIENT)
        assert isinstance(verdict, Refuted), (
            slip.slip,
            plain(solution.integrand),
            plain(slip.answer),
            verdict,
        )
        found.add(slip.slip)
    return found
