"""Items with a working in which pieces are to be typed, for the tests of items, writers, packages and marking."""

from __future__ import annotations

from functools import cache

from qbank.bank.loading import parse_bank
from qbank.bank.model import Bank
from qbank.items.cloning import clones
from qbank.items.item import Item, WorkingTask

__all__ = ["BANK", "TEMPLATES", "gap_bank", "gap_item", "gap_items", "gaps_of"]

BANK = """
identifier: gaps
title: Gaps
language: en-GB
licence: CC0-1.0
authors: [A. Teacher]
version: "1.0.0"
templates:
  - identifier: gap-one
    title: One number of a working by parts
    technique: by-parts
    parameters: {p: {kind: integer, from: 2, to: 5}, n: {kind: integer, from: 2, to: 5}}
    integrand: p x^n ln(x)
    responses: [complete-working]
    gaps: [number]
    marks: 1
  - identifier: gap-numbers
    title: Numbers in all lines but the first of a working with a substitution
    technique: substitution
    parameters: {p: {kind: integer, from: 2, to: 5}, b: {kind: integer, from: 1, to: 5}}
    integrand: p x^2 (x^3 + b)^4
    responses: [complete-working]
    gaps: [number]
    fading: 3
    marks: 3
  - identifier: gap-signs
    title: Numbers with a minus sign in all lines but the first of a working with three brackets
    technique: partial-fractions
    parameters: {p: {kind: integer, from: 2, to: 5}, q: {kind: integer, from: 1, to: 5}}
    integrand: (p x + q)/((x - 1)(x + 2)(x + 4))
    responses: [complete-working]
    gaps: [number]
    fading: 3
    marks: 4
  - identifier: gap-numbers-and-lines
    title: Numbers and lines of a working with a product of angles
    technique: odd-powers
    parameters: {p: {kind: integer, from: 2, to: 5}, a: {kind: integer, from: 2, to: 5}}
    integrand: p sin(a x)^3
    responses: [complete-working]
    gaps: [line, number]
    fading: 3
    marks: 5
  - identifier: gap-expressions
    title: Expressions in every second line of a working with powers
    technique: odd-powers
    parameters: {p: {kind: integer, from: 2, to: 5}, a: {kind: integer, from: 2, to: 5}}
    integrand: p sin(a x)^3 cos(a x)^2
    responses: [complete-working]
    gaps: [expression]
    fading: 2
    marks: 4
  - identifier: gap-all
    title: All kinds of gaps in a working with powers
    technique: odd-powers
    parameters: {p: {kind: integer, from: 2, to: 5}, a: {kind: integer, from: 2, to: 5}}
    integrand: p sin(a x)^3 cos(a x)^2
    responses: [complete-working]
    gaps: [line, number, expression]
    fading: 3
    marks: 7
"""
TEMPLATES = ("gap-one", "gap-numbers", "gap-signs", "gap-numbers-and-lines", "gap-expressions", "gap-all")


@cache
def gap_bank() -> Bank:
    return parse_bank(BANK.encode(), "gaps.yaml")


@cache
def gap_items(name: str, count: int) -> tuple[Item, ...]:
    """The first items of a template."""
    bank = gap_bank()
    return tuple(clones(bank, bank.template(name), count, 1))


def gap_item(name: str) -> Item:
    """The first of them."""
    return gap_items(name, 1)[0]


def gaps_of(name: str) -> WorkingTask:
    """Its response."""
    response = gap_item(name).response
    assert isinstance(response, WorkingTask)
    return response
