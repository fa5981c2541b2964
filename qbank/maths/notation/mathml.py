"""Presentation MathML (Core) for a layout.

Products carry the invisible multiplication sign and functions the invisible application sign, so that assistive
technology knows which is which; visible gaps are `mspace`, since Core gives those signs no width. The spoken words
stand in `alttext`.
"""

from __future__ import annotations

import re
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
    LimitOf,
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
from qbank.maths.notation.rules import Rules
from qbank.maths.notation.speech import speech

if TYPE_CHECKING:
    from lxml.etree import _Element

__all__ = ["MATHML", "escaped", "markup", "mathml", "mathml_text", "quoted"]

#: the namespace of MathML
MATHML = "http://www.w3.org/1998/Math/MathML"

_TIMES, _APPLY, _MINUS = "\u2062", "\u2061", "\u2212"
_CONSTANTS = {"pi": "π", "e": "e", "infinity": "∞"}
_GAP = '<mspace width="0.1667em"/>'
#: what stands between terms, by whether the next one is taken away
_SIGNS = {False: "<mo>+</mo>", True: f"<mo>{_MINUS}</mo>"}
#: what stands between factors
_JOINTS = {
    "close": f"<mo>{_TIMES}</mo>",
    "thin": f"<mo>{_TIMES}</mo>{_GAP}",
    "operator": f"<mo>{_TIMES}</mo>{_GAP}",
    "times": "<mo>×</mo>",
}


# Not allowed in XML 1.0 (its production 2, Char).
_UNFIT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")


def mathml(
    tree: Statement | Layout, conventions: Conventions = DEFAULT, *, display: bool = False
) -> _Element:
    """An expression or equation as a `math` element.

    Args:
        tree: what to show, or its layout.
        conventions: the school's habits of writing.
        display: set on a line of its own, with large fractions and integral signs.

    Raises:
        ValueError: a name in it has a character that XML forbids.

    >>> from qbank.maths.expression import Symbol
    >>> [part.text for part in mathml(Symbol("x") + 1).iter() if part.text]
    ['x', '+', '1']
    """
    from lxml import etree

    # a formula may be nested more deeply than is usual in a document
    parser = etree.XMLParser(huge_tree=True, resolve_entities=False)
    return etree.fromstring(mathml_text(tree, conventions, display=display), parser)


def mathml_text(
    tree: Statement | Layout, conventions: Conventions = DEFAULT, *, display: bool = False
) -> str:
    """The same as text, without an XML declaration.

    >>> from qbank.maths.expression import Symbol
    >>> mathml_text(Symbol("x"))
    '<math xmlns="http://www.w3.org/1998/Math/MathML" alttext="x"><mi>x</mi></math>'
    """
    box = lay_out(tree, conventions)
    style = ' display="block"' if display else ""
    return f'<math xmlns="{MATHML}" alttext="{quoted(speech(box, conventions))}"{style}>{_write(box)}</math>'


def markup(tree: Statement | Layout, conventions: Conventions = DEFAULT) -> str:
    """The markup inside the `math` element of an expression or equation."""
    return _write(tree if isinstance(tree, Layout) else lay_out(tree, conventions))


def quoted(text: str) -> str:
    r"""Any text as it stands between the double quotes of an attribute; it is on one line.

    >>> quoted('a < "b"\n')
    'a &lt; &quot;b&quot;&#10;'
    """
    text = escaped(text).replace('"', "&quot;")
    return text if text.isprintable() else text.replace("\n", "&#10;").replace("\t", "&#9;")


def escaped(text: str) -> str:
    """Any text as it stands in an element, where it is nothing but text."""
    if text.isalnum():
        return text
    printable = text.isprintable()
    if not printable and _UNFIT.search(text):
        raise ValueError(f"a character that XML forbids in {text[:60]!r}")
    text = text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    return text if printable else text.replace("\r", "&#13;")


_rules = Rules("MathML")


def _write(box: Layout) -> str:
    """The text of a box."""
    if box.mathml is None:
        box.mathml = _rules[type(box)](box)
    return box.mathml


@_rules.register
def _digits(box: Digits) -> str:
    return f"<mn>{escaped(box.text)}</mn>"


@_rules.register
def _letter(box: Letter) -> str:
    base = f"<mi>{escaped(GREEK.get(box.base, box.base))}</mi>"
    if box.subscript is None:
        return base
    if box.index:
        letter, number = box.index
        return f"<msub>{base}{_row(f'<mi>{letter}</mi><mo>{_MINUS}</mo><mn>{number}</mn>')}</msub>"
    kind = "mn" if box.subscript.isdigit() else "mi"
    return f"<msub>{base}<{kind}>{escaped(box.subscript)}</{kind}></msub>"


@_rules.register
def _constant(box: NamedConstant) -> str:
    kind = "mn" if box.name == "infinity" else "mi"
    return f"<{kind}>{_CONSTANTS[box.name]}</{kind}>"


@_rules.register
def _terms(box: Terms) -> str:
    if len(box.bodies) == 1:
        return _minus(box.bodies[0])
    parts = [_minus(box.bodies[0]) if box.minuses[0] else _write(box.bodies[0])]
    for minus, body in zip(box.minuses[1:], box.bodies[1:], strict=True):
        parts.append(_SIGNS[minus])
        parts.append(_write(body))
    return _row("".join(parts))


def _row(inside: str) -> str:
    return f"<mrow>{inside}</mrow>"


def _minus(body: Layout) -> str:
    """A minus sign in front, in a row of its own, so that it is set and spoken as belonging to what follows."""
    return _row(f"<mo>{_MINUS}</mo>{_write(body)}")


@_rules.register
def _factors(box: Factors) -> str:
    parts = [_write(box.bodies[0])]
    for joint, body in zip(box.joints, box.bodies[1:], strict=True):
        parts.append(_JOINTS[joint])
        parts.append(_write(body))
    return _row("".join(parts))


@_rules.register
def _fraction(box: Fraction) -> str:
    top, bottom = _write(box.top), _write(box.bottom)
    if box.slashed:
        return _row(f'{top}<mo lspace="0" rspace="0">/</mo>{bottom}')
    fraction = f"<mfrac>{top}{bottom}</mfrac>"
    return f'<mstyle displaystyle="true">{fraction}</mstyle>' if box.nested else fraction


@_rules.register
def _raised(box: Raised) -> str:
    return f"<msup>{_write(box.base)}{_write(box.exponent)}</msup>"


@_rules.register
def _radical(box: Radical) -> str:
    if box.index == 2:
        return f"<msqrt>{_write(box.radicand)}</msqrt>"
    return f"<mroot>{_write(box.radicand)}<mn>{box.index}</mn></mroot>"


@_rules.register
def _named(box: Named) -> str:
    name = f"<mi>{escaped(box.name.word)}</mi>"
    if box.name.inverse:
        name = f"<msup>{name}{_minus(Digits('1'))}</msup>"
    elif box.power:
        name = f"<msup>{name}{_write(box.power)}</msup>"
    return _row(f"{name}<mo>{_APPLY}</mo>{_GAP if box.open else ''}{_write(box.argument)}")


def _enclose(left: str, body: Layout, right: str) -> str:
    """Brackets or bars, which grow only round what is tall: a stretched bracket is wider than one in a line."""
    stretchy = "true" if is_tall(body) else "false"
    before = f'<mo form="prefix" stretchy="{stretchy}">{left}</mo>'
    return _row(f'{before}{_write(body)}<mo form="postfix" stretchy="{stretchy}">{right}</mo>')


@_rules.register
def _round(box: Round) -> str:
    return _enclose("(", box.body, ")")


@_rules.register
def _bars(box: Bars) -> str:
    return _enclose("|", box.body, "|")


@_rules.register
def _square(box: Square) -> str:
    body = _enclose("[", box.body, "]")
    return f"<msubsup>{body}{_write(box.lower)}{_write(box.upper)}</msubsup>"


@_rules.register
def _little_d(box: LittleD) -> str:
    return _row(f"<mi>d</mi>{_write(box.variable)}")


@_rules.register
def _integral(box: IntegralOf) -> str:
    sign = "<mo>∫</mo>"
    if box.lower is not None and box.upper is not None:
        sign = f"<msubsup>{sign}{_write(box.lower)}{_write(box.upper)}</msubsup>"
    return _row(f"{sign}{_write(box.body)}{_GAP}{_write(box.differential)}")


@_rules.register
def _limit(box: LimitOf) -> str:
    to = _write(box.to)
    if box.side:
        side = "+" if box.side == "+" else _MINUS
        short = isinstance(box.to, Digits | Letter | NamedConstant)
        to = f"<msup>{to if short else _enclose('(', box.to, ')')}<mo>{side}</mo></msup>"
    below = _row(f"{_write(box.variable)}<mo>→</mo>{to}")
    return _row(f"<munder><mi>lim</mi>{below}</munder>{_GAP}{_write(box.body)}")


@_rules.register
def _equals(box: Equals) -> str:
    return _row(f"{_write(box.left)}<mo>=</mo>{_write(box.right)}")
