"""Items with a matching, for the tests of items, writers, packages and marking."""

from __future__ import annotations

from functools import cache

from qbank.bank.loading import parse_bank
from qbank.bank.model import Bank
from qbank.items.cloning import clones
from qbank.items.item import Item, Matching

__all__ = ["BANK", "TEMPLATES", "matching_bank", "matching_item", "matching_of"]

BANK = """
identifier: pairs
title: Pairs
language: en-GB
licence: CC0-1.0
authors: [A. Teacher]
version: "1.0.0"
templates:
  - identifier: alone
    title: Clones of one template
    technique: even-powers
    parameters: {p: {kind: integer, from: 2, to: 5}, a: {kind: integer, from: 2, to: 5}}
    integrand: p sin(a x)^2
    responses: [matching]
    marks: 4
  - identifier: steps
    title: First steps
    technique: substitution
    parameters: {p: {kind: integer, from: 2, to: 5}, b: {kind: integer, from: 1, to: 5}}
    integrand: p x (x^2 + b)^3
    responses: [matching]
    matching: {with: [alone, beside], show: first-step}
    marks: 5
  - identifier: beside
    title: Antiderivatives of two templates
    technique: substitution
    parameters: {p: {kind: integer, from: 2, to: 5}, a: {kind: integer, from: 2, to: 5}}
    integrand: p tan(a x) sec(a x)^2
    responses: [matching]
    matching: {with: [alone]}
    marks: 8
"""
TEMPLATES = ("alone", "steps", "beside")


@cache
def matching_bank() -> Bank:
    return parse_bank(BANK.encode(), "pairs.yaml")


@cache
def matching_item(name: str) -> Item:
    """The first item of a template."""
    bank = matching_bank()
    return next(clones(bank, bank.template(name), 1, 1))


def matching_of(name: str) -> Matching:
    """Its response."""
    response = matching_item(name).response
    assert isinstance(response, Matching)
    return response
