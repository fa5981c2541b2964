"""Several answers in QTI 1.2.

The plain standard adds and subtracts: a condition for each option, the right ones first, so that it makes no difference
whether a reader keeps the score within its bounds at every step or at the end. In a cartridge a score can only be set, so
that full marks are for exactly the right options, and nothing for any others.
"""

from __future__ import annotations

from qbank.items.item import Option, SeveralAnswers
from qbank.writers.numbers import decimal_text
from qbank.writers.qti12.follows import follows
from qbank.writers.qti12.names import RESPONSE, SCORE, Dialect, feedback_name
from qbank.writers.tree import Element, add

__all__ = ["add_several_conditions"]


def add_several_conditions(
    processing: Element, response: SeveralAnswers, dialect: Dialect, marks: int
) -> None:
    """Append the conditions of an item.

    Args:
        processing: where they go.
        response: the options.
        dialect: how it is written.
        marks: for all right options and no other.
    """
    wrong = tuple(option for option in response.options if not option.is_key)
    share = None if dialect.percent else decimal_text(response.share(marks), "up")
    for option in response.keys:
        _condition(processing, option, "Add", share)
    for option in wrong:
        _condition(processing, option, "Subtract", share)
    if dialect.percent:
        condition = add(processing, "respcondition", {"continue": "No"})
        exactly = add(add(condition, "conditionvar"), "and")
        for option in response.keys:
            _chosen(exactly, option)
        for option in wrong:
            _chosen(add(exactly, "not"), option)
        add(condition, "setvar", {"action": "Set", "varname": SCORE}, "100")


def _condition(processing: Element, option: Option, action: str, share: str | None) -> None:
    condition = add(processing, "respcondition", {"continue": "Yes"})
    _chosen(add(condition, "conditionvar"), option)
    condition.parts += follows(action, share, feedback_name(option.identifier))


def _chosen(test: Element, option: Option) -> None:
    add(test, "varequal", {"respident": RESPONSE}, option.identifier)
