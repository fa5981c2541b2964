"""Names: a row for every function, in every convention and every target."""

from __future__ import annotations

import unicodedata

import pytest

from qbank.maths.conventions import Conventions
from qbank.maths.expression import Apply, Decimal, Expression, Integer, Power, Symbol
from qbank.maths.functions import FUNCTIONS
from qbank.maths.notation import latex, mathml, mathml_text, plain, speech, typst
from qbank.maths.notation.names import GREEK, function_name, split_symbol
from qbank.maths.reading.words import GREEK_LETTERS

x = Symbol("x")
HABITS = (
    Conventions(),
    Conventions(logarithm="log", cosecant="csc"),
    Conventions(inverse="power"),
    Conventions(inverse="power", cosecant="csc"),
)


@pytest.mark.parametrize("habit", HABITS, ids=str)
@pytest.mark.parametrize("write", [latex, mathml_text, plain, speech, typst])
def test_every_function_is_written_and_no_two_alike(write: object, habit: Conventions) -> None:
    assert callable(write)
    written = {name: write(Apply(name, x), habit) for name in FUNCTIONS}
    assert len(set(written.values())) == len(FUNCTIONS)


@pytest.mark.parametrize("name", FUNCTIONS)
def test_an_inverse_function_is_never_mistaken_for_a_reciprocal(name: str) -> None:
    power = Conventions(inverse="power")
    inverses = [row.name for row in FUNCTIONS.values() if row.inverse_of == name and name != "exp"]
    for inverse in inverses:
        reciprocal = Power(Apply(name, x), Integer(1).__neg__())
        for write in (latex, plain, typst, mathml_text, speech):
            assert write(Apply(inverse, x), power) != write(reciprocal, power)


@pytest.mark.parametrize(
    ("name", "habit", "text"),
    [
        ("ln", Conventions(logarithm="log"), "log x"),
        ("arctan", Conventions(inverse="power"), "tan^-1 x"),
        ("arcosh", Conventions(inverse="power"), "cosh^-1 x"),
        ("cosec", Conventions(cosecant="csc"), "csc x"),
        ("arccosec", Conventions(cosecant="csc"), "arccsc x"),
        ("arcosech", Conventions(cosecant="csc"), "arcsch x"),
        ("arccosec", Conventions(inverse="power", cosecant="csc"), "csc^-1 x"),
    ],
)
def test_conventions(name: str, habit: Conventions, text: str) -> None:
    assert plain(Apply(name, x), habit) == text


def test_the_default_name_is_the_name_in_the_tree() -> None:
    assert all(function_name(name, Conventions()).word == name for name in FUNCTIONS)


def test_greek() -> None:
    """The Unicode names of the characters are the outside source."""
    for name, letter in GREEK.items():
        size = "CAPITAL" if name.istitle() else "SMALL"
        spelt = {"lambda": "LAMDA"}.get(name.lower(), name.upper())
        assert unicodedata.name(letter) == f"GREEK {size} LETTER {spelt}"


@pytest.mark.parametrize(
    ("name", "parts"),
    [
        ("x", ("x", None)),
        ("C_1", ("C", "1")),
        ("x12", ("x", "12")),
        ("v_max", ("v", "max")),
        ("theta_0", ("theta", "0")),
        ("speed", ("speed", None)),
        ("a__1", ("a__1", None)),
        ("<b>", ("<b>", None)),
        ("x\n", ("x\n", None)),
    ],
)
def test_split_symbol(name: str, parts: tuple[str, str | None]) -> None:
    assert split_symbol(name) == parts


@pytest.mark.parametrize(
    ("tree", "habit", "rows"),
    [
        (
            Apply("arctan", x),
            Conventions(inverse="power"),
            (r"\tan^{-1} x", 'op("tan")^(-1) x', "inverse tangent of x"),
        ),
        (
            Power(Apply("arctan", x), Integer(2)),
            Conventions(inverse="power"),
            (
                r"(\tan^{-1} x)^{2}",
                '(op("tan")^(-1) x)^(2)',
                "open bracket inverse tangent of x close bracket squared",
            ),
        ),
        (
            Power(Apply("cosec", x), Integer(2)),
            Conventions(cosecant="csc"),
            (r"\csc^{2} x", 'op("csc")^(2) x', "cosecant squared of x"),
        ),
        (
            Apply("ln", Apply("abs", x)),
            Conventions(logarithm="log"),
            (r"\log\left| x \right|", 'op("log") abs(x)', "natural log of the modulus of x"),
        ),
        (
            Decimal("0.5") * x,
            Conventions(decimal=","),
            ("0{,}5x", '"0,5" x', "0 comma 5 x"),
        ),
    ],
    ids=str,
)
def test_conventions_in_every_target(
    tree: Expression, habit: Conventions, rows: tuple[str, str, str]
) -> None:
    assert (latex(tree, habit), typst(tree, habit), speech(tree, habit)) == rows
    texts = [part.text for part in mathml(tree, habit).iter() if part.text]
    shown = "".join(texts).translate({0x2061: None, 0x2062: None, 0x2212: "-"})
    assert shown == plain(tree, habit).replace(" ", "").replace("^", "")


def test_every_greek_letter_that_can_be_read_can_be_written() -> None:
    assert set(GREEK_LETTERS.items()) <= {(letter, name) for name, letter in GREEK.items()}
