"""How formulas are shown: as MathML, as pictures, or as LaTeX between delimiters for systems that typeset it.

Content is first written with MathML, and each `math` element carries its LaTeX in an attribute of our own; the last
step before a document is written out is `settle`, which takes that attribute away, or puts the LaTeX or a picture in the
place of the element.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from lxml import etree

from qbank.writers.pictures import Album

__all__ = ["TEX", "MathMode", "settle"]

MathMode: TypeAlias = Literal["mathml", "pictures", "tex"]

_Element = etree._Element  # noqa: SLF001 - the public functions of lxml return it

#: the attribute in which a `math` element carries its LaTeX until it is settled
TEX = "tex"

_MATH = "{http://www.w3.org/1998/Math/MathML}math"
#: after a backslash of a text from outside, so that no typesetter takes what follows for a command or a delimiter
_WORD_JOINER = "\u2060"


def settle(top: _Element, mode: MathMode, album: Album | None = None, folder: str = "") -> None:
    """Show every formula below an element as the mode says.

    Args:
        top: a document or a part of one, changed in place.
        mode: `mathml`, `pictures` or `tex`.
        album: the pictures of the package, where they are wanted.
        folder: what leads from the document to the top of the package, ending with a slash.
    """
    formulas = list(top.iter(_MATH))
    if mode == "pictures":
        assert album is not None, "a package with pictures has an album"
        album.paste(formulas, folder)
        return
    if mode == "mathml":
        for math in formulas:
            del math.attrib[TEX]
        return
    for element in top.iter(etree.Element):
        element.text, element.tail = _harmless(element.text), _harmless(element.tail)
    for math in formulas:
        # set in full size though in line with the text, as the MathML is
        _replace(math, rf"\(\displaystyle {math.get(TEX)}\)")


def _harmless(text: str | None) -> str | None:
    return text if text is None else text.replace("\\", "\\" + _WORD_JOINER)


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
