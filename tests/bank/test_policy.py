"""Shares of the marks: how they are written and how they add up."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qbank.bank.loading import parse_bank
from qbank.bank.policy import ACCEPTING, PARTS, Policy, policy_from, share_from
from qbank.bank.problem import BankError

SHARES = st.fractions(0, 1, max_denominator=20)


@pytest.mark.parametrize(
    "value", ["", "most", "-1/2", "3/2", "1/0", -1, 2, "1e9", float("nan"), "9" * 30, None]
)
def test_what_is_no_share(value: object) -> None:
    with pytest.raises(ValueError, match="share of the marks"):
        share_from(value)


@given(st.dictionaries(st.sampled_from(PARTS), SHARES), st.sets(st.sampled_from(PARTS)))
def test_losses_add_up_and_no_mark_is_negative(shares: dict[str, Fraction], lacking: set[str]) -> None:
    policy = policy_from({part: str(share) for part, share in shares.items()})
    lost = sum(1 - shares.get(part, Fraction(1)) for part in lacking)
    assert policy.left(lacking) == max(0, 1 - lost)
    assert policy.left(()) == 1
    assert ACCEPTING.left(PARTS) == 1


@given(SHARES, SHARES)
def test_two_slips_lose_what_both_lose(first: Fraction, second: Fraction) -> None:
    policy = Policy(slips=(("one", first), ("other", second)))
    assert policy.for_slip("one + other") == max(0, first + second - 1)
    assert policy.for_slip("one + unknown") == 0
    assert policy.for_slip("unknown") == 0


BANK = """
identifier: policies
title: Policies
language: en-GB
licence: CC0-1.0
version: "1.0.0"
templates:
  - identifier: cosine
    title: A cosine
    technique: standard-forms
    integrand: cos(2x)
    policy: {policy}
"""


@pytest.mark.parametrize(
    ("policy", "code", "said"),
    [
        (
            "{slips: {standard-sign-of-functions: 1/2}}",
            "unknown-slip",
            "did you mean 'standard-sign-of-function'?",
        ),
        ("{slips: {zzz: 1/2}}", "unknown-slip", "known are standard-"),
        ("{constant: 3/2}", "no-share", "a number from 0 to 1"),
    ],
)
def test_a_policy_that_cannot_hold_is_a_problem_of_the_bank(policy: str, code: str, said: str) -> None:
    with pytest.raises(BankError) as caught:
        parse_bank(BANK.replace("{policy}", policy).encode(), "bank.yaml")
    (problem,) = caught.value.problems
    assert problem.code == code
    assert said in f"{problem.message} {problem.hint}"
    assert problem.pointer.startswith("/templates/0/policy")


def test_slips_of_definite_integrals_are_not_looked_up() -> None:
    text = BANK.replace("{policy}", "{slips: {limits-swapped-and-more: 1/2}}").replace(
        "integrand:", 'task: definite\n    limits: ["0", "1"]\n    integrand:'
    )
    assert parse_bank(text.encode(), "bank.yaml").templates[0].policy.slips[0][1] == Fraction(1, 2)
