"""Coefficients in packages: response processing of every generation against the exact marker, case by case."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.cli.arguments import open_bank
from qbank.items.cloning import clones
from qbank.items.deck import Deck, Section
from qbank.items.item import Coefficients, FractionEntry, Item
from qbank.marking.coefficients import CoefficientsMarker
from qbank.writers.numbers import decimal_text
from qbank.writers.qti import QTI3, QTI21, QTI22, Generation, package
from qbank.writers.qti.coefficients import denominator_name, number_name, numerator_name
from qbank.writers.qti.item import item_document
from tests.items.forms import TEMPLATES, form_of, item_of
from tests.writers.qti.processor import run
from tests.writers.sample_items import deck
from tests.writers.validating import validate

FRACTIONS = [name for name in TEMPLATES if "decimals" not in name]
DECIMALS = [name for name in TEMPLATES if "decimals" in name]

#: the boxes of one coefficient, as texts; None for blank
Pair = tuple[str | None, str | None]


@cache
def documents(name: str) -> tuple[bytes, ...]:
    return tuple(item_document(item_of(name), one, shuffle=True) for one in (QTI3, QTI22, QTI21))


def outcome(name: str, responses: Mapping[str, Any]) -> dict[str, Any]:
    first, *others = (run(document, responses) for document in documents(name))
    assert all(other == first for other in others)
    return first


def boxes(form: Coefficients, pairs: list[Pair]) -> dict[str, str]:
    typed = {}
    for letter, (above, below) in zip(form.letters, pairs, strict=True):
        typed.update({numerator_name(letter.name): above, denominator_name(letter.name): below})
    return {name: text for name, text in typed.items() if text is not None}


def expected(item: Item, form: Coefficients, pairs: list[Pair]) -> int:
    """Marks by the exact marker; what it cannot read has none."""
    typed = {
        letter.name: f"({above})/({below})"
        for letter, (above, below) in zip(form.letters, pairs, strict=True)
        if above is not None and below is not None
    }
    mark = CoefficientsMarker(form, item.marks, conventions=item.conventions).mark(typed)
    return round((mark.score or 0) * item.marks)


def pair(value: Fraction, times: int = 1) -> Pair:
    return str(value.numerator * times), str(value.denominator * times)


def check(name: str, pairs: list[Pair]) -> dict[str, Any]:
    item, form = item_of(name), form_of(name)
    found = outcome(name, boxes(form, pairs))
    assert found["SCORE"] == expected(item, form, pairs), pairs
    return found


@pytest.mark.parametrize("name", FRACTIONS)
def test_right_in_every_guise(name: str) -> None:
    form = form_of(name)
    for times in (1, 2, -1, -3):
        found = check(name, [pair(value, times) for value in form.values])
        assert found == {
            "SCORE": item_of(name).marks,
            "MAXSCORE": item_of(name).marks,
            "FEEDBACK": "RIGHT",
            "SOLUTION": "WORKED",
        }


def changes(form: Coefficients) -> Iterator[tuple[Fraction, ...]]:
    """Near misses, swapped and negated numbers, one number wrong, all wrong."""
    assert isinstance(form.entry, FractionEntry)
    near = Fraction(1, 1000)
    for place, value in enumerate(form.values):
        for other in (value + near, value - near, value + 1, -value, 1 / value if value else value + 2):
            typed = other.limit_denominator(form.entry.bound)
            yield (*form.values[:place], typed, *form.values[place + 1 :])
    yield form.values[1:] + form.values[:1]
    yield tuple(reversed(form.values))
    yield (Fraction(0),) * len(form.values)
    yield tuple(value + 1 for value in form.values)


@pytest.mark.parametrize("name", FRACTIONS)
def test_wrong_and_nearly_right(name: str) -> None:
    item, form = item_of(name), form_of(name)
    for values in changes(form):
        found = check(name, [pair(value) for value in values])
        assert (found["SCORE"] == item.marks) == form.is_right(values), values


@pytest.mark.parametrize("name", FRACTIONS)
def test_a_reader_that_lets_decimals_into_the_boxes_still_refuses_near_misses(name: str) -> None:
    item, form = item_of(name), form_of(name)
    for place in range(len(form.letters)):
        for off in (1e-3, -1e-3, 2e-4):
            numbers = [float(value) for value in form.values]
            numbers[place] += off
            typed: dict[str, float] = {}
            for letter, number in zip(form.letters, numbers, strict=True):
                typed.update({numerator_name(letter.name): number, denominator_name(letter.name): 1.0})
            found = outcome(name, typed)
            assert found["SCORE"] < item.marks
            assert found["FEEDBACK"] != "RIGHT"


@pytest.mark.parametrize("name", FRACTIONS)
def test_blank_and_malformed(name: str) -> None:
    form = form_of(name)
    right = [pair(value) for value in form.values]
    for place in range(len(right)):
        above, below = right[place]
        for typed in (None, "1/8", "ln 2", "0,125", "abc", "", "3 4"):
            for changed in ((typed, below), (above, typed)):
                pairs = [*right[:place], changed, *right[place + 1 :]]
                # the marker reads "3/8" and more in one box, the boxes of a package do not
                found = outcome(name, boxes(form, pairs))
                rest: list[Pair] = [*right[:place], (None, None), *right[place + 1 :]]
                assert found["SCORE"] == expected(item_of(name), form, rest)
                assert found["FEEDBACK"] == ("PART" if found["SCORE"] else "UNREAD")
        for zero in ((above, "0"), ("0", "0")):
            found = outcome(name, boxes(form, [*right[:place], zero, *right[place + 1 :]]))
            assert found["SCORE"] < item_of(name).marks
    assert outcome(name, {})["FEEDBACK"] == "UNREAD"
    assert outcome(name, {})["SOLUTION"] is None


@pytest.mark.parametrize("name", FRACTIONS)
def test_readers_that_make_numbers_of_anything(name: str) -> None:
    """Where a system hands on what is no number as NaN or as 0, or a blank as 0, nothing is given for it."""
    form = form_of(name)
    for nothing in (math.nan, math.inf, 0):
        names = (
            one
            for letter in form.letters
            for one in (numerator_name(letter.name), denominator_name(letter.name))
        )
        assert outcome(name, dict.fromkeys(names, nothing))["SCORE"] == 0


@pytest.mark.parametrize("name", FRACTIONS)
def test_beyond_the_bound_is_not_read(name: str) -> None:
    form = form_of(name)
    assert isinstance(form.entry, FractionEntry)
    first = next(place for place, value in enumerate(form.values) if value)
    times = form.entry.bound // max(abs(form.values[first].numerator), form.values[first].denominator) + 1
    right = [pair(value) for value in form.values]
    found = outcome(name, boxes(form, [*right[:first], pair(form.values[first], times), *right[first + 1 :]]))
    assert found["FEEDBACK"] in ("UNREAD", "PART")
    assert found["SCORE"] < item_of(name).marks


@pytest.mark.parametrize("name", TEMPLATES)
def test_slips_have_their_feedback_and_what_is_right_in_them(name: str) -> None:
    item, form = item_of(name), form_of(name)
    marker = CoefficientsMarker(form, item.marks)
    for number, slip in enumerate(form.slips):
        if isinstance(form.entry, FractionEntry):
            typed = boxes(form, [pair(value, 2) for value in slip.values])
        else:
            rounded = [decimal_text(round(v, form.entry.places)) for v in slip.values]
            typed = {number_name(a.name): text for a, text in zip(form.letters, rounded, strict=True)}
        found = outcome(name, typed)
        assert found["FEEDBACK"] == f"SLIP{number + 1}"
        answers = {a.name: str(v) for a, v in zip(form.letters, slip.values, strict=True)}
        mark = marker.mark(answers)
        assert (mark.slip, round((mark.score or 0) * item.marks)) == (slip.slip, found["SCORE"])


@pytest.mark.parametrize("name", FRACTIONS)
@settings(deadline=None, max_examples=40)
@given(data=st.data())
def test_any_fractions_agree_with_the_marker(name: str, data: st.DataObject) -> None:
    form = form_of(name)
    values = list(form.values)
    for relation in form.relations:
        many = data.draw(st.fractions(-3, 3, max_denominator=6))
        values = [v + many * one for v, one in zip(values, relation.coefficients, strict=True)]
    if data.draw(st.booleans()):
        place = data.draw(st.integers(0, len(values) - 1))
        values[place] = data.draw(st.fractions(-30, 30, max_denominator=90))
    found = check(name, [pair(value, data.draw(st.sampled_from([1, 1, -1]))) for value in values])
    assert (found["FEEDBACK"] == "RIGHT") == form.is_right(tuple(values))


@pytest.mark.parametrize("name", DECIMALS)
def test_decimals_agree_with_the_marker(name: str) -> None:
    item, form = item_of(name), form_of(name)
    assert not isinstance(form.entry, FractionEntry)
    marker = CoefficientsMarker(form, item.marks, conventions=item.conventions)
    unit = Fraction(1, 10**form.entry.places)
    rounded = [round(value, form.entry.places) for value in form.values]
    rows = [rounded, list(reversed(rounded)), [-value for value in rounded]]
    for place in range(len(rounded)):
        rows += [[*rounded[:place], rounded[place] + n * unit, *rounded[place + 1 :]] for n in (1, -1, 1000)]
        rows.append([*rounded[:place], rounded[place] + unit / 1000, *rounded[place + 1 :]])
    for row in rows:
        texts = {letter.name: decimal_text(value) for letter, value in zip(form.letters, row, strict=True)}
        mark = marker.mark(texts)
        found = outcome(name, {number_name(letter): text for letter, text in texts.items()})
        assert found["SCORE"] == round((mark.score or 0) * item.marks), row
    right = {number_name(a.name): decimal_text(v) for a, v in zip(form.letters, rounded, strict=True)}
    assert outcome(name, right)["FEEDBACK"] == "RIGHT"
    for variable in right:
        for nothing in (None, math.nan, 0.0, "1/8", "abc"):
            assert outcome(name, right | {variable: nothing})["SCORE"] < item.marks
    assert outcome(name, {})["FEEDBACK"] == "UNREAD"


def test_clones_of_the_shipped_bank() -> None:
    bank = open_bank(None)
    seen = []
    for template in bank.templates:
        if "coefficients" not in template.responses:
            continue
        for item in clones(bank, template, 4, 11):
            if isinstance(item.response, Coefficients):
                seen.append(template.identifier)
                agreement(item, item.response)
    assert len(seen) >= 3
    assert len(set(seen)) >= 2


def agreement(item: Item, form: Coefficients) -> None:
    written = [item_document(item, one, shuffle=True) for one in (QTI3, QTI22, QTI21)]
    for values in (form.values, *(slip.values for slip in form.slips), *changes(form)):
        pairs = [pair(value) for value in values]
        for document in written:
            found = run(document, boxes(form, pairs))
            assert found["SCORE"] == expected(item, form, pairs), values
            assert (found["FEEDBACK"] == "RIGHT") == (values == form.values)


def test_the_boxes_are_labelled_and_the_solution_names_the_numbers() -> None:
    document = documents("fourth-power")[0].decode()
    assert 'aria-label="Numerator of P"' in document
    assert 'aria-label="Denominator of R"' in document
    assert "from −1000 to 1000" in document
    assert "one of the right answers" in documents("two-squares")[0].decode()
    assert 'aria-label="P, as a decimal number"' in documents("decimals")[0].decode()


@pytest.mark.parametrize("generation", [QTI3, QTI22, QTI21], ids=lambda one: one.version)
def test_packages_are_valid(generation: Generation, shared: Path, tmp_path: Path) -> None:
    items = tuple(item_of(name) for name in TEMPLATES)
    sections = tuple(
        Section(template=name, title=name, items=(item,)) for name, item in zip(TEMPLATES, items, strict=True)
    )
    for name, artifact in ((a.path, a) for a in package(numbered(sections), generation)):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        with (tmp_path / name).open("ab") as file:
            file.write(artifact.data)
    validate(shared, tmp_path)


def numbered(sections: tuple[Section, ...]) -> Deck:
    """A deck of these sections, with an identifier of its own for each item."""
    changed = tuple(
        replace(
            section,
            items=tuple(replace(item, identifier=f"form-{number}") for item in section.items),
        )
        for number, section in enumerate(sections)
    )
    return deck(*changed)
