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

#: what is written is in UTF-8 from the start, as it is joined again and again and then goes into files
_TIMES, _APPLY, _MINUS = "\u2062".encode(), "\u2061".encode(), "\u2212".encode()
_CONSTANTS = {"pi": "<mi>π</mi>", "e": "<mi>e</mi>", "infinity": "<mn>∞</mn>"}
_GAP = b'<mspace width="0.1667em"/>'
_INTEGRAL = "<mo>∫</mo>".encode()
#: what stands between terms, by whether the next one is taken away
_SIGNS = {False: b"<mo>+</mo>", True: b"<mo>%b</mo>" % _MINUS}
#: what stands between factors
_JOINTS = {
    "close": b"<mo>%b</mo>" % _TIMES,
    "thin": b"<mo>%b</mo>%b" % (_TIMES, _GAP),
    "operator": b"<mo>%b</mo>%b" % (_TIMES, _GAP),
    "times": "<mo>×</mo>".encode(),
}
#: between a function's name and its argument, by whether nothing encloses that
_APPLIED = {False: b"<mo>%b</mo>" % _APPLY, True: b"<mo>%b</mo>%b" % (_APPLY, _GAP)}


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
    return f'<math xmlns="{MATHML}" alttext="{quoted(speech(box, conventions))}"{style}>{_write(box).decode()}</math>'


def markup(tree: Statement | Layout, conventions: Conventions = DEFAULT) -> bytes:
    """The markup inside the `math` element of an expression or equation, in UTF-8."""
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


#: what encloses, and whether it grows -> as it is written before and after
_ENCLOSING = {
    (left, right, grows): (
        b'<mrow><mo form="prefix" stretchy="%b">%b</mo>' % (stretchy, left),
        b'<mo form="postfix" stretchy="%b">%b</mo></mrow>' % (stretchy, right),
    )
    for left, right in ((b"(", b")"), (b"|", b"|"), (b"[", b"]"))
    for grows, stretchy in ((False, b"false"), (True, b"true"))
}

_rules = Rules[bytes]("MathML")
#: joining takes half the time that the operator % takes
_joined = b"".join


def _write(box: Layout) -> bytes:
    """The markup of a box."""
    if not box.mathml:
        box.mathml = _rules[type(box)](box)
    return box.mathml


@_rules.register
def _digits(box: Digits) -> bytes:
    return f"<mn>{escaped(box.text)}</mn>".encode()


@_rules.register
def _letter(box: Letter) -> bytes:
    base = f"<mi>{escaped(GREEK.get(box.base, box.base))}</mi>".encode()
    if box.subscript is None:
        return base
    if box.index:
        letter, number = map(str.encode, box.index)
        return b"<msub>%b<mrow><mi>%b</mi>%b<mn>%b</mn></mrow></msub>" % (base, letter, _SIGNS[True], number)
    kind = "mn" if box.subscript.isdigit() else "mi"
    return b"<msub>%b%b</msub>" % (base, f"<{kind}>{escaped(box.subscript)}</{kind}>".encode())


@_rules.register
def _constant(box: NamedConstant) -> bytes:
    return _CONSTANTS[box.name].encode()


@_rules.register
def _terms(box: Terms) -> bytes:
    if len(box.bodies) == 1:
        return _minus(box.bodies[0])
    parts = [b"<mrow>"]
    for minus, body in zip(box.minuses, box.bodies, strict=True):
        if len(parts) > 1:
            parts += (_SIGNS[minus], body.mathml or _write(body))
        else:
            parts.append(_minus(body) if minus else body.mathml or _write(body))
    parts.append(b"</mrow>")
    return _joined(parts)


def _minus(body: Layout) -> bytes:
    """A minus sign in front, in a row of its own, so that it is set and spoken as belonging to what follows."""
    return _joined((b"<mrow>", _SIGNS[True], body.mathml or _write(body), b"</mrow>"))


@_rules.register
def _factors(box: Factors) -> bytes:
    first, *others = box.bodies
    parts = [b"<mrow>", first.mathml or _write(first)]
    for joint, body in zip(box.joints, others, strict=True):
        parts += (_JOINTS[joint], body.mathml or _write(body))
    parts.append(b"</mrow>")
    return _joined(parts)


@_rules.register
def _fraction(box: Fraction) -> bytes:
    top, bottom = box.top.mathml or _write(box.top), box.bottom.mathml or _write(box.bottom)
    if box.slashed:
        return _joined((b"<mrow>", top, b'<mo lspace="0" rspace="0">/</mo>', bottom, b"</mrow>"))
    if box.nested:
        return _joined((b'<mstyle displaystyle="true"><mfrac>', top, bottom, b"</mfrac></mstyle>"))
    return _joined((b"<mfrac>", top, bottom, b"</mfrac>"))


@_rules.register
def _raised(box: Raised) -> bytes:
    base, exponent = box.base, box.exponent
    return _joined((b"<msup>", base.mathml or _write(base), exponent.mathml or _write(exponent), b"</msup>"))


@_rules.register
def _radical(box: Radical) -> bytes:
    if box.index == 2:
        return b"<msqrt>%b</msqrt>" % _write(box.radicand)
    return b"<mroot>%b<mn>%d</mn></mroot>" % (_write(box.radicand), box.index)


@_rules.register
def _named(box: Named) -> bytes:
    name, argument = f"<mi>{escaped(box.name.word)}</mi>".encode(), box.argument
    if box.name.inverse:
        name = b"<msup>%b%b</msup>" % (name, _minus(Digits("1")))
    elif box.power:
        name = _joined((b"<msup>", name, box.power.mathml or _write(box.power), b"</msup>"))
    return _joined((b"<mrow>", name, _APPLIED[box.open], argument.mathml or _write(argument), b"</mrow>"))


def _enclose(left: bytes, body: Layout, right: bytes) -> bytes:
    """Brackets or bars, which grow only round what is tall: a stretched bracket is wider than one in a line."""
    before, after = _ENCLOSING[left, right, is_tall(body)]
    return _joined((before, body.mathml or _write(body), after))


@_rules.register
def _round(box: Round) -> bytes:
    return _enclose(b"(", box.body, b")")


@_rules.register
def _bars(box: Bars) -> bytes:
    return _enclose(b"|", box.body, b"|")


@_rules.register
def _square(box: Square) -> bytes:
    body = _enclose(b"[", box.body, b"]")
    return b"<msubsup>%b%b%b</msubsup>" % (body, _write(box.lower), _write(box.upper))


@_rules.register
def _little_d(box: LittleD) -> bytes:
    return b"<mrow><mi>d</mi>%b</mrow>" % _write(box.variable)


@_rules.register
def _integral(box: IntegralOf) -> bytes:
    sign, body, differential = _INTEGRAL, box.body, box.differential
    if box.lower is not None and box.upper is not None:
        sign = b"<msubsup>%b%b%b</msubsup>" % (sign, _write(box.lower), _write(box.upper))
    under, by = body.mathml or _write(body), differential.mathml or _write(differential)
    return _joined((b"<mrow>", sign, under, _GAP, by, b"</mrow>"))


@_rules.register
def _limit(box: LimitOf) -> bytes:
    to = _write(box.to)
    if box.side:
        short = isinstance(box.to, Digits | Letter | NamedConstant)
        to = b"<msup>%b%b</msup>" % (to if short else _enclose(b"(", box.to, b")"), _SIGNS[box.side == "-"])
    below = "<mo>→</mo>".encode()
    below = b"<mrow>%b%b%b</mrow>" % (_write(box.variable), below, to)
    return b"<mrow><munder><mi>lim</mi>%b</munder>%b%b</mrow>" % (below, _GAP, _write(box.body))


@_rules.register
def _equals(box: Equals) -> bytes:
    left, right = box.left, box.right
    return _joined(
        (b"<mrow>", left.mathml or _write(left), b"<mo>=</mo>", right.mathml or _write(right), b"</mrow>")
    )
