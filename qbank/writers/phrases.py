"""Every phrase that a package adds to an item's own texts, in one place."""

from __future__ import annotations

__all__ = [
    "ANSWER",
    "BEGINS_WITH",
    "BOX",
    "DECIMAL_WANTED",
    "LEFT_BLANK",
    "LET",
    "NOT_RIGHT",
    "ONE_OF_SEVERAL",
    "PAIRS_PARTLY_RIGHT",
    "PARTLY_RIGHT",
    "RIGHT",
    "RIGHT_OPTIONS",
    "SO",
    "SO_NUMBERS",
    "UNLISTED",
    "UNREAD",
    "UNREAD_BOXES",
    "USE",
    "WHICH_LINE",
    "WORKED_SOLUTION",
    "belongs_in_line",
    "denominator",
    "marks",
    "number",
    "numerator",
    "part",
    "rounded",
    "typed",
    "whole_numbers_wanted",
]

ANSWER = "Answer: "
#: the accessible name of the box for a number
BOX = "Answer, as a decimal number"
DECIMAL_WANTED = "Type it with a decimal point, for example 0.125. Fractions and formulas are not read."
RIGHT = "Right."
NOT_RIGHT = "Not right."
PAIRS_PARTLY_RIGHT = "Not all of the pairs are right."
#: between an integral and the first step of its solution
BEGINS_WITH = ": "
#: before the options of several that are right
RIGHT_OPTIONS = "The right options are "
PARTLY_RIGHT = "Some of the numbers are right, but not all."
#: after one right answer of many
ONE_OF_SEVERAL = " (one of the right answers)"
UNREAD = "No number was read. Type a decimal, for example 0.125."
UNREAD_BOXES = "Not all boxes could be read. Fill in each of them as described."
#: after a number that is on no list of spellings
UNLISTED = (
    "This is not on the list of accepted answers. Compare it with the worked solution; if your number is the right one, "
    "written in another way, tell your teacher."
)
WORKED_SOLUTION = "Worked solution"
#: before a substitution, and between its two equations
LET, SO = "Let ", ", so "
#: before the coefficients
SO_NUMBERS = "So "
#: before an identity
USE = "Use "
#: below the lines of a working
WHICH_LINE = "Which line is it?"
#: where a line is left blank and its choice stands elsewhere
LEFT_BLANK = "\u2026"


def belongs_in_line(number: int) -> str:
    """Where a line of a working is left blank."""
    return f"What belongs in line {number}?"


def rounded(decimal: str, figures: int) -> str:
    """After an exact value."""
    return f", which is {decimal} to {figures} significant figures."


def marks(count: int) -> str:
    """For whoever marks a free answer."""
    return f"Marks for a full answer: {count}."


def typed(decimal: str) -> str:
    """Where the system compares what is typed with a list of spellings."""
    return f"Type the number alone, as a decimal such as 0{decimal}125. Fractions and formulas are not read."


def part(number: int) -> str:
    """A section of a test, whose own title would give the technique away."""
    return f"Part {number}"


def number(letter: str) -> str:
    """The accessible name of the box for a coefficient as a decimal."""
    return f"{letter}, as a decimal number"


def numerator(letter: str) -> str:
    """The accessible name of the upper box of a coefficient."""
    return f"Numerator of {letter}"


def denominator(letter: str) -> str:
    """The accessible name of the lower box of a coefficient."""
    return f"Denominator of {letter}"


def whole_numbers_wanted(bound: int) -> str:
    """Below the boxes of fractions."""
    return (
        f"Type a whole number from -{bound} to {bound} in each box. For a whole number the second box is 1."
    )
