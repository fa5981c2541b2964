"""A formula in MathML as Typst mathematics, from which its picture is drawn.

The picture is made from the MathML that would stand in its place, so both show the same. This is not a reader of MathML
in general: it knows the elements that `qbank.maths.notation.mathml` writes. Nothing in it becomes code: letters and
words are quoted, and a sign that is not in the table is refused.
"""

from __future__ import annotations

from collections.abc import Callable

from lxml import etree

from qbank.maths.notation.mathml import MATHML
from qbank.writers.refusal import RefusalError

__all__ = ["MarkupError", "typst_of"]

_Element = etree._Element  # noqa: SLF001 - the public functions of lxml return it

#: sign -> Typst; the invisible ones only say which is which
_SIGNS = {
    "\u2062": "",
    "\u2061": "",
    "+": "+",
    "\u2212": "-",
    "=": "=",
    "\u00d7": "times",
    "/": 'class("normal", \\/)',
    "\u222b": "integral",
    "\u2192": "arrow.r",
}
#: brackets as they stand in a line; a stretchy pair is enclosed in `lr`
_OPENING = {"(": "\\(", "[": "\\[", "|": 'class("opening", |)'}
_CLOSING = {")": "\\)", "]": "\\]", "|": 'class("closing", |)'}


#: elements inside each other. Typst descends into them on the stack of the process, which is not for anybody to exhaust
_DEEPEST = 60


class MarkupError(RefusalError):
    """A formula that cannot be drawn: something is in it that our formulas do not have, or it is nested too deeply."""

    def __init__(self, what: str) -> None:
        super().__init__("a formula that is to be a picture", what, "show formulas as MathML")


def typst_of(math: _Element) -> str:
    """What stands between the dollar signs of Typst, in full size.

    Args:
        math: a `math` element.

    Raises:
        MarkupError: it holds something that our formulas do not have, or is nested too deeply.

    >>> from qbank.maths.expression import Symbol, sin
    >>> from qbank.maths.notation import mathml
    >>> print(typst_of(mathml(sin(Symbol("x")) ** 2)))
    display(attach(upright(s i n), t: 2) thin x)
    """
    level = [math]
    for _ in range(_DEEPEST):
        level = [child for element in level for child in element]
    if level:
        raise MarkupError(f"it has more than {_DEEPEST} parts inside each other")
    return f"display({_row(math)})"


def _name(element: _Element) -> str:
    tag = str(element.tag)
    if not tag.startswith(f"{{{MATHML}}}"):
        raise MarkupError(f"{tag[:60]!r} does not belong in a formula")
    return tag[len(MATHML) + 2 :]


def _write(element: _Element) -> str:
    writer = _WRITERS.get(_name(element))
    if writer is None:
        raise MarkupError(f"{_name(element)[:60]!r} is not used in our formulas")
    return writer(element)


def _row(element: _Element) -> str:
    parts = [_write(child) for child in element]
    if len(element) and element[0].get("stretchy") == "true":
        # what is tall has its brackets grow with it
        return f"lr({' '.join(filter(None, parts))})"
    return " ".join(filter(None, parts))


def _styled(element: _Element) -> str:
    return f"display({_row(element)})" if element.get("displaystyle") == "true" else _row(element)


def _word(element: _Element) -> str:
    """A letter in italics, a longer word upright, as MathML has it."""
    text = element.text or ""
    if not text.isalnum():
        raise MarkupError(f"{text[:60]!r} is not a letter or word")
    # letter by letter, since a quoted text would have a blank beside it
    return text if len(text) == 1 else f"upright({' '.join(text)})"


def _number(element: _Element) -> str:
    text = element.text or ""
    if text == "\u221e":
        return "infinity"
    if not text.replace(".", "", 1).replace(",", "", 1).isdecimal():
        raise MarkupError(f"{text[:60]!r} is not a number")
    return text if text.isascii() and text.isdecimal() else f'"{text}"'


def _sign(element: _Element) -> str:
    text = element.text or ""
    table = {"prefix": _OPENING, "postfix": _CLOSING}.get(element.get("form", ""), _SIGNS)
    if text not in table:
        raise MarkupError(f"the sign {text[:60]!r} is not used in our formulas")
    return table[text]


def _parts(element: _Element, count: int) -> list[str]:
    if len(element) != count:
        raise MarkupError(f"{_name(element)} has {len(element)} parts")
    # a part that is empty would be no argument at all
    return [_write(child) or '""' for child in element]


def _call(form: str, count: int) -> Callable[[_Element], str]:
    return lambda element: form.format(*_parts(element, count))


_WRITERS: dict[str, Callable[[_Element], str]] = {
    "mrow": _row,
    "mstyle": _styled,
    "mi": _word,
    "mn": _number,
    "mo": _sign,
    "mspace": lambda _: "thin",
    "mfrac": _call("frac({0}, {1})", 2),
    "msup": _call("attach({0}, t: {1})", 2),
    "msub": _call("attach({0}, b: {1})", 2),
    "munder": _call("attach(limits({0}), b: {1})", 2),
    "msubsup": _call("attach({0}, b: {1}, t: {2})", 3),
    "msqrt": lambda element: f"sqrt({_row(element)})",
    "mroot": _call("root({1}, {0})", 2),
}
