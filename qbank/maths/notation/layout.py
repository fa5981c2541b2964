"""The layout tree: what stands on the page, and where, before any target's syntax.

    Digits  Letter  Constant name                     what is written as it is
    Terms  Factors  Fraction  Raised  Radical         rows, fractions, superscripts, roots
    Named                                             a function's name with its argument
    Round  Bars  Square                               what encloses
    IntegralOf  LimitOf  LittleD  Equals              lines of working

Every bracket a reader needs on paper is a node here. The writers add nothing of their own, with one exception:
a line of plain text has no fraction bars and no raised exponents, so it brackets those parts as well.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
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
    "LimitOf",
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


# Nothing but the notes is ever changed. A frozen dataclass, which would see to that, takes twice as long to make and to
# note something on, and an item has about thirty boxes that no clone before it had.
@dataclass(slots=True, unsafe_hash=True)
class Layout:
    """One box on the page, on which is noted what it is in each notation.

    The lines of a solution, and clones, have most boxes in common.
    """

    # a notation is empty as long as nobody asked for it
    latex: str = field(init=False, default="", compare=False, repr=False)
    mathml: bytes = field(init=False, default=b"", compare=False, repr=False)
    plain: str = field(init=False, default="", compare=False, repr=False)
    typst: str = field(init=False, default="", compare=False, repr=False)
    #: what was said of it, and by whom
    said: str = field(init=False, default="", compare=False, repr=False)
    said_by: object = field(init=False, default=None, compare=False, repr=False)
    #: how it was written into a document as a formula of its own, and by whom
    shown: bytes = field(init=False, default=b"", compare=False, repr=False)
    shown_by: object = field(init=False, default=None, compare=False, repr=False)
    height: int | None = field(init=False, default=None, compare=False, repr=False)

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        return ()

    def walk(self) -> Iterator[Layout]:
        """This box and all inside it, in no particular order."""
        stack: list[Layout] = [self]
        while stack:
            box = stack.pop()
            yield box
            stack.extend(box.parts)


def is_tall(box: Layout) -> bool:
    """Whether a box is higher than a line of writing, so that what encloses it must grow."""
    return _height(box) > _LINE


def _height(box: Layout) -> int:
    """How high a box is, by the highest that is in it."""
    if box.height is None:
        if type(box) is Fraction and not box.slashed:
            box.height = _STACKED
        else:
            height = _TALL if type(box) in _TALL_KINDS else _LINE
            for part in box.parts:
                if type(part) not in _ALONE and (inside := _height(part)) > height:
                    height = inside
            box.height = height
    return box.height


@dataclass(slots=True, unsafe_hash=True)
class Digits(Layout):
    """A number as written, with the school's decimal sign."""

    text: str


@dataclass(slots=True, unsafe_hash=True)
class Letter(Layout):
    """A symbol: its whole name, and the name split into base and subscript (a word, a number, or `n-2`)."""

    name: str
    base: str
    subscript: str | None = None

    @property
    def index(self) -> tuple[str, str] | None:
        """The letter and the number of a subscript such as `n-2`."""
        letter, minus, number = (self.subscript or "").partition("-")
        return (letter, number) if minus else None


@dataclass(slots=True, unsafe_hash=True)
class NamedConstant(Layout):
    """`pi`, `e` or `infinity`."""

    name: str


@dataclass(slots=True, unsafe_hash=True)
class Terms(Layout):
    """A row of terms with their signs; a single term is a minus sign with what follows it."""

    bodies: tuple[Layout, ...]
    minuses: tuple[bool, ...]

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        return self.bodies


@dataclass(slots=True, unsafe_hash=True)
class Factors(Layout):
    """A row of factors; `joints[i]` stands between factor `i` and the next."""

    bodies: tuple[Layout, ...]
    joints: tuple[Joint, ...]

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        return self.bodies


@dataclass(slots=True, unsafe_hash=True)
class Fraction(Layout):
    """A fraction, stacked or (where it would be small) with a slash."""

    top: Layout
    bottom: Layout
    slashed: bool = False

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        return (self.top, self.bottom)

    @property
    def nested(self) -> bool:
        """Whether another stacked fraction is inside, so that this one must be drawn large."""
        top, bottom = self.top, self.bottom
        return (type(top) not in _ALONE and _height(top) == _STACKED) or (
            type(bottom) not in _ALONE and _height(bottom) == _STACKED
        )

    @property
    def numeric(self) -> bool:
        """Whether it is a fraction of two plain numbers."""
        return type(self.top) is Digits and type(self.bottom) is Digits


@dataclass(slots=True, unsafe_hash=True)
class Raised(Layout):
    """A base with a superscript."""

    base: Layout
    exponent: Layout

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        return (self.base, self.exponent)


@dataclass(slots=True, unsafe_hash=True)
class Radical(Layout):
    """A root sign over what it covers; index 2 is not written."""

    radicand: Layout
    index: int

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        return (self.radicand,)


@dataclass(slots=True, unsafe_hash=True)
class Named(Layout):
    """A function's name, a power raised on the name if any, and its argument (bracketed or not)."""

    function: str
    name: FunctionName
    power: Layout | None
    argument: Layout

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        return (self.argument,) if self.power is None else (self.power, self.argument)

    @property
    def open(self) -> bool:
        """Whether nothing encloses the argument, so that a thin space keeps it from the name."""
        return type(self.argument) not in _CLOSED


@dataclass(slots=True, unsafe_hash=True)
class Round(Layout):
    """Round brackets."""

    body: Layout

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        return (self.body,)


@dataclass(slots=True, unsafe_hash=True)
class Bars(Layout):
    """The two bars of a modulus."""

    body: Layout

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        return (self.body,)


@dataclass(slots=True, unsafe_hash=True)
class Square(Layout):
    """Square brackets with limits: what is to be evaluated between them."""

    body: Layout
    lower: Layout
    upper: Layout

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        return (self.body, self.lower, self.upper)


@dataclass(slots=True, unsafe_hash=True)
class LittleD(Layout):
    """The `dx` that closes an integral, or stands alone."""

    variable: Letter

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        return (self.variable,)


@dataclass(slots=True, unsafe_hash=True)
class IntegralOf(Layout):
    """The sign of integration, its limits if any, what is integrated, and `dx`."""

    body: Layout
    differential: LittleD
    lower: Layout | None = None
    upper: Layout | None = None

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        inside = (self.body, self.differential)
        return inside if self.lower is None or self.upper is None else (*inside, self.lower, self.upper)


@dataclass(slots=True, unsafe_hash=True)
class LimitOf(Layout):
    """`lim` with what its letter tends to below it, and what the limit is taken of."""

    body: Layout
    variable: Letter
    to: Layout
    side: Literal["", "+", "-"]

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        return (self.body, self.variable, self.to)


@dataclass(slots=True, unsafe_hash=True)
class Equals(Layout):
    """Two sides of an equation."""

    left: Layout
    right: Layout

    @property
    def parts(self) -> tuple[Layout, ...]:
        """The boxes directly inside."""
        return (self.left, self.right)


#: a line of writing; an integral sign and the like; a stacked fraction
_LINE, _TALL, _STACKED = range(3)
_TALL_KINDS: frozenset[type] = frozenset({IntegralOf, LimitOf, Square})
_ALONE: frozenset[type] = frozenset({Digits, Letter, NamedConstant})
_CLOSED: frozenset[type] = frozenset({Round, Bars})
