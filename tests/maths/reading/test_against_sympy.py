"""SymPy's parser as an outside oracle: both readings must have the same value at the same points.

SymPy is a general computer algebra system with a parser of its own for plain syntax. Where it also knows the
notation of hand-written mathematics (implicit products, `sin^2 x`), that is compared too.
"""

from __future__ import annotations

import csv
from pathlib import Path

import mpmath
import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st
from sympy.parsing.sympy_parser import (
    convert_xor,
    implicit_multiplication_application,
    parse_expr,
    standard_transformations,
)

from qbank.maths.expression import Symbol
from qbank.maths.reading import ReadingError, read, read_response
from tests.maths.reading.outline import value

HAND = (*standard_transformations, convert_xor, implicit_multiplication_application)
#: points for the letters, in the order of the alphabet; a generic place where the usual functions are real or complex
POINTS = (mpmath.mpf("0.371"), mpmath.mpf("1.732"))

HAND_WRITTEN = [
    "2x(x+1)",
    "(x+1)(x-1)",
    "3x^2 y",
    "x^2^3",
    "-x^2",
    "2^-x",
    "x y z",
    "2(x+1)(x+2)",
    "x/2/3",
    "6/2(1+2)",
    "1/2 x",
    "sin^2 x",
    "sin^3(2x)",
    "sin(x)cos(x)",
    "sin x",
    "2 sin x",
    "sin(x)^2",
    "sin 2x",
    "cos x + sin x",
    "x sin(x) + cos(x)",
    "exp(2x)",
    "log(x)",
    "sqrt(1-x^2)",
    "atan(x/2)/2",
    "tan^2 x + 1",
    "sinh(x) cosh(x)",
    "x^3/3 - x/2",
    "pi x",
    "theta sin(theta)",
    "asin(x) + acos(x)",
]


def agreements(text: str, theirs: sympy.Expr, variable: str, names: frozenset[str]) -> int:
    """At how many of the points the reading of a text has the value that SymPy found; a difference is a failure."""
    tree = read(text, variable=Symbol(variable), names=names).tree
    letters = sorted(
        {*(str(symbol) for symbol in theirs.free_symbols), *(symbol.name for symbol in tree.symbols())}
    )
    agreed = 0
    for point in POINTS:
        at = {letter: point + mpmath.mpf(place) / 7 for place, letter in enumerate(letters)}
        try:
            expected = mpmath.mpmathify(theirs.evalf(25, subs=at))
            ours = value(tree, {**at, "E": mpmath.e})
        except (TypeError, ValueError, ZeroDivisionError, OverflowError):
            continue  # SymPy has no number here, or the point is a pole
        if mpmath.isfinite(expected) and mpmath.isfinite(ours):
            assert mpmath.fabs(ours - expected) <= mpmath.mpf("1e-9") * (1 + mpmath.fabs(expected)), text
            agreed += 1
    return agreed


@pytest.mark.parametrize("text", HAND_WRITTEN)
def test_hand_written_notation(text: str) -> None:
    assert agreements(text, parse_expr(text, transformations=HAND), "x", frozenset())


numbers = st.one_of(st.integers(0, 30).map(str), st.sampled_from(["0.5", "2.25", "pi", "x", "x", "t"]))


def larger(parts: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
    return st.one_of(
        st.builds("{}{}{}".format, parts, st.sampled_from([" + ", "-", "*", "/", " - ", " / "]), parts),
        st.builds("({})".format, parts),
        st.builds("-{}".format, parts),
        st.builds("({})**{}".format, parts, st.sampled_from(["2", "3", "(1/2)", "-1", "2**2"])),
        st.builds(
            "{}({})".format,
            st.sampled_from(["sin", "cos", "tan", "sqrt", "exp", "log", "atan", "sinh"]),
            parts,
        ),
    )


plain_texts = st.recursive(numbers, larger, max_leaves=12)


@settings(max_examples=60)
@given(text=plain_texts)
def test_plain_syntax_means_what_it_means_to_sympy(text: str) -> None:
    tree = read(text).tree
    expected = parse_expr(text, evaluate=False)
    point = {"x": mpmath.mpf("0.371"), "t": mpmath.mpf("1.732")}
    try:
        theirs = mpmath.mpmathify(expected.evalf(30, subs=point))
        ours = value(tree, point)
    except (TypeError, ValueError, ZeroDivisionError, OverflowError):
        return  # no number there
    if mpmath.isfinite(ours) and mpmath.isfinite(theirs) and mpmath.fabs(theirs) < 1e12:
        assert mpmath.fabs(ours - theirs) <= mpmath.mpf("1e-6") * (1 + mpmath.fabs(theirs))


#: the bound that refuses one published integrand (a power 2017)
REFUSED = "exponent-too-large"


@pytest.mark.reference
def test_published_integrals_are_read_as_sympy_reads_them(shared: Path) -> None:
    """Every eightieth row of the reference tables, in the syntax of programs (sources: the README beside them)."""
    compared, refused = 0, list[str]()
    for table in ("tables", "openstax", "rubi", "definite"):
        for row in rows_of(shared, table)[::80]:
            names = frozenset({"E", *(row.get("params") or "").split()})
            for text in filter(None, (row["integrand"], row.get("antiderivative"))):
                try:
                    compared += bool(agreements(text, sympy.sympify(text), row["variable"], names))
                except ReadingError as error:
                    refused.append(f"{error.code}: {text}")
    assert compared > 85
    assert {entry.partition(":")[0] for entry in refused} <= {REFUSED}, refused


@pytest.mark.reference
def test_published_integrals_as_answers_with_a_left_side(shared: Path) -> None:
    for row in filter(lambda row: row["antiderivative"], rows_of(shared, "openstax")):
        variable, names = Symbol(row["variable"]), frozenset(row["params"].split())
        bare = read(row["antiderivative"], variable=variable, names=names).tree
        answer = f"F({variable.name}) = {row['antiderivative']}."
        assert read_response(answer, variable=variable, names=names).tree == bare


def rows_of(shared: Path, table: str) -> list[dict[str, str]]:
    with (shared / "reference" / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
