"""Presentation MathML (Core) for a layout.

Products carry the invisible multiplication sign and functions the invisible application sign, so that assistive
technology knows which is which; visible gaps are `mspace`, since Core gives those signs no width. The spoken words
stand in `alttext`.
"""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from functools import cache, lru_cache, singledispatch
from typing import TYPE_CHECKING

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
    LittleD,
    Named,
    NamedConstant,
    Radical,
    Raised,
    Round,
    Square,
    Terms,
    is_tall,
)
from qbank.maths.notation.names import GREEK
from qbank.maths.notation.speech import speech

if TYPE_CHECKING:
    from lxml.etree import _Element

__all__ = ["MATHML", "mathml", "mathml_text"]

#: the namespace of MathML
MATHML = "http://www.w3.org/1998/Math/MathML"

_TIMES, _APPLY, _MINUS = "\u2062", "\u2061", "\u2212"
_CONSTANTS = {"pi": "π", "e": "e", "infinity": "∞"}
_THIN = "0.1667em"


def mathml(tree: Statement, conventions: Conventions = DEFAULT, *, display: bool = False) -> _Element:
    """An expression or equation as a `math` element.

    Args:
        tree: what to show.
        conventions: the school's habits of writing.
        display: set on a line of its own, with large fractions and integral signs.

    >>> from qbank.maths.expression import Symbol
    >>> [part.text for part in mathml(Symbol("x") + 1).iter() if part.text]
    ['x', '+', '1']
    """
    return deepcopy(_prototype(tree, conventions, display=display))


@lru_cache(maxsize=256)
def _prototype(tree: Statement, conventions: Conventions, *, display: bool) -> _Element:
    """The element of which every caller gets a copy: an item shows the same formula in several places."""
    from lxml import etree

    # the published type stubs leave out the default namespace, whose prefix is None
    math = etree.Element(f"{{{MATHML}}}math", nsmap={None: MATHML})  # type: ignore[dict-item]
    math.set("alttext", speech(tree, conventions))
    if display:
        math.set("display", "block")
    _write(lay_out(tree, conventions), math)
    return math


def mathml_text(tree: Statement, conventions: Conventions = DEFAULT, *, display: bool = False) -> str:
    """The same as text, without an XML declaration.

    >>> from qbank.maths.expression import Symbol
    >>> mathml_text(Symbol("x"))
    '<math xmlns="http://www.w3.org/1998/Math/MathML" alttext="x"><mi>x</mi></math>'
    """
    from lxml import etree

    return etree.tostring(mathml(tree, conventions, display=display), encoding="unicode")


def _add(parent: _Element, tag: str, text: str | None = None, **attributes: str) -> _Element:
    element = _subelement()(parent, f"{{{MATHML}}}{tag}", attributes)
    element.text = text
    return element


@cache
def _subelement() -> Callable[..., _Element]:
    """Lxml's maker of elements, looked up once and only when there is something to write."""
    from lxml import etree

    return etree.SubElement


def _gap(parent: _Element) -> None:
    _add(parent, "mspace", width=_THIN)


@singledispatch
def _write(box: Layout, parent: _Element) -> None:  # noqa: ARG001 - the signature of its registered parts
    raise TypeError(f"no MathML for {type(box).__name__}")


@_write.register(Digits)
def _digits(box: Digits, parent: _Element) -> None:
    _add(parent, "mn", box.text)


@_write.register(Letter)
def _letter(box: Letter, parent: _Element) -> None:
    base = GREEK.get(box.base, box.base)
    if box.subscript is None:
        _add(parent, "mi", base)
        return
    sub = _add(parent, "msub")
    _add(sub, "mi", base)
    _add(sub, "mn" if box.subscript.isdigit() else "mi", box.subscript)


@_write.register(NamedConstant)
def _constant(box: NamedConstant, parent: _Element) -> None:
    _add(parent, "mn" if box.name == "infinity" else "mi", _CONSTANTS[box.name])


@_write.register(Terms)
def _terms(box: Terms, parent: _Element) -> None:
    if len(box.bodies) == 1:
        _minus(box.bodies[0], parent)
        return
    row = _add(parent, "mrow")
    for position, (minus, body) in enumerate(zip(box.minuses, box.bodies, strict=True)):
        if position == 0 and minus:
            _minus(body, row)
            continue
        if position:
            _add(row, "mo", _MINUS if minus else "+")
        _write(body, row)


def _minus(body: Layout, parent: _Element) -> None:
    """A minus sign in front, in a row of its own, so that it is set and spoken as belonging to what follows."""
    row = _add(parent, "mrow")
    _add(row, "mo", _MINUS)
    _write(body, row)


@_write.register(Factors)
def _factors(box: Factors, parent: _Element) -> None:
    row = _add(parent, "mrow")
    _write(box.bodies[0], row)
    for joint, body in zip(box.joints, box.bodies[1:], strict=True):
        _add(row, "mo", "×" if joint == "times" else _TIMES)
        if joint in ("thin", "operator"):
            _gap(row)
        _write(body, row)


@_write.register(Fraction)
def _fraction(box: Fraction, parent: _Element) -> None:
    if box.slashed:
        row = _add(parent, "mrow")
        _write(box.top, row)
        _add(row, "mo", "/", lspace="0", rspace="0")
        _write(box.bottom, row)
        return
    around = _add(parent, "mstyle", displaystyle="true") if box.nested else parent
    fraction = _add(around, "mfrac")
    _write(box.top, fraction)
    _write(box.bottom, fraction)


@_write.register(Raised)
def _raised(box: Raised, parent: _Element) -> None:
    script = _add(parent, "msup")
    _write(box.base, script)
    _write(box.exponent, script)


@_write.register(Radical)
def _radical(box: Radical, parent: _Element) -> None:
    if box.index == 2:
        _write(box.radicand, _add(parent, "msqrt"))
        return
    root = _add(parent, "mroot")
    _write(box.radicand, root)
    _add(root, "mn", str(box.index))


@_write.register(Named)
def _named(box: Named, parent: _Element) -> None:
    row = _add(parent, "mrow")
    name = _add(row, "msup") if box.name.inverse or box.power else row
    _add(name, "mi", box.name.word)
    if box.name.inverse:
        _minus(Digits("1"), name)
    elif box.power:
        _write(box.power, name)
    _add(row, "mo", _APPLY)
    if box.open:
        _gap(row)
    _write(box.argument, row)


def _enclose(left: str, body: Layout, right: str, parent: _Element) -> None:
    """Brackets or bars, which grow only round what is tall: a stretched bracket is wider than one in a line."""
    row = _add(parent, "mrow")
    stretchy = "true" if is_tall(body) else "false"
    _add(row, "mo", left, form="prefix", stretchy=stretchy)
    _write(body, row)
    _add(row, "mo", right, form="postfix", stretchy=stretchy)


@_write.register(Round)
def _round(box: Round, parent: _Element) -> None:
    _enclose("(", box.body, ")", parent)


@_write.register(Bars)
def _bars(box: Bars, parent: _Element) -> None:
    _enclose("|", box.body, "|", parent)


@_write.register(Square)
def _square(box: Square, parent: _Element) -> None:
    limits = _add(parent, "msubsup")
    _enclose("[", box.body, "]", limits)
    _write(box.lower, limits)
    _write(box.upper, limits)


@_write.register(LittleD)
def _little_d(box: LittleD, parent: _Element) -> None:
    row = _add(parent, "mrow")
    _add(row, "mi", "d")
    _write(box.variable, row)


@_write.register(IntegralOf)
def _integral(box: IntegralOf, parent: _Element) -> None:
    row = _add(parent, "mrow")
    if box.lower is None or box.upper is None:
        _add(row, "mo", "∫")
    else:
        limits = _add(row, "msubsup")
        _add(limits, "mo", "∫")
        _write(box.lower, limits)
        _write(box.upper, limits)
    _write(box.body, row)
    _gap(row)
    _write(box.differential, row)


@_write.register(Equals)
def _equals(box: Equals, parent: _Element) -> None:
    row = _add(parent, "mrow")
    _write(box.left, row)
    _add(row, "mo", "=")
    _write(box.right, row)
