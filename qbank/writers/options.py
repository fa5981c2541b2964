"""What the person who exports may choose about a format."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from qbank.writers.formulas import MathMode
from qbank.writers.pictures import PictureFormat

__all__ = ["USUAL_OPTIONS", "Options", "mark_of_mathematics"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """The choices; a writer heeds those that concern it.

    Attributes:
        purpose: whether a cartridge holds tests, ready to be set, or a bank from which the system deals.
        cartridge: the version of Common Cartridge.
        math: how formulas are shown in packages.
        picture: the format of pictures, where formulas are shown as such.
    """

    purpose: Literal["assessment", "bank"] = "assessment"
    cartridge: Literal["1.1", "1.3"] = "1.1"
    math: MathMode = "mathml"
    picture: PictureFormat = "svg"


#: what is chosen when nothing is said
USUAL_OPTIONS = Options()


def mark_of_mathematics(options: Options) -> str:
    """What a file's name says of formulas that are not shown as MathML.

    >>> mark_of_mathematics(Options(math="tex")), mark_of_mathematics(Options(math="pictures"))
    ('-tex', '-pictures-svg')
    """
    if options.math == "pictures":
        return f"-pictures-{options.picture}"
    return "" if options.math == "mathml" else f"-{options.math}"
