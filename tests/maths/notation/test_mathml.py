"""MathML: valid by the published schema, well formed as Core wants it, and safe with any name."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from lxml import etree

from qbank.maths.conventions import Conventions
from qbank.maths.expression import Decimal, Integer, Negate, Symbol
from qbank.maths.notation import mathml, mathml_text, speech
from qbank.maths.notation.mathml import MATHML, quoted
from tests.maths.notation.cases import CASES
from tests.maths.strategies import statements

#: elements of MathML Core (W3C MathML Core, section 2.1) that the writer uses
CORE = {
    "math",
    "mrow",
    "mi",
    "mn",
    "mo",
    "mspace",
    "mfrac",
    "msqrt",
    "mroot",
    "mstyle",
    "msub",
    "msup",
    "msubsup",
    "munder",
}


def name_of(element: etree._Element) -> str:
    return etree.QName(element).localname


@pytest.mark.reference
@pytest.mark.parametrize("name", CASES)
def test_goldens_are_valid(name: str, schema: etree.XMLSchema) -> None:
    for display in (False, True):
        schema.assertValid(etree.fromstring(mathml_text(CASES[name], display=display)))


@pytest.mark.reference
def test_the_schema_can_refuse(schema: etree.XMLSchema) -> None:
    assert not schema.validate(etree.fromstring(f'<math xmlns="{MATHML}"><mfrac><mi>x</mi></mfrac></math>'))


@pytest.mark.reference
@settings(max_examples=60)
@given(tree=statements())
def test_every_statement_is_valid(tree: object, schema: etree.XMLSchema) -> None:
    schema.assertValid(mathml(tree, display=True))  # type: ignore[arg-type]


@settings(max_examples=60)
@given(tree=statements())
def test_only_core_elements_and_full_scripts(tree: object) -> None:
    wanted = {"mfrac": 2, "msup": 2, "msub": 2, "msubsup": 3, "munder": 2, "mroot": 2, "msqrt": 1, "math": 1}
    for element in mathml(tree).iter():  # type: ignore[arg-type]
        assert name_of(element) in CORE
        assert len(element) == wanted.get(name_of(element), len(element))


@pytest.mark.parametrize("name", CASES)
def test_alternative_text_is_the_spoken_words(name: str) -> None:
    assert mathml(CASES[name]).get("alttext") == speech(CASES[name])


def test_a_negative_number_has_its_own_row() -> None:
    row = mathml(Negate(Integer(3)) + Symbol("x"))[0]
    assert [name_of(part) for part in row] == ["mrow", "mo", "mi"]
    assert [part.text for part in row[0]] == ["\u2212", "3"]


def test_display() -> None:
    assert mathml(Symbol("x"), display=True).get("display") == "block"
    assert mathml(Symbol("x")).get("display") is None


def test_decimal_comma() -> None:
    element = mathml(Decimal("0.5"), Conventions(decimal=","))
    assert (element[0].text, element.get("alttext")) == ("0,5", "0 comma 5")


@settings(max_examples=60)
@given(tree=statements())
def test_the_text_is_what_an_xml_library_would_write(tree: object) -> None:
    text = mathml_text(tree, display=True)  # type: ignore[arg-type]
    assert etree.tostring(mathml(tree, display=True), encoding="unicode") == text  # type: ignore[arg-type]


@given(name=st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), min_size=1, max_size=8))
def test_so_is_any_name(name: str) -> None:
    assume("\ufffe" not in name and "\uffff" not in name)
    for text in (name, f"<\n\t{name}\r&>", f'"{name}"', f"?>{name}]]>"):
        markup = f'<p title="{quoted(text)}">{mathml_text(Symbol(text))}</p>'
        assert etree.tostring(etree.fromstring(markup), encoding="unicode") == markup
        assert etree.fromstring(markup).get("title") == text
        assert text == name or etree.fromstring(markup)[0][0].text == text


@pytest.mark.parametrize("sign", ["\x00", "\x0b", "\x1f", "\ud800", "\ufffe"])
def test_characters_that_xml_forbids_are_refused(sign: str) -> None:
    with pytest.raises(ValueError, match="XML forbids"):
        mathml_text(Symbol(f"a{sign}"))


@given(name=st.text(st.characters(codec="utf-8", exclude_categories=["C"]), min_size=1, max_size=8))
def test_a_name_never_becomes_markup(name: str) -> None:
    math = etree.fromstring(mathml_text(Symbol(name)))
    assert {name_of(element) for element in math.iter()} <= {"math", "mi", "mn", "msub"}
