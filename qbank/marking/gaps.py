"""Marking what was typed into a gap of a working: a number exactly, an expression by deciding whether it is the same function."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, Protocol

from qbank.marking.mark import Remark
from qbank.marking.patience import Patience
from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.deciding import decide_equal, decide_same_up_to_constant, enclose
from qbank.maths.expression import Expression, Symbol
from qbank.maths.reading import ReadingError, read_response
from qbank.maths.verdict import Proved, Refuted, Verdict
from qbank.messages import Message, say

__all__ = ["Filled", "fill"]


class _Gap(Protocol):
    """A gap: what belongs there, and in which letter; `items.tasks.asked.TaskGap` says what each is."""

    @property
    def value(self) -> Expression: ...

    @property
    def letter(self) -> Symbol | None: ...

    @property
    def meaning(self) -> Expression | None: ...

    @property
    def up_to_constant(self) -> bool: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """What one filling is worth.

    Attributes:
        outcome: `right`, `wrong`, `unread` or `unsettled`.
        why: what is to be said of it besides, or nothing.
        remarks: of the reader.
    """

    outcome: Literal["right", "wrong", "unread", "unsettled"]
    why: Message | None = None
    remarks: tuple[Remark, ...] = ()


def fill(gap: _Gap, text: str, conventions: Conventions = DEFAULT) -> Filled:
    """Mark a filling.

    Args:
        gap: the gap.
        text: as it was typed; untrusted.
        conventions: of the bank, for reading.

    >>> from qbank.maths.expression import rational
    >>> class Quarter:
    ...     value, letter, meaning, up_to_constant = rational(1, 4), None, None, False
    >>> [fill(Quarter(), text).outcome for text in ("2/8", "0.25", "0.2", "1/4 x", "1/0", "(", "")]
    ['right', 'right', 'wrong', 'wrong', 'wrong', 'unread', 'unread']
    """
    if not text.strip():
        return Filled(outcome="unread")
    try:
        reading = read_response(text, conventions=conventions, variable=gap.letter)
    except ReadingError as error:
        return Filled(outcome="unread", why=say("This cannot be read: {problem}.", problem=error.message))
    patience = Patience()
    found = _decide(gap, reading.tree, conventions, patience)
    if found.outcome == "wrong":
        for other in reading.alternatives:
            if _decide(gap, other, conventions, patience).outcome == "right":
                return Filled(outcome="right")
    if found.outcome == "wrong" and reading.is_conditional:
        found = Filled(outcome="unsettled")
    remarks = tuple(Remark(identifier=one.identifier, sentence=one.sentence) for one in reading.remarks)
    return replace(found, remarks=remarks)


def _decide(gap: _Gap, tree: Expression, conventions: Conventions, patience: Patience) -> Filled:
    letters = tree.symbols()
    if gap.up_to_constant:
        letters = letters - {Symbol(conventions.constant)}
    if gap.letter is None and letters:
        return Filled(outcome="wrong", why=say("A number is wanted here, without letters."))
    if gap.letter is not None and letters - {gap.letter}:
        return Filled(
            outcome="wrong",
            why=say(
                "An expression in {letter} is wanted here, without other letters.", letter=gap.letter.name
            ),
        )
    match _verdict(gap, tree, patience):
        case Proved():
            return Filled(outcome="right")
        case Refuted():
            return Filled(outcome="wrong")
        case _ if gap.letter is None and enclose(tree, at={}) is None:
            return Filled(outcome="wrong", why=say("This has no value."))
        case _:
            return Filled(outcome="unsettled")


def _verdict(gap: _Gap, tree: Expression, patience: Patience) -> Verdict:
    letter = gap.letter or Symbol("x")
    variable, bindings = letter, {}
    if gap.meaning is not None:
        (variable,) = gap.meaning.symbols()
        bindings = {letter: gap.meaning}
    decide = decide_same_up_to_constant if gap.up_to_constant else decide_equal
    return decide(tree, gap.value, variable, bindings=bindings, budget=patience.rest())
