"""Hostile characters: what XML 1.0 (production 2) forbids and what reorders text never gets through."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from qbank.writers.characters import clean, one_line


@settings(max_examples=100)
@given(st.text(st.characters(), max_size=20))
def test_whatever_was_typed_the_text_can_stand_in_xml(text: str) -> None:
    element = etree.Element("p")
    element.text = clean(text)
    element.set("title", one_line(text))
    again = etree.fromstring(etree.tostring(element))
    assert (again.text or "").replace("\r", "\n") == clean(text).replace("\r", "\n")


def test_every_forbidden_character_is_replaced() -> None:
    allowed = {0x9, 0xA, 0xD}
    for code in (*range(0x20), 0xD800, 0xDFFF, 0xFFFE, 0xFFFF):
        assert clean(chr(code)) == (chr(code) if code in allowed else "\ufffd")


def test_overrides_and_embeddings_are_replaced_but_isolates_stay() -> None:
    # Unicode Standard Annex 9, section 2: explicit directional embeddings, overrides and isolates
    for code in range(0x202A, 0x202F):
        assert clean(chr(code)) == "\ufffd"
    for code in range(0x2066, 0x206A):
        assert clean(chr(code)) == chr(code)


def test_characters_of_mathematics_and_of_languages_stay() -> None:
    text = "∫ x² dx, Größe, שלום, 微分, 𝑥"
    assert clean(text) == text
