"""Plain text for a layout: one line that a person reads and that `qbank.maths.reading` reads back to the same tree.

A line of text has no fraction bars and no raised exponents, so parts of fractions and exponents get brackets here
that the layout does not have; and where a typed form would be read by a convention only, a sign or a bracket makes
it certain.
"""

from __future__ import annotations

from math import gcd

from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.equation import Statement
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
from qbank.maths.notation.products import ends_with_variable
from qbank.maths.notation.rules import Rules

__all__ = ["plain"]

_RAISED_DIGITS = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


def plain(tree: Statement | Layout, conventions: Conventions = DEFAULT) -> str:
    """An expression or equation on one line.

    Args:
        tree: what to show, or its layout.
        conventions: the school's habits of writing; the text reads back under the same ones.

    >>> from qbank.maths.expression import Symbol, rational, sin
    >>> plain(rational(1, 2) * sin(3 * Symbol("x")) ** 2 + Symbol("C"))
    '1/2 sin^2 3x + C'
    """
    return _write(lay_out(tree, conventions))


_ATOMS: frozenset[type] = frozenset({Digits, Letter, NamedConstant})
#: what a number stands close to, and what stands beside a slash without a bracket
_TIGHT: frozenset[type] = frozenset({Letter, Round, Raised})
_ALONE = _ATOMS | {Raised, Radical, LittleD}
_rules = Rules[str]("plain text")


def _write(box: Layout) -> str:
    """The text of a box."""
    if not box.plain:
        box.plain = _rules[type(box)](box)
    return box.plain


@_rules.register
def _digits(box: Digits) -> str:
    return box.text


@_rules.register
def _letter(box: Letter) -> str:
    return box.name


@_rules.register
def _constant(box: NamedConstant) -> str:
    return box.name


@_rules.register
def _terms(box: Terms) -> str:
    text = ""
    for minus, body in zip(box.minuses, box.bodies, strict=True):
        written = body.plain or _write(body)
        if text:
            text += f" - {written}" if minus else f" + {written}"
        else:
            text = f"-{written}" if minus else written
    return text


@_rules.register
def _factors(box: Factors) -> str:
    """Factors with a space, a sign, or (a number before a letter or bracket, anything before a bracket) nothing."""
    left, *others = box.bodies
    text = _write(left)
    if type(left) is Fraction and not (left.numeric and text.replace("/", "").isdigit()):
        text = f"({text})"
    for joint, right in zip(box.joints, others, strict=True):
        factor = right.plain or _write(right)
        text += _joint(left, joint, right) + (f"({factor})" if type(right) is Fraction else factor)
        left = right
    return text


def _joint(left: Layout, joint: str, right: Layout) -> str:
    if joint == "times":
        return " * "
    if type(left) is Named and type(right) is not LittleD:
        certain = type(right) is Named and (not left.open or ends_with_variable(left.argument))
        return " " if certain else " * "
    if type(left) is Raised and type(left.base) is NamedConstant and _is_atom(left.exponent):
        return " " if type(right) is Named else " * "
    tight = type(left) is Digits and (type(right) in _TIGHT or _is_pi(right))
    return "" if tight else " "


def _is_pi(box: Layout) -> bool:
    return isinstance(box, NamedConstant) and box.name == "pi"


def _is_atom(box: Layout) -> bool:
    return type(box) in _ATOMS


def _side(box: Layout) -> str:
    """The numerator or denominator of a fraction written with a slash."""
    text = box.plain or _write(box)
    return text if type(box) in _ALONE else f"({text})"


@_rules.register
def _fraction(box: Fraction) -> str:
    slash = " / " if _looks_like_exponent(box) else "/"
    top = _write(box.top) if _binds_before_slash(box.top) else _side(box.top)
    return f"{top}{slash}{_side(box.bottom)}"


def _binds_before_slash(top: Layout) -> bool:
    """Whether a numerator is seen as one without a bracket: `2x/3`, `7pi/96`, `3 sqrt(2)/4`, `5(x + 1)/6`.

    Not `5 ln 2/3`, where the eye takes 2/3 for the argument, nor `2x^2/3`.
    """
    if not isinstance(top, Factors) or not isinstance(top.bodies[0], Digits) or "times" in top.joints:
        return False
    *inner, last = top.bodies[1:]
    closed = _is_closed(last) or (isinstance(last, Raised) and not _is_atom(last.exponent))
    return closed and all(_is_closed(body) for body in inner) and " * " not in _write(top)


def _is_closed(box: Layout) -> bool:
    return isinstance(box, Letter | NamedConstant | Radical | Round)


def _looks_like_exponent(box: Fraction) -> bool:
    """Whether the slash could be taken for a part of the exponent: `x^2/3` or `e^2/3`, though not `x^3/3`."""
    under = box.bottom.base if isinstance(box.bottom, Raised) else box.bottom
    if not isinstance(box.top, Raised) or not isinstance(under, Digits):
        return False
    exponent = box.top.exponent
    if isinstance(exponent, Digits) and exponent.text.isdigit() and under.text.isdigit():
        in_lowest_terms = gcd(int(exponent.text), int(under.text)) == 1
        return in_lowest_terms or isinstance(box.top.base, NamedConstant)
    return isinstance(box.top.base, NamedConstant)


@_rules.register
def _raised(box: Raised) -> str:
    base, exponent = box.base.plain or _write(box.base), box.exponent.plain or _write(box.exponent)
    return f"{base}^{exponent if _is_atom(box.exponent) else f'({exponent})'}"


@_rules.register
def _radical(box: Radical) -> str:
    sign = "sqrt" if box.index == 2 else str(box.index).translate(_RAISED_DIGITS) + "√"
    return f"{sign}({_write(box.radicand)})"


@_rules.register
def _named(box: Named) -> str:
    name = box.name.word + ("^-1" if box.name.inverse else "")
    if box.power is not None:
        power = _write(box.power)
        name += f"^{power if _is_atom(box.power) else f'({power})'}"
    argument = box.argument
    if isinstance(argument, Bars) and not any(isinstance(part, Bars) for part in argument.body.walk()):
        return f"{name}|{_write(argument.body)}|"
    if isinstance(argument, Round):
        return name + _write(argument)
    simple = _is_atom(argument) or isinstance(argument, Factors)
    return f"{name} {_write(argument)}" if simple else f"{name}({_write(argument)})"


@_rules.register
def _round(box: Round) -> str:
    return f"({_write(box.body)})"


@_rules.register
def _bars(box: Bars) -> str:
    return f"abs({_write(box.body)})"


@_rules.register
def _square(box: Square) -> str:
    return f"[{_write(box.body)}]{_limits(box.lower, box.upper)}"


def _limits(lower: Layout, upper: Layout) -> str:
    low, high = (_write(box) if _is_atom(box) else f"({_write(box)})" for box in (lower, upper))
    return f"_{low}^{high}"


@_rules.register
def _little_d(box: LittleD) -> str:
    return f"d{box.variable.name}"


@_rules.register
def _integral(box: IntegralOf) -> str:
    limits = "" if box.lower is None or box.upper is None else _limits(box.lower, box.upper)
    return f"∫{limits} {_write(box.body)} {_write(box.differential)}"


@_rules.register
def _limit(box: LimitOf) -> str:
    to = _write(box.to)
    if box.side:
        to = f"{to if _is_atom(box.to) else f'({to})'}^{box.side}"
    return f"lim_({_write(box.variable)} → {to}) {_write(box.body)}"


@_rules.register
def _equals(box: Equals) -> str:
    return f"{_write(box.left)} = {_write(box.right)}"
