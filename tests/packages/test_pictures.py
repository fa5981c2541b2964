"""Formulas in pictures are believed only when the picture is what is drawn of them."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from qbank.bank.loading import parse_bank
from qbank.items.decking import deal
from qbank.packages.verifying import verify
from qbank.writers import WRITERS, Options, save
from qbank.writers.pictures import PictureFormat, drawing
from tests.packages.sample import BANK, first, members, zipped

Parts = dict[str, bytes]


@cache
def content(form: str, picture: PictureFormat) -> bytes:
    import tempfile

    deck = deal(parse_bank(BANK.encode(), "small.yaml"), count=2, seed=1)
    options = Options(math="pictures", picture=picture)
    with tempfile.TemporaryDirectory() as folder:
        return save(WRITERS[form], deck, Path(folder) / "package", options=options).read_bytes()


def written(folder: Path, form: str = "qti3", picture: PictureFormat = "svg") -> Path:
    path = folder / "package.zip"
    path.write_bytes(content(form, picture))
    return path


@pytest.mark.parametrize(
    ("form", "picture"), [("qti3", "png"), ("qti22", "svg"), ("cc", "svg"), ("qti12", "png")]
)
def test_keys_are_proved_from_pictures(form: str, picture: PictureFormat, tmp_path: Path) -> None:
    report = verify(written(tmp_path, form, picture))
    assert report.problems == []
    assert {name: (row.items, row.proved + row.agreeing) for name, row in report.rows.items()} == {
        "choice, antiderivative": (1, 1),
        "free expression, antiderivative": (1, 1),
        "numeric, definite integral": (1, 1),
        "choice, definite integral": (1, 1),
    }


def shown(parts: Parts, at: int) -> str:
    """The picture of an option: the first picture is the integral."""
    document = parts[first(parts, "choice")].decode()
    return [match[1] for match in re.finditer(r'src="\.\./\.\./(pictures/[^"]+)"', document)][at]


def says_another(parts: Parts) -> None:
    """The picture of one option says that it shows the formula of another."""
    one, other = shown(parts, 1), shown(parts, 2)
    mine, foreign = (drawing.carried(parts[name]) for name in (one, other))
    assert mine is not None
    assert foreign is not None
    assert mine != foreign
    parts[one] = parts[one].replace(mine, foreign)


def shows_another(parts: Parts) -> None:
    """The options show each other's pictures, so that the key is no longer what it was."""
    document = first(parts, "choice")
    options = [shown(parts, at).encode() for at in (1, 2, 3, 4)]
    for one, other in (options[:2], options[2:]):
        parts[document] = parts[document].replace(one, b"*").replace(other, one).replace(b"*", other)


def one_stroke_less(parts: Parts) -> None:
    name = shown(parts, 1)
    changed = re.sub(rb"<use [^>]*/>", b"", parts[name], count=1)
    assert changed != parts[name]
    parts[name] = changed


def says_nothing(parts: Parts) -> None:
    name = shown(parts, 1)
    parts[name] = re.sub(rb"<metadata>.*</metadata>", b"", parts[name])


def says_no_formula(parts: Parts) -> None:
    name = shown(parts, 1)
    parts[name] = re.sub(rb"<metadata>.*</metadata>", b"<metadata><p/></metadata>", parts[name])


def says_no_xml(parts: Parts) -> None:
    name = shown(parts, 1)
    parts[name] = re.sub(rb"<metadata>.*</metadata>", b"<metadata><p></metadata>", parts[name])


def says_what_is_not_ours(parts: Parts) -> None:
    name = shown(parts, 1)
    parts[name] = parts[name].replace(b"<mo>", b"<ms>a</ms><mo>", 1)


def is_missing(parts: Parts) -> None:
    del parts[shown(parts, 1)]


def leads_away(parts: Parts) -> None:
    name = first(parts, "choice")
    parts[name] = parts[name].replace(b'src="../../pictures/', b'src="https://x.example/', 1)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (says_another, "does not show the formula that it says"),
        (shows_another, "is wrong: at x"),
        (one_stroke_less, "does not show the formula that it says"),
        (says_nothing, "does not say which formula"),
        (says_no_formula, "does not say which formula"),
        (says_no_xml, "not well formed"),
        (says_what_is_not_ours, "is not used in our formulas"),
        (is_missing, "no member"),
        (leads_away, "is none of ours"),
    ],
)
def test_a_picture_that_is_not_right_is_found_out(
    change: Callable[[Parts], None], told: str, tmp_path: Path
) -> None:
    parts = members(written(tmp_path))
    change(parts)
    report = verify(zipped(tmp_path / "changed.zip", parts))
    assert [problem for problem in report.problems if told in problem.message], report.problems


def test_without_the_renderer_nothing_is_believed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = written(tmp_path)
    monkeypatch.setitem(sys.modules, "typst", None)
    drawing._compiler.cache_clear()
    report = verify(path)
    assert not report.sound
    assert all("pip install 'qbank[pictures]'" in problem.message for problem in report.problems)
