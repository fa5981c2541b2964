"""What each item must do in a browser: answered right, wrong, not at all, and with text that is no number."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass

from qbank.items.item import (
    Choice,
    Coefficients,
    FreeExpression,
    Item,
    Matching,
    Numeric,
    Prose,
    SeveralAnswers,
)
from tests.player.coefficient_cases import attempts

__all__ = ["MALFORMED", "Case", "cases_of", "first_of_each"]

#: none of these is a decimal number, and none may score
MALFORMED = ("1/8", "ln 2", "0,125", "abc", " ")

RESPONSE = "RESPONSE"


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One attempt at one item.

    Attributes:
        item: which.
        kind: `right`, `partial`, `wrong`, `blank`, `malformed`, `near miss`, `swapped`, `dependent` or `shown` (loaded only).
        typed: the response, or the responses by variable; None for none at all.
        score: what SCORE must be; None where a person gives it.
        shows: texts that must be seen afterwards.
        hides: texts that must not be seen afterwards.
    """

    item: Item
    kind: str
    typed: str | tuple[tuple[str, str], ...] | None
    score: float | None
    shows: tuple[str, ...] = ()
    hides: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """Unique among the cases of a run."""
        return f"{self.item.identifier} {self.kind} {self.typed!r}"

    def as_json(self, path: str, picture: str | None) -> dict[str, object]:
        """The case as the player reads it.

        Args:
            path: of the item's file.
            picture: file name for the screenshot after the attempt, if one is wanted.
        """
        case: dict[str, object] = {
            "name": self.name,
            "item": path,
            "responses": self._responses(),
            "nativeMath": True,
            "shows": [_seen(text) for text in self.shows],
            "hides": [_seen(text) for text in self.hides],
            "expect": {"MAXSCORE": self.item.marks},
        }
        if self.score is not None:
            case["expect"] = {"SCORE": self.score, "MAXSCORE": self.item.marks}
        if picture is not None:
            case["png"] = picture
            case["pngBefore"] = "before-" + picture
        return case

    def _responses(self) -> list[list[str]]:
        if isinstance(self.typed, tuple):
            return [list(pair) for pair in self.typed]
        return [] if self.typed is None else [[RESPONSE, self.typed]]


def first_of_each(cases: Iterable[Case], kinds: Container[str]) -> Iterator[Case]:
    """One case of each kind among those wanted."""
    met = set()
    for case in cases:
        if case.kind in kinds and case.kind not in met:
            met.add(case.kind)
            yield case


def _seen(text: str) -> str:
    """A text as the player reports it: runs of blanks are one."""
    return " ".join(text.split())


def cases_of(item: Item, *, every_malformed: bool) -> Iterator[Case]:
    """The attempts at an item.

    Args:
        item: the item.
        every_malformed: try each malformed number, not only one of them.
    """
    reasons = tuple(row.reason for row in item.working if row.reason)
    shows: tuple[str, ...]
    hides: tuple[str, ...]
    match item.response:
        case Choice(options=options):
            for option in options:
                told = _texts(option.feedback)
                score = item.marks if option.is_key else 0
                kind = "right" if option.is_key else "wrong"
                if option.is_key or option == _first_wrong(item.response):
                    yield Case(
                        item=item, kind=kind, typed=option.identifier, score=score, shows=(*told, *reasons)
                    )
            hidden = _texts(item.response.key.feedback)
            yield Case(item=item, kind="blank", typed=None, score=0, hides=(*hidden, *reasons))
        case Matching():
            yield from _matching(item, item.response, reasons)
        case SeveralAnswers():
            yield from _several(item, item.response, reasons)
        case Numeric():
            yield from _numeric(item, item.response, reasons, every_malformed=every_malformed)
        case Coefficients():
            malformed = MALFORMED if every_malformed else (_one_of(MALFORMED, item),)
            for kind, typed, score, said in attempts(item, item.response, malformed):
                # what was read is answered with the worked solution, what was not is not
                unread = said.startswith("Not all boxes")
                shows, hides = ((said,), reasons) if unread else ((said, *reasons), ())
                if kind == "malformed":
                    # how much of it a reader takes for a number is the reader's affair
                    shows, hides = (), ("Right.",)
                yield Case(item=item, kind=kind, typed=typed, score=score, shows=shows, hides=hides)
        case FreeExpression(rubric=rubric):
            yield Case(item=item, kind="shown", typed=None, score=None, hides=(*_texts(rubric), *reasons))


def _matching(item: Item, response: Matching, reasons: tuple[str, ...]) -> Iterator[Case]:
    """Nothing, all right pairs, two of them, the pair of the slip, and every pair wrong."""
    yield Case(item=item, kind="blank", typed=None, score=0, hides=("Right.", *reasons))
    right = dict(response.pairs)
    rows, partners = list(right), list(right.values())
    some = "Not all of the pairs are right."
    attempts = [
        ("right", right, "Right."),
        ("partial", {row: right[row] for row in rows[:2]}, some),
        ("wrong", dict(zip(rows, partners[1:] + partners[:1], strict=True)), some),
    ]
    attempts += [
        ("partial", right | {one.misled: one.identifier}, _texts(one.feedback)[0])
        for one in response.partners
        if one.misled is not None
    ]
    for kind, matched, told in attempts:
        score = response.score(set(matched.items()), item.marks)
        if score.denominator > 1:
            continue  # a reader was seen to round what it adds up
        yield Case(
            item=item,
            kind=kind,
            typed=",".join(" ".join(pair) for pair in matched.items()),
            score=int(score),
            shows=(told, *reasons),
        )


def _several(item: Item, response: SeveralAnswers, reasons: tuple[str, ...]) -> Iterator[Case]:
    """All right options, one of them, one right and one wrong, wrong ones, all options, none."""
    right = [option for option in response.options if option.is_key]
    wrong = [option for option in response.options if not option.is_key]
    everything = [*right, *wrong]
    for kind, chosen in (
        ("right", right),
        ("partial", right[:1]),
        ("partial", [*right, wrong[0]]),
        ("wrong", [right[0], wrong[-1]]),
        ("wrong", wrong[:2]),
        ("wrong", everything),
    ):
        letters = [option.identifier for option in chosen]
        score = float(response.score(letters, item.marks))
        told = tuple(text for option in chosen for text in _texts(option.feedback))
        untold = {text for option in everything for text in _texts(option.feedback)} - set(told)
        yield Case(
            item=item,
            kind=kind,
            typed=",".join(letters),
            score=int(score) if score.is_integer() else score,
            shows=(*told, *reasons),
            hides=tuple(sorted(text for text in untold if text.strip() not in " ".join(told))),
        )
    hidden = tuple(text for option in right for text in _texts(option.feedback))
    yield Case(item=item, kind="blank", typed=None, score=0, hides=(*hidden, *reasons))


def _first_wrong(response: Choice) -> object:
    return next(option for option in response.options if not option.is_key)


def _numeric(
    item: Item, response: Numeric, reasons: tuple[str, ...], *, every_malformed: bool
) -> Iterator[Case]:
    shows = ("Right.", *reasons)
    yield Case(item=item, kind="right", typed=response.decimal, score=item.marks, shows=shows)
    # of an evaluation the last slip is one with the given value
    for slip in response.slips[:1] if item.through is None else (response.slips[0], response.slips[-1]):
        # between two typed figures the middle of the bounds may fall; it is inside them all the same
        typed = repr(float((slip.lower + slip.upper) / 2))
        told = _texts(slip.feedback)
        yield Case(item=item, kind="wrong", typed=typed, score=0, shows=(*told, *reasons))
    if not response.slips:
        typed = repr(float(2 * response.upper - response.lower + 1))
        yield Case(item=item, kind="wrong", typed=typed, score=0, shows=("Not right.", *reasons))
    yield Case(item=item, kind="blank", typed=None, score=0, shows=("No number was read.",), hides=reasons)
    for typed in MALFORMED if every_malformed else (_one_of(MALFORMED, item),):
        yield Case(item=item, kind="malformed", typed=typed, score=0, hides=("Right.",))


def _one_of(texts: tuple[str, ...], item: Item) -> str:
    """One of them by the item's name, so that all are met over many items."""
    return texts[sum(map(ord, item.identifier)) % len(texts)]


def _texts(prose: Prose) -> tuple[str, ...]:
    """The pieces of text that are long enough to be looked for."""
    return tuple(piece for piece in prose if isinstance(piece, str) and len(piece.strip()) > 3)
