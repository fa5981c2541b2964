"""No text becomes markup, script or LaTeX, in any format and any way of showing formulas.

Each file of a package with hostile texts is held against the same file with harmless ones: elements, attributes, addresses
and formulas are the same, only texts differ.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from lxml import etree

from qbank.writers import WRITERS, Options
from qbank.writers.formulas import MathMode
from tests.writers.hostile import HARMLESS, WILD, wild_deck
from tests.writers.qti12.reading import Seen, members

MODES: tuple[MathMode, ...] = ("mathml", "pictures", "tex")
FORMATS = ("qti3", "qti22", "qti21", "cc", "qti12")
BANKS = [Options(math=math, purpose="bank", cartridge="1.3", picture="png") for math in MODES]
WAYS = [
    *(pytest.param(name, Options(math=math), id=f"{name}-{math}") for name in FORMATS for math in MODES),
    *(pytest.param("cc", options, id=f"cc-bank-{options.math}") for options in BANKS),
]
#: what XML forbids, and what turns texts round
UNFIT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff\u202a-\u202e]")
FORMULA = re.compile(r"\\\((\\displaystyle .*?)\\\)", re.DOTALL)
JOINER = "\u2060"
ADDRESSES = ("href", "src", "action", "formaction", "data", "style", "class")


def documents(found: dict[str, bytes]) -> dict[str, Any]:
    return {path: etree.fromstring(data) for path, data in found.items() if path.endswith(".xml")}


def shape(top: Any) -> list[tuple[object, ...]]:
    """Elements with the names of their attributes, and the values of those that lead somewhere or do something."""
    return [
        (element.tag, sorted(element.attrib), [element.get(name) for name in ADDRESSES])
        for element in top.iter()
    ]


def html(top: Any) -> Iterator[str]:
    return (element.text for element in top.iter("{*}mattext") if element.get("texttype") == "text/html")


def seen_texts(top: Any) -> Iterator[str]:
    """What a person sees: texts and titles, and in QTI 1.2 those of the HTML."""
    for element in top.iter():
        if element.tag is etree.Comment or element.tag is etree.ProcessingInstruction:
            continue
        yield element.get("title") or ""
        if etree.QName(element).localname != "mattext" or element.get("texttype") != "text/html":
            yield element.text or ""
        yield element.tail or ""
    yield from (Seen(text).text for text in html(top))


@pytest.mark.parametrize("papers", [False, True], ids=["sections", "test"])
@pytest.mark.parametrize(("name", "options"), WAYS)
def test_texts_stay_texts(name: str, options: Options, papers: bool) -> None:
    wild = members(WRITERS[name].write(wild_deck(WILD, papers=papers), options))
    tame = members(WRITERS[name].write(wild_deck(HARMLESS, papers=papers), options))
    assert list(wild) == list(tame)
    for path, data in wild.items():
        if path.endswith((".svg", ".png", ".css")):
            assert data == tame[path]
            continue
        assert not UNFIT.search(data.decode())
    found, expected = documents(wild), documents(tame)
    arrived = ""
    for path, top in found.items():
        assert shape(top) == shape(expected[path])
        assert not list(top.iter(etree.Comment, etree.ProcessingInstruction))
        for text, harmless in zip(html(top), html(expected[path]), strict=True):
            seen, calm = Seen(text), Seen(harmless)
            assert seen.tags == calm.tags
            assert not seen.odd
            inner, plain = (etree.fromstring(f"<div>{one}</div>") for one in (text, harmless))
            assert shape(inner) == shape(plain)
        if path == "imsmanifest.xml":
            continue  # no student sees its texts, and names in it are escaped with backslashes
        told, calm_texts = (" ".join(seen_texts(one)) for one in (top, expected[path]))
        assert FORMULA.findall(told) == FORMULA.findall(calm_texts)
        outside = FORMULA.sub("", told)
        assert set(re.findall(r"[\\$](.?)", outside, re.DOTALL)) <= {JOINER}
        arrived += outside.replace(JOINER, "")
    # letter for letter, where XML can say it
    for text in WILD.split("nul")[0].split("]]>"):
        assert text.strip() in arrived


def test_the_comparison_sees_what_it_looks_for() -> None:
    one, other = etree.fromstring("<p title='a'>b</p>"), etree.fromstring("<p title='a'><b/></p>")
    assert shape(one) != shape(other)
    assert shape(etree.fromstring("<a href='x'/>")) != shape(etree.fromstring("<a href='javascript:x'/>"))
    assert set(re.findall(r"[\\$](.?)", r"\(x\)$$ ", re.DOTALL)) == {"(", ")", "$"}
    assert [*seen_texts(one)] == ["a", "b", ""]


@pytest.mark.parametrize("papers", [False, True], ids=["sections", "test"])
def test_texts_stay_texts_in_json(papers: bool) -> None:
    [(_, wild)] = members(WRITERS["json"].write(wild_deck(WILD, papers=papers))).items()
    [(_, tame)] = members(WRITERS["json"].write(wild_deck(HARMLESS, papers=papers))).items()
    assert not UNFIT.search(wild.decode())
    assert re.sub(r'"(?:[^"\\]|\\.)*"', '""', wild.decode()) == re.sub(
        r'"(?:[^"\\]|\\.)*"', '""', tame.decode()
    )
    fit = UNFIT.sub("\ufffd", WILD)
    assert json.loads(wild)["items"][0]["title"] == fit
