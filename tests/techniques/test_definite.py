"""Definite integrals: exact values, refusals, slips; published values and quadrature by mpmath are the outside world."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import mpmath
import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.deciding import decide_equal
from qbank.maths.enclosing import enclose
from qbank.maths.expression import Expression, Symbol, ln
from qbank.maths.notation import plain
from qbank.maths.oracle import to_sympy
from qbank.maths.reading import read
from qbank.maths.verdict import Proved, Refuted, Unsettled
from qbank.techniques import definite
from qbank.techniques.definite import DefiniteRefused, DefiniteSolution, definite_slips, work_definite
from qbank.techniques.planner import solve, solve_with
from qbank.techniques.presenting import rows
from qbank.techniques.working import UnprovedLineError
from tests.techniques.published import published_values

X = Symbol("x")


def tree(text: str, variable: Symbol = X) -> Expression:
    return read(text, variable=variable).tree


def value_of(integrand: str, lower: str, upper: str) -> DefiniteSolution:
    return work_definite(tree(integrand), X, tree(lower), tree(upper))


#: values by hand, from the usual angles and the laws of logarithms
TABLE = (
    ("1/(x^2+4)", "0", "2", "pi/8"),
    ("1/(x^2+4x+13)", "-2", "1", "pi/12"),
    ("1/(x^2+3)", "0", "1", "pi sqrt(3)/18"),
    ("1/(x^2+x+1)", "0", "1", "pi sqrt(3)/9"),
    ("(x+3)/(x^2+2x+5)", "-1", "1", "pi/4 + ln(2)/2"),
    ("x^2/(x^2+1)", "0", "1", "1 - pi/4"),
    ("1/(x^2-4)", "3", "5", "ln(15/7)/4"),
    ("1/(x^2-4)", "5", "3", "-ln(15/7)/4"),
    ("x/(x^2+1)", "-1", "1", "0"),
    ("1/sqrt(9-x^2)", "0", "3/2", "pi/6"),
    ("1/sqrt(9-x^2)", "0", "3", "pi/2"),
    ("1/sqrt(x^2+4)", "0", "2", "ln(1 + sqrt(2))"),
    ("x/sqrt(x^2-2)", "2", "3", "sqrt(7) - sqrt(2)"),
    ("sin(x)^3", "0", "pi/2", "2/3"),
    ("sin(x)^2", "0", "pi", "pi/2"),
    ("tan(x)^2", "0", "pi/4", "1 - pi/4"),
    ("x^2", "0", "1", "1/3"),
    ("x^2", "1", "1", "0"),
    ("1/(2x+1)", "0", "4", "ln 3"),
    ("e^(2x)", "0", "ln 3", "4"),
)


@pytest.mark.parametrize(("integrand", "lower", "upper", "value"), TABLE)
def test_value(integrand: str, lower: str, upper: str, value: str) -> None:
    solution = value_of(integrand, lower, upper)
    assert isinstance(decide_equal(solution.value, tree(value), X), Proved), plain(solution.value)
    bounds = enclose(solution.value, at={}, digits=15)
    assert bounds is not None
    assert bounds.lower <= solution.enclosure.upper
    assert bounds.upper >= solution.enclosure.lower


@pytest.mark.parametrize(("integrand", "lower", "upper"), [row[:3] for row in TABLE[::3]])
def test_value_by_mpmath(integrand: str, lower: str, upper: str) -> None:
    letter = sympy.Symbol("x", real=True)
    function = sympy.lambdify(letter, to_sympy(tree(integrand)), "mpmath")
    with mpmath.workdps(30):
        ends = [mpmath.mpf(sympy.N(to_sympy(tree(end)), 30)) for end in (lower, upper)]
        ours = mpmath.mpf(sympy.N(to_sympy(value_of(integrand, lower, upper).value), 30))
        assert abs(mpmath.quad(function, ends) - ours) < mpmath.mpf(10) ** -15


def test_lines() -> None:
    solution = value_of("(x+3)/(x^2+2x+5)", "-1", "1")
    assert [plain(line.statements[0]).replace("*", "").replace(" ", "") for line in solution.lines] == [
        text.replace("*", "").replace(" ", "")
        for text in (
            "[1/2 ln(x^2 + 2x + 5) + arctan((x + 1)/2)]_(-1)^1",
            "1/2 ln(1^2 + 2 * 1 + 5) + arctan((1 + 1)/2) - (1/2 ln((-1)^2 + 2(-1) + 5) + arctan((-1 + 1)/2))",
            "1/2 ln 8 + arctan 1 - (1/2 ln 4 + arctan 0)",
            "pi/4 + 1/2 ln 2",
        )
    ]
    assert solution.proof is solution.lines[-1].proof


def test_no_line_is_written_twice() -> None:
    solution = value_of("1", "0", "1")
    statements = [line.statements for line in solution.lines]
    assert all(a != b for a, b in pairwise(statements))


def test_rows_first_the_antiderivative_then_the_value() -> None:
    solution = value_of("1/(x^2+4x+13)", "-2", "1")
    shown = rows(solution, "C")
    starts = [place for place, row in enumerate(shown) if row.kind == "start"]
    assert len(starts) == 2
    assert shown[: starts[1]] == rows(solution.solution, "C")
    assert shown[starts[1]].statements == (solution.integral,)
    assert shown[-1].statements == (solution.value,)


def test_a_known_solution_is_used() -> None:
    integrand = tree("1/(x^2+4)")
    known = solve_with("quadratic-denominator", integrand, X)
    worked = work_definite(integrand, X, tree("0"), tree("2"), solution=known)
    assert worked.solution is known


@pytest.mark.parametrize(
    ("integrand", "lower", "upper", "reason"),
    [
        ("1/(x^2-4)", "1", "5", "diverges"),
        ("1/x", "-1", "1", "diverges"),
        ("1/sqrt(9-x^2)", "0", "4", "positive"),
        ("a x", "0", "1", "letters"),
        ("x", "0", "b", "letters"),
        ("1/(x^2+4)", "0", "infinity", "infinity"),
        ("1/(x^2+4)", "-infinity", "0", "infinity"),
        ("e^(x^2)", "0", "1", "technique"),
        ("ln x", "0", "1", "no value at a limit"),
    ],
)
def test_refused(integrand: str, lower: str, upper: str, reason: str) -> None:
    with pytest.raises(DefiniteRefused, match=reason):
        value_of(integrand, lower, upper)


def test_a_jump_of_the_antiderivative_is_seen() -> None:
    # the derivative of arctan(tan(x)/2)/2 is right wherever it exists, but the function jumps at pi/2
    integrand = tree("1/(4cos(x)^2 + sin(x)^2)")
    plain_case = solve(tree("x"), X)
    assert plain_case is not None
    jumping = replace(plain_case, integrand=integrand, antiderivative=tree("arctan(tan(x)/2)/2"))
    with pytest.raises(DefiniteRefused, match="jump"):
        work_definite(integrand, X, tree("0"), tree("pi"), solution=jumping)
    assert work_definite(integrand, X, tree("0"), tree("pi/4"), solution=jumping).value is not None


def test_no_value_at_a_limit() -> None:
    # x^x-like behaviour: the integrand is integrable down to 0, the antiderivative as written has no value there
    integrand = tree("ln x")
    plain_case = solve(tree("x"), X)
    assert plain_case is not None
    written = replace(plain_case, integrand=integrand, antiderivative=X * ln(X) - X)
    with pytest.raises(DefiniteRefused, match="no value at a limit"):
        work_definite(integrand, X, tree("0"), tree("1"), solution=written)


def test_an_unproved_value_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(definite, "decide_equal", lambda *_: Unsettled(reason="no time"))
    with pytest.raises(DefiniteRefused, match="within the time"):
        value_of("x", "0", "1")


def test_a_wrong_line_is_an_error_of_the_program(monkeypatch: pytest.MonkeyPatch) -> None:
    refuted = decide_equal(tree("1"), tree("2"), X)
    monkeypatch.setattr(definite, "decide_equal", lambda *_: refuted)
    with pytest.raises(UnprovedLineError):
        value_of("x", "0", "1")


def slips(integrand: str, lower: str, upper: str) -> dict[str, Expression]:
    return {slip.slip: slip.answer for slip in definite_slips(value_of(integrand, lower, upper))}


@pytest.mark.parametrize(
    ("slip", "value"),
    [
        ("lower-limit-ignored", "pi/4 + 3/2 ln 2"),
        ("limits-swapped", "-pi/4 - ln(2)/2"),
        ("value-at-lower-limit-added", "pi/4 + 5/2 ln 2"),
        ("half-of-the-logarithm-lost", "pi/4 + ln 2"),
        ("second-part-of-fraction-forgotten", "ln(2)/2"),
        ("factor-of-inverse-tangent-forgotten", "pi/2 + ln(2)/2"),
    ],
)
def test_what_students_get(slip: str, value: str) -> None:
    found = slips("(x+3)/(x^2+2x+5)", "-1", "1")
    assert isinstance(decide_equal(found[slip], tree(value), X), Proved), plain(found[slip])


def test_slips_with_limits_only_where_they_change_the_value() -> None:
    found = slips("1/(x^2+4)", "0", "2")
    assert "limits-swapped" in found
    assert "lower-limit-ignored" not in found
    assert "value-at-lower-limit-added" not in found
    assert "limits-swapped" not in slips("x/(x^2+1)", "-1", "1")


def test_limits_not_changed_after_a_substitution() -> None:
    # u = cos x, the integral of sin^3 x is -(u - u^3/3): with 0 and pi/2 left as they are
    found = slips("sin(x)^3", "0", "pi/2")
    assert isinstance(decide_equal(found["limits-not-changed"], tree("pi^3/24 - pi/2"), X), Proved)
    assert "limits-not-changed" not in slips("1/(x^2+4x+13)", "-2", "1")


@pytest.mark.parametrize(("integrand", "lower", "upper", "value"), TABLE)
def test_every_slip_is_wrong(integrand: str, lower: str, upper: str, value: str) -> None:
    for slip, answer in slips(integrand, lower, upper).items():
        verdict = decide_equal(answer, tree(value), X, budget=20.0)
        assert isinstance(verdict, Refuted), (slip, plain(answer), verdict)


@settings(max_examples=20)
@given(st.integers(-6, 6), st.integers(1, 9), st.integers(-5, 5), st.integers(1, 4))
def test_shifting_the_integrand_shifts_the_limits(p: int, q: int, lower: int, width: int) -> None:
    # the integral of f(x + p) from a to b is that of f from a + p to b + p
    here = work_definite(1 / (X**2 + 2 * p * X + (p * p + q)), X, tree(f"{lower}"), tree(f"{lower + width}"))
    there = work_definite(1 / (X**2 + q), X, tree(f"{lower + p}"), tree(f"{lower + p + width}"))
    assert isinstance(decide_equal(here.value, there.value, X, budget=20.0), Proved)


@pytest.mark.reference
def test_published_values(shared: Path) -> None:
    """A spread of the rows; the report takes them all."""
    worked, wrong = published_values(shared, every=6)
    assert worked >= 3
    assert wrong == []
