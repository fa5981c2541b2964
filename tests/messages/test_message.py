"""A message is English text that remembers its sentence; prose has things in it that are no text."""

from __future__ import annotations

import copy
import gettext
import pickle
from io import BytesIO

import pytest
from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo

from qbank.messages import Message, Prose, in_language, is_spoken, language, prose, say, say_count, together


def test_a_message_is_the_text_and_knows_its_sentence() -> None:
    said = say("Divide by {number}.", number="3")
    assert said == "Divide by 3."
    assert (said.sentence, said.pieces) == ("Divide by {number}.", (("number", "3"),))


def test_a_gap_left_open_is_an_error() -> None:
    with pytest.raises(KeyError, match="number"):
        say("Divide by {number}.")
    with pytest.raises(KeyError, match="number"):
        prose("Divide by {number}.")


def test_it_goes_to_another_process_whole() -> None:
    inner = say("the angle")
    said = say("Half of {what}.", what=inner)
    for other in (pickle.loads(pickle.dumps(said)), copy.deepcopy(said)):
        assert other == said
        assert other.sentence == said.sentence
        assert other.pieces == said.pieces
        piece = other.pieces[0][1]
        assert isinstance(piece, Message)
        assert piece.sentence == "the angle"


def test_prose_goes_to_another_process_whole() -> None:
    said = prose("Add {number}.", number=2)
    for other in (pickle.loads(pickle.dumps(said)), copy.deepcopy(said)):
        assert other == said == ("Add ", 2, ".")
        assert isinstance(other, Prose)
        assert (other.sentence, other.pieces) == ("Add {number}.", (("number", 2),))


def test_text_in_a_gap_is_no_pattern() -> None:
    assert say("Read: {text}", text="{x} {").pieces == (("text", "{x} {"),)
    assert in_language(say("Read: {text}", text="{x} {"), "de") == "Read: {x} {"
    assert in_language(prose("Read: {text}", text="{x} {"), "de") == ("Read: {x} {",)
    assert in_language(together("{x", prose("{what}", what="}")), "de") == ("{x }",)


@pytest.fixture
def invented(monkeypatch: pytest.MonkeyPatch) -> None:
    """A language with three forms of a plural, its words in another order."""
    # the plural forms of Polish, as the GNU gettext manual has them (11.2.6)
    catalog = Catalog(locale="pl", charset="utf-8")
    catalog.add(("{count} line", "{count} lines"), ("{count} a", "{count} b", "{count} c"))
    catalog.add("{first} before {second}", "{second} po {first}")
    catalog.add("three", "trzy")
    out = BytesIO()
    write_mo(out, catalog)
    out.seek(0)
    translations = gettext.GNUTranslations(out)
    monkeypatch.setattr(language, "_catalogue", lambda tag: translations if tag == "pl" else None)


@pytest.mark.usefixtures("invented")
def test_another_language() -> None:
    counted = [
        in_language(say_count("{count} line", "{count} lines", count), "pl") for count in (1, 3, 5, 22)
    ]
    assert counted == ["1 a", "3 b", "5 c", "22 b"]
    assert [say_count("{count} line", "{count} lines", count) for count in (0, 1)] == ["0 lines", "1 line"]
    said = prose("{first} before {second}", first=say("three"), second=4)
    assert said == ("three before ", 4)
    assert in_language(said, "pl") == (4, " po trzy")
    assert in_language((said, "three", say("three")), "pl") == ((4, " po trzy"), "three", "trzy")
    assert in_language(together(said, say("three")), "pl") == (4, " po trzy trzy")
    assert in_language(together(), "pl") == ""
    assert type(in_language(say("three"), "en")) is str


def test_languages_by_their_tags() -> None:
    assert [tag for tag in ("de", "DE-at", "de-CH-1996", "en", "en-GB", "fr", "d", "") if is_spoken(tag)] == [
        "de", "DE-at", "de-CH-1996", "en", "en-GB",
    ]  # fmt: skip
