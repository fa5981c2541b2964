"""Our packages are found sound; a package with one thing changed is found out, whatever it is."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from qbank.packages.opening import PackageError
from qbank.packages.verifying import UNREAD, Report, verify
from tests.packages.sample import changed, content, first, members, written, zipped

Parts = dict[str, bytes]


def rows(report: Report) -> dict[str, tuple[int, int, int, int, int]]:
    return {
        name: (row.items, row.proved, row.agreeing, row.refuted, row.faulty)
        for name, row in report.rows.items()
    }


SOUND = {
    "choice, antiderivative": (1, 1, 0, 3, 0),
    "free expression, antiderivative": (1, 1, 0, 0, 0),
    "numeric, definite integral": (1, 1, 0, 0, 0),
    "choice, definite integral": (1, 0, 1, 3, 0),
}


@pytest.mark.parametrize(("form", "title"), [("qti3", "QTI 3.0"), ("json", "generic JSON")])
def test_a_package_of_ours_is_sound(form: str, title: str, tmp_path: Path) -> None:
    seen: list[None] = []
    report = verify(written(tmp_path, form), watch=lambda: seen.append(None))
    assert report.problems == []
    assert report.sound
    assert report.format == title
    assert rows(report) == SOUND
    assert len(seen) == 4


def swap(form: str, old: str, new: str, *, count: int = 1) -> Callable[[Parts], None]:
    """A change in the first item of a form."""

    def change(parts: Parts) -> None:
        name = first(parts, form)
        text = parts[name].decode()
        assert re.search(old, text), old
        parts[name] = re.sub(old, new, text, count=count).encode()

    return change


def other_key(parts: Parts) -> None:
    """Another option is declared and scored as right: the worst fault."""
    name = first(parts, "choice")
    text = parts[name].decode()
    key = re.search(r"<qti-value>([A-D])</qti-value>", text)
    assert key is not None
    other = "A" if key[1] != "A" else "B"
    parts[name] = text.replace(f"<qti-value>{key[1]}</qti-value>", f"<qti-value>{other}</qti-value>").encode()


def other_question(parts: Parts) -> None:
    """The question asks for another integral than the one that is answered."""
    name = first(parts, "choice")
    text = parts[name].decode()
    at = text.index("<mi>sin</mi>")
    parts[name] = (text[:at] + "<mi>cos</mi>" + text[at + 12 :]).encode()


def renamed(old: str, new: str) -> Callable[[Parts], None]:
    def change(parts: Parts) -> None:
        parts[new] = parts.pop(old)

    return change


def edited(member: str, old: str, new: str) -> Callable[[Parts], None]:
    def change(parts: Parts) -> None:
        parts[member] = parts[member].replace(old.encode(), new.encode())

    return change


def without_item(parts: Parts) -> None:
    del parts[first(parts, "choice")]


def twice(parts: Parts) -> None:
    """One item's file under the name of another."""
    one, other = [name for name in parts if name.endswith("-choice.xml")]
    parts[other] = parts[one]


def of_another_generation(parts: Parts) -> None:
    name = first(parts, "free-expression")
    parts[name] = parts[name].replace(b"imsqtiasi_v3p0", b"imsqti_v2p2")


def of_no_generation(parts: Parts) -> None:
    name = first(parts, "free-expression")
    parts[name] = parts[name].replace(b"imsqtiasi_v3p0", b"other")


MANIFEST = "imsmanifest.xml"
FAULTS: list[tuple[str, Callable[[Parts], object], str]] = [
    ("a wrong key", other_key, "option [AB] is wrong: at x = "),
    ("a wrong key leaves a right option", other_key, "option [A-D] is right, but scores nothing"),
    ("another question", other_question, "option [A-D] is wrong"),
    (
        "the scoring and the key disagree",
        swap("choice", "<qti-correct identifier", "<qti-variable identifier"),
        "do not agree",
    ),
    (
        "half marks",
        swap("choice", '(<qti-base-value base-type="float">)3<', r"\g<1>2<"),
        "neither full marks",
    ),
    (
        "marks for nothing",
        swap("choice", r"(?s)(<qti-response-else>.*?\"float\">)0<", r"\g<1>3<"),
        "no answer",
    ),
    (
        "an unknown operator",
        swap("choice", r"(?s)<qti-match>.*?</qti-match>", "<qti-custom-operator/>"),
        "operator customoperator is not known",
    ),
    ("no scoring", swap("choice", r"(?s)<qti-response-processing>.*</qti-response-processing>", ""), "agree"),
    ("empty scoring", swap("choice", r"(?s)(<qti-response-processing)>.*processing>", r"\1/>"), "empty"),
    ("no full marks", swap("choice", 'normal-maximum="3"', ""), "'' is not a number"),
    ("zero marks", swap("choice", 'normal-maximum="3"', 'normal-maximum="0"'), "full marks"),
    (
        "several may be chosen",
        swap("choice", 'max-choices="1"', 'max-choices="0"'),
        "several answers are at least two",
    ),
    (
        "an option twice",
        swap("choice", 'simple-choice identifier="A"', 'simple-choice identifier="B"'),
        "occurs twice",
    ),
    (
        "a key that is no option",
        swap("choice", "<qti-value>[A-D]</qti-value>", "<qti-value>Z</qti-value>"),
        "none of the options",
    ),
    (
        "no such variable",
        swap("choice", 'response-identifier="RESPONSE"', 'response-identifier="R"'),
        "no variable 'R'",
    ),
    (
        "no such outcome",
        swap("choice", 'outcome-identifier="FEEDBACK"', 'outcome-identifier="F"'),
        "no variable 'F'",
    ),
    (
        "a second integral",
        swap("choice", "(<qti-prompt>.*?)(<span.*?</span>)", r"\1\2\2"),
        "shows 2 integrals",
    ),
    ("a stranger", swap("choice", "<qti-prompt>", '<qti-prompt><script xmlns="urn:x"/>'), "'urn:x'"),
    ("no formula", swap("choice", "<qti-prompt>.*?</qti-prompt>", "<qti-prompt/>"), "shows 0 integrals"),
    ("unreadable", swap("choice", "<mi>sin</mi>", "<mi>sine</mi>"), "no function 'sine'"),
    (
        "two formulas in an option",
        swap(
            "choice",
            "<div><div>",
            "<div><div><math xmlns='http://www.w3.org/1998/Math/MathML'><mi>x</mi></math>",
        ),
        "one expression",
    ),
    (
        "the rubric shows nothing",
        swap("free-expression", r"(?s)<qti-rubric-block.*</qti-rubric-block>", ""),
        "shown no answer",
    ),
    (
        "a wrong rubric",
        swap("free-expression", r"(One right answer is .*?<mi>)sin", r"\1cos"),
        "the answer given is wrong",
    ),
    (
        "another interaction",
        swap("free-expression", "extended-text-interaction", "upload-interaction", count=0),
        "uploadinteraction",
    ),
    (
        "two interactions",
        swap(
            "free-expression",
            "(<qti-item-body>)",
            r'\1<qti-upload-interaction response-identifier="RESPONSE"/>',
        ),
        "2 interactions",
    ),
    ("a member gone", without_item, "no member 'items/sine-squared/"),
    ("a member gone from the test", without_item, "is no item of the package"),
    (
        "a member too many",
        lambda parts: parts.update({"extra.txt": b"x"}),
        "extra.txt: the manifest does not name",
    ),
    ("a document too many", lambda parts: parts.update({"extra.xml": b"<x/>"}), "kind 'x' is not verified"),
    (
        "a broken document",
        lambda parts: parts.update({"extra.xml": b"<x"}),
        "extra.xml:1: it is not well formed",
    ),
    ("the same item twice", twice, "has the same identifier"),
    ("the manifest calls it otherwise", twice, "the manifest calls it 'between-limits"),
    ("another generation", of_another_generation, "it is of QTI 2.2, others are of QTI 3.0"),
    ("no generation", of_no_generation, "not that of QTI"),
    (
        "an href outside",
        edited(MANIFEST, 'href="test.xml"', 'href="../test.xml"'),
        "leads out of the package",
    ),
    (
        "an href elsewhere",
        edited(MANIFEST, '<file href="test.xml"', '<file href="https://x.example/t"'),
        "leads out",
    ),
    (
        "not its own file",
        edited(MANIFEST, '<file href="test.xml"', '<file href="imsmanifest.xml"'),
        "not among the files",
    ),
    ("no dependency", edited(MANIFEST, 'identifierref="sine', 'identifierref="sino'), "to depend on"),
    ("an identifier twice", edited(MANIFEST, '"test-small"', '"manifest-small"'), "already used"),
    ("not an item", edited(MANIFEST, "imsqti_item_xmlv3p0", "webcontent"), "does not list it as an item"),
    ("too many dealt", edited("test.xml", 'select="1"', 'select="3"'), "'3' parts of 2"),
    ("none dealt", edited("test.xml", 'select="1"', 'select="x"'), "'x' parts of 2"),
    (
        "another name in the test",
        edited("test.xml", '-ref identifier="sine', '-ref identifier="sino'),
        "another identifier",
    ),
    (
        "an item left out of the test",
        edited("test.xml", "qti-assessment-item-ref", "x"),
        "no test names this item",
    ),
    (
        "a section twice",
        edited("test.xml", '"section-sine-squared"', '"section-between-limits"'),
        "occurs twice",
    ),
    ("a part without a name", edited("test.xml", 'identifier="part-1"', ""), "without an identifier"),
]


@pytest.mark.parametrize(("change", "why"), [f[1:] for f in FAULTS], ids=[f[0] for f in FAULTS])
def test_a_fault_is_found(change: Callable[[Parts], object], why: str, tmp_path: Path) -> None:
    report = verify(changed(tmp_path, "qti3", change))
    assert not report.sound
    assert re.search(why, "\n".join(map(str, report.problems)))


def test_an_item_that_is_not_read_has_a_row_of_its_own(tmp_path: Path) -> None:
    report = verify(changed(tmp_path, "qti3", swap("choice", "<mi>sin</mi>", "<mi>sine</mi>")))
    assert rows(report)[UNREAD] == (1, 0, 0, 0, 1)


def bounds(parts: Parts) -> tuple[str, str, list[str]]:
    """The text of the numeric item, and the literals that a right response is compared with."""
    name = first(parts, "numeric")
    text = parts[name].decode()
    right = text[: text.index("</qti-response-if>")]
    return name, text, re.findall(r'"float">([-0-9.]+)</qti-base-value>\s*</qti-[gl]te>', right)


@pytest.mark.parametrize(
    ("place", "new", "why"),
    [
        (2, "0.0001", "far from the keyed value"),
        (3, "999", "far from the keyed value"),
        (3, "0.0001", "not one stretch"),
    ],
)
def test_bounds_that_let_in_too_much(place: int, new: str, why: str, tmp_path: Path) -> None:
    def change(parts: Parts) -> None:
        name, text, literals = bounds(parts)
        assert len(literals) == 4
        parts[name] = text.replace(f">{literals[place]}<", f">{new}<").encode()

    report = verify(changed(tmp_path, "qti3", change))
    assert re.search(why, "\n".join(map(str, report.problems)))


@pytest.mark.parametrize(
    ("shift", "why"),
    [(50, "is not among the numbers that score"), (50, "the keyed value does not score")],
)
def test_bounds_that_shut_out_the_value(shift: int, why: str, tmp_path: Path) -> None:
    def change(parts: Parts) -> None:
        name, text, literals = bounds(parts)
        for old in literals[2:]:
            text = text.replace(f">{old}<", f">{float(old) + shift}<")
        parts[name] = text.encode()

    assert why in "\n".join(map(str, verify(changed(tmp_path, "qti3", change)).problems))


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        (r"<qti-value>-?[0-9.]+</qti-value>", "<qti-value>0.1</qti-value>", "keyed value does not score"),
        (r"<qti-value>-?[0-9.]+</qti-value>", "<qti-value>much</qti-value>", "not a decimal"),
        (r"<qti-value>-?[0-9.]+</qti-value>", "<qti-value>1e999</qti-value>", "not a decimal"),
        (r"(?s)<qti-correct-response>.*</qti-correct-response>", "", "one keyed value"),
        (r"(?s)<qti-response-if>.*?</qti-response-if>", "<qti-response-if/>", "branch"),
        (
            r"(<qti-gte>\s*)<qti-variable identifier=\"RESPONSE\"/>",
            r"\1<qti-null/>",
            "only a response and a number",
        ),
        ("<qti-and>", '<qti-and><qti-base-value base-type="boolean">true</qti-base-value>', ""),
        (r"(?s)<qti-response-processing>.*</qti-response-processing>", "", "compared with nothing"),
        (r"(base-type=\"float\">)[0-9]+(</qti-base-value>\s*</qti-set)", r"\g<1>0.5\2", "neither full marks"),
    ],
)
def test_faults_of_numbers(old: str, new: str, why: str, tmp_path: Path) -> None:
    report = verify(changed(tmp_path, "qti3", swap("numeric", old, new)))
    assert report.sound == (not why)
    assert why in "\n".join(map(str, report.problems))


def test_no_value_at_all(tmp_path: Path) -> None:
    """An integral over a pole has no value, whatever the package says."""
    report = verify(changed(tmp_path, "qti3", swap("numeric", "<mi>cos</mi>", "<mi>sec</mi>")))
    assert "the integral has no value" in "\n".join(map(str, report.problems))


def test_a_value_that_is_no_number(tmp_path: Path) -> None:
    def change(parts: Parts) -> None:
        name = next(name for name in parts if "between-limits" in name and name.endswith("choice.xml"))
        at = parts[name].index(b"<qti-simple-choice")
        parts[name] = parts[name][:at] + parts[name][at:].replace(b"<mi>\xcf\x80</mi>", b"<mi>y</mi>", 1)

    assert "is not a number" in "\n".join(map(str, verify(changed(tmp_path, "qti3", change)).problems))


def document(folder: Path, change: Callable[[dict[str, Any]], object]) -> Report:
    value = json.loads(content("json"))
    change(value)
    path = folder / "items.json"
    path.write_text(json.dumps(value), encoding="utf-8")
    return verify(path)


def item(value: dict[str, Any], form: str) -> dict[str, Any]:
    return next(one for one in value["items"] if one["form"] == form)


def key_restated(value: dict[str, Any]) -> None:
    one = item(value, "choice")
    one["key"] = next(option["answer"] for option in one["response"]["options"] if not option["key"])


def key_swapped(value: dict[str, Any]) -> None:
    one = item(value, "choice")
    right = next(option for option in one["response"]["options"] if option["key"])
    wrong = next(option for option in one["response"]["options"] if not option["key"])
    right["answer"], wrong["answer"] = wrong["answer"], right["answer"]
    one["key"] = right["answer"]


def twice_in_document(value: dict[str, Any]) -> None:
    value["items"].append(value["items"][0])


DOCUMENT_FAULTS: list[tuple[str, Callable[[dict[str, Any]], object], str]] = [
    ("the wrong key", key_swapped, "is right, but scores nothing"),
    ("another key than stated", key_restated, "the key stated is not the one option"),
    (
        "a number that is none",
        lambda v: item(v, "numeric")["response"]["accepted"]["lower"].update(exact="1/0"),
        "not a number",
    ),
    (
        "a number too long",
        lambda v: item(v, "numeric")["response"]["accepted"]["lower"].update(exact="1" * 3000),
        "too long",
    ),
    (
        "a decimal too long",
        lambda v: item(v, "numeric")["response"]["accepted"]["lower"].update(decimal="1" * 99),
        "not a number",
    ),
    (
        "decimals let in less",
        lambda v: item(v, "numeric")["response"]["accepted"]["lower"].update(decimal="100"),
        "not among",
    ),
    (
        "another exact value",
        lambda v: item(v, "numeric").update(key=item(v, "numeric")["limits"]["upper"]),
        "the exact value is wrong",
    ),
    (
        "a value of the integrand",
        lambda v: v["items"][0]["check"]["points"][0].update(value="0.5"),
        "0.5 is not the value at x = ",
    ),
    ("the variable", lambda v: v["items"][0].update(variable="t"), "not the one of the question"),
    ("no integral", lambda v: v["items"][0].update(prompt=[{"text": "?"}]), "shows 0 integrals"),
    ("no formula", lambda v: v["items"][0]["key"].update(mathml="<p/>"), "not a formula"),
    ("no XML", lambda v: v["items"][0]["key"].update(mathml="<!DOCTYPE x>"), "document type"),
    ("twice", twice_in_document, "occurs twice"),
    ("against the schema", lambda v: v.update(more=1), "'more' was unexpected"),
    ("no items", lambda v: v.update(items=[]), "no items"),
]


@pytest.mark.parametrize(
    ("change", "why"), [f[1:] for f in DOCUMENT_FAULTS], ids=[f[0] for f in DOCUMENT_FAULTS]
)
def test_a_fault_of_a_document_is_found(
    change: Callable[[dict[str, Any]], object], why: str, tmp_path: Path
) -> None:
    report = document(tmp_path, change)
    assert not report.sound
    assert why in "\n".join(map(str, report.problems))


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "empty"),
        (b"[]", "not a JSON object"),
        (b"{", "not JSON"),
        (b"\xff", "not JSON"),
        (b'{"a": 1, "a": 2}', "two members of one name"),
        (b'{"a": NaN}', "NaN is not a number"),
        (b'{"a": ' + b"9" * 5000 + b"}", "not JSON"),
        (b"[" * 100_000, "nested too deeply"),
        (b"PK", "not a readable zip"),
        (b"PDF", "not JSON"),
    ],
)
def test_what_is_no_package_at_all(data: bytes, why: str, tmp_path: Path) -> None:
    path = tmp_path / "thing"
    path.write_bytes(data)
    with pytest.raises(PackageError, match=why):
        verify(path)


@pytest.mark.parametrize(
    ("parts", "why"),
    [
        ({}, "no imsmanifest.xml"),
        ({"a/imsmanifest.xml": b"<manifest/>"}, "no imsmanifest.xml"),
        ({MANIFEST: b"<html/>"}, "not a manifest"),
        ({MANIFEST: b"<manifest"}, "imsmanifest.xml: it is not well formed"),
        ({MANIFEST: b"<!DOCTYPE manifest><manifest/>"}, "document type"),
    ],
)
def test_a_zip_that_is_no_package(parts: Parts, why: str, tmp_path: Path) -> None:
    with pytest.raises(PackageError, match=why):
        verify(zipped(tmp_path / "a.zip", parts))


def test_a_package_without_items(tmp_path: Path) -> None:
    report = verify(zipped(tmp_path / "a.zip", {MANIFEST: members(written(tmp_path, "qti3"))[MANIFEST]}))
    assert "there are no items" in "\n".join(map(str, report.problems))
