"""Plain text reads back to the same tree, without a remark that a reading was one of several."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from qbank.maths.conventions import Conventions
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Apply,
    Decimal,
    Differential,
    Evaluated,
    Expression,
    Integer,
    Integral,
    Limit,
    Product,
    Symbol,
    exp,
    ln,
    sin,
)
from qbank.maths.notation import latex, plain
from qbank.maths.reading import Reading, ReadingError, read
from tests.maths.notation.cases import CASES
from tests.maths.notation.test_distinct import trees
from tests.maths.strategies import expressions

x = Symbol("x")
HABITS = [
    replace(habit, decimal=decimal)
    for decimal in (".", ",")
    for habit in (
        Conventions(),
        Conventions(logarithm="log"),
        Conventions(inverse="power"),
        Conventions(cosecant="csc"),
        Conventions(logarithm="log", inverse="power", cosecant="csc"),
    )
]
#: what a reader says where a text has more than one reading
DOUBTS = {
    "ambiguous-notation",
    "mixed-number",
    "look-alike",
    "split-word",
    "decimal-sign",
    "negative-function-power",
}


def is_typed(tree: object) -> bool:
    """Whether a row of the table is an expression that can be typed as an answer."""
    lines = (Integral, Evaluated, Limit, Differential)
    return isinstance(tree, Expression) and not any(isinstance(node, lines) for node in tree.walk())


def read_again(text: str, tree: Expression, habit: Conventions) -> Reading:
    """Read a text with the names of the tree; towers of powers that the reader refuses for their size are left out."""
    try:
        return read(text, conventions=habit, names=frozenset(symbol.name for symbol in tree.symbols()))
    except ReadingError as error:
        if error.code not in ("exponent-too-large", "number-too-large"):
            raise
        reject()


def check(tree: Expression, habit: Conventions) -> None:
    text = plain(tree, habit)
    found = read_again(text, tree, habit)
    assert found.tree == tree, text
    assert not {remark.identifier for remark in found.remarks} & DOUBTS, (text, found.remarks)
    assert not found.alternatives, text


@pytest.mark.parametrize("name", [name for name, tree in CASES.items() if is_typed(tree)])
def test_goldens_read_back(name: str) -> None:
    tree = CASES[name]
    assert isinstance(tree, Expression)
    for habit in HABITS:
        check(tree, habit)


@settings(max_examples=150)
@given(tree=expressions(), habit=st.sampled_from(HABITS))
def test_any_expression_reads_back(tree: Expression, habit: Conventions) -> None:
    check(tree, habit)


@settings(max_examples=60)
@given(tree=expressions(size=40), habit=st.sampled_from(HABITS))
def test_a_long_expression_reads_back(tree: Expression, habit: Conventions) -> None:
    check(tree, habit)


def test_every_small_tree_reads_back() -> None:
    for nodes in (1, 2, 3, 4):
        for tree in trees(nodes):
            check(tree, HABITS[0])


def test_latex_of_every_small_tree_reads_back() -> None:
    for nodes in (1, 2, 3, 4):
        for tree in trees(nodes):
            assert read(latex(tree), names=frozenset("x")).tree == tree, latex(tree)


@settings(max_examples=100)
@given(tree=expressions(), habit=st.sampled_from(HABITS))
def test_latex_reads_back_too(tree: Expression, habit: Conventions) -> None:
    assert read_again(latex(tree, habit), tree, habit).tree == tree


@pytest.mark.parametrize(
    ("tree", "text"),
    [
        (x**2 / 3, "x^2 / 3"),
        (x**3 / 3, "x^3/3"),
        (x / Integer(3), "x/3"),
        (exp(Integer(4)) / 2, "e^4 / 2"),
        (exp(x) / 2, "e^x / 2"),
        (x**2 / Integer(3) ** x, "x^2 / 3^x"),
        (x**2 / Decimal("0.5"), "x^2/0.5"),
        (Product((Integer(1) / Decimal("0.5"), x)), "(1/0.5) x"),
        (Product((sin(Integer(2)), sin(x))), "(sin 2) sin x"),
        (Product((sin(Symbol("a")), sin(x))), "sin a * sin x"),
        (Product((ln(Integer(2)), x + 1)), "(ln 2) (x + 1)"),
        (Product((ln(Apply("abs", x)), x)), "(ln|x|) x"),
    ],
    ids=str,
)
def test_what_a_reader_could_doubt_is_made_certain(tree: Expression, text: str) -> None:
    """Each of these was once written in a way that has two readings."""
    assert plain(tree) == text
    check(tree, HABITS[0])


def test_lines_of_working_on_one_line() -> None:
    line = Equation(Integral(sin(x), x, Integer(0), x / 2), Evaluated(x, x, Integer(0), x / 2))
    assert plain(line) == "∫_0^(x/2) sin x dx = [x]_0^(x/2)"
