"""Coefficients in generic JSON, marked as the schema describes it: exactly, and by differentiation with floats alone."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from qbank.items.deck import Section
from qbank.writers.plain_json import document, item_value
from tests.items.forms import TEMPLATES, form_of, item_of
from tests.writers.sample_items import deck

SCHEMA: dict[str, Any] = json.loads(
    (Path(__file__).resolve().parents[2] / "schemas" / "items.schema.json").read_text(encoding="utf-8")
)
FRACTIONS = [name for name in TEMPLATES if "decimals" not in name]


def response(name: str) -> dict[str, Any]:
    value: dict[str, Any] = json.loads(json.dumps(item_value(item_of(name))["response"]))
    return value


def by_differentiation(form: dict[str, Any], values: list[Fraction]) -> bool:
    tolerance = float(form["tolerance"])
    return all(
        abs(sum(float(c) * float(s) for c, s in zip(values, p["slopes"], strict=True)) - float(p["value"]))
        <= tolerance
        for p in form["points"]
    )


def exactly(form: dict[str, Any], values: list[Fraction]) -> bool:
    rest = [v - Fraction(right["exact"]) for v, right in zip(values, form["values"], strict=True)]
    relations = [[Fraction(one["exact"]) for one in relation] for relation in form["relations"]]
    for relation in relations:
        others = [other for other in relations if other is not relation]
        free = next(
            place
            for place, one in enumerate(relation)
            if one == 1 and not any(other[place] for other in others)
        )
        part = rest[free]
        rest = [number - part * one for number, one in zip(rest, relation, strict=True)]
    return not any(rest)


@pytest.mark.parametrize("name", TEMPLATES)
def test_valid_against_the_schema(name: str) -> None:
    section = Section(template=name, title=name, items=(item_of(name),))
    text = b"".join(piece.data for piece in document(deck(section)))
    assert not list(Draft202012Validator(SCHEMA).iter_errors(json.loads(text)))


@pytest.mark.parametrize("name", FRACTIONS)
@settings(deadline=None, max_examples=50)
@given(data=st.data())
def test_both_procedures_agree(name: str, data: st.DataObject) -> None:
    form = response(name)
    values = [Fraction(one["exact"]) for one in form["values"]]
    for relation in form["relations"]:
        many = data.draw(st.fractions(-3, 3, max_denominator=6))
        values = [v + many * Fraction(one["exact"]) for v, one in zip(values, relation, strict=True)]
    assert exactly(form, values)
    assert by_differentiation(form, values)
    place = data.draw(st.integers(0, len(values) - 1))
    values[place] = data.draw(
        st.one_of(st.just(values[place] + Fraction(1, 1000)), st.fractions(-9, 9, max_denominator=90))
    )
    assert exactly(form, values) == by_differentiation(form, values) == form_of(name).is_right(tuple(values))


@pytest.mark.parametrize("name", FRACTIONS)
def test_slips_are_wrong_both_ways(name: str) -> None:
    form = response(name)
    for slip in form["slips"]:
        values = [Fraction(one["exact"]) for one in slip["values"]]
        assert not exactly(form, values)
        assert not by_differentiation(form, values)


def test_decimals_state_their_places() -> None:
    assert response("decimals")["entry"] == {"kind": "decimals", "places": 4}
    assert response("fourth-power")["entry"] == {"kind": "fractions", "bound": 1000}
