"""Shares of the marks: how they are written and how they add up."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qbank.bank.policy import ACCEPTING, PARTS, Policy, policy_from, share_from

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
