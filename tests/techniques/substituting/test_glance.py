"""What is told at a glance to be no g is none: neither by the search, nor as mathematics."""

from __future__ import annotations

import pytest

from qbank.maths.expression import Symbol
from qbank.maths.factors import Factored
from qbank.maths.reading import read
from qbank.maths.tidying import tidy
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.substituting.canonical import canonical, ordered
from qbank.techniques.substituting.glance import Glance
from qbank.techniques.substituting.inner_candidates import inner_candidates
from qbank.techniques.substituting.substitution_search import _try

X = Symbol("x")

#: shapes in which powers, functions of a line, functions of others, sums and letters stand beside each other
INTEGRANDS = tuple(
    text.replace("F", function).replace("P", f"({power})")
    for text in (
        "P F(x)",
        "P F(2x + 1)",
        "P F(x^2)",
        "F(x) (F(x) + 1)^3 P",
        "P/(x^3 - 4x) + 0 F(x)",
        "P F(x)/(x^2 + a)",
        "P e^(x^2) F(e^x)",
        "sqrt(F(x)) P",
        "e^(F(x)) P",
        "ln(x) P F(ln x)",
        "P (x^2 + 1) sqrt(x^3 + 3x)",
        "P F(sqrt(x))/sqrt(x)",
        "P (x + 1) sqrt(x^2 + 2x)/(x^2 + 2x + 3)",
        "P (x^2 - 3x)/((x - 1) (x - 2))",
        "F(x)^2 arctan(x) ln(x) P",
    )
    for function in ("sin", "cos", "tan", "e^", "arctan", "cosh")
    for power in ("1", "x", "x^2", "x^5", "cos x", "sec^2 x", "e^x", "e^(2x)", "sin x cos x", "1/x")
)


def product_of(text: str) -> Factored:
    """An integrand in the form for comparing."""
    return canonical(ordered(tidy(read(text, variable=X).tree)), X)


@pytest.mark.parametrize(
    ("text", "part", "useless"),
    [
        ("x cos(2x + 1)", "2x + 1", True),
        ("x^2 cos x", "x^2", True),
        ("x^3 e^(x^2)", "x^2", False),
        ("x^5 e^(x^2)", "-3x^2", False),
        ("x cos x", "cos x", True),
        ("sin x cos x", "cos x", False),
        ("x sin(x^2) cos(x^2)", "cos(x^2)", False),
        ("x/e^x", "e^x", True),
        ("e^x/(1 + e^(2x))", "e^x", False),
        ("e^x/(x^2 + 1)", "x^2 + 1", True),
        ("x/(x^2 + 1)", "x^2 + 1", False),
        ("e^x/sqrt(x)", "sqrt(x)", False),
        ("1/(x ln x)", "ln x", False),
        ("cos^3 x sin^2 x", "cos x", True),
        ("cos^3 x sin^2 x", "sin x", True),
        ("tan^3 x sec^2 x", "tan x", False),
        ("tan x sec^5 x", "tan x", True),
        ("tan x sec^5 x", "sec x", False),
        ("1/(x (ln x)^2)", "(ln x)^2", True),
        ("1/sqrt(x^2 - 4)", "x^2 - 4", True),
        ("x^2/(x^3 - 4x)", "x^2 - 4", False),
        ("e^x/sqrt(1 - e^(2x))", "1 - e^(2x)", True),
        ("x^3 e^(x^4)", "e^(x^4)", True),
        ("sqrt(sin x) cos x", "sqrt(sin x)", False),
        ("x/(x^2 + 3x + 1)", "x^2 + 3x + 1", True),
        ("(4x + 6)/(x^2 + 3x + 1)", "x^2 + 3x + 1", False),
        ("(x + 1)/((x + 3) (x - 2))", "(x + 3) (x - 2)", True),
        ("(x + 1/2)/((x + 3) (x - 2))", "(x + 3) (x - 2)", False),
        ("1/sqrt(10x - x^2)", "sqrt(10x - x^2)", True),
        ("(x - 5)/sqrt(10x - x^2)", "sqrt(10x - x^2)", False),
        ("(x^3 + x) (x^4 + 2x^2)^5", "(x^4 + 2x^2)^5", False),
        ("arctan x", "arctan x", True),
        ("(arctan x)/(x^2 + 1)", "arctan x", False),
        ("(ln(3x))^2", "ln(3x)", True),
    ],
)
def test_what_is_told_at_a_glance(text: str, part: str, useless: bool) -> None:
    assert Glance(product_of(text), X).is_useless(read(part, variable=X).tree) is useless


def test_the_search_would_not_take_what_is_useless_at_a_glance() -> None:
    told = taken = 0
    for text in INTEGRANDS:
        integrand = read(text, variable=X).tree
        whole = product_of(text)
        if not whole.coefficient:
            continue
        looked = Glance(whole, X)
        for part in inner_candidates(tuple(integrand.walk()), X):
            found = _try(whole, part, X, spare_letter(integrand))
            taken += found is not None
            if looked.is_useless(part):
                told += 1
                assert found is None, (text, part)
    assert told > 500
    assert taken > 100
