"""Formulas read back: whatever the notation writes gives the same tree, and nothing else is guessed at."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from lxml import etree

from qbank.maths.conventions import Conventions
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Evaluated, Expression, Integral, Limit, Negate, Root, Symbol, sin
from qbank.maths.notation import mathml
from qbank.maths.notation.mathml import MATHML
from qbank.packages.formulas import FormulaError, formula
from tests.maths.notation.cases import CASES
from tests.maths.strategies import statements

X = Symbol("x")
SCHOOLS = (
    Conventions(),
    Conventions(logarithm="log", inverse="power", cosecant="csc", constant="K", decimal=","),
)


def indexed(tree: Expression) -> Expression:
    """The same tree with `x2` for what is written as x with the index 2, whichever name it had."""
    if isinstance(tree, Symbol):
        return Symbol(tree.name.replace("_", ""))
    return tree.rebuild(indexed)


def same(left: Statement, right: Statement) -> bool:
    if isinstance(left, Equation) or isinstance(right, Equation):
        assert isinstance(left, Equation)
        assert isinstance(right, Equation)
        return same(left.left, right.left) and same(left.right, right.right)
    return indexed(left) == indexed(right)


def expressions(tree: Statement) -> tuple[Expression, ...]:
    return (tree.left, tree.right) if isinstance(tree, Equation) else (tree,)


def can_be_read(tree: Statement) -> bool:
    """All but square brackets with limits, and limits, which stand in working only."""
    return not any(isinstance(node, Evaluated | Limit) for side in expressions(tree) for node in side.walk())


@pytest.mark.parametrize("conventions", SCHOOLS)
@pytest.mark.parametrize("text", [text for text, tree in CASES.items() if can_be_read(tree)])
def test_the_table_of_notation_reads_back(text: str, conventions: Conventions) -> None:
    assert same(formula(mathml(CASES[text], conventions)), CASES[text])


@given(statements().filter(can_be_read))
@settings(deadline=None, max_examples=60)
def test_any_statement_reads_back(tree: Statement) -> None:
    for conventions in SCHOOLS:
        assert same(formula(mathml(tree, conventions)), tree)


def test_the_next_line_of_a_chain() -> None:
    math = mathml(sin(X) + 1)
    sign = math.makeelement(f"{{{MATHML}}}mo", {})
    sign.text = "="
    math.insert(0, sign)
    assert formula(math) == sin(X) + 1


def test_limits() -> None:
    tree = Integral(X, X, Negate(X), X + 1)
    assert formula(mathml(tree)) == tree


def written(inside: str) -> etree._Element:
    return etree.fromstring(f'<math xmlns="{MATHML}">{inside}</math>')


APPLY, TIMES = "\u2061", "\u2062"
XX = "<mi>x</mi>"


@pytest.mark.parametrize(
    ("inside", "why"),
    [
        ("", "empty row"),
        ("<mrow/>", "empty row"),
        ("<mtable/>", "mtable"),
        (f"<mrow>{XX}{XX}</mrow>", "side by side"),
        (f"<mrow>{XX}{XX}{XX}</mrow>", "alternate"),
        ("<mrow><mi>d</mi><mn>2</mn></mrow>", "side by side"),
        (f"<mrow>{XX}<mo>+</mo>{XX}<mo>{TIMES}</mo>{XX}</mrow>", "more than one meaning"),
        (f"<mrow>{XX}<mo>±</mo>{XX}</mrow>", "more than one meaning"),
        (f"<mrow><mo>(</mo>{XX}<mo>)</mo><mo>(</mo>{XX}<mo>)</mo></mrow>", "more than one meaning"),
        (f"<mrow><mo>+</mo>{XX}</mrow>", "plus sign"),
        (f"<mrow>{XX}<mo>+</mo></mrow>", "without a term"),
        (f"<mrow>{XX}<mo>+</mo><mo>+</mo></mrow>", "without a term|alternate"),
        (f"<mrow>{XX}<mo>+</mo><mo>+</mo>{XX}<mo>+</mo></mrow>", "alternate"),
        (f"<mrow>{XX}<mo>{TIMES}</mo></mrow>", "alternate"),
        (f"<mrow><mo>{TIMES}</mo>{XX}<mo>{TIMES}</mo></mrow>", "alternate"),
        (f"<mrow><mo>∫</mo>{XX}{XX}</mrow>", "differential"),
        (f"<mrow><mi>sine</mi><mo>{APPLY}</mo>{XX}</mrow>", "no function 'sine'"),
        (f"<mrow><mn>2</mn><mo>{APPLY}</mo>{XX}</mrow>", "no function"),
        (f"<mrow><msup>{XX}</msup><mo>{APPLY}</mo>{XX}</mrow>", "strange"),
        (f"<mrow><msup><mi>sin</mi>{XX}</msup><mo>{APPLY}</mo>{XX}</mrow>", "whole number"),
        (
            f"<mrow><msup><mi>ln</mi><mrow><mo>\u2212</mo><mn>1</mn></mrow></msup><mo>{APPLY}</mo>{XX}</mrow>",
            "no inverse",
        ),
        ("<mn>1e9</mn>", "not a number"),
        ("<mn/>", "not a number"),
        (f"<mn>{'9' * 401}</mn>", "not a number"),
        ("<mi>sin</mi>", "not a letter"),
        ("<mi/>", "not a letter"),
        (f"<mi>{'x' * 41}</mi>", "not a letter"),
        ("<msub><mn>2</mn><mn>1</mn></msub>", "index"),
        (f"<msub>{XX}<mi>,</mi></msub>", "index"),
        (f"<msup>{XX}</msup>", "1 parts"),
        (f"<mroot>{XX}<mn>1</mn></mroot>", "index of a root"),
        (f"<mroot>{XX}{XX}</mroot>", "index of a root"),
        ("<b xmlns='urn:other'/>", "does not belong"),
        ("<mn>1</mn>" * 4001, "too long"),
        ("<msqrt>" * 200 + XX + "</msqrt>" * 200, ""),
    ],
)
def test_what_we_do_not_write_is_refused(inside: str, why: str) -> None:
    if not why:
        assert isinstance(formula(written(inside)), Root)
        return
    with pytest.raises(FormulaError, match=why):
        formula(written(inside))


def test_an_element_that_is_no_formula() -> None:
    with pytest.raises(FormulaError, match="not a formula"):
        formula(etree.fromstring("<p/>"))
