"""Results of another system marked by differentiation: the marks are those of the package's own key.

The names of the elements and attributes of QTI Results Reporting are from memory: neither its schema nor an official
sample was at hand.
"""

from __future__ import annotations

import csv
from dataclasses import replace
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

import pytest
from click.testing import CliRunner, Result

from qbank.bank.loading import parse_bank
from qbank.cli import main
from qbank.items.decking import deal
from qbank.marking.rows import TableError
from qbank.maths.notation import plain
from qbank.packages.question import (
    Accepted,
    AskedTask,
    Form,
    Matched,
    ModelAnswer,
    Options,
    Question,
    Several,
    Spelled,
)
from qbank.packages.results import questions_of, result_rows
from qbank.writers import WRITERS, save
from qbank.writers.options import USUAL_OPTIONS
from tests.packages.sample import BANK, FORMS, written

Answers = dict[str, tuple[str, ...]]
NAMESPACE = "http://www.imsglobal.org/xsd/imsqti_result_v2p1"


def document(student: str, items: dict[str, Answers], *, more: str = "") -> str:
    """One student's results."""
    results = "".join(
        f"<itemResult identifier={quoteattr(item)} sequenceIndex='1' sessionStatus='final' datestamp='2026-03-02T09:00:00'>"
        "<responseVariable identifier='numAttempts' cardinality='single'><candidateResponse><value>1</value>"
        "</candidateResponse></responseVariable>"
        + "".join(
            f"<responseVariable identifier={quoteattr(name)} cardinality='single'><candidateResponse>"
            + "".join(f"<value>{escape(value)}</value>" for value in values)
            + "</candidateResponse></responseVariable>"
            for name, values in answers.items()
        )
        + "<outcomeVariable identifier='SCORE' cardinality='single' baseType='float'><value>2</value></outcomeVariable>"
        "</itemResult>"
        for item, answers in items.items()
    )
    context = f"<context sourcedId={quoteattr(student)}/>"
    return f"<assessmentResult xmlns='{NAMESPACE}'>{context}{more}{results}</assessmentResult>"


def right(question: Question) -> Answers:
    """What the package keys."""
    match question.answers:
        case Options(offered=offered):
            return {"RESPONSE": tuple(one.identifier for one in offered if one.right)}
        case Several(offered=offered):
            return {"RESPONSE": tuple(one.identifier for one in offered if one.right)}
        case Matched(rows=rows):
            return {"RESPONSE": tuple(f"{row.identifier} {row.partner}" for row in rows)}
        case Accepted(keyed=keyed):
            return {"RESPONSE": (keyed,)}
        case Spelled() | AskedTask():
            raise AssertionError("spelled numbers are not of QTI 2 and 3; tasks have tests of their own")
        case ModelAnswer(answer=answer):
            return {"RESPONSE": (plain(answer) + " + C",)}
        case Form(letters=letters, tried=tried):
            pairs = zip(letters, tried[0].values, strict=True)
            return {
                f"{letter.name}_{part}": (str(number),)
                for letter, value in pairs
                for part, number in (("NUMERATOR", value.numerator), ("DENOMINATOR", value.denominator))
            }


def wrong(question: Question) -> Answers:
    match question.answers:
        case Options(offered=offered):
            return {"RESPONSE": tuple(one.identifier for one in offered if not one.right)[:1]}
        case Several(offered=offered):
            return {"RESPONSE": tuple(one.identifier for one in offered if not one.right)[:2]}
        case Matched():
            return {"RESPONSE": ("Q1 Z", "Q2 Z")}
        case Accepted(upper=upper):
            return {"RESPONSE": (str(float(upper) + 0.25),)}
        case Spelled() | AskedTask():
            raise AssertionError("spelled numbers are not of QTI 2 and 3; tasks have tests of their own")
        case ModelAnswer():
            return {"RESPONSE": ("x^9",)}
        case Form():
            return dict.fromkeys(right(question), ("7",))


def mark(source: Path, items: Path, out: Path, *options: str) -> Result:
    return CliRunner().invoke(main, ["mark", str(source), "--items", str(items), "--out", str(out), *options])


def table(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as handle:
        return list(csv.DictReader(handle))


@pytest.mark.parametrize("target", ["qti3", "qti21", "json"])
def test_results_are_marked_as_the_package_keys_them(tmp_path: Path, target: str) -> None:
    package = written(tmp_path, target)
    questions = {name: one for name, one in questions_of(package).items() if isinstance(one, Question)}
    assert {one.kind.split(",")[0] for one in questions.values()} == {"choice", "numeric", "free expression"}
    folder, out = tmp_path / "results", tmp_path / "marks.csv"
    folder.mkdir()
    blank: Answers = {"RESPONSE": ()}
    gone: dict[str, Answers] = {"gone": {"RESPONSE": ("1",)}}
    for student, answers in (
        ("Amy, B", {name: right(one) for name, one in questions.items()}),
        ("Ben", {name: wrong(one) for name, one in questions.items()}),
        ("Cleo", dict.fromkeys(questions, blank) | gone),
    ):
        (folder / f"{student}.xml").write_text(document(student, answers), encoding="utf-8")
    result = mark(folder, package, out, "--pseudonyms", "student")
    assert result.exit_code == 1, "one item is not of the package"
    rows = table(out)
    found = {name: [row for row in rows if row["student"] == name] for name in ("S1", "S2", "S3")}
    assert [len(some) for some in found.values()] == [len(questions), len(questions), len(questions) + 1]
    assert {(row["verdict"], row["score"]) for row in found["S1"]} == {("correct", "1")}
    assert {(row["verdict"], row["score"]) for row in found["S2"]} == {("incorrect", "0")}
    assert all(row["slip"] for row in found["S2"] if row["kind"] == "choice, antiderivative")
    assert {(row["verdict"], row["remarks"]) for row in found["S3"][:-1]} == {("unreadable", "no-answer")}
    assert "no such item" in found["S3"][-1]["message"]
    assert {row["system_score"] for row in rows} == {"2"}
    assert "Amy" not in out.read_text(encoding="utf-8")


def test_the_policy_of_the_bank_in_the_package_holds_for_what_is_typed(tmp_path: Path) -> None:
    strict = BANK.replace("    responses:", "    policy: {constant: 1/2}\n    responses:")
    package = written(tmp_path, "qti3", bank=strict)
    questions = {name: one for name, one in questions_of(package).items() if isinstance(one, Question)}
    answers = {name: right(one) for name, one in questions.items()}
    typed = {name for name, one in questions.items() if isinstance(one.answers, ModelAnswer)}
    assert 0 < len(typed) < len(questions)
    for name in typed:
        answers[name] = {"RESPONSE": (answers[name]["RESPONSE"][0].replace(" + C", ""),)}
    results = tmp_path / "results.xml"
    results.write_text(document("A", answers), encoding="utf-8")
    for options, score in (
        ((), "0.5"),
        (("--credit", "constant=3/4"), "0.75"),
        (("--require", "constant"), "0"),
    ):
        out = tmp_path / f"marks-{score}.csv"
        assert mark(results, package, out, *options).exit_code == 0
        assert {row["item"]: row["score"] for row in table(out)} == {
            name: score if name in typed else "1" for name in questions
        }


def test_coefficients_are_the_expression_they_make(tmp_path: Path) -> None:
    package = written(tmp_path, "qti3", bank=FORMS, count=1)
    questions = {name: one for name, one in questions_of(package).items() if isinstance(one, Question)}
    exact = {name: one for name, one in questions.items() if right(one).keys() != {"RESPONSE"}}
    results, out = tmp_path / "results.xml", tmp_path / "marks.csv"
    for answers, verdict in ((right, "correct"), (wrong, "incorrect")):
        results.write_text(
            document("A", {name: answers(one) for name, one in exact.items()}), encoding="utf-8"
        )
        mark(results, package, out, "--force")
        rows = {row["item"].rsplit("-", 1)[0]: row for row in table(out)}
        rounded = [row for row in rows.values() if "rounded" in row["message"]]
        assert len(rounded) == 1, "decimals are left to the system"
        assert {row["verdict"] for row in rows.values() if row not in rounded} == {verdict}
    half: dict[str, Answers] = {name: dict.fromkeys(right(one), ("1/0",)) for name, one in exact.items()}
    results.write_text(document("A", half), encoding="utf-8")
    mark(results, package, out, "--force")
    assert {row["remarks"] for row in table(out) if "rounded" not in row["message"]} == {"no-answer"}


@pytest.mark.parametrize(
    ("values", "said"),
    [(("NO-SUCH",), "no option 'NO-SUCH'"), (("A", "B"), "several values")],
)
def test_an_answer_that_does_not_fit_is_a_row(tmp_path: Path, values: tuple[str, ...], said: str) -> None:
    package = written(tmp_path, "qti3")
    questions = questions_of(package)
    name = next(name for name, one in questions.items() if isinstance(one, Question) and "choice" in one.kind)
    results = tmp_path / "results.xml"
    results.write_text(document("A", {name: {"RESPONSE": values}}), encoding="utf-8")
    (row,) = result_rows(results, questions)
    assert said in row.problem


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("<a/>", "no assessmentResult"),
        ("<assessmentResult>", "not well formed"),
        ('<!DOCTYPE a [<!ENTITY b "c">]><assessmentResult/>', "document type"),
    ],
)
def test_what_is_no_result_is_named(tmp_path: Path, content: str, said: str) -> None:
    (tmp_path / "r.xml").write_text(content, encoding="utf-8")
    with pytest.raises(TableError, match=said):
        list(result_rows(tmp_path, {}))


def test_unusable_input(tmp_path: Path) -> None:
    results, out = tmp_path / "r.xml", tmp_path / "m.csv"
    results.write_text(document("A", {}), encoding="utf-8")
    assert "name the package" in CliRunner().invoke(main, ["mark", str(results), "--out", str(out)]).stderr
    assert mark(results, results, out).exit_code == 2
    assert mark(tmp_path / "none", written(tmp_path, "qti3"), out).exit_code == 2
    assert "no items of QTI 2 or 3" in mark(results, written(tmp_path, "cc"), out).stderr
    (tmp_path / "empty").mkdir()
    assert "no *.xml" in mark(tmp_path / "empty", written(tmp_path, "qti3"), out).stderr
    assert "no column 'name'" in mark(results, written(tmp_path, "qti3"), out, "--pseudonyms", "name").stderr


#: the forms whose responses are sets
SETS = """
identifier: sets
title: Sets
language: en-GB
licence: CC0-1.0
version: "1.0.0"
templates:
  - identifier: forms
    title: Forms
    technique: substitution
    parameters: {p: {kind: integer, from: 2, to: 4}, a: {kind: integer, from: 2, to: 4}}
    integrand: p sin(a x) cos(a x)
    responses: [several-answers, matching]
    marks: 4
"""


@pytest.mark.parametrize("target", ["qti3", "json"])
def test_sets_of_options_and_pairs_are_marked(tmp_path: Path, target: str) -> None:
    package = written(tmp_path, target, bank=SETS, count=2)
    questions = {name: one for name, one in questions_of(package).items() if isinstance(one, Question)}
    assert {one.kind.split(",")[0] for one in questions.values()} == {"several answers", "matching"}
    results, out = tmp_path / "results.xml", tmp_path / "marks.csv"
    blank: Answers = {"RESPONSE": ()}
    for answers, verdict, score in (
        ({name: right(one) for name, one in questions.items()}, "correct", "1"),
        ({name: wrong(one) for name, one in questions.items()}, "incorrect", "0"),
        (dict.fromkeys(questions, blank), "unreadable", ""),
    ):
        results.write_text(document("A", answers), encoding="utf-8")
        mark(results, package, out, "--force")
        assert {(row["verdict"], row["score"]) for row in table(out)} == {(verdict, score)}


def test_formulas_in_pictures_are_read(tmp_path: Path) -> None:
    plain_one = questions_of(written(tmp_path, "qti3"))
    deck = deal(parse_bank(BANK.encode(), "small.yaml"), count=2, seed=1)
    pictured = save(
        WRITERS["qti3"], deck, tmp_path / "pictures.zip", options=replace(USUAL_OPTIONS, math="pictures")
    )
    assert questions_of(pictured) == plain_one
