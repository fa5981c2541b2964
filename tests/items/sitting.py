"""A bank with tests for the tests of tests, and its decks, each set once."""

from __future__ import annotations

from functools import cache

from qbank.bank.loading import parse_bank
from qbank.bank.model import Bank
from qbank.items.deck import Deck
from qbank.items.setting import set_test

TEXT = """
identifier: small
title: A small bank
language: en-GB
licence: CC0-1.0
version: "1.0.0"
templates:
  - identifier: power
    title: A power
    technique: standard-forms
    tags: [level-1]
    parameters:
      a: {kind: integer, from: 2, to: 9}
      n: {kind: integer, from: 3, to: 9}
    integrand: a x^n
    marks: 2
  - identifier: power-again
    title: A power with another letter
    technique: standard-forms
    tags: [level-1]
    variable: t
    parameters:
      b: {kind: integer, from: 2, to: 9}
      m: {kind: integer, from: 3, to: 9}
    integrand: b t^m
    responses: [choice, free-expression]
  - identifier: sine-squared
    title: The square of a sine
    technique: even-powers
    tags: [level-2]
    parameters:
      p: {kind: integer, from: 2, to: 9}
      a: {kind: integer, from: 2, to: 9}
    integrand: p sin(a x)^2
    responses: [choice, coefficients]
    marks: 4
  - identifier: between-limits
    title: Between limits
    technique: even-powers
    tags: [level-2, definite]
    parameters:
      p: {kind: integer, from: 2, to: 9}
      m: {kind: listed, values: [3, 4, 6]}
    task: definite
    limits: ["0", "pi/m"]
    integrand: p cos(2x)^2
    responses: [numeric, choice]
    marks: 3
tests:
  - identifier: lesson
    title: A lesson <b>&amp; more
    instructions: Read <i>this</i> first.
    minutes: 25
    sections:
      - {title: Starter, count: 3, marks: 5, by: {tags: [level-1]}}
      - {title: Practice, count: 5, order: rising, by: {techniques: [standard-forms, even-powers]}}
      - {title: Quiz, count: 2, by: {techniques: [even-powers], responses: [choice, numeric]}}
  - identifier: hard
    title: Hard ones
    shuffle: false
    sections:
      - {title: Hard, count: 2, order: rising, by: {difficulty: {from: 6}}}
  - identifier: impossible
    title: There is none
    sections:
      - {title: Nothing, count: 1, by: {difficulty: {from: 900}}}
  - identifier: greedy
    title: More than there is
    sections:
      - {title: All, count: 100, by: {templates: [power, power-again]}}
"""


@cache
def bank() -> Bank:
    return parse_bank(TEXT.encode(), "small.yaml")


@cache
def deck(identifier: str = "lesson", forms: int | None = None, seed: int = 1, count: int = 3) -> Deck:
    test = next(test for test in bank().tests if test.identifier == identifier)
    return set_test(bank(), test, count=count, seed=seed, forms=forms, file=("small.yaml", TEXT.encode()))
