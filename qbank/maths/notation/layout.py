"""The layout tree: what stands on the page, and where, before any target's syntax.

    Digits  Letter  Constant name                     what is written as it is
    Terms  Factors  Fraction  Raised  Radical         rows, fractions, superscripts, roots
    Named                                             a function's name with its argument
    Round  Bars  Square                               what encloses
    IntegralOf  LittleD  Equals                       lines of working

Every bracket a reader needs on paper is a node here. The writers add nothing of their own, with one exception:
a line of plain text has no fraction bars and no raised exponents, so it brackets those parts as well.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Literal, TypeAlias

from qbank.maths.notation.names import FunctionName

__all__ = [
    "Bars",
    "Digits",
    "Equals",
    "Factors",
    "Fraction",
    "IntegralOf",
    "Joint",
    "Layout",
    "Letter",
    "LittleD",
    "Named",
    "NamedConstant",
    "Radical",
    "Raised",
    "Round",
    "Square",
    "Terms",
    "is_tall",
]

#: what stands between two factors: nothing; a thin space; the thin space before a function name or integral sign,
#: which typesetters set by themselves; or a sign of multiplication
Joint: TypeAlias = Literal["close", "thin", "operator", "times"]


@dataclass(frozen=True, slots=True)
class Layout:
    """One box on the page."""

    def walk(self) -> Iterator[Layout]:
        """This box and all inside it, in no particular order."""
        stack: list[Layout] = [self]
        while stack:
            box = stack.pop()
            yield box
            for field in fields(box):
                value = getattr(box, field.name)
                parts = value if isinstance(value, tuple) else (value,)
                stack.extend(part for part in parts if isinstance(part, Layout))


def is_tall(box: Layout) -> bool:
    """Whether a box is higher than a line of writing, so that what encloses it must grow."""
    return any(
        isinstance(part, IntegralOf | Square) or (isinstance(part, Fraction) and not part.slashed)
        for part in box.walk()
    )


@dataclass(frozen=True, slots=True)
class Digits(Layout):
    """A number as written, with the school's decimal sign."""

    text: str


@dataclass(frozen=True, slots=True)
class Letter(Layout):
    """A symbol: its whole name, and the name split into base and subscript."""

    name: str
    base: str
    subscript: str | None = None


@dataclass(frozen=True, slots=True)
class NamedConstant(Layout):
    """`pi`, `e` or `infinity`."""

    name: str


@dataclass(frozen=True, slots=True)
class Terms(Layout):
    """A row of terms with their signs; a single term is a minus sign with what follows it."""

    bodies: tuple[Layout, ...]
    minuses: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class Factors(Layout):
    """A row of factors; `joints[i]` stands between factor `i` and the next."""

    bodies: tuple[Layout, ...]
    joints: tuple[Joint, ...]


@dataclass(frozen=True, slots=True)
class Fraction(Layout):
    """A fraction, stacked or (where it would be small) with a slash."""

    top: Layout
    bottom: Layout
    slashed: bool = False

    @property
    def nested(self) -> bool:
        """Whether another stacked fraction is inside, so that this one must be drawn large."""
        return any(
            isinstance(box, Fraction) and not box.slashed
            for part in (self.top, self.bottom)
            for box in part.walk()
        )

    @property
    def numeric(self) -> bool:
        """Whether it is a fraction of two plain numbers."""
        return isinstance(self.top, Digits) and isinstance(self.bottom, Digits)


@dataclass(frozen=True, slots=True)
class Raised(Layout):
    """A base with a superscript."""

    base: Layout
    exponent: Layout


@dataclass(frozen=True, slots=True)
class Radical(Layout):
    """A root sign over what it covers; index 2 is not written."""

    radicand: Layout
    index: int


@dataclass(frozen=True, slots=True)
class Named(Layout):
    """A function's name, a power raised on the name if any, and its argument (bracketed or not)."""

    function: str
    name: FunctionName
    power: Digits | None
    argument: Layout

    @property
    def open(self) -> bool:
        """Whether nothing encloses the argument, so that a thin space keeps it from the name."""
        return not isinstance(self.argument, Round | Bars)


@dataclass(frozen=True, slots=True)
class Round(Layout):
    """Round brackets."""

    body: Layout


@dataclass(frozen=True, slots=True)
class Bars(Layout):
    """The two bars of a modulus."""

    body: Layout


@dataclass(frozen=True, slots=True)
class Square(Layout):
    """Square brackets with limits: what is to be evaluated between them."""

    body: Layout
    lower: Layout
    upper: Layout


@dataclass(frozen=True, slots=True)
class LittleD(Layout):
    """The `dx` that closes an integral, or stands alone."""

    variable: Letter


@dataclass(frozen=True, slots=True)
class IntegralOf(Layout):
    """The sign of integration, its limits if any, what is integrated, and `dx`."""

    body: Layout
    differential: LittleD
    lower: Layout | None = None
    upper: Layout | None = None


@dataclass(frozen=True, slots=True)
class Equals(Layout):
    """Two sides of an equation."""

    left: Layout
    right: Layout
