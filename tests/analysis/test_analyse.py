"""`qbank analyse`: one page that names no student, runs nothing, and says the same every time."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from lxml import html

from qbank.cli import main
from qbank.marking import MarkedTable
from qbank.marking.rows import Columns
from qbank.marking.spreadsheet import Spreadsheet, SpreadsheetText
from tests.analysis.invented_class import FIRST, LAST, write
from tests.messages.signs import speak_in_signs, words

HEAD = "student,item,response,verdict,score,slip,message\n"


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, ["analyse", *map(str, arguments)])


@pytest.fixture(scope="module")
def marks(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Thirty students by twenty items, marked."""
    responses = io.StringIO()
    write(responses)
    responses.seek(0)
    rows = Spreadsheet(responses, Columns(names={}))
    path = tmp_path_factory.mktemp("class") / "marks.csv"
    path.write_bytes(b"".join(MarkedTable(rows, SpreadsheetText(rows.names))))
    return path


def test_a_class_of_thirty(marks: Path, tmp_path: Path) -> None:
    page, document = tmp_path / "class.html", tmp_path / "class.json"
    result = run(marks, "--out", page, "--json", document, "--title", "Autumn <set>")
    assert result.exit_code == 0, result.output
    assert result.stdout.split() == [str(page), str(document)]
    text = page.read_text(encoding="utf-8")
    tree = html.document_fromstring(text)
    assert tree.findtext(".//h1") == "Autumn <set>"
    assert len(tree.findall(".//figure")) == 3
    assert all(figure.get("aria-label") for figure in tree.findall(".//figure"))
    assert not tree.xpath("//script | //@onclick | //img | //link | //@src")
    figures = json.loads(document.read_text(encoding="utf-8"))
    assert (figures["students"], len(figures["items"])) == (30, 20)
    assert 0.5 < figures["alpha"] < 1
    assert all(item["facility"] is not None for item in figures["items"])
    assert figures["slips"][0]["sentence"]
    for name in (f"{first} {last}" for first in FIRST for last in LAST):
        assert name not in text
        assert name not in document.read_text(encoding="utf-8")
    again = tmp_path / "again.html"
    assert run(marks, "--out", again, "--title", "Autumn <set>").exit_code == 0
    assert again.read_bytes() == page.read_bytes()
    assert run(marks, "--out", page).exit_code == 2, "what is there is not overwritten"


def test_text_of_students_is_never_markup(tmp_path: Path) -> None:
    path = tmp_path / "marks.csv"
    bad = "<script>alert(1)</script>"
    path.write_text(
        HEAD + f"A,{bad},{bad},incorrect,0,{bad},{bad}\nB,{bad},{bad},unsettled,,,{bad}\n", encoding="utf-8"
    )
    result = run(path, "--title", bad)
    assert result.exit_code == 0
    assert "too few to compare" in result.stderr
    assert not html.document_fromstring(path.with_suffix(".html").read_text(encoding="utf-8")).findall(
        ".//script"
    )


def test_json_lines_and_items_without_names(tmp_path: Path) -> None:
    path, document = tmp_path / "marks.jsonl", tmp_path / "out.json"
    rows = [
        {
            "who": "A",
            "integrand": "x",
            "lower": "0",
            "upper": "1",
            "response": "1/2",
            "verdict": "correct",
            "score": 1.0,
        },
        {"who": "A", "integrand": "x", "lower": None, "response": "x", "verdict": "unsettled", "score": None},
    ]
    path.write_text("\n".join(map(json.dumps, rows)), encoding="utf-8")
    assert run(path, "--student", "who", "--json", document).exit_code == 0
    items = json.loads(document.read_text(encoding="utf-8"))["items"]
    assert [item["item"] for item in items] == ["x from 0 to 1", "x"]


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("m.csv", "", "empty"),
        ("m.csv", HEAD, "no rows"),
        ("m.csv", "student,response\nA,x\n", "no column 'verdict'"),
        ("m.csv", HEAD.replace("student", "name") + "A,q,x,correct,1,,\n", "no column 'student'"),
        ("m.csv", HEAD + "A,q,x,right,1,,\n", "row 1: 'right' is no verdict"),
        ("m.csv", HEAD + "A,q,x,correct,1,,\nB,q,x,correct,full,,\n", "row 2: the score 'full'"),
        ("m.csv", HEAD + "A,q,x,correct,7,,\n", "from 0 to 1"),
        ("m.jsonl", "{", "not JSON"),
        ("m.jsonl", "[]", "not an object"),
    ],
)
def test_what_is_no_marked_table(tmp_path: Path, name: str, text: str, said: str) -> None:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    result = run(path)
    assert result.exit_code == 2
    assert said in result.stderr
    assert not path.with_suffix(".html").exists()


def test_other_unusable_input(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert run(tmp_path / "none.csv").exit_code == 2
    path = tmp_path / "m.csv"
    path.write_text(HEAD + "A,q,x,correct,1,,\n", encoding="utf-8")
    assert "no column 'no'" in run(path, "--item", "no").stderr
    monkeypatch.setitem(sys.modules, "jinja2", None)
    assert "qbank[analysis]" in run(path).stderr
    monkeypatch.setitem(sys.modules, "qbank.analysis.figures", None)
    assert "qbank[analysis]" in run(path).stderr


def test_no_word_of_the_page_stays_english(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    speak_in_signs(monkeypatch)
    marks, page = tmp_path / "marks.csv", tmp_path / "page.html"
    rows = "a,i,x,correct,1,,m\na,j,y,incorrect,0,s,m\na,j,y,incorrect,0,s,m\nb,i,,unreadable,,,m\nc,i,z,unsettled,,,m\n"
    marks.write_text(HEAD + rows, encoding="utf-8")
    assert run(marks, "--out", page, "--title", "t", "--language", "de").exit_code == 0
    tree: Any = html.document_fromstring(page.read_text(encoding="utf-8"))
    for unseen in tree.xpath("//style | //svg"):
        unseen.drop_tree()
    texts = [*tree.itertext(), *tree.xpath("//@aria-label")]
    assert len(texts) > 60
    assert not words(map(str, texts))
    assert tree.get("lang") == "de"
