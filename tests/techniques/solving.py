"""What the tests of standard forms, substitution and the planner share: read, solve, prove, compare with the world."""

from __future__ import annotations

from collections.abc import Iterable

import mpmath
import sympy

from qbank.maths.deciding import decide_antiderivative, decide_same_up_to_constant
from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import plain
from qbank.maths.oracle import to_sympy
from qbank.maths.reading import read
from qbank.maths.verdict import Proved, Refuted
from qbank.techniques.planner import solve
from qbank.techniques.presenting import rows
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution

X = Symbol("x")


def tree(text: str, variable: Symbol = X) -> Expression:
    return read(text, variable=variable).tree


def solved(technique: Technique, text: str, variable: Symbol = X) -> WorkedSolution:
    """The solution, its answer proved afresh and real wherever the integrand is."""
    integrand = tree(text, variable)
    solution = technique.work(integrand, variable)
    assert solution is not None, f"declined: {text}"
    assert solution.technique == technique.identifier
    verdict = decide_antiderivative(solution.antiderivative, integrand, variable)
    assert isinstance(verdict, Proved), (text, plain(solution.antiderivative), verdict)
    assert verdict.undefined_at == (), (text, plain(solution.antiderivative), verdict)
    return solution


def board(solution: WorkedSolution) -> list[str]:
    """The rows as plain text."""
    return ["; ".join(plain(part) for part in row.statements) for row in rows(solution, "C")]


def agrees_with_sympy(solution: WorkedSolution) -> bool:
    """Whether SymPy's derivative of the answer has the integrand's values (an oracle that shares no code).

    Letters other than the variable stand for 1.3; places where the integrand is not real are left out.
    """
    letter = sympy.Symbol(solution.variable.name, real=True)
    slope, integrand = sympy.diff(to_sympy(solution.antiderivative), letter), to_sympy(solution.integrand)
    others = {
        s: mpmath.mpf("1.3") for s in slope.free_symbols | integrand.free_symbols if s.name != letter.name
    }
    compared = 0
    with mpmath.workdps(30):
        pair = sympy.lambdify(letter, (slope.subs(others), integrand.subs(others)), "mpmath")
        for place in (mpmath.mpf("0.137"), mpmath.mpf("0.291"), mpmath.mpf("1.83"), mpmath.mpf("3.1")):
            found, wanted = (mpmath.mpmathify(value) for value in pair(place))
            if abs(mpmath.im(wanted)) > 0:
                continue
            compared += 1
            if abs(found - wanted) > mpmath.mpf(10) ** -18 * (1 + abs(wanted)):
                return False
    assert compared
    return True


def check_solved(
    technique: Technique, text: str, expected: str | None, *, sympy: bool = True, slips: int
) -> WorkedSolution:
    """Solve; the answer is SymPy's too, written as expected where that is said, and so many slips go wrong."""
    solution = solved(technique, text)
    if sympy:
        assert agrees_with_sympy(solution)
    if expected is not None:
        assert plain(solution.antiderivative) == expected
    assert len(wrong_slips(technique, solution)) >= slips
    return solution


def check_published(number: str, integrand: str, answer: str, by: str | None = None) -> None:
    """The planner works a published integral, by that technique where one is named, and the published answer agrees."""
    solution = solve(tree(integrand), X)
    assert solution is not None, number
    assert by is None or solution.technique == by
    verdict = decide_same_up_to_constant(tree(answer), solution.antiderivative, X)
    assert isinstance(verdict, Proved), (number, plain(solution.antiderivative))


def check_carried(text: str, by: str) -> None:
    """The planner solves it by that technique, which hands a part of it on."""
    solution = solve(tree(text), X)
    assert solution is not None
    assert solution.technique == by
    assert agrees_with_sympy(solution)


def check_every_slip_occurs(technique: Technique, texts: Iterable[str]) -> None:
    """In some of these integrals each slip of the technique can be made."""
    solutions = [solved(technique, text) for text in texts]
    found = {slip.slip for one in solutions for slip in technique.wrong_answers(one)}
    assert found == {slip.identifier for slip in technique.slips}


def wrong_slips(technique: Technique, solution: WorkedSolution) -> dict[str, Expression]:
    """The answers of the slips that occur. Most are refuted; one that happens to be right is not asked for here."""
    found = {}
    for slip in technique.wrong_answers(solution):
        verdict = decide_antiderivative(slip.answer, solution.integrand, solution.variable)
        assert isinstance(verdict, Refuted), (
            slip.slip,
            plain(slip.answer),
            plain(solution.integrand),
            verdict,
        )
        found[slip.slip] = slip.answer
    return found
