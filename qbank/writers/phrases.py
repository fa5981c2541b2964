"""Every phrase that a package adds to an item's own texts, in one place."""

from __future__ import annotations

__all__ = [
    "ANSWER",
    "BOX",
    "DECIMAL_WANTED",
    "LET",
    "NOT_RIGHT",
    "RIGHT",
    "SO",
    "UNREAD",
    "USE",
    "WORKED_SOLUTION",
    "marks",
    "rounded",
]

ANSWER = "Answer: "
#: the accessible name of the box for a number
BOX = "Answer, as a decimal number"
DECIMAL_WANTED = "Type it with a decimal point, for example 0.125. Fractions and formulas are not read."
RIGHT = "Right."
NOT_RIGHT = "Not right."
UNREAD = "No number was read. Type a decimal, for example 0.125."
WORKED_SOLUTION = "Worked solution"
#: before a substitution, and between its two equations
LET, SO = "Let ", ", so "
#: before an identity
USE = "Use "


def rounded(decimal: str, figures: int) -> str:
    """After an exact value."""
    return f", which is {decimal} to {figures} significant figures."


def marks(count: int) -> str:
    """For whoever marks a free answer."""
    return f"Marks for a full answer: {count}."
