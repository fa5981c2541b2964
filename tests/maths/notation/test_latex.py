"""LaTeX, judged by an independent converter: what it makes of ours must say the same as our own MathML."""

from __future__ import annotations

import re
import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from latex2mathml.converter import convert
from lxml import etree

from qbank.maths.conventions import Conventions
from qbank.maths.expression import Decimal, Integer, Symbol
from qbank.maths.notation import latex, mathml
from tests.maths.notation.cases import CASES
from tests.maths.strategies import statements

#: the same letter or sign in another style
SAME = str.maketrans(
    {"−": "-", "ϕ": "φ", "ϵ": "ε", "ϑ": "θ", "⁡": None, "⁢": None, "\u2009": None, "\u2006": None}
)
STRUCTURE = ("mfrac", "msqrt", "mroot")


def tokens(element: etree._Element) -> list[str]:
    """Identifiers, operators and numbers in order, and where fractions and roots open; styles and rows left out."""
    found: list[str] = []
    for part in element.iter():
        kind = etree.QName(part).localname
        if kind in STRUCTURE:
            found.append(kind)
        elif kind in ("mi", "mn", "mo", "mtext"):
            text = unicodedata.normalize("NFKC", (part.text or "").translate(SAME)).replace("\u00a0", "")
            found.extend(text.replace(" ", ""))
    return found


def converted(source: str) -> etree._Element:
    return etree.fromstring(convert(source))


@pytest.mark.parametrize("name", CASES)
def test_goldens_mean_the_same_to_a_converter(name: str) -> None:
    assert tokens(converted(latex(CASES[name]))) == tokens(mathml(CASES[name]))


@settings(max_examples=60)
@given(tree=statements())
def test_any_statement_means_the_same_to_a_converter(tree: object) -> None:
    assert tokens(converted(latex(tree))) == tokens(mathml(tree))  # type: ignore[arg-type]


@settings(max_examples=60)
@given(tree=statements())
def test_braces_and_sized_brackets_balance(tree: object) -> None:
    source = latex(tree)  # type: ignore[arg-type]
    assert source.count("{") == source.count("}")
    assert source.count(r"\left") == source.count(r"\right")


def test_decimal_comma_has_no_gap() -> None:
    assert latex(Decimal("0.5") * Symbol("x"), Conventions(decimal=",")) == "0{,}5x"


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("Alpha", r"\mathrm{A}"),
        ("omicron", "o"),
        ("speed", r"\mathit{speed}"),
        ("v_max", r"v_{\mathrm{max}}"),
        ("v_m", "v_{m}"),
        (
            "\\input{x}$&#%_~^",
            r"\text{\textbackslash{}input\{x\}\$\&\#\%\_\textasciitilde{}\textasciicircum{}}",
        ),
    ],
)
def test_letters(name: str, text: str) -> None:
    assert latex(Symbol(name)) == text


@given(name=st.text(st.characters(codec="ascii", exclude_categories=["L", "N"]), min_size=1, max_size=8))
def test_a_name_never_becomes_a_command(name: str) -> None:
    body = re.fullmatch(r"\\text\{(.*)\}", latex(Symbol(name)), flags=re.DOTALL)
    assert body is not None
    left = re.sub(r"\\(?:textbackslash|textasciitilde|textasciicircum)\{\}|\\[{}$&#%_]", "", body[1])
    assert not set(left) & set("\\{}$&#%_~^")


def test_commands_do_not_run_into_letters() -> None:
    assert latex(Integer(2) * Symbol("theta") * Symbol("x")) == r"2\theta x"
