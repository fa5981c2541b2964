"""Markup that is text from the start, and stands in a document as a mark until the document is written out.

    mark --> a processing instruction that holds the text --written--> the text itself

Making an element costs far more than writing its text, so what an export has most of, formulas and arithmetic, never
becomes elements. Nothing else can look like a mark, since lxml writes the `<` of any other text as `&lt;`.
"""

from __future__ import annotations

from lxml import etree

__all__ = ["held", "mark", "marks", "written"]

_Element = etree._Element  # noqa: SLF001 - the public functions of lxml return it

_NAME = "markup"
_START, _END = f"<?{_NAME} ".encode(), b"?>"


def mark(markup: str, note: str = "") -> _Element:
    """A mark, to be put where its markup belongs.

    Args:
        markup: well-formed, with every text from outside in it escaped. Elements without a namespace of their own take
            that of the document.
        note: one line for whoever replaces the mark by something else; it is not written.

    Raises:
        ValueError: the markup would end the mark early, as only processing instructions do.
    """
    return etree.ProcessingInstruction(_NAME, f"{note}\n{markup}")


def marks(top: _Element) -> list[_Element]:
    """The marks below an element, in the order of the document."""
    return list(top.iter(etree.ProcessingInstruction))


def held(one: _Element) -> tuple[str, str]:
    """The markup and the note of a mark.

    >>> held(mark("<b/>", "bold"))
    ('<b/>', 'bold')
    """
    note, _, markup = str(one.text).partition("\n")
    return markup, note


def written(document: bytes) -> bytes:
    r"""A document with each mark replaced by its markup.

    Args:
        document: as lxml writes it, in UTF-8.

    >>> top = etree.fromstring("<a>&lt;?markup b?&gt;</a>")
    >>> top.append(mark("<b/>"))
    >>> written(etree.tostring(top))
    b'<a>&lt;?markup b?&gt;<b/></a>'
    """
    first, *others = document.split(_START)
    pieces = [first]
    for piece in others:
        # the note is the first line
        _, _, rest = piece.partition(b"\n")
        pieces.append(rest.replace(_END, b"", 1))
    return b"".join(pieces)
