"""XML from anybody: no document type, no entity, no depth; one name for one thing in all generations."""

from __future__ import annotations

import pytest

from qbank.packages.parsing import XmlError, attribute, children, inside, kind, line_of, parse, text_of

BOMB = b"""<?xml version="1.0"?>
<!DOCTYPE lolz [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]>
<item title="&c;">&c;</item>"""
OUTSIDE = b'<!DOCTYPE x [<!ENTITY file SYSTEM "file:///etc/passwd">]><x>&file;</x>'


@pytest.mark.parametrize("data", [BOMB, OUTSIDE, b'<!DOCTYPE x SYSTEM "https://x.example/x.dtd"><x/>'])
def test_document_types_are_refused_unread(data: bytes) -> None:
    with pytest.raises(XmlError, match="document type"):
        parse(data)


def test_the_line_of_a_document_type() -> None:
    with pytest.raises(XmlError) as caught:
        parse(BOMB)
    assert caught.value.line == 2


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "well formed"),
        (b"<a><b></a>", "well formed"),
        (b"<a>&unknown;</a>", "well formed"),
        (b"<a/>" * 2, "well formed"),
        (b"not xml", "well formed"),
        (b"<a>" * 400 + b"</a>" * 400, "well formed"),
        ("<a/>".encode("utf-16"), "UTF-8"),
        (b"<a>\xff</a>", "UTF-8"),
        (
            '<?xml version="1.0" encoding="utf-16"?><!DOCTYPE a []><a/>'.encode("utf-16-le"),
            "well formed|UTF-8",
        ),
    ],
)
def test_what_is_not_read(data: bytes, why: str) -> None:
    with pytest.raises(XmlError, match=why):
        parse(data)


def test_names_of_all_generations() -> None:
    new = parse(b'<qti-item-body xmlns="urn:new"><qti-value base-type="a"> x </qti-value></qti-item-body>')
    old = parse(b'<itemBody xmlns="urn:old">\n<!-- c --><?p i?><value baseType="a"> x </value></itemBody>')
    for root in (new, old):
        assert kind(root) == "itembody"
        (value,) = children(root, "value")
        assert [*inside(root, "value", "other")] == [value]
        assert attribute(value, "basetype") == "a"
        assert attribute(value, "other") is None
        assert text_of(value) == "x"
    assert (line_of(new[0]), line_of(old[0])) == (1, 2)
    assert text_of(parse(b"<a/>")) == ""
