"""Entries of a document that no schema would let through: they are refused with a reason, not with a traceback."""

from __future__ import annotations

import json
from typing import Any

import pytest

from qbank.maths.equation import Equation
from qbank.maths.expression import Symbol
from qbank.maths.notation.mathml import mathml_text
from qbank.packages.document import read_entry
from qbank.packages.question import QuestionError
from tests.packages.sample import content


def entry(**changes: Any) -> dict[str, Any]:
    items: list[dict[str, Any]] = json.loads(content("json"))["items"]
    return items[0] | changes


@pytest.mark.parametrize(
    ("value", "why"),
    [
        ({}, "not read back"),
        (entry(form="drawing"), "form drawing are not read back"),
        (entry(response={}), "not read back"),
        (
            entry(key={"mathml": mathml_text(Equation(Symbol("x"), Symbol("y")))}),
            "an answer is an expression",
        ),
    ],
)
def test_refused(value: dict[str, Any], why: str) -> None:
    with pytest.raises(QuestionError, match=why):
        read_entry(value)
    assert read_entry(entry()).identifier == entry()["identifier"]
