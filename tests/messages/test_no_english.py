"""What items and marks say in another language is all of the catalogue or of the bank: none of it stays English.

The catalogue is replaced by one of signs. Whatever word is left in an exported package or in a mark has passed by the
catalogue, unless the author of the bank wrote it, or a student.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from lxml import etree

from qbank.bank.model import Bank, Template
from qbank.cli.arguments import open_bank
from qbank.items.cloning import clones
from qbank.items.deck import Section
from qbank.items.decking import deck_of
from qbank.items.setting import set_test
from qbank.marking import AntiderivativeMarker, DefiniteMarker
from qbank.maths.expression import Integer, Symbol, cos
from qbank.maths.reading.errors import CODES
from qbank.writers import WRITERS
from qbank.writers.plain_json import item_value
from tests.cli.test_shipped import LIBRARY
from tests.messages.signs import SIGN, speak_in_signs, words
from tests.writers.qti12.reading import as_xml, members

GERMAN = open_bank(LIBRARY / "saltmarrow-deutsch.yaml")
X = Symbol("x")

_MATHML = "{http://www.w3.org/1998/Math/MathML}"
#: names in formulas, which are the same in every language
_FORMULA = frozenset(
    {"pi", "ln", "sin", "cos", "tan", "abs", "sqrt", "root", "exp", "arctan", "arcsin", "dx"}
)


@pytest.fixture(autouse=True)
def signs(monkeypatch: pytest.MonkeyPatch) -> None:
    speak_in_signs(monkeypatch)


def own_words() -> frozenset[str]:
    """What the author of the bank wrote."""
    texts = [GERMAN.title, *GERMAN.authors, GERMAN.licence]
    texts += [template.title for template in GERMAN.templates]
    texts += [one.feedback for template in GERMAN.templates for one in template.distractors]
    for test in GERMAN.tests:
        texts += [test.title, test.instructions, *(section.title for section in test.sections)]
    return frozenset(words(texts))


def seen(top: Any) -> Iterator[str]:
    """What people see or hear of an element: texts outside formulas, and the words for formulas and boxes."""
    for element in top.iter("*"):
        formula = element.tag.startswith(_MATHML)
        data = etree.QName(element).localname.lower().endswith("value")
        if element.text and not formula and not data:
            yield element.text
        if (
            element.tail
            and element.getparent() is not None
            and not element.getparent().tag.startswith(_MATHML)
        ):
            yield element.tail
        yield from (
            str(element.get(name)) for name in ("alttext", "aria-label", "title") if element.get(name)
        )


def titles(top: Any) -> Iterator[str]:
    return (str(element.get("title")) for element in top.iter("*") if element.get("title"))


def seen_in_json(value: Any, name: str = "") -> Iterator[str]:
    match value:
        case dict():
            for key, inner in value.items():
                yield from () if key in ("proof", "source", "sections") else seen_in_json(inner, key)
        case list():
            for inner in value:
                yield from seen_in_json(inner, name)
        case str() if name in ("title", "text", "reason", "speech", "instructions"):
            yield value


def left_over(texts: Iterator[str]) -> set[str]:
    return words(texts) - own_words() - _FORMULA


@pytest.fixture(scope="module")
def sections() -> tuple[Section, ...]:
    with pytest.MonkeyPatch.context() as patch:
        speak_in_signs(patch)
        return tuple(
            Section(
                template=template.identifier,
                title=template.title,
                items=tuple(clones(GERMAN, template, len(template.responses), 5)),
            )
            for template in GERMAN.templates
        )


def test_the_bank_has_items_of_every_form(sections: tuple[Section, ...]) -> None:
    forms = {item.form for section in sections for item in section.items}
    assert forms >= {
        "choice", "several-answers", "matching", "numeric", "evaluation", "coefficients", "free-expression",
        "first-step", "find-fault",
    }  # fmt: skip


@pytest.mark.parametrize("name", ["qti3", "qti21", "cc", "json"])
def test_packages(name: str, sections: tuple[Section, ...]) -> None:
    deck = deck_of(GERMAN, 5, sections, source=None)
    texts: list[str] = []
    for path, data in members(WRITERS[name].write(deck)).items():
        if path.endswith(".json"):
            texts += seen_in_json(json.loads(data))
        elif path.endswith(".xml") and "manifest" not in path:
            top = etree.fromstring(data)
            for material in top.iter("{*}mattext"):
                texts += seen(as_xml(material.text or ""))
                material.text = None
            # the fields of a cartridge have names and values that nobody sees
            texts += seen(top) if name != "cc" else titles(top)
    assert len(texts) > 100
    assert any(SIGN in text for text in texts)
    assert not left_over(iter(texts))


def without_own_words(template: Template) -> Template:
    asked = None if template.application is None else replace(template.application, setting="")
    told = tuple(replace(one, feedback="") for one in template.distractors)
    return replace(template, application=asked, distractors=told)


def every_technique_and_form() -> Iterator[tuple[Bank, Template]]:
    """Of the banks that come with the package, one template for each technique and form, German for the time being."""
    met = set()
    for path in sorted(LIBRARY.glob("*.yaml")):
        bank = open_bank(path)
        speaking = replace(bank, language="de", conventions=replace(bank.conventions, language="de"))
        for template in map(without_own_words, bank.templates):
            for form in template.responses:
                if (template.technique, form) not in met:
                    met.add((template.technique, form))
                    yield speaking, replace(template, responses=(form,))


def test_every_technique_and_form() -> None:
    count = 0
    for bank, template in every_technique_and_form():
        (item,) = clones(bank, template, 1, 4)
        assert not left_over(seen_in_json(item_value(item))), (bank.identifier, template.identifier)
        count += 1
    assert count > 60


def test_parallel_forms_of_a_test() -> None:
    deck = set_test(GERMAN, GERMAN.tests[0], count=4, seed=2, forms=2)
    assert not left_over(paper.title for paper in deck.papers)
    assert all(SIGN in paper.title for paper in deck.papers)


@pytest.mark.parametrize("response", [
    "x^2 sin x", "sin x^2 + C", "1/3 sin 3x + C", "sin(3x)/3", "-sin(3x)/3 + C", "sin 3x + C", "3 cos 3x", "-3 sin 3x",
    "sin(3t)/3", "ln(x)", "1/3sin3x", "sin-1 x", "log x + C", "x^2, 3", *(code.example for code in CODES.values()),
])  # fmt: skip
def test_marks(response: str) -> None:
    mark = AntiderivativeMarker(cos(3 * X), X).mark(response).in_language("de")
    # the Unicode name of a character is the same in every language
    given = words([response]) | {"number", "sign"}
    assert not left_over(iter([mark.message, *(one.sentence for one in mark.remarks)])) - given


@pytest.mark.parametrize("response", ["8/3", "2.67", "2.7", "8", "x", "5", "8/3 + C", "sqrt(-1)", "3.33"])
def test_marks_of_values(response: str) -> None:
    mark = DefiniteMarker(X**2, X, Integer(0), Integer(2)).mark(response).in_language("de")
    assert not left_over(iter([mark.message, *(one.sentence for one in mark.remarks)]))


def test_a_sentence_that_passes_by_is_found() -> None:
    assert left_over(iter(["· ···", "Let x = 2"])) == {"Let"}
    assert left_over(seen(as_xml("<p title='A title'>·· <b>one</b> two</p>"))) == {"title", "one", "two"}
