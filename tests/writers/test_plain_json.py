"""Generic JSON against its schema, and used as a reader without algebra would use it."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import Any

import mpmath
import pytest
from jsonschema import Draft202012Validator
from lxml import etree

from qbank.items.item import Choice, Item, Option
from qbank.maths.conventions import Conventions
from qbank.maths.expression import (
    Apply,
    Constant,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
)
from qbank.maths.functions import FUNCTIONS
from qbank.maths.verdict import Witness
from qbank.writers.artifact import OWN_JSON
from qbank.writers.json_notations import Notations
from qbank.writers.plain_json import TOLERANCE, document, item_value
from tests.items.shipped import shipped_items
from tests.writers.qti.test_package import HOSTILE, hostile_deck
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
    """The value of an answer, each function as mpmath has it; the constant of integration is 0.

    Raises:
        ValueError: it has no real value there.
    """
    value = _value(tree, x)
    if not mpmath.isfinite(value) or mpmath.im(value) != 0:
        raise ValueError("no real value")
    return float(mpmath.re(value))


#: where mpmath's name differs from ours
_NAMES = {"ln": "log", "abs": "fabs", "cosec": "csc", "cosech": "csch"}


def _value(tree: Expression, x: float) -> Any:
    match tree:
        case Symbol(name):
            return mpmath.mpf(x if name == "x" else 0)
        case Constant(name):
            return {"pi": mpmath.pi, "e": mpmath.e}[name]
        case Integer(value):
            return mpmath.mpf(value)
        case Sum(terms):
            return mpmath.fsum(_value(term, x) for term in terms)
        case Product(factors):
            return mpmath.fprod(_value(factor, x) for factor in factors)
        case Negate(operand):
            return -_value(operand, x)
        case Quotient(over, under):
            return _value(over, x) / _value(under, x)
        case Power(root, exponent):
            return _value(root, x) ** _value(exponent, x)
        case Root(radicand, index):
            return mpmath.root(_value(radicand, x), index)
        case Apply(function, argument):
            undone = FUNCTIONS[function].inverse_of if function != "ln" else None
            name = _NAMES.get(undone or function, undone or function)
            return getattr(mpmath, f"a{name}" if undone else name)(_value(argument, x))
    raise AssertionError(tree)


def right_after_the_procedure(answer: Callable[[float], float], check: Any) -> bool:
    """The five-point formula: NIST Digital Library of Mathematical Functions, section 3.4(ii)."""
    h, tolerance, compared = 0.0001, float(check["tolerance"]), 0
    for point in check["points"]:
        x, wanted = float(point["at"]["decimal"]), float(point["value"])
        try:
            far, near, after, beyond = (answer(x + step * h) for step in (-2, -1, 1, 2))
        except ValueError:
            continue
        compared += 1
        slope = (far - 8 * near + 8 * after - beyond) / (12 * h)
        if not abs(slope - wanted) <= tolerance * max(1, abs(wanted)):
            return False
    return compared >= 2


@pytest.mark.parametrize("item", [cosine_power(2), cosine_power(7), free_cosine(3), definite_power(5, 9)])
def test_a_reader_without_algebra_marks_the_key_right(item: Item) -> None:
    check = item_value(item)["check"]
    answer = item.key if item.limits is None else Quotient(Integer(9) * X**6, Integer(6))
    assert check["tolerance"] == TOLERANCE
    assert right_after_the_procedure(lambda x: value_at(answer, x), check)


def options_of(item: Item) -> Iterator[tuple[Option, bool]]:
    """Each option, and whether the procedure finds it right."""
    assert isinstance(item.response, Choice)
    check = json.loads(json.dumps(item_value(item)["check"]))
    for option in item.response.options:
        yield option, right_after_the_procedure(partial(value_at, option.answer), check)


@pytest.mark.parametrize("number", [2, 3, 7])
def test_a_reader_without_algebra_marks_every_distractor_wrong(number: int) -> None:
    assert all(right == option.is_key for option, right in options_of(cosine_power(number)))


def test_a_reader_without_algebra_agrees_on_the_shipped_bank() -> None:
    tried = 0
    for item in shipped_items(2, 1):
        if isinstance(item.response, Choice) and item.limits is None:
            assert all(right == option.is_key for option, right in options_of(item)), item.identifier
            tried += 1
    assert tried >= 10


def test_a_small_error_is_seen() -> None:
    item = cosine_power(2)
    check = item_value(item)["check"]
    assert not right_after_the_procedure(lambda x: value_at(item.key, x) * (1 + 1e-4), check)


def test_notations_stand_where_their_marks_stood() -> None:
    """In whatever order they are dumped, and however often a statement occurs."""
    notations = Notations(Conventions())
    statements = {name: Symbol(name) for name in ("z", "x", "y")}
    marked = {name: notations.mark(one) for name, one in statements.items()} | {
        "a": notations.mark(Symbol("x"))
    }
    dumped = json.dumps({"text": 'a "0 of \\u0000 1', **marked}, sort_keys=True).encode()
    value = json.loads(notations.filled(dumped))
    assert {name: one["plain"] for name, one in value.items() if name != "text"} == {
        "a": "x",
        **{name: name for name in statements},
    }
    assert value["text"] == 'a "0 of \\u0000 1'


@pytest.mark.parametrize("text", ["\x000", "\x00", "\x001", "\x00-1"])
def test_no_text_is_taken_for_a_mark(text: str) -> None:
    """Cleaned texts have no such character, and an item that has it elsewhere is not written at all."""
    notations = Notations(Conventions())
    mark = notations.mark(X)
    with pytest.raises((ValueError, IndexError)):
        notations.filled(json.dumps([mark, text]).encode())
    with pytest.raises((ValueError, IndexError)):
        item_value(replace(cosine_power(2), technique=text))
    prompt = item_value(replace(cosine_power(2), prompt=(text,)))["prompt"]
    assert prompt == [{"text": text.replace("\x00", "\ufffd")}]
