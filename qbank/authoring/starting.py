"""A bank to start from: small, whole, and with a comment at everything that an author will change."""

from __future__ import annotations

import json

__all__ = ["bank_of", "starter"]


def starter(identifier: str, title: str, language: str) -> str:
    """The text of a bank with one template.

    Args:
        identifier: small letters, digits and hyphens.
        title: for people.
        language: BCP 47 tag of the texts.
    """
    return bank_of(identifier, title, language) + _FIRST


def bank_of(identifier: str, title: str, language: str) -> str:
    r"""The beginning of a bank, to be followed by its templates.

    >>> print(bank_of("my-bank", 'Squares: "easy"', "en-GB").splitlines()[3])
    title: "Squares: \"easy\""
    """
    return f"""\
# A bank of integration items. `qbank check FILE` proves it, `qbank draw FILE` shows its clones.
# `qbank schema > bank.schema.json` writes the schema that the next line names, for editors that know JSON Schema.
# yaml-language-server: $schema=bank.schema.json
title: {_quoted(title)}
identifier: {identifier}
language: {language}
licence: CC-BY-4.0
authors: []
version: "1.0.0"
templates:
"""


def _quoted(text: str) -> str:
    # a JSON string is a YAML string, whatever stands in it
    return json.dumps(text, ensure_ascii=False)


_FIRST = """\
  - identifier: sine-squared
    title: The square of a sine
    technique: even-powers
    tags: [level-1]
    # each clone draws its letters from here
    parameters:
      p: {kind: integer, from: 2, to: 9}
      a: {kind: integer, from: 2, to: 8}
    # and only draws that meet these are used
    conditions: ["coprime(p, a)"]
    # typed as you would type it; x is the variable
    integrand: p sin(a x)^2
    # taken in turn: choice, several-answers, numeric, evaluation, coefficients, free-expression
    responses: [choice, free-expression]
    marks: 3
"""
