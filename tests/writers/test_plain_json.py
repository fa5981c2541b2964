"""Generic JSON against its schema, and used as a reader without algebra would use it."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from lxml import etree

from qbank.items.item import Choice, Item
from qbank.maths.conventions import Conventions
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Sum,
    Symbol,
)
from qbank.maths.verdict import Witness
from qbank.writers.artifact import OWN_JSON
from qbank.writers.plain_json import TOLERANCE, document, item_value
from tests.writers.qti3.test_package import HOSTILE, hostile_deck
from tests.writers.sample_items import X, cosine_power, deck, definite_power, free_cosine

SCHEMA_FILE = Path(__file__).resolve().parents[2] / "schemas" / "items.schema.json"
SCHEMA: dict[str, Any] = json.loads(SCHEMA_FILE.read_text(encoding="utf-8"))


def text_of(sample: Any) -> str:
    return b"".join(piece.data for piece in document(sample)).decode("utf-8")


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(SCHEMA)


def test_every_field_is_described() -> None:
    def fields(node: Any) -> None:
        if isinstance(node, dict):
            for name, field in node.get("properties", {}).items():
                if node.get("additionalProperties") is False:
                    assert field.get("description"), name
            for part in node.values():
                fields(part)
        elif isinstance(node, list):
            for part in node:
                fields(part)

    fields(SCHEMA)
    assert all(definition.get("description") for definition in SCHEMA["$defs"].values())


@pytest.mark.parametrize("sample", [deck(), hostile_deck(), deck(authors=(), sections=())])
def test_valid_against_the_schema(sample: Any) -> None:
    faults = list(Draft202012Validator(SCHEMA).iter_errors(json.loads(text_of(sample))))
    assert not faults


@pytest.mark.parametrize(
    "change",
    [
        lambda item: item.update(form="numeric"),
        lambda item: item.pop("check"),
        lambda item: item.update(more=1),
        lambda item: item["response"]["options"][0].update(key=True),
        lambda item: item["key"].pop("speech"),
        lambda item: item["parameters"][0]["value"].update(decimal="1,5"),
    ],
)
def test_the_schema_refuses_what_it_should(change: Callable[[Any], Any]) -> None:
    value = json.loads(text_of(deck()))
    assert not list(Draft202012Validator(SCHEMA).iter_errors(value))
    change(value["items"][0])
    assert list(Draft202012Validator(SCHEMA).iter_errors(value))


def test_one_item_to_a_line() -> None:
    head, *lines, end, last = text_of(deck()).split("\n")
    assert head.startswith(OWN_JSON.decode())
    assert (end, last) == ("]}", "")
    identifiers = [json.loads(line.removesuffix(","))["identifier"] for line in lines]
    assert identifiers == [item.identifier for section in deck().sections for item in section.items]


def test_hostile_texts_come_back_as_texts() -> None:
    value = json.loads(text_of(hostile_deck()))
    for item, text in zip(value["items"], HOSTILE, strict=True):
        shown = item["prompt"][0]["text"]
        assert len(shown) == len(text)
        assert all(ours in (theirs, "\ufffd") for ours, theirs in zip(shown, text, strict=True))


def test_mathml_is_well_formed_and_says_the_words() -> None:
    key = item_value(cosine_power(2))["key"]
    math_element = etree.fromstring(key["mathml"])
    assert math_element.get("alttext") == key["speech"]


def test_bounds_are_never_wider_than_the_exact_ones() -> None:
    response = item_value(definite_power(3))["response"]
    for interval in (response["accepted"], response["slips"][0]["recognised"]):
        assert Fraction(interval["lower"]["exact"]) <= Fraction(interval["lower"]["decimal"])
        assert Fraction(interval["upper"]["exact"]) >= Fraction(interval["upper"]["decimal"])


def test_an_enclosure_is_never_narrower_than_the_exact_one() -> None:
    enclosure = item_value(definite_power(2, Fraction(1, 7)))["enclosure"]
    assert Fraction(enclosure["lower"]["exact"]) >= Fraction(enclosure["lower"]["decimal"])
    assert Fraction(enclosure["upper"]["exact"]) <= Fraction(enclosure["upper"]["decimal"])


def test_a_witness_with_other_letters() -> None:
    item = cosine_power(2)
    assert isinstance(item.response, Choice)
    witness = Witness(point=Fraction(1, 3), left="1", right="2", others=(("a", Fraction(-1, 2)),))
    options = tuple(one if one.is_key else replace(one, evidence=witness) for one in item.response.options)
    value = item_value(replace(item, response=Choice(options=options)))
    shown = value["response"]["options"][0]["witness"]
    assert shown["others"] == [{"name": "a", "value": {"exact": "-1/2", "decimal": "-0.5"}}]


def test_the_schools_conventions_are_kept() -> None:
    item = replace(cosine_power(2), conventions=Conventions(constant="k"))
    assert item_value(item)["key"]["plain"].endswith("+ k")


# ---- marking by the procedure that the schema describes, without any algebra


def value_at(tree: Expression, x: float) -> float:
    """The value of an answer in floating point; the constant of integration is 0."""
    match tree:
        case Symbol(name):
            return x if name == "x" else 0.0
        case Integer(value):
            return float(value)
        case Sum(terms):
            return sum(value_at(term, x) for term in terms)
        case Product(factors):
            return math.prod(value_at(factor, x) for factor in factors)
        case Negate(operand):
            return -value_at(operand, x)
        case Quotient(over, under):
            return value_at(over, x) / value_at(under, x)
        case Power(root, exponent):
            return float(value_at(root, x) ** value_at(exponent, x))
        case Apply(function, argument):
            return float(getattr(math, function)(value_at(argument, x)))
    raise AssertionError(tree)


def right_after_the_procedure(answer: Callable[[float], float], check: Any) -> bool:
    """The five-point formula: NIST Digital Library of Mathematical Functions, section 3.4(ii)."""
    h, tolerance = 0.0001, float(check["tolerance"])
    for point in check["points"]:
        x, wanted = float(point["at"]["decimal"]), float(point["value"])
        slope = (answer(x - 2 * h) - 8 * answer(x - h) + 8 * answer(x + h) - answer(x + 2 * h)) / (12 * h)
        if not abs(slope - wanted) <= tolerance * max(1, abs(wanted)):
            return False
    return True


@pytest.mark.parametrize("item", [cosine_power(2), cosine_power(7), free_cosine(3), definite_power(5, 9)])
def test_a_reader_without_algebra_marks_the_key_right(item: Item) -> None:
    check = item_value(item)["check"]
    answer = item.key if item.limits is None else Quotient(Integer(9) * X**6, Integer(6))
    assert check["tolerance"] == TOLERANCE
    assert right_after_the_procedure(lambda x: value_at(answer, x), check)


@pytest.mark.parametrize("number", [2, 3, 7])
def test_a_reader_without_algebra_marks_every_distractor_wrong(number: int) -> None:
    item = cosine_power(number)
    assert isinstance(item.response, Choice)
    check = item_value(item)["check"]
    for option in item.response.options:
        answer = option.answer
        assert right_after_the_procedure(lambda x, answer=answer: value_at(answer, x), check) == option.is_key  # type: ignore[misc]


def test_a_small_error_is_seen() -> None:
    item = cosine_power(2)
    check = item_value(item)["check"]
    assert not right_after_the_procedure(lambda x: value_at(item.key, x) * (1 + 1e-4), check)
