"""Items of the shipped bank: every generation and the marker give the same score to the same responses.

The responses: each option of a choice, the right number, numbers on and beyond each bound, slips, nothing, and texts
that are no number, as systems have been seen to read them.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any

import pytest

from qbank.bank.model import Bank, Template
from qbank.cli.arguments import open_bank
from qbank.items.cloning import clones
from qbank.items.item import (
    Choice,
    Coefficients,
    FractionEntry,
    FreeExpression,
    Item,
    Matching,
    Numeric,
    SeveralAnswers,
)
from qbank.maths.enclosing import enclose
from qbank.maths.notation import plain
from qbank.writers.numbers import decimal_text
from qbank.writers.qti import QTI3, QTI21, QTI22
from qbank.writers.qti.item import item_document
from qbank.writers.qti.processing import slip_name
from tests.marking.markers import marker_of
from tests.writers.qti.processor import run
from tests.writers.qti.test_coefficients import boxes, expected, pair

GENERATIONS = (QTI3, QTI22, QTI21)

#: what a system may make of a text that is no number: NULL, not a number, or zero
READINGS = (None, float("nan"), 0.0)


@cache
def bank() -> Bank:
    return open_bank(None)


def items(template: Template) -> Iterator[Item]:
    """As many clones as there are response forms, which are taken in turn."""
    yield from clones(bank(), template, len(template.responses), 5)


def outcome(item: Item, response: Any) -> dict[str, Any]:
    first, *others = (run(document, response) for document in documents(item))
    for other in others:
        assert other == first
    return first


def documents(item: Item) -> list[bytes]:
    return [item_document(item, generation, shuffle=True) for generation in GENERATIONS]


@pytest.mark.parametrize("template", bank().templates, ids=lambda template: template.identifier)
def test_generations_and_marker_agree(template: Template) -> None:
    for item in items(template):
        match item.response:
            case Choice():
                choice(item, item.response)
            case SeveralAnswers():
                several(item, item.response)
            case Matching():
                right = frozenset(" ".join(pair) for pair in item.response.pairs)
                assert outcome(item, right)["SCORE"] == item.marks
                assert outcome(item, None)["SCORE"] == 0
            case Numeric() if item.through is not None:
                evaluation(item, item.response)
            case Numeric():
                numeric(item, item.response)
            case Coefficients():
                coefficients(item, item.response)
            case FreeExpression():
                assert outcome(item, "0")["SCORE"] is outcome(item, None)["SCORE"] is None


def choice(item: Item, response: Choice) -> None:
    marker = marker_of(item)
    for option in response.options:
        mark = marker.mark(plain(option.answer, item.conventions))
        score = outcome(item, option.identifier)["SCORE"]
        assert (score, mark.outcome) in ((item.marks, "correct"), (0, "incorrect")), option.identifier
    for nothing in (None, "Z", ""):
        assert outcome(item, nothing)["SCORE"] == 0


def several(item: Item, response: SeveralAnswers) -> None:
    """Each option alone, as the marker of typed answers would have it; all sets of them are in `test_several`."""
    marker = marker_of(item)
    for option in response.options:
        mark = marker.mark(plain(option.answer, item.conventions))
        score = outcome(item, frozenset({option.identifier}))["SCORE"]
        assert (score > 0, mark.outcome) in ((True, "correct"), (False, "incorrect")), option.identifier
    right = frozenset(option.identifier for option in response.keys)
    assert outcome(item, right)["SCORE"] == item.marks
    assert outcome(item, None)["SCORE"] == 0


def numeric(item: Item, response: Numeric) -> None:
    marker = marker_of(item)
    for text in as_asked(response):
        score = outcome(item, text)["SCORE"]
        assert (score, marker.mark(text).outcome) in ((item.marks, "correct"), (0, "incorrect")), text
    for bound, outwards in ((response.lower, -1), (response.upper, 1)):
        assert outcome(item, decimal_text(bound))["SCORE"] == item.marks
        assert marker.mark(decimal_text(bound)).outcome == "correct"
        assert outcome(item, decimal_text(bound + outwards * Fraction(1, 10**9)))["SCORE"] == 0
    for reading in READINGS:
        assert outcome(item, reading)["SCORE"] == 0


def evaluation(item: Item, response: Numeric) -> None:
    """What is accepted, by rational arithmetic, and each slip told to whoever types its number."""
    for text in as_asked(response):
        right = response.lower <= Fraction(text) <= response.upper
        assert outcome(item, text)["SCORE"] == (item.marks if right else 0), text
    for number, slip in enumerate(response.slips):
        bounds = enclose(slip.value, at={}, digits=20)
        assert bounds is not None
        told = outcome(item, bounds.decimal)
        assert (told["SCORE"], told["FEEDBACK"]) == (0, slip_name(number)), slip.slip
    for reading in READINGS:
        assert outcome(item, reading)["SCORE"] == 0


def coefficients(item: Item, response: Coefficients) -> None:
    """More cases of these, and their malformed texts, are in `test_coefficients`."""
    assert isinstance(response.entry, FractionEntry)
    right = [pair(value) for value in response.values]
    wrong = [pair(response.values[0] + 1), *right[1:]]
    for answer in (right, wrong, right[::-1], [pair(value, -2) for value in response.values]):
        assert outcome(item, boxes(response, answer))["SCORE"] == expected(item, response, answer)
    assert outcome(item, boxes(response, right))["SCORE"] == item.marks
    assert outcome(item, {})["SCORE"] == 0


def as_asked(response: Numeric) -> Iterator[str]:
    """Responses with the figures asked for: the right one, its neighbours, what slips lead to, and far ones."""
    right = Decimal(response.decimal)
    unit = Decimal(1).scaleb(int(right.as_tuple().exponent))
    middles = ((slip.lower + slip.upper) / 2 for slip in response.slips)
    slips = (Decimal(middle.numerator) / Decimal(middle.denominator) for middle in middles)
    for number in (right, right + unit, right - unit, -right, *(slip.quantize(unit) for slip in slips)):
        yield format(number, "f")
    yield from ("1000000000", "-1000000000")
