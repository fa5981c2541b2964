"""A worked solution as rows for the eye: what a teacher would have on the board, with `+ C` where it belongs.

The proofs need no constant of integration; a reader does. A row of the chain gets `+ C` as soon as no integral is
left in it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from qbank.maths.equation import Statement
from qbank.maths.expression import Expression, Integral, Symbol, sum_of
from qbank.techniques.definite import DefiniteSolution
from qbank.techniques.indexed_integral import IndexedIntegral, all_defined, is_open
from qbank.techniques.working import Line, LineKind, WorkedSolution

__all__ = ["Row", "as_they_stand", "rows", "with_constant"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row of a worked solution.

    Attributes:
        kind: `start` (the integral itself), `step` (written after an equals sign), `let` (a substitution: two
            equations), `aside` (an identity used next) or `statement` (stands for itself).
        statements: the mathematics, one expression or the equations.
        reason: one short sentence; empty for the start.
        rule: identifier of the rule; empty for the start.
    """

    kind: LineKind | str
    statements: tuple[Statement, ...]
    reason: str = ""
    rule: str = ""


def with_constant(answer: Expression, constant: str) -> Expression:
    """An antiderivative with its constant of integration added at the end."""
    return sum_of(answer, Symbol(constant))


def rows(solution: WorkedSolution | DefiniteSolution, constant: str) -> tuple[Row, ...]:
    """The rows of a solution, from the integral to the answer.

    A definite integral is worked in two runs: the antiderivative first, then the value.

    Args:
        solution: the proved working.
        constant: the letter of the constant of integration.
    """
    if isinstance(solution, DefiniteSolution):
        start = Row(kind="start", statements=(solution.integral,))
        return (*rows(solution.solution, constant), start, *as_they_stand(solution.lines))
    start = Row(kind="start", statements=(Integral(solution.integrand, solution.variable),))
    called = all_defined(solution.lines)
    return (start, *(_row(line, constant, called) for line in solution.lines))


def as_they_stand(lines: Iterable[Line]) -> tuple[Row, ...]:
    """Lines as rows that get no constant of integration: numbers, and equations for the constant."""
    return tuple(
        Row(kind=line.kind, statements=line.statements, reason=line.reason, rule=line.rule) for line in lines
    )


def _row(line: Line, constant: str, called: tuple[IndexedIntegral, ...]) -> Row:
    return Row(
        kind=line.kind,
        statements=tuple(_shown(statement, line, constant, called) for statement in line.statements),
        reason=line.reason,
        rule=line.rule,
    )


def _shown(statement: Statement, line: Line, constant: str, called: tuple[IndexedIntegral, ...]) -> Statement:
    if line.kind != "step" or not isinstance(statement, Expression):
        return statement
    return statement if is_open(statement, called) else with_constant(statement, constant)
