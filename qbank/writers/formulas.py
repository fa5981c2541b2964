"""How formulas are shown: as MathML, as pictures, or as LaTeX between delimiters for systems that typeset it.

    formula --> a mark in the document --settle--> element, text or picture

A formula is text from the start, and while a document is put together it has a mark in the place of the formula (see
`marks`). `settle` replaces each mark by LaTeX or by a picture, by way of a `math` element that carries its LaTeX in an
attribute of our own. Where MathML is to be shown, the marks stay, and no elements are made at all.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from typing import Literal, TypeAlias

from lxml import etree

from qbank.maths.notation.mathml import quoted
from qbank.writers.marks import held, mark, marks
from qbank.writers.pictures import Album

__all__ = [
    "AS_MATHML",
    "TEX",
    "Formulas",
    "MathMode",
    "formula",
    "settle",
    "showing",
    "tex_wanted",
]

MathMode: TypeAlias = Literal["mathml", "pictures", "tex"]

_Element = etree._Element  # noqa: SLF001 - the public functions of lxml return it

#: the attribute in which a `math` element carries its LaTeX until it is settled
TEX = "tex"

_MATH = "{http://www.w3.org/1998/Math/MathML}math"
_TEX_WANTED = ContextVar("tex-wanted", default=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Formulas:
    """How the documents of a package show their formulas: the arguments of `settle`."""

    mode: MathMode = "mathml"
    album: Album | None = None
    folder: str = ""


#: how they are shown when nothing is said
AS_MATHML = Formulas()


@contextmanager
def showing(mode: MathMode) -> Iterator[None]:
    """Within it, formulas are made for documents that are settled this way, so that they need not hold LaTeX in vain."""
    token = _TEX_WANTED.set(mode == "tex")
    try:
        yield
    finally:
        _TEX_WANTED.reset(token)


def tex_wanted() -> bool:
    """Whether a formula is to hold its LaTeX; outside `showing` it does."""
    return _TEX_WANTED.get()


def formula(math: str, tex: str | None) -> _Element:
    """The mark of a formula, to be put where it is shown.

    Args:
        math: a `math` element as text, as `qbank.maths.notation.mathml` writes it, or an element around it without a
            namespace of its own, which takes that of the document.
        tex: the same in LaTeX; None where it is not wanted.
    """
    return mark(math, "" if tex is None else quoted(tex))


def settle(top: _Element, mode: MathMode, album: Album | None = None, folder: str = "") -> None:
    """Show every formula below an element as the mode says.

    Args:
        top: a document or a part of one, changed in place.
        mode: `mathml`, for which all is left as it is; `pictures` or `tex`.
        album: the pictures of the package, where they are wanted.
        folder: what leads from the document to the top of the package, ending with a slash.
    """
    if mode == "mathml":
        return
    _unwrap(top)
    formulas = list(top.iter(_MATH))
    if mode == "pictures":
        assert album is not None, "a package with pictures has an album"
        album.paste(formulas, folder)
        return
    for math in formulas:
        # set in full size though in line with the text, as the MathML is
        tex = math.get(TEX)
        assert tex, "a formula to be shown as LaTeX was made with it"
        _replace(math, rf"\(\displaystyle {tex}\)")


def _unwrap(top: _Element) -> None:
    """Make each mark of a formula the `math` element that it holds."""
    for one in marks(top):
        parent = one.getparent()
        assert parent is not None, "a formula stands in a document"
        markup, tex = held(one)
        if "<math " not in markup:
            continue
        carrying = markup.replace("<math ", f'<math {TEX}="{tex}" ', 1)
        space = etree.QName(parent).namespace or ""
        (shown,) = etree.fromstring(f'<around xmlns="{space}">{carrying}</around>')
        shown.tail = one.tail
        parent.replace(one, shown)


def _replace(element: _Element, text: str) -> None:
    """Put a text in the place of an element, and what followed it after that."""
    parent, before = element.getparent(), element.getprevious()
    assert parent is not None, "a formula stands in a document"
    text += element.tail or ""
    parent.remove(element)
    if before is None:
        parent.text = (parent.text or "") + text
    else:
        before.tail = (before.tail or "") + text
