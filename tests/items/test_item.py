"""Impossible items do not construct."""

from __future__ import annotations

from fractions import Fraction

import pytest

from qbank.items.item import Choice, Option
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Symbol
from qbank.maths.verdict import Proof, Proved, Witness

x = Symbol("x")
VERDICT = decide_antiderivative(x**2, 2 * x, x)
assert isinstance(VERDICT, Proved)
WITNESS = Witness(point=Fraction(1), left="1", right="2")


def option(letter: str, evidence: Proof | Witness) -> Option:
    return Option(identifier=letter, answer=x, slip=None, feedback=(), evidence=evidence)


def test_one_key() -> None:
    key, wrong = option("A", VERDICT.proof), option("B", WITNESS)  # type: ignore[union-attr]
    assert Choice(options=(key, wrong)).key is key
    for options in ((wrong,), (key, option("B", key.evidence)), (key, option("A", WITNESS))):
        with pytest.raises(ValueError, match=r"one key|different identifiers"):
            Choice(options=options)


def test_nobody_makes_a_proof_by_hand() -> None:
    with pytest.raises(TypeError):
        Proof(claim="x = y", method="hope", seal=object())
