"""A deck with hostile texts in every place that takes a text, and the same deck with harmless ones."""

from __future__ import annotations

import dataclasses
from functools import cache
from typing import Any, TypeVar

from qbank.bank.loading import parse_bank
from qbank.items.deck import Deck
from qbank.items.setting import set_test

__all__ = ["HARMLESS", "WILD", "wild_deck"]

_T = TypeVar("_T")

HARMLESS = "text"
WILD = (
    "<script>alert(1)</script> "
    "\"><img src=x onerror='alert(1)'> "
    "]]> <![CDATA[ <!-- --> <?x?> <?formula a?> "
    "&#x3C;b&#x3E; &lt;i&gt; &amp;lt;u&gt; &x; %x; "
    "javascript:alert(1) "
    r"\(\href{javascript:alert(1)}{a}\) \[b\] $$\unicode{c}$$ $d$ \begin{e}\end{e} \\(f\\) "
    "nul \x00 bell \x07 escape \x1b[31m delete \x7f "
    "left \u202e thgir \u202c "
    "surrogate \ud800 no character \uffff "
    "line\nbreak\ttab\r\n"
)

#: the fields that hold texts which an author may write, or which repeat one
_TEXTS = frozenset(
    {"title", "instructions", "prompt", "reason", "feedback", "rubric", "tags", "version", "licence"}
    | {"authors", "seed"}
)

_BANK = b"""
identifier: small
title: A bank
language: en-GB
licence: CC0-1.0
version: "1.0.0"
templates:
  - identifier: squares
    title: Squares
    technique: even-powers
    parameters: {p: {kind: integer, from: 2, to: 9}}
    integrand: p sin(2x)^2
    responses: [choice, several-answers, coefficients, free-expression]
  - identifier: limits
    title: Limits
    technique: even-powers
    parameters: {p: {kind: integer, from: 2, to: 9}}
    task: definite
    limits: ["0", "pi/3"]
    integrand: p cos(2x)^2
    responses: [numeric]
tests:
  - identifier: one
    title: A test
    instructions: Begin.
    minutes: 20
    sections:
      - {title: First, count: 4, by: {templates: [squares]}}
      - {title: Second, count: 1, by: {templates: [limits]}}
"""


@cache
def _deck() -> Deck:
    bank = parse_bank(_BANK, "small.yaml")
    return set_test(bank, bank.tests[0], count=4, seed=1)


@cache
def wild_deck(text: str, *, papers: bool) -> Deck:
    """A deck of every response form.

    Args:
        text: stands in every place for one.
        papers: whether it is a declared test.
    """
    deck = _with(_deck(), text)
    sections = tuple(section for paper in deck.papers for section in paper.sections)
    return dataclasses.replace(deck, papers=deck.papers if papers else (), sections=sections)


def _with(value: _T, text: str) -> _T:
    """The same with all texts replaced; mathematics and evidence stay."""
    if isinstance(value, tuple):
        return tuple(_with(one, text) for one in value)  # type: ignore[return-value]
    if not dataclasses.is_dataclass(value) or type(value).__module__.startswith("qbank.maths"):
        return value
    changes: dict[str, Any] = {}
    for field in dataclasses.fields(value):
        held = getattr(value, field.name)
        if field.name in _TEXTS and isinstance(held, str):
            changes[field.name] = text
        elif field.name in _TEXTS and isinstance(held, tuple):
            changes[field.name] = tuple(text if isinstance(one, str) else one for one in held)
        elif isinstance(held, tuple) or dataclasses.is_dataclass(held):
            changes[field.name] = _with(held, text)
    return dataclasses.replace(value, **changes)  # type: ignore[type-var]
