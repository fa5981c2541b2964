"""What answers score that are right as far as they go, or wrong in a known way.

Each part of a policy is a share of the marks: 1 gives them all with a remark, 0 none. What is lost adds up.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction

__all__ = ["ACCEPTING", "PARTS", "Policy", "policy_from", "share_from"]

#: what an answer may lack; fields of a `Policy`
PARTS = ("constant", "modulus", "domain", "exact", "simplified")
_WORDS = {"accept": Fraction(1), "require": Fraction(0)}
_LONGEST = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Policy:
    """The shares of the marks that are left.

    Attributes:
        constant: to answers without a constant of integration.
        modulus: to answers whose logarithms lack modulus signs.
        domain: to answers that are real on a part of the question's domain only, for another reason.
        exact: to decimals where a value is asked for.
        simplified: to answers in which like terms, fractions or numbers are not put together.
        slips: to wrong answers that are proved to be a slip, by its identifier.
    """

    constant: Fraction = Fraction(1)
    modulus: Fraction = Fraction(1)
    domain: Fraction = Fraction(1)
    exact: Fraction = Fraction(1)
    simplified: Fraction = Fraction(1)
    slips: tuple[tuple[str, Fraction], ...] = ()

    def left(self, lacking: Iterable[str]) -> Fraction:
        """The share of the marks of a right answer that lacks some of `PARTS`.

        >>> half = Fraction(1, 2)
        >>> Policy(constant=half, modulus=half).left(["constant", "modulus"])
        Fraction(0, 1)
        """
        lost = sum((1 - self._share(part) for part in lacking), Fraction(0))
        return max(1 - lost, Fraction(0))

    def for_slip(self, slip: str) -> Fraction:
        """The share of the marks of an answer that is a slip, or two of them ("one + other").

        >>> Policy(slips=(("sign", Fraction(1, 2)),)).for_slip("sign")
        Fraction(1, 2)
        """
        shares = dict(self.slips)
        lost = sum((1 - shares.get(one, Fraction(0)) for one in slip.split(" + ")), Fraction(0))
        return max(1 - lost, Fraction(0))

    def _share(self, part: str) -> Fraction:
        share: Fraction = getattr(self, part)
        return share


#: full marks, with a remark, and nothing for slips: what holds where nothing is said
ACCEPTING = Policy()


def policy_from(raw: Mapping[str, object]) -> Policy:
    """The policy of plain values, as they stand in a bank file.

    Args:
        raw: shares by the names of `PARTS`, and under `slips` shares by the identifiers of slips.

    Raises:
        ValueError: a share is none.

    >>> policy_from({"constant": "require", "slips": {"sign": "1/2"}}).slips
    (('sign', Fraction(1, 2)),)
    """
    slips = raw.get("slips", {})
    assert isinstance(slips, Mapping)
    parts = {part: share_from(raw[part]) for part in PARTS if part in raw}
    return Policy(**parts, slips=tuple((name, share_from(value)) for name, value in slips.items()))


def share_from(value: object) -> Fraction:
    """A share: a number from 0 to 1, a fraction as text, or `accept` (1) or `require` (0).

    Raises:
        ValueError: it is none of these.

    >>> share_from("accept"), share_from(0.25), share_from("2/3")
    (Fraction(1, 1), Fraction(1, 4), Fraction(2, 3))
    """
    text = str(value)
    if text in _WORDS:
        return _WORDS[text]
    try:
        share = Fraction(text) if len(text) <= _LONGEST and "e" not in text.lower() else None
    except (ValueError, ZeroDivisionError):
        share = None
    if share is None or not 0 <= share <= 1:
        raise ValueError(f"{text[:_LONGEST]!r} is no share of the marks: a number from 0 to 1, such as 1/2")
    return share
