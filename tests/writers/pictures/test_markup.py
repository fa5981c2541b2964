"""MathML to Typst: the same shapes as the notation's own Typst, and nothing else gets in."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import INFINITY, PI, Differential, Expression, Integer, Integral, Symbol
from qbank.maths.notation import mathml, typst
from qbank.maths.reading import read
from qbank.writers.pictures.drawing import Formula, draw
from qbank.writers.pictures.markup import MarkupError, typst_of
from tests.maths.strategies import expressions

SPACE = 'xmlns="http://www.w3.org/1998/Math/MathML"'
X, U = Symbol("x"), Symbol("u")


def tree(text: str) -> Expression:
    return read(text, variable=X).tree


STATEMENTS: tuple[Statement, ...] = (
    tree("1/2 sin(3x)^2 + C"),
    tree("-1/3 ln|cos(3x)| + C"),
    tree("ln|(x-1)/(x+1)|/2"),
    tree("(1/x)/(1+1/x)"),
    tree("arctan((x+1)/2) + arsinh(x) + 27^(1/3)"),
    tree("sqrt(1 - x^2) e^(2x/3)"),
    tree("2.5 (x+1) (x-2)"),
    Integral(tree("2 sin(x)^2 cos(x)"), X, Integer(0), PI / 3),
    Integral(tree("e^(-x)"), X, Integer(0), INFINITY),
    Equation(U, tree("tan(2x)")),
    Equation(Differential(U), tree("2 cos(2x)") * Differential(X)),
    Symbol("x_1") + Symbol("alpha") - Symbol("y_t"),
)
SCHOOLS = (DEFAULT, Conventions(logarithm="log", inverse="power", cosecant="csc", constant="k", decimal=","))


def shapes(sources: list[str]) -> list[list[bytes]]:
    """Of each formula the outlines of its letters and signs, each outline once; without lines, whose lengths vary."""
    pictures = draw([Formula(source, "") for source in sources], "svg")
    return [sorted(set(re.findall(rb' d="([^"]*Z)"', picture.data))) for picture in pictures]


@pytest.mark.parametrize("school", SCHOOLS, ids=["usual", "other"])
def test_shapes_are_those_of_the_notation(school: Conventions) -> None:
    """The notation writes Typst from the layout and knows no MathML, so each checks the other."""
    from_mathml = shapes([typst_of(mathml(statement, school)) for statement in STATEMENTS])
    from_layout = shapes([f"display({typst(statement, school)})" for statement in STATEMENTS])
    assert from_mathml == from_layout
    assert all(from_mathml)


@settings(max_examples=25)
@given(st.lists(expressions(), min_size=1, max_size=4))
def test_any_expression_is_drawn(trees: list[Expression]) -> None:
    pictures = draw([Formula(typst_of(mathml(one)), "") for one in trees], "svg")
    assert all(picture.width > 4 and picture.height > picture.depth for picture in pictures)


@pytest.mark.parametrize(
    "inside",
    [
        "<mi>#x</mi>",
        '<mi>x", panic("</mi>',
        "<mi/>",
        "<mn>1#</mn>",
        "<mn>1.2.3</mn>",
        "<mo>#</mo>",
        "<mo>$</mo>",
        '<mo form="prefix">#</mo>',
        "<mtext>a</mtext>",
        "<mfrac><mn>1</mn></mfrac>",
        "<msqrt><ms>a</ms></msqrt>",
        '<p xmlns="urn:x">a</p>',
    ],
)
def test_what_our_formulas_have_not_is_refused(inside: str) -> None:
    with pytest.raises(MarkupError):
        typst_of(etree.fromstring(f"<math {SPACE}>{inside}</math>"))


def test_what_is_nested_too_deeply_is_refused() -> None:
    def nested(depth: int) -> str:
        inside = "<msqrt>" * depth + "<mi>x</mi>" + "</msqrt>" * depth
        return typst_of(etree.fromstring(f"<math {SPACE}>{inside}</math>"))

    assert draw([Formula(nested(58), "")], "svg")
    with pytest.raises(MarkupError, match="inside each other"):
        nested(60)


def test_an_empty_part_is_drawn_as_nothing() -> None:
    source = typst_of(etree.fromstring(f"<math {SPACE}><msup><mi>x</mi><mrow/></msup></math>"))
    assert draw([Formula(source, "")], "svg")
