"""The bank comes back byte for byte from every format that carries it; a damaged or hostile source does not."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from qbank.bank.loading import parse_bank
from qbank.bank.source import SIZE_LIMIT
from qbank.items.decking import deal
from qbank.items.source import Source
from qbank.packages.opening import PackageError
from qbank.packages.recovering import recover
from qbank.packages.verifying import verify
from qbank.writers import WRITERS, save
from qbank.writers.origin import DRAW_PATH
from tests.packages.sample import BANK, changed, content, members, written, zipped

CARRYING = ["qti3", "qti22", "qti21", "json", "qti12", "cc"]
#: whose keys are proved again
PROVED = CARRYING[:4]

#: a byte order mark, carriage returns, a comment, letters that disturb a reader: all of it has to come back
ODD = ("\ufeff# Ω \u202e\u2028 </script> \u00e9\r\n" + BANK.replace("\n", "\r\n")).encode()


@pytest.mark.parametrize("form", CARRYING)
@pytest.mark.parametrize("data", [BANK.encode(), ODD], ids=["plain", "odd"])
def test_byte_for_byte(form: str, data: bytes, tmp_path: Path) -> None:
    bank = parse_bank(BANK.encode(), "small.yaml")
    chosen = bank.templates[:1]
    deck = deal(bank, count=1, seed=-5, templates=chosen, pick=None, file=("My bank.yaml", data))
    path = save(WRITERS[form], deck, tmp_path / "package")
    assert data not in path.read_bytes() or form != "json", "text of the bank stands in JSON in ASCII"
    assert recover(path).source == Source(
        name="bank.yaml", content=data, seed=-5, count=1, templates=("sine-squared",), pick=None
    )


def test_a_bank_in_json(tmp_path: Path) -> None:
    deck = deal(parse_bank(BANK.encode(), "a.yaml"), count=1, seed=1, file=("a.JSON", b"{}"))
    for form in CARRYING:
        found = recover(save(WRITERS[form], deck, tmp_path / form)).source
        assert (found.name, found.content, found.templates, found.pick) == ("a.JSON", b"{}", None, 1)


@pytest.mark.parametrize("form", CARRYING)
def test_the_same_items_come_out_of_what_comes_back(form: str, tmp_path: Path) -> None:
    path = written(tmp_path, form)
    found = recover(path).source
    bank = parse_bank(found.content, found.name)
    assert found.templates is None
    again = deal(bank, count=found.count, seed=found.seed, pick=found.pick, file=(found.name, found.content))
    assert save(WRITERS[form], again, tmp_path / "again").read_bytes() == path.read_bytes()


@pytest.mark.parametrize("form", PROVED)
def test_a_package_without_source(form: str, tmp_path: Path) -> None:
    path = written(tmp_path, form, source=False)
    assert b"sha256" not in path.read_bytes()
    with pytest.raises(PackageError, match="does not carry its source"):
        recover(path)
    report = verify(path)
    assert report.sound
    assert not report.source


def test_the_source_is_listed_and_cannot_be_opened_at(tmp_path: Path) -> None:
    """A resource without an href is none that a system could offer to students as a page."""
    manifest = members(written(tmp_path, "qti3"))["imsmanifest.xml"].decode()
    at = manifest.index('<resource identifier="source-small" type="webcontent">')
    assert '<file href="source/bank.yaml">' in manifest[at:]
    assert f'<file href="{DRAW_PATH}">' in manifest[at:]


def draw(**changes: Any) -> Callable[[dict[str, bytes]], None]:
    def change(parts: dict[str, bytes]) -> None:
        parts[DRAW_PATH] = json.dumps(json.loads(parts[DRAW_PATH]) | changes).encode()

    return change


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (lambda parts: parts.update({"source/bank.yaml": b"other"}), "SHA-256 differ"),
        (lambda parts: parts.pop("source/bank.yaml"), "no member 'source/bank.yaml'"),
        (lambda parts: parts.update({DRAW_PATH: b"{"}), "not JSON"),
        (draw(file="items/x.xml"), "names no bank file"),
        (draw(file="../../etc/passwd"), "names no bank file"),
        (draw(file=["source/bank.yaml"]), "names no bank file"),
        (draw(sha256=1), "SHA-256 differ"),
        (draw(seed="1; rm"), "how its items were drawn"),
        (draw(count=None), "how its items were drawn"),
        (draw(pick=True), "how its items were drawn"),
        (draw(templates="all"), "how its items were drawn"),
        (draw(templates=[1]), "how its items were drawn"),
    ],
)
def test_a_damaged_source(change: Callable[[dict[str, bytes]], object], why: str, tmp_path: Path) -> None:
    path = changed(tmp_path, "qti3", change)
    with pytest.raises(PackageError, match=why):
        recover(path)
    report = verify(path)
    assert not report.source
    assert why in "\n".join(map(str, report.problems))


@pytest.mark.parametrize(
    "name", ["../../up.yaml", "/etc/cron.d/x.yaml", "-rf.yaml", "a\x1b.yaml", "x", 7, None, "a/b.yaml"]
)
def test_a_name_that_leads_elsewhere_is_not_used(name: object, tmp_path: Path) -> None:
    assert recover(changed(tmp_path, "qti3", draw(name=name))).source.name == "bank.yaml"


def test_a_bank_that_is_too_large(tmp_path: Path) -> None:
    data = b"#" * (SIZE_LIMIT + 1)
    value = {"file": "source/bank.yaml", "sha256": hashlib.sha256(data).hexdigest()}
    path = zipped(tmp_path / "a.zip", {DRAW_PATH: json.dumps(value).encode(), "source/bank.yaml": data})
    with pytest.raises(PackageError, match="which none may have"):
        recover(path)


@pytest.mark.parametrize("source", [[], "x", {}, {"content": 1}])
def test_a_document_with_a_strange_source(source: object, tmp_path: Path) -> None:
    path = tmp_path / "a.json"
    path.write_text(json.dumps({"source": source}), encoding="utf-8")
    with pytest.raises(PackageError, match="not a bank file"):
        recover(path)


def test_a_document_with_half_a_letter(tmp_path: Path) -> None:
    path = tmp_path / "a.json"
    path.write_bytes(content("json").replace(b'"content":"', b'"content":"\\ud800'))
    with pytest.raises(PackageError, match="SHA-256 differ"):
        recover(path)
    assert not verify(path).sound
