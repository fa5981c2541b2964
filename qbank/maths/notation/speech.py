"""Spoken English for a layout, for alternative text: no two different layouts are said alike.

Short things are said short (`x squared`, `one half`, `x over 2`); anything longer is closed by a word of its own
(`end power`, `end root`, `end fraction`, `end modulus`), so that a listener knows where it stops.
"""

from __future__ import annotations

from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.equation import Statement
from qbank.maths.functions import FUNCTIONS
from qbank.maths.notation.hand import lay_out
from qbank.maths.notation.layout import (
    Bars,
    Digits,
    Equals,
    Factors,
    Fraction,
    IntegralOf,
    Layout,
    Letter,
    LimitOf,
    LittleD,
    Named,
    NamedConstant,
    Radical,
    Raised,
    Round,
    Square,
    Terms,
)
from qbank.maths.notation.names import SPOKEN
from qbank.maths.notation.pen import Pen

__all__ = ["speech"]

_COUNT = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_PARTS = {2: "half", 3: "third", 4: "quarter", 5: "fifth", 6: "sixth", 8: "eighth", 9: "ninth", 10: "tenth"}
_POWERS = {"2": "squared", "3": "cubed"}
_ROOTS = {2: "the square root of", 3: "the cube root of"}


def speech(tree: Statement | Layout, conventions: Conventions = DEFAULT) -> str:
    """An expression or equation in spoken words.

    Args:
        tree: what to say, or its layout.
        conventions: the school's habits; only the decimal sign is heard.

    >>> from qbank.maths.expression import Symbol, rational, sin
    >>> speech(rational(1, 2) * sin(3 * Symbol("x")) ** 2 + Symbol("C"))
    'one half sine squared of 3 x, plus C'
    """
    return _line(lay_out(tree, conventions))


def _line(box: Layout) -> str:
    """A whole line, where a short rest before each sign helps the listener."""
    return _row(box, ", ") if isinstance(box, Terms) else _write(box)


_write = Pen("speech", "_speech")


@_write.register
def _digits(box: Digits) -> str:
    return box.text.replace(",", " comma ").replace(".", " point ")


@_write.register
def _letter(box: Letter) -> str:
    base = box.base.lower() if box.base.istitle() and len(box.base) > 1 else box.base
    said = base if base == box.base else f"capital {base}"
    if box.index:
        return f"{said} sub {box.index[0]} minus {box.index[1]} end sub"
    return said if box.subscript is None else f"{said} sub {box.subscript}"


@_write.register
def _constant(box: NamedConstant) -> str:
    return box.name


@_write.register
def _terms(box: Terms) -> str:
    return _row(box, " ")


def _row(box: Terms, rest: str) -> str:
    first, *others = zip(box.minuses, box.bodies, strict=True)
    start = ("minus " if first[0] else "") + _write(first[1])
    return start + "".join(f"{rest}{'minus' if minus else 'plus'} {_write(body)}" for minus, body in others)


@_write.register
def _factors(box: Factors) -> str:
    text = _write(box.bodies[0])
    for left, joint, right in zip(box.bodies, box.joints, box.bodies[1:], strict=False):
        text += (" times " if joint == "times" or _says_times(left, right) else " ") + _write(right)
    return text


def _says_times(left: Layout, right: Layout) -> bool:
    """Whether the sign that is not written must be said: after a function, and where the words would run on."""
    if isinstance(right, LittleD):
        return False
    if isinstance(left, Named) or isinstance(right, Radical | Bars):
        return True
    return any(isinstance(box, Fraction) and not _small_fraction(box) for box in (left, right))


def _is_atom(box: Layout) -> bool:
    return isinstance(box, Digits | Letter | NamedConstant)


def _is_short(box: Layout) -> bool:
    """What `over` may stand beside: a letter or number, or its square or cube."""
    if isinstance(box, Raised):
        return _is_atom(box.base) and isinstance(box.exponent, Digits) and box.exponent.text in _POWERS
    return _is_atom(box)


@_write.register
def _fraction(box: Fraction) -> str:
    words = _small_fraction(box)
    if words is not None:
        return words
    top, bottom = _write(box.top), _write(box.bottom)
    if _is_short(box.top) and _is_short(box.bottom):
        return f"{top} over {bottom}"
    return f"the fraction with numerator {top} and denominator {bottom} end fraction"


def _small_fraction(box: Fraction) -> str | None:
    """`three quarters` and the like; None where words would be longer than `15 over 16`."""
    if not isinstance(box.top, Digits) or not isinstance(box.bottom, Digits):
        return None
    top, bottom = box.top.text, box.bottom.text
    if not (top.isdigit() and bottom.isdigit() and 1 <= int(top) <= len(_COUNT) and int(bottom) in _PARTS):
        return None
    part = _PARTS[int(bottom)]
    many = "halves" if part == "half" else part + "s"
    return f"{_COUNT[int(top) - 1]} {part if top == '1' else many}"


@_write.register
def _raised(box: Raised) -> str:
    return f"{_write(box.base)} {_power(box.exponent)}"


def _power(exponent: Layout) -> str:
    if isinstance(exponent, Digits) and exponent.text in _POWERS:
        return _POWERS[exponent.text]
    said = f"to the power {_write(exponent)}"
    return said if _is_atom(exponent) else f"{said} end power"


@_write.register
def _radical(box: Radical) -> str:
    said = f"{_ROOTS.get(box.index, f'the root of index {box.index} of')} {_write(box.radicand)}"
    return said if _is_atom(box.radicand) else f"{said} end root"


@_write.register
def _named(box: Named) -> str:
    undone = FUNCTIONS[box.function].inverse_of if box.function != "ln" else None
    name = f"inverse {SPOKEN[undone]}" if undone else SPOKEN[box.function]
    power = "" if box.power is None else f" {_power(box.power)}"
    argument = box.argument
    if isinstance(argument, Round) and _is_atom(argument.body):
        argument = argument.body
    return f"{name}{power} of {_write(argument)}"


@_write.register
def _round(box: Round) -> str:
    return f"open bracket {_write(box.body)} close bracket"


@_write.register
def _bars(box: Bars) -> str:
    said = f"the modulus of {_write(box.body)}"
    return said if _is_atom(box.body) else f"{said} end modulus"


@_write.register
def _square(box: Square) -> str:
    limits = f"from {_write(box.lower)} to {_write(box.upper)} end limits"
    return f"open square bracket {_write(box.body)} close square bracket {limits}"


@_write.register
def _little_d(box: LittleD) -> str:
    return f"d {_write(box.variable)}"


@_write.register
def _integral(box: IntegralOf) -> str:
    limits = (
        "" if box.lower is None or box.upper is None else f" from {_write(box.lower)} to {_write(box.upper)}"
    )
    return f"the integral{limits} of {_write(box.body)} with respect to {_write(box.differential.variable)}"


@_write.register
def _limit(box: LimitOf) -> str:
    side = {"+": " from above", "-": " from below", "": ""}[box.side]
    to = f"{_write(box.variable)} tends to {_write(box.to)}{side}"
    return f"the limit as {to} of {_write(box.body)} end limit"


@_write.register
def _equals(box: Equals) -> str:
    return f"{_line(box.left)} equals {_line(box.right)}"
