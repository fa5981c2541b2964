"""One attempt at one item in the reader: what is given, the score that must come of it, and what must be seen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal, TypeAlias

from qbank.items.item import Item, Matching, Prose, WorkingTask
from qbank.marking import Mark
from qbank.writers.qti.names import RESPONSE

__all__ = [
    "KINDS",
    "Answer",
    "Case",
    "Kind",
    "chosen",
    "hidden_reasons",
    "marks_of",
    "reasons",
    "sent",
    "texts",
    "typed",
]

Kind: TypeAlias = Literal[
    "right", "dependent", "partial", "near miss", "swapped", "wrong", "blank", "malformed"
]
KINDS: tuple[Kind, ...] = (
    "right",
    "dependent",
    "partial",
    "near miss",
    "swapped",
    "wrong",
    "blank",
    "malformed",
)


@dataclass(frozen=True, slots=True)
class Answer:
    """What one response variable is given.

    Attributes:
        variable: its identifier.
        value: text that is typed, or what is clicked.
        how: by mouse and keys, or, for what no person can give, by the event of the interaction.
    """

    variable: str
    value: str | tuple[str, ...]
    how: Literal["person", "event"] = "person"


def typed(text: str) -> tuple[Answer, ...]:
    """Text in the one box of an item."""
    return (Answer(RESPONSE, text),)


def chosen(*identifiers: str, variable: str = RESPONSE) -> tuple[Answer, ...]:
    """Options or pairs that are clicked."""
    return (Answer(variable, identifiers),)


def sent(value: str | tuple[str, ...], *, variable: str = RESPONSE) -> tuple[Answer, ...]:
    """A response that cannot be clicked."""
    return (Answer(variable, value, "event"),)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One attempt at one item.

    Attributes:
        item: which.
        kind: what sort of attempt it is.
        answers: what is given; nothing for an attempt that is sent off as it is.
        score: what SCORE must be, as our marker has it; None where a person gives it, who reads what was typed.
        shows: texts that must be seen afterwards.
        hides: texts that must not be seen afterwards.
    """

    item: Item
    kind: Kind
    answers: tuple[Answer, ...]
    score: float | None
    shows: tuple[str, ...] = ()
    hides: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """Which attempt, for people."""
        given = ", ".join(f"{answer.variable}={answer.value!r}" for answer in self.answers)
        return f"{self.item.identifier} {self.kind} {given}"

    def as_attempt(self, path: str) -> dict[str, object]:
        """The attempt as the driver reads it.

        Args:
            path: of the item's file.
        """
        answers = [[answer.variable, answer.value, answer.how] for answer in self.answers]
        return {"item": path, "answers": answers}

    def faults(self, seen: Mapping[str, Any]) -> Iterator[str]:
        """What is not as it must be.

        Args:
            seen: what the driver says of the attempt.
        """
        if "failed" in seen:
            yield seen["failed"]
            return
        if not seen["done"]:
            yield "no response processing was run"
        if self.kind != "malformed":  # of malformed numbers the reader complains, as it may
            yield from seen["log"]
        for name, wanted in (("SCORE", self.score), ("MAXSCORE", self.item.marks)):
            if not _same(found := seen["outcome"].get(name), wanted):
                yield f"{name} is {found!r} and not {wanted}"
        for answer in self.answers if self.score is None else ():
            given = answer.value if isinstance(answer.value, str) else answer.value[0]
            if (kept := seen["response"][answer.variable]) != given:
                yield f"{kept!r} was kept of {given!r}"
        text = " ".join(seen["text"].split())
        yield from (f"not seen: {one}" for one in self.shows if " ".join(one.split()) not in text)
        yield from (f"seen: {one}" for one in self.hides if " ".join(one.split()) in text)
        if not seen["formulas"] or any(one["ns"] != "MathML" for one in seen["formulas"]):
            yield "a formula is not MathML"


def _same(found: str | float | None, wanted: float | None) -> bool:
    """Whether a score is the wanted one; without one wanted, none may be set.

    At the start of each attempt the reader sets numbers without a default to 0, which therefore counts as none. Of each part
    of the marks it keeps three decimals, and adds those up.
    """
    if found is None or wanted is None:
        return wanted is None and not float(found or 0)
    within = 1e-9 if float(wanted).is_integer() else 2e-3
    return abs(float(found) - wanted) < within


def marks_of(mark: Mark, item: Item) -> float:
    """A mark of our marker in marks of the item; what cannot be read has none."""
    assert mark.outcome != "unsettled"
    return (mark.score or 0) * item.marks


def texts(prose: Prose) -> tuple[str, ...]:
    """The pieces of text that are long enough to be looked for."""
    return tuple(piece for piece in prose if isinstance(piece, str) and len(piece.strip()) > 3)


def reasons(item: Item) -> tuple[str, ...]:
    """The sentences of the worked solution."""
    return tuple(row.reason for row in item.working if row.reason)


def hidden_reasons(item: Item) -> tuple[str, ...]:
    """Those of them that the question does not say itself, as questions about first steps and lines of working do."""
    said = ""
    match item.response:
        case Matching(partners=partners):
            said = " ".join(text for partner in partners for text in texts(partner.shown))
        case WorkingTask(choices=choices, lines=lines):
            said = " ".join(text for one in choices for option in one.options for text in texts(option.shown))
            said += " ".join(line.row.reason for line in lines)
    return tuple(reason for reason in reasons(item) if reason not in said)
