"""Typst mathematics for a layout: what stands between two dollar signs.

Words are always written as strings or by names that Typst defines, so that no text of a bank becomes code.
"""

from __future__ import annotations

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
from qbank.maths.notation.names import GREEK
from qbank.maths.notation.rules import Rules

__all__ = ["typst"]

_CONSTANTS = {"pi": "pi", "e": "e", "infinity": "infinity"}
_JOINTS = {"close": " ", "thin": " thin ", "operator": " ", "times": " times "}


def typst(tree: Statement | Layout, conventions: Conventions = DEFAULT) -> str:
    """An expression or equation in Typst's mathematics mode, without the dollar signs.

    Args:
        tree: what to show, or its layout.
        conventions: the school's habits of writing.

    >>> from qbank.maths.expression import Symbol, rational, sin
    >>> print(typst(rational(1, 2) * sin(3 * Symbol("x")) ** 2))
    frac(1, 2) op("sin")^(2) 3 x
    """
    return _write(lay_out(tree, conventions))


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


_rules = Rules[str]("Typst")


def _write(box: Layout) -> str:
    """The text of a box."""
    if not box.typst:
        box.typst = _rules[type(box)](box)
    return box.typst


@_rules.register
def _digits(box: Digits) -> str:
    return _quoted(box.text) if "," in box.text else box.text


@_rules.register
def _letter(box: Letter) -> str:
    base = _base(box.base)
    if box.subscript is None:
        return base
    return f"{base}_({' - '.join(map(_base, box.index or (box.subscript,)))})"


def _base(name: str) -> str:
    """A Greek letter is written as the character itself, which needs no name; longer words are strings."""
    if name in GREEK:
        return GREEK[name]
    if name.isascii() and (name.isdigit() or (name.isalpha() and len(name) == 1)):
        return name
    return f"italic({_quoted(name)})" if name.isalpha() else _quoted(name)


@_rules.register
def _constant(box: NamedConstant) -> str:
    return _CONSTANTS[box.name]


@_rules.register
def _terms(box: Terms) -> str:
    first, *others = zip(box.minuses, box.bodies, strict=True)
    start = ("-" if first[0] else "") + _write(first[1])
    return start + "".join(f" {'-' if minus else '+'} {_write(body)}" for minus, body in others)


@_rules.register
def _factors(box: Factors) -> str:
    rest = zip(box.joints, box.bodies[1:], strict=True)
    return _write(box.bodies[0]) + "".join(_JOINTS[joint] + _write(body) for joint, body in rest)


@_rules.register
def _fraction(box: Fraction) -> str:
    top, bottom = _write(box.top), _write(box.bottom)
    if box.slashed:
        return rf"{top} \/ {bottom}"
    return f"display(frac({top}, {bottom}))" if box.nested else f"frac({top}, {bottom})"


@_rules.register
def _raised(box: Raised) -> str:
    return f"{_write(box.base)}^({_write(box.exponent)})"


@_rules.register
def _radical(box: Radical) -> str:
    body = _write(box.radicand)
    return f"sqrt({body})" if box.index == 2 else f"root({box.index}, {body})"


@_rules.register
def _named(box: Named) -> str:
    raised = "-1" if box.name.inverse else "" if box.power is None else _write(box.power)
    name = f"op({_quoted(box.name.word)})" + (f"^({raised})" if raised else "")
    return f"{name} {_write(box.argument)}"


@_rules.register
def _round(box: Round) -> str:
    return f"({_write(box.body)})"


@_rules.register
def _bars(box: Bars) -> str:
    return f"abs({_write(box.body)})"


@_rules.register
def _square(box: Square) -> str:
    return f"lr([{_write(box.body)}])_({_write(box.lower)})^({_write(box.upper)})"


@_rules.register
def _little_d(box: LittleD) -> str:
    return f"d {_write(box.variable)}"


@_rules.register
def _integral(box: IntegralOf) -> str:
    limits = "" if box.lower is None or box.upper is None else f"_({_write(box.lower)})^({_write(box.upper)})"
    return f"integral{limits} {_write(box.body)} thin {_write(box.differential)}"


@_rules.register
def _limit(box: LimitOf) -> str:
    to = _write(box.to)
    if box.side:
        to = f"{to if isinstance(box.to, Digits | Letter | NamedConstant) else f'({to})'}^({box.side})"
    return f"lim_({_write(box.variable)} -> {to}) {_write(box.body)}"


@_rules.register
def _equals(box: Equals) -> str:
    return f"{_write(box.left)} = {_write(box.right)}"
