"""Items with a task about working, for the tests of items, writers, packages and marking."""

from __future__ import annotations

from functools import cache

from qbank.bank.loading import parse_bank
from qbank.bank.model import Bank
from qbank.items.cloning import clones
from qbank.items.item import Item, WorkingTask

__all__ = ["BANK", "TEMPLATES", "task_bank", "task_item", "task_of"]

BANK = """
identifier: steps
title: Steps
language: en-GB
licence: CC0-1.0
authors: [A. Teacher]
version: "1.0.0"
templates:
  - identifier: circular
    title: The first step towards powers of sine and cosine
    technique: odd-powers
    parameters: {p: {kind: integer, from: 2, to: 5}, a: {kind: integer, from: 2, to: 5}}
    integrand: p sin(a x)^3 cos(a x)^2
    responses: [first-step]
    marks: 2
  - identifier: exponential
    title: The first step towards an exponential of a power
    technique: substitution
    parameters: {p: {kind: integer, from: 2, to: 5}, b: {kind: integer, from: 1, to: 5}}
    integrand: p x^2 e^(x^3 + b)
    responses: [first-step]
    marks: 3
  - identifier: parts
    title: The first step towards a product with a logarithm
    technique: by-parts
    parameters: {p: {kind: integer, from: 2, to: 5}, n: {kind: integer, from: 2, to: 5}}
    integrand: p x^n ln(x)
    responses: [first-step]
    marks: 1
  - identifier: fault
    title: The fault in a working with powers of sine and cosine
    technique: odd-powers
    parameters: {p: {kind: integer, from: 2, to: 5}, a: {kind: integer, from: 2, to: 5}}
    integrand: p sin(a x)^3
    responses: [find-fault]
    marks: 2
  - identifier: fault-by-parts
    title: The fault in a working by parts
    technique: by-parts
    parameters: {p: {kind: integer, from: 2, to: 5}, n: {kind: integer, from: 2, to: 5}}
    integrand: p x^n ln(x)
    responses: [find-fault]
    marks: 1
  - identifier: blank-one
    title: One line of a working with a product of angles
    technique: product-to-sum
    parameters: {p: {kind: integer, from: 2, to: 5}, a: {kind: integer, from: 4, to: 7}}
    integrand: p sin(a x) cos(2x)
    responses: [complete-working]
    marks: 1
  - identifier: blank-some
    title: Every second line of a working with powers
    technique: odd-powers
    parameters: {p: {kind: integer, from: 2, to: 5}, a: {kind: integer, from: 2, to: 5}}
    integrand: p sin(a x)^3 cos(a x)^2
    responses: [complete-working]
    fading: 2
    marks: 4
  - identifier: blank-most
    title: All lines but the first of a working by parts
    technique: by-parts
    parameters: {p: {kind: integer, from: 2, to: 5}, n: {kind: integer, from: 2, to: 5}}
    integrand: p x^n ln(x)
    responses: [complete-working]
    fading: 3
    marks: 7
"""
TEMPLATES = (
    "circular",
    "exponential",
    "parts",
    "fault",
    "fault-by-parts",
    "blank-one",
    "blank-some",
    "blank-most",
)


@cache
def task_bank() -> Bank:
    return parse_bank(BANK.encode(), "steps.yaml")


@cache
def task_item(name: str) -> Item:
    """The first item of a template."""
    bank = task_bank()
    return next(clones(bank, bank.template(name), 1, 1))


def task_of(name: str) -> WorkingTask:
    """Its response."""
    response = task_item(name).response
    assert isinstance(response, WorkingTask)
    return response
