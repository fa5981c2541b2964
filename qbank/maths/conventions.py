"""How a school writes mathematics: the options that reading and notation share.

A bank states its conventions once; the same value then tells the reader what `log x` or `0,5` means and the
notation how to write a logarithm or a decimal sign.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["DEFAULT", "Conventions"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Conventions:
    """A school's habits of writing.

    Attributes:
        logarithm: the name written for the natural logarithm (`ln x` or `log x`). With `ln`, a typed `log x` is
            still read as natural, with a remark.
        inverse: how inverse functions are written: `arctan x` or `tan^-1 x`. Both are always read.
        cosecant: `cosec` or `csc`. Both are always read.
        constant: the letter of the constant of integration.
        decimal: the decimal sign, a point or a comma. With a comma, `0,5` is read as a half.
        language: BCP 47 tag of the words in which mathematics is spoken.
    """

    logarithm: Literal["ln", "log"] = "ln"
    inverse: Literal["arc", "power"] = "arc"
    cosecant: Literal["cosec", "csc"] = "cosec"
    constant: str = "C"
    decimal: Literal[".", ","] = "."
    language: str = "en"


DEFAULT = Conventions()
