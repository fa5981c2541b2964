"""How the reader says that it followed a convention: a remark at a place in the text."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["REMARKS", "Remark"]

#: identifier of a remark -> what it means
REMARKS: dict[str, str] = {
    "ambiguous-notation": "The text has another reading, which is among the alternatives; the sentence names both.",
    "function-argument": "An argument without brackets ends before the next function: sin x cos x is a product.",
    "inverse-function": "The power -1 on a function name is read as the inverse function, not as one over it.",
    "negative-function-power": "A negative power on a function name is read as a power of the value.",
    "logarithm": "log without a base is read as the natural logarithm.",
    "degrees": "A degree sign is read as a factor pi/180.",
    "look-alike": "A character that looks like the usual one was read as the usual one.",
    "division-sign": "A colon was read as a division sign.",
    "split-word": "Letters written together were read as several names.",
    "mixed-number": "A whole number and a fraction written together are read as their sum.",
    "power-of-ten": "A number with the letter e and a whole number right after it was read as times a power of ten.",
    "decimal-sign": "The decimal sign is not the one the conventions state.",
    "named-constant": "A numbered or spelt-out constant was read as one letter with a subscript.",
    "aside": "Words around the answer, which say nothing of it, were left out.",
    "condition": "A condition after the answer, by which it holds on a part of the line only, was left out.",
    "left-side": "What stood before the equals sign was left out.",
}


@dataclass(frozen=True, slots=True)
class Remark:
    """One convention that a reading followed.

    Attributes:
        identifier: a key of `REMARKS`.
        sentence: what was done with this text, for the writer of the text.
        start: where the place starts, in characters of the source.
        end: where it ends.
    """

    identifier: str
    sentence: str
    start: int
    end: int

    def __post_init__(self) -> None:
        if self.identifier not in REMARKS:
            raise ValueError(f"unknown remark {self.identifier!r}")
