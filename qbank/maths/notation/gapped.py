r"""A statement with a gap in it: what stands before the gap and what follows, in every notation.

A gap is the letter `gap`, which is laid out with the rest and then taken out of what was written: so the pieces are those
of the whole line, and a reader puts them together again by putting the letter back. A box to type in can stand in a line,
and raised beside one, but not below a bar or a root sign, nor inside brackets that grow: there is no gap in such places.

    1/2 gap + C         1/2 | + C
    u^gap               u | raised |
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.equation import Statement, sides
from qbank.maths.expression import Symbol
from qbank.maths.notation.hand import lay_out
from qbank.maths.notation.latex import latex
from qbank.maths.notation.mathml import markup
from qbank.maths.notation.plain import plain
from qbank.maths.notation.speech import speech

__all__ = ["EDGE", "GAP", "Piece", "Pieces", "has_gap", "pieces"]

#: what stands for a gap in a tree
GAP = Symbol("gap")
#: the blank at the edge of a gap; a reader finds by it where the letter goes back
EDGE = '<mspace width="0.125em"/>'

_LETTER = "<mi>gap</mi>"
_TAG = re.compile(r"<(/?)([a-z]+)[^>]*?(/?)>")
_WORD = re.compile(r"\bgap\b")
_GROWING = '<mo form="prefix" stretchy="true">'


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """What stands on one side of a gap; `mathml` is the inside of a `math` element.

    Attributes:
        plain: as it would be typed.
        latex: without delimiters.
        mathml: markup.
        speech: spoken words.
    """

    plain: str
    latex: str
    mathml: str
    speech: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """A statement with a gap.

    Attributes:
        before: what stands before the gap; it may be empty.
        after: what follows, None for nothing.
        raised: whether the gap is an exponent of what stands before it.
    """

    before: Piece
    after: Piece | None
    raised: bool


def has_gap(statement: Statement) -> bool:
    """Whether a statement has a gap."""
    return any(GAP in side.symbols() for side in sides(statement))


def pieces(statement: Statement, conventions: Conventions = DEFAULT) -> Pieces | None:
    r"""The two sides of the gap of a statement.

    Args:
        statement: with one gap.
        conventions: how it is written.

    Returns:
        The pieces; None where no box could stand in the place of the gap.

    >>> from qbank.maths.expression import *
    >>> x = Symbol("x")
    >>> found = pieces(GAP * sin(3 * x) + Symbol("C"))
    >>> found.before.plain, found.after.plain, found.after.latex
    ('', 'sin 3x + C', '\\sin 3x + C')
    >>> pieces(x / GAP) is None, pieces(x ** GAP).raised
    (True, True)
    """
    box = lay_out(statement, conventions)
    cut = _cut(markup(box).decode())
    if cut is None:
        return None
    left, right, raised = cut
    typed = _halves(plain(box), "^" if raised else "")
    tex = _halves(latex(box).replace(r"\mathit{gap}", "gap"), "^{" if raised else "")
    said = _halves(speech(box, conventions), "", between=" ,")
    if typed is None or tex is None or said is None:
        return None
    before, after = (
        Piece(plain=typed[at], latex=tex[at], mathml=(left, right)[at], speech=said[at]) for at in (0, 1)
    )
    return Pieces(before=before, after=after if after.latex else None, raised=raised)


def _cut(text: str) -> tuple[str, str, bool] | None:
    """MathML before and after the gap, each whole: rows that the gap stands in are closed and opened again."""
    if text.count(_LETTER) != 1:
        return None
    left, right = text.split(_LETTER)
    inside: list[tuple[str, int]] = []
    for tag in _TAG.finditer(left):
        if tag[1]:
            inside.pop()
        elif not tag[3]:
            inside.append((tag[2], tag.start()))
    raised = bool(inside) and inside[-1][0] == "msup"
    if raised:
        at = inside.pop()[1]
        base = left[at + len("<msup>") :]
        if not base or not right.startswith("</msup>"):
            return None
        left, right = left[:at] + base, right.removeprefix("</msup>")
    if any(name != "mrow" or left.startswith(_GROWING, at + len("<mrow>")) for name, at in inside):
        return None
    return f"{left}{EDGE}{'</mrow>' * len(inside)}", f"{'<mrow>' * len(inside)}{EDGE}{right}", raised


def _halves(text: str, raising: str, between: str = " ") -> tuple[str, str] | None:
    """What stands before the one gap and after it, without the signs that raise the gap and what parts them from it."""
    found = _WORD.split(text)
    if len(found) != 2:
        return None
    before, after = found
    if raising:
        if not before.endswith(raising):
            return None
        before, after = before.removesuffix(raising), after.removeprefix("}" if raising == "^{" else "")
    return before.rstrip(between), after.lstrip(between)
