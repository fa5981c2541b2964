"""Pieces of lines that may be left blank: a single filling is right, by deciding every other one that is tried.

For numbers in lines without integrals SymPy finds the same ones, from the derivative of the line at a point.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache

import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Differential,
    Expression,
    Integer,
    Integral,
    Negate,
    Symbol,
    as_fraction,
    rational,
)
from qbank.maths.notation import plain
from qbank.maths.notation.gapped import GAP
from qbank.maths.oracle import to_sympy
from qbank.maths.verdict import Proved, Refuted
from qbank.techniques.blanking import Blank, blank, filled
from qbank.techniques.following import follows, numbers_named
from qbank.techniques.pieces import pieces_of
from qbank.techniques.planner import solve
from qbank.techniques.presenting import Row
from qbank.techniques.working import WorkedSolution
from tests.techniques.solving import X, tree

INTEGRANDS = (
    "12 x^2 (x^3 + 4)^4",
    "6 sin(4x)^2",
    "5 cos(2x)^3 sin(2x)^2",
    "3x/sqrt(2x + 5)",
    "4x^3 ln(2x)",
    "5x e^(3x + 1)",
    "6x sqrt(9 - x^2)",
    "3 sin(5x) cos(2x)",
    "(7x + 1)/((x - 1)(x + 2)(x + 3))",
    "6/(x^2 + 4x + 13)",
    "x^2 sin(3x)",
    "2 tan(3x)^3 sec(3x)^3",
    "x^2 sqrt(4 - x^2)",
)


def judged(solution: WorkedSolution) -> Iterator[tuple[int, Blank | str, str]]:
    """Each piece of each line: its line, the blank or why it is none, and the line with the gap."""
    named, integral = numbers_named(solution.lines), Integral(solution.integrand, X)
    for at, line in enumerate(solution.lines):
        for place, statement in enumerate(line.statements):
            for piece in pieces_of(statement):
                found = blank(line, place, piece, solution.lines[:at], integral, named)
                yield at, found, plain(piece.statement)


@cache
def worked(text: str) -> WorkedSolution:
    solution = solve(tree(text), X)
    assert solution is not None
    return solution


def holds(solution: WorkedSolution, at: int, found: Blank, value: Expression) -> object:
    line = solution.lines[at]
    statements = list(line.statements)
    statements[found.place] = filled(found.piece.statement, value)
    named, integral = numbers_named(solution.lines), Integral(solution.integrand, X)
    row = Row(kind=line.kind, statements=tuple(statements))
    return follows(row, solution.lines[:at], integral, named)


@pytest.mark.parametrize("text", INTEGRANDS)
def test_the_filling_is_right_and_no_other_is(text: str) -> None:
    solution, met = worked(text), 0
    for at, found, shown in judged(solution):
        if isinstance(found, str):
            continue
        met += 1
        assert isinstance(holds(solution, at, found, found.value), Proved), shown
        number = as_fraction(found.value)
        if found.letter is None:
            assert number is not None
            others: list[Expression] = [
                rational(other)
                for other in (
                    -number,
                    2 * number,
                    number - 1,
                    1 / number,
                    number + Fraction(1, 7),
                    Fraction(0),
                )
                if other != number
            ]
        else:
            assert found.value.symbols() == {found.letter}
            others = [2 * found.value, -found.value, found.value + found.letter, found.value * found.letter]
            if not found.up_to_constant:
                others.append(found.value + 1)
        for other in others:
            assert isinstance(holds(solution, at, found, other), Refuted), (shown, plain(other))
    assert met >= 3, met


#: what stays in the line, and why (common practice: a gap is a question, not something to be copied or guessed)
KEPT = [
    ("12 x^2 (x^3 + 4)^4", "u = x^3 + gap", "do not determine"),
    ("12 x^2 (x^3 + 4)^4", "u = gap", "chosen freely"),
    ("12 x^2 (x^3 + 4)^4", "gap (x^3 + 4)^5", "stands beside the gap, or in the line before"),
    ("6x sqrt(9 - x^2)", "-3 ∫ gap du", None),
    ("4x^3 ln(2x)", "x^4 ln 2x - ∫ gap dx", "is shown already"),
    ("4x^3 ln(2x)", "dv = gap dx", "is shown already"),
    ("4x^3 ln(2x)", "v = gap x^4", None),
    ("(7x + 1)/((x - 1)(x + 2)(x + 3))", "8 = gap", "stands for no function"),
    ("(7x + 1)/((x - 1)(x + 2)(x + 3))", "A = gap", None),
]


@pytest.mark.parametrize(("text", "gapped", "reason"), KEPT)
def test_why_a_piece_stays(text: str, gapped: str, reason: str | None) -> None:
    found = next(one for _, one, shown in judged(worked(text)) if shown == gapped)
    if reason is None:
        assert isinstance(found, Blank)
    else:
        assert isinstance(found, str)
        assert reason in found


def test_a_linear_substitution_shows_its_number() -> None:
    """`u = 3x + 1, du = 3 dx`: either number could be copied from the other."""
    u = Symbol("u")
    rate = Equation(Differential(u), 3 * Differential(X))
    line = Row(kind="let", statements=(Equation(u, 3 * X + 1), rate))
    for place, statement in enumerate(line.statements):
        piece = next(one for one in pieces_of(statement) if one.value == Integer(3))
        found = blank(line, place, piece, (), Integral(X * (3 * X + 1) ** 5, X), {})
        assert isinstance(found, str)
        assert "stands beside" in found


def test_a_sign_that_opens_a_line_belongs_to_the_number() -> None:
    first = next(pieces_of(Negate(3 * Symbol("u"))))
    assert (plain(first.statement), plain(first.value)) == ("gap u", "-3")


@pytest.mark.parametrize("text", INTEGRANDS)
def test_sympy_finds_the_same_numbers(text: str) -> None:
    x, gap, at = to_sympy(X), to_sympy(GAP), sympy.Rational(3, 10)
    solution = worked(text)
    wanted = to_sympy(solution.integrand).subs(x, at)
    for _, found, shown in judged(solution):
        if isinstance(found, str) or found.letter is not None:
            continue
        line = found.piece.statement
        if (
            isinstance(line, Equation)
            or line.symbols() != {X, GAP}
            or any(isinstance(node, Integral) for node in line.walk())
        ):
            continue
        slope = sympy.diff(to_sympy(line), x).subs(x, at)
        number = as_fraction(found.value)
        assert number is not None
        value = sympy.Rational(number.numerator, number.denominator)
        near, off = (sympy.N((slope - wanted).subs(gap, one), 30) for one in (value, value + 1))
        assert abs(near) < 1e-20, shown
        assert abs(off) > 1e-9, shown


@cache
def numbers_of(text: str) -> tuple[tuple[int, Blank], ...]:
    return tuple(
        (at, one) for at, one, _ in judged(worked(text)) if isinstance(one, Blank) and one.letter is None
    )


@settings(deadline=None, max_examples=80)
@given(st.data())
def test_any_other_number_is_wrong(data: st.DataObject) -> None:
    text = data.draw(st.sampled_from([one for one in INTEGRANDS if numbers_of(one)]))
    at, found = data.draw(st.sampled_from(numbers_of(text)))
    other = data.draw(st.fractions(min_value=-60, max_value=60, max_denominator=40))
    verdict = holds(worked(text), at, found, rational(other))
    assert isinstance(verdict, Proved if other == as_fraction(found.value) else Refuted), (text, other)
