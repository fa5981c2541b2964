"""Repeated parts as a table, against the lines of `by_parts`, SymPy's derivative, and tables written by hand."""

from __future__ import annotations

import json
from math import comb, factorial

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.cli import main
from qbank.maths.deciding import decide_same_up_to_constant
from qbank.maths.notation import plain
from qbank.maths.verdict import Proved
from qbank.techniques import solve_with
from qbank.techniques.parts.tabular_parts import PartsTable, parts_table
from tests.techniques.solving import X, agrees_with_sympy, board, tree


def table(text: str) -> PartsTable:
    found = parts_table(tree(text), X)
    assert found is not None
    return found


def columns(text: str) -> list[tuple[str, str, str]]:
    rows = table(text).rows
    return [("-" if r.minus else "+", plain(r.derivative), plain(r.integral)) for r in rows]


def test_a_table_written_by_hand() -> None:
    assert columns("x^3 e^(2x)") == [
        ("+", "x^3", "e^(2x)"),
        ("-", "3x^2", "1/2 e^(2x)"),
        ("+", "6x", "1/4 e^(2x)"),
        ("-", "6", "1/8 e^(2x)"),
        ("+", "0", "1/16 e^(2x)"),
    ]
    assert board(table("x^3 e^(2x)").solution)[1:] == [
        "x^3 (1/2 e^(2x)) - (3x^2) (1/4 e^(2x)) + (6x) (1/8 e^(2x)) - 6(1/16 e^(2x)) + C",
        "1/2 x^3 e^(2x) - 3/4 x^2 e^(2x) + 3/4 x e^(2x) - 3/8 e^(2x) + C",
    ]


def test_every_row_after_the_first_is_proved() -> None:
    rows = table("(x^2 + 3x - 1) sin(2x)").rows
    assert [len(row.proofs) for row in rows] == [0, 2, 2, 2]


@pytest.mark.parametrize(
    "text",
    ["x e^x", "3x^2/e^x", "x^2 cos(a x)", "(x^2 + 3x - 1) sin(2x)", "x^3 cosh(2x)", "-2 (x + 1)^2 cos(pi x)"],
)
def test_the_answer_is_that_of_the_lines(text: str) -> None:
    lines = solve_with("by-parts", tree(text), X)
    assert lines is not None
    found = table(text).solution
    assert isinstance(decide_same_up_to_constant(found.antiderivative, lines.antiderivative, X), Proved)
    assert "a" in text or agrees_with_sympy(found)


@pytest.mark.parametrize("text", ["x ln(x)", "e^x sin(x)", "x tan(x)^2", "e^x", "sin(x)", "x arctan(x)"])
def test_no_table(text: str) -> None:
    assert parts_table(tree(text), X) is None


@settings(max_examples=15)
@given(n=st.integers(1, 6), a=st.sampled_from((1, 2, 3, -1)))
def test_the_numbers_of_a_power_beside_an_exponential(n: int, a: int) -> None:
    """Abramowitz & Stegun 4.2.55 (from memory): x^n e^(ax)/a - n x^(n-1) e^(ax)/a^2 + n(n-1) ..."""
    terms = (
        f"({(-1) ** k * comb(n, k) * factorial(k)}) x^{n - k} e^({a}x)/({a})^{k + 1}" for k in range(n + 1)
    )
    printed = tree(" + ".join(terms))
    found = table(f"x^{n} e^({a}x)").solution.antiderivative
    assert isinstance(decide_same_up_to_constant(found, printed, X), Proved)


def test_the_command() -> None:
    def run(*arguments: str) -> str:
        result = CliRunner().invoke(main, ["solve", "--layout", "table", *arguments])
        return result.output if result.exit_code == 0 else f"exit code {result.exit_code}"

    assert "       -     2x               -e^(-x)\n" in run("3x^2/e^x")
    assert [row["sign"] for row in json.loads(run("x^2 e^x", "--as", "json"))["table"]] == ["+", "-", "+", ""]
    assert r"- & 2x & e^{x} \\" in run("x^2 e^x", "--as", "latex")
    assert run("x ln(x)") == "exit code 1"
    assert run("x e^x", "--from", "0", "--to", "1") == "exit code 2"
