"""Applications read back from their sentences, set up anew, and what is noticed when something was changed."""

from __future__ import annotations

import re
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

import pytest

from qbank.marking import mark_entry
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Expression, Symbol, as_tree
from qbank.maths.notation import plain
from qbank.packages.applications import MARK, asked_application
from qbank.packages.question import Question, QuestionError
from qbank.packages.results import questions_of, result_rows
from qbank.packages.verifying import verify
from tests.packages.sample import members, written, zipped
from tests.packages.test_results import document, right

X, T = Symbol("x"), Symbol("t")
APPLICATIONS = """
identifier: applications
title: Applications
language: en-GB
licence: CC0-1.0
version: "1.0.0"
templates:
  - identifier: crossing
    title: T
    parameters: {a: {kind: integer, from: 1, to: 3}}
    application: {kind: area, curves: ["x^3 - a^2 x"], limits: ["-1", "a"], unit: metres}
    responses: [numeric, choice]
  - identifier: ring
    title: T
    parameters: {a: {kind: integer, from: 3, to: 6}}
    application: {kind: volume, curves: ["a x - x^2", x]}
    responses: [choice, numeric]
  - identifier: distance
    title: T
    variable: t
    parameters: {a: {kind: integer, from: 1, to: 3}}
    application: {kind: distance, curves: ["a - t"], limits: ["0", "4"], unit: metres, time: seconds}
"""


def tampered(folder: Path, form: str, change: Callable[[str, bytes], bytes]) -> list[str]:
    """What is wrong with a package whose files were changed."""
    before = members(written(folder, form, bank=APPLICATIONS))
    files = {name: change(name, data) for name, data in before.items()}
    assert files != before, "the change changes nothing"
    report = verify(zipped(folder / "changed.zip", files))
    return [problem.message for problem in report.problems]


@pytest.mark.parametrize("form", ["qti21", "cc", "json"])
def test_every_key_is_proved_again(form: str, tmp_path: Path) -> None:
    report = verify(written(tmp_path, form, bank=APPLICATIONS))
    assert report.problems == []
    assert sum(row.proved + row.agreeing for row in report.rows.values()) == 6
    assert sum(row.refuted for row in report.rows.values()) == 6


def test_a_bank_in_another_language_is_read_back(tmp_path: Path) -> None:
    german = APPLICATIONS.replace("language: en-GB", "language: de")
    path = written(tmp_path, "qti3", bank=german, count=1)
    words = b"".join(data for name, data in members(path).items() if name.startswith("items/")).decode()
    assert "Bestimme den Inhalt der Fl" in words
    report = verify(path)
    assert report.problems == []
    assert sum(row.proved + row.agreeing for row in report.rows.values()) == 3


def test_results_are_marked(tmp_path: Path) -> None:
    path = written(tmp_path, "qti3", bank=APPLICATIONS)
    questions = questions_of(path)
    answers = {name: right(one) for name, one in questions.items() if isinstance(one, Question)}
    assert len(answers) == 6
    results = tmp_path / "one.xml"
    results.write_text(document("one", answers), encoding="utf-8")
    rows = result_rows(results, questions)
    marked = [row.unmarked() if row.entry is None else mark_entry(row.entry) for row in rows]
    assert [one.verdict for one in marked] == ["correct"] * 6


def test_another_limit_is_another_question(tmp_path: Path) -> None:
    def change(name: str, data: bytes) -> bytes:
        # x = 4 at the end becomes x = 5
        old, new = b"<mo>=</mo><mn>4</mn>", b"<mo>=</mo><mn>5</mn>"
        return data.replace(old, new) if name.startswith("items/distance") else data

    assert tampered(tmp_path, "qti3", change)


def test_a_figure_is_what_its_name_says(tmp_path: Path) -> None:
    def change(name: str, data: bytes) -> bytes:
        return data.replace(b"#1a1a1a", b"#ff0000") if name.startswith("figures/") else data

    found = tampered(tmp_path, "qti3", change)
    assert len(found) == 6
    assert all("has not the content that its name tells" in message for message in found)


def test_a_figure_has_words(tmp_path: Path) -> None:
    def change(name: str, data: bytes) -> bytes:
        return re.sub(rb' alt="[^"]*"', b' alt=""', data) if name.startswith("items/ring") else data

    found = tampered(tmp_path, "qti3", change)
    assert len(found) == 2
    assert all("is shown without words" in message for message in found)


def test_a_figure_cannot_do_harm(tmp_path: Path) -> None:
    evil = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
    name_of_evil = f"figures/{sha256(evil).hexdigest()[:24]}.svg"

    files = members(written(tmp_path, "qti3", bank=APPLICATIONS))
    changed = {
        name: re.sub(rb"figures/[0-9a-f]+\.svg", name_of_evil.encode(), data) for name, data in files.items()
    }
    changed = {name: data for name, data in changed.items() if not name.startswith("figures/")}
    report = verify(zipped(tmp_path / "changed.zip", {**changed, name_of_evil: evil}))
    assert any("something else than lines and words" in problem.message for problem in report.problems)


def shown(*pairs: tuple[Symbol, Expression | int]) -> list[Statement]:
    return [Equation(left, as_tree(right)) for left, right in pairs]


def test_sentences_in_another_language_are_read_too() -> None:
    english = (
        f"Find the area of the region between the curve {MARK} and the horizontal axis from {MARK} to {MARK}."
    )
    given = shown((Symbol("y"), X**3 - X), (X, -1), (X, 1))
    found = asked_application(f"Look at {MARK}. {english} Give it.", [X, *given])
    assert found is not None
    assert plain(found) == "∫_(-1)^1 abs(x^3 - x) dx"
    assert asked_application(f"Evaluate {MARK}.", given[:1]) is None


@pytest.mark.parametrize(
    "given",
    [
        shown((Symbol("y"), 1 / X), (X, -1), (X, 1)),
        shown((Symbol("y"), X), (X, 1), (T, 2)),
        shown((Symbol("v"), X), (X, 1), (X, 2)),
        shown((Symbol("y"), X), (X, 2), (X, 1)),
    ],
)
def test_a_question_that_makes_no_sense_is_told(given: list[Statement]) -> None:
    text = f"Find the length of the curve {MARK} from {MARK} to {MARK}."
    with pytest.raises(QuestionError):
        asked_application(text, given)
