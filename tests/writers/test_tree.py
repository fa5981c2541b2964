"""Light trees against lxml: the same tree gives the same bytes, on one line, indented, and written piece by piece."""

from __future__ import annotations

from io import BytesIO
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from qbank.maths.notation.mathml import escaped, quoted
from qbank.messages import say
from qbank.writers.characters import is_plain, one_line, shown
from qbank.writers.formulas import AS_MATHML
from qbank.writers.piecewise import Piecewise
from qbank.writers.qti.elements import QtiElement, frame
from qbank.writers.qti.elements import add as add_qti
from qbank.writers.qti.generation import QTI3
from qbank.writers.tree import (
    XSI_LOCATION,
    Element,
    Markup,
    add,
    attribute,
    content,
    document,
    indented,
    inline,
    lasting,
    root,
)

XSI = "{http://www.w3.org/2001/XMLSchema-instance}schemaLocation"
NAMES = st.sampled_from(["a", "qti-b", "c.d", "_e", "é"])
#: what XML allows, and what has a meaning in it
TEXTS = st.text(
    st.sampled_from("<>&\"'\n\t\r ]]> \u2028\xa0\x85\U0001d465a;#") | st.characters(codec="utf-8"),
    max_size=12,
).filter(
    lambda text: all(
        letter in "\t\n\r" or (letter >= " " and letter not in "\ufffe\uffff") for letter in text
    )
)
ATTRIBUTES = st.dictionaries(NAMES, TEXTS, max_size=3)
#: name, attributes, and a text or children
TREES: st.SearchStrategy[Any] = st.recursive(
    st.tuples(NAMES, ATTRIBUTES, st.none() | TEXTS),
    lambda inner: st.tuples(NAMES, ATTRIBUTES, st.lists(inner, max_size=3)),
    max_leaves=8,
)


def light(tree: Any) -> Element:
    name, attributes, inside = tree
    made = Element(name.encode())
    for key, value in attributes.items():
        made.set(key, value)
    if isinstance(inside, str):
        made.parts.append(escaped(inside).encode())
    else:
        made.parts += [light(one) for one in inside or ()]
    return made


def heavy(tree: Any) -> Any:
    name, attributes, inside = tree
    made = etree.Element(name, attributes)
    if isinstance(inside, str):
        made.text = inside
    else:
        made.extend([heavy(one) for one in inside or ()])
    return made


@given(TREES)
def test_on_one_line(tree: Any) -> None:
    assert inline(light(tree)) == etree.tostring(heavy(tree), encoding="UTF-8")
    again = etree.fromstring(inline(light(tree)))
    assert etree.tostring(again, method="c14n") == etree.tostring(heavy(tree), method="c14n")


@given(TREES)
def test_indented(tree: Any) -> None:
    expected = heavy(tree)
    etree.indent(expected)
    written = etree.tostring(expected, xml_declaration=True, encoding="UTF-8") + b"\n"
    assert document(indented(light(tree), 0)) == written


@given(TREES)
def test_piece_by_piece(tree: Any) -> None:
    """As lxml's own incremental writer has it, which closes every element by a tag."""
    out = Piecewise()
    with out.inside(Element(b"top")):
        out.write(light(tree), 1)
        begun = out.taken()
    buffer = BytesIO()
    with etree.xmlfile(buffer, encoding="UTF-8") as file:
        file.write_declaration()
        with file.element("top"):
            incremental(file, tree, 1)
    assert begun + out.end() == buffer.getvalue() + b"\n"


def incremental(file: Any, tree: Any, depth: int) -> None:
    name, attributes, inside = tree
    file.write("\n" + "  " * depth)
    with file.element(name, attributes):
        if isinstance(inside, str):
            file.write(inside)
        for one in inside if isinstance(inside, list) else ():
            incremental(file, one, depth + 1)
        if isinstance(inside, list) and inside:
            file.write("\n" + "  " * depth)


def test_a_root_declares_its_namespaces() -> None:
    ours = root("top", {"": "urn:a", "b": "urn:b"}, {XSI_LOCATION: "urn:a a.xsd", "title": 'A "title"'})
    theirs: Any = etree.Element("{urn:a}top", nsmap={None: "urn:a", "b": "urn:b"})  # type: ignore[dict-item]
    theirs.set(XSI, "urn:a a.xsd")
    theirs.set("title", 'A "title"')
    assert inline(ours) == etree.tostring(theirs, encoding="UTF-8")


def test_markup_has_lines_of_its_own_and_text_has_not() -> None:
    top = Element(b"top")
    top.parts += [Markup(b"<a>1</a>"), Markup(b"<b/>")]
    assert indented(top, 0) == b"<top>\n  <a>1</a>\n  <b/>\n</top>"
    add(top, "c", {"title": "a\nb"}, "<d>")
    assert indented(add(Element(b"top"), "d", text=say("A sentence.")), 0) == b"<d>A sentence.</d>"
    assert inline(top) == b'<top><a>1</a><b/><c title="a b">&lt;d&gt;</c></top>'


#: what wants cleaning or escaping, or is folded in an attribute
SPECIAL = [
    "&",
    "<",
    ">",
    '"',
    "\\",
    "$",
    " ",
    "  ",
    "\n",
    "\t",
    "\r",
    "\x00",
    "\u202e",
    "\ud800",
    "\xa0",
    "\uffff",
]
#: mostly harmless, so that a special one is often alone
ANY = st.lists(st.sampled_from("aab ") | st.sampled_from(SPECIAL) | st.characters(), max_size=4).map("".join)


@given(ANY)
def test_a_plain_text_may_stand_anywhere_as_it_is(text: str) -> None:
    for one in (
        text,
        *(f"{before}{special}{after}" for special in SPECIAL for before in ("", "a") for after in ("", "b")),
    ):
        as_content, as_value = escaped(shown(one)), quoted(shown(one_line(one)))
        assert is_plain(one) <= (one == as_content == as_value)
        assert (attribute(one), content(one)) == (as_value, as_content.encode())
    assert is_plain("Powers of sine, and more: (1)")


@given(ANY)
def test_any_text_at_all_becomes_text(text: str) -> None:
    """Cleaned where XML cannot hold it; never markup, never an error."""
    read = etree.fromstring(inline(add(Element(b"top"), "a", {"title": text}, text)))
    assert read.get("title") == shown(one_line(text))
    assert not len(read)


def test_what_xml_forbids_is_refused_where_it_would_be_taken_as_it_is() -> None:
    with pytest.raises(ValueError, match="XML forbids"):
        Element(b"a").set("b", "\x00")


def test_text_is_never_taken_for_what_is_written() -> None:
    """They are of two types that do not mix, however a text came in."""
    top = Element(b"top")
    top.parts.append("<script/>")  # type: ignore[arg-type]  # as a mistake would have it
    for write in (inline, lambda one: indented(one, 0)):
        with pytest.raises((TypeError, AttributeError)):
            write(top)


@given(TREES, st.lists(st.tuples(st.integers(0, 3), st.booleans()), min_size=1, max_size=4))
def test_what_lasts_is_written_as_if_it_were_new(tree: Any, places: list[tuple[int, bool]]) -> None:
    kept = lasting(light(tree))
    for depth, closing in places:
        assert indented(kept, depth, closing=closing) == indented(light(tree), depth, closing=closing)


@given(ANY)
def test_a_frame_is_what_is_written_round_something(text: str) -> None:
    """Whatever stands in it, the sign for its gap too."""

    def build(top: QtiElement, text: str) -> QtiElement:
        return add_qti(add_qti(top, "p", {"title": text}, text), "em")

    top = QtiElement(b"", b"", QTI3, AS_MATHML)
    build(top, text).parts.append(b"inside")
    before, after = frame(QTI3, build, text)
    assert [before + b"inside" + after] == list(map(inline, top.children))
