"""Attempts at matchings: all pairs right, some, none, the pair of a slip, and pairs that do not exist."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from qbank.items.item import Item, Matching
from qbank.marking import MatchingMarker
from tests.player.case import Case, Kind, chosen, hidden_reasons, marks_of, reasons, sent, texts
from tests.player.choice_cases import NONE

__all__ = ["matching"]


def matching(item: Item, response: Matching) -> Iterator[Case]:
    """The attempts, scored by our marker.

    Args:
        item: the item.
        response: its integrals and their partners.
    """
    marker = MatchingMarker(response, conventions=item.conventions)
    right = dict(response.pairs)
    rows, partners = list(right), list(right.values())
    attempts: list[tuple[Kind, Mapping[str, str]]] = [
        ("right", right),
        ("partial", {rows[0]: right[rows[0]]}),
        ("partial", {row: right[row] for row in rows[1:]}),
        # two rows with each other's partners
        ("swapped", right | {rows[0]: right[rows[1]], rows[1]: right[rows[0]]}),
        ("wrong", dict(zip(rows, partners[1:] + partners[:1], strict=True))),
    ]
    attempts += [
        ("partial", right | {one.misled: one.identifier})
        for one in response.partners
        if one.misled is not None
    ]
    for kind, matched in attempts:
        mark = marker.mark(matched)
        slips = [one for one in response.partners if one.misled and matched.get(one.misled) == one.identifier]
        told = "Right." if mark.outcome == "correct" else "Not all of the pairs are right."
        yield Case(
            item=item,
            kind=kind,
            answers=chosen(*(" ".join(pair) for pair in matched.items())),
            score=marks_of(mark, item),
            shows=(*(texts(slips[0].feedback) if slips else (told,)), *reasons(item)),
        )
    yield Case(item=item, kind="blank", answers=(), score=0, hides=("Right.", *hidden_reasons(item)))
    # a pair the wrong way round is not among these: the reader, unlike the standard, takes it for the pair
    others = [" ".join(pair) for pair in response.pairs[1:]]
    for pairs in ((f"{rows[0]} {NONE}", rows[0]), (f"{rows[0]} {NONE}", *others)):
        known = dict(pair.split() for pair in pairs if pair in others)
        yield Case(
            item=item,
            kind="malformed",
            answers=sent(pairs),
            score=marks_of(marker.mark(known), item),
            hides=("Right.",),
        )
