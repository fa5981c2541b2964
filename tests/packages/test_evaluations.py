"""The value of an antiderivative read back from packages, found again by quadrature, and what is noticed."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from qbank.bank.loading import parse_bank
from qbank.items.decking import deal
from qbank.marking import mark_entry
from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Integer, Integral, Symbol, ln, rational
from qbank.maths.notation import plain
from qbank.packages.evaluations import condition_of, value_through
from qbank.packages.proving import prove
from qbank.packages.question import Accepted, Condition, ModelAnswer, Question, QuestionError
from qbank.packages.results import questions_of, result_rows
from qbank.packages.verifying import verify
from qbank.writers import WRITERS, Options, save
from tests.packages.sample import content, first, members, zipped
from tests.packages.test_results import document

X = Symbol("x")
EVALUATIONS = """
identifier: evaluations
title: Evaluations
language: en-GB
licence: CC0-1.0
version: "1.0.0"
authors: [A. Teacher]
templates:
  - identifier: logarithm
    title: A logarithm
    technique: standard-forms
    parameters: {p: {kind: integer, from: 2, to: 6}}
    integrand: p/(3x + 1)
    responses: [evaluation]
    marks: 3
  - identifier: circular
    title: Circular
    technique: even-powers
    parameters: {p: {kind: integer, from: 2, to: 6}}
    integrand: p sin(2x)^2
    responses: [evaluation]
    figures: 4
"""


def package(folder: Path, form: str) -> Path:
    path = folder / f"package{WRITERS[form].suffix}"
    path.write_bytes(content(form, bank=EVALUATIONS))
    return path


@pytest.mark.parametrize("form", ["qti3", "qti22", "qti21", "json"])
def test_keys_are_proved_again(tmp_path: Path, form: str) -> None:
    report = verify(package(tmp_path, form))
    assert report.sound, report.problems
    ((kind, row),) = report.rows.items()
    assert (kind, row.items, row.proved) == ("evaluation, antiderivative", 4, 4)


def test_and_from_formulas_as_latex(tmp_path: Path) -> None:
    deck = deal(parse_bank(EVALUATIONS.encode(), "evaluations.yaml"), count=2, seed=1)
    path = save(WRITERS["qti21"], deck, tmp_path / "package.zip", options=Options(math="tex"))
    report = verify(path)
    assert report.sound, report.problems
    assert report.rows["evaluation, antiderivative"].proved == 4


def test_another_bound_or_another_place_is_noticed(tmp_path: Path) -> None:
    path = package(tmp_path, "qti3")
    parts = members(path)
    name = first(parts, "evaluation")
    text = parts[name].decode()
    bounds = re.findall(r'<qti-base-value base-type="float">([^<]*)</qti-base-value>', text)
    one, other = re.findall(r"<mrow><mi>x</mi><mo>=</mo>.*?</mrow></math>", text)
    changes = (
        # the lower bound of what scores, moved below and then above the value
        text.replace(bounds[2], str(float(bounds[2]) - 3), 1),
        text.replace(bounds[2], str(float(bounds[3]) - 0.00001), 1),
        # the places exchanged
        text.replace(one, "@").replace(other, one).replace("@", other),
    )
    for change in changes:
        assert change != text
        report = verify(zipped(tmp_path / "changed.zip", {**parts, name: change.encode()}))
        assert not report.sound


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda item: item["response"]["given"].update(exact="77"), "places stated"),
        (lambda item: item["response"].update(at=item["response"]["point"]), "places stated"),
        (lambda item: item["prompt"].pop(-2), "which antiderivative is meant"),
        (lambda item: item.update(key=item["response"]["point"]), "exact value is wrong"),
        (lambda item: item["response"]["accepted"]["lower"].update(exact="90000"), "not among the numbers"),
    ],
)
def test_a_changed_document_is_noticed(
    tmp_path: Path, change: Callable[[dict[str, Any]], object], message: str
) -> None:
    path = package(tmp_path, "json")
    value = json.loads(path.read_text())
    change(value["items"][0])
    path.write_text(json.dumps(value))
    assert any(message in str(problem.message) for problem in verify(path).problems)


LOGARITHM = Integral(1 / X, X)


def asked(point: Expression, at: Expression, given: Expression | None = None) -> Question:
    condition = Condition(point=point, given=given or Integer(1), at=at)
    answers = Accepted(lower=Fraction(1), upper=Fraction(2), keyed="1.5")
    return Question(identifier="one", integral=LOGARITHM, answers=answers, condition=condition)


def test_what_has_no_value() -> None:
    for point, at, given in (
        (rational(-1), Integer(2), None),
        (Symbol("a"), Integer(2), None),
        (Integer(1), Integer(2), ln(rational(-1))),
    ):
        (problem,) = prove(asked(point, at, given)).problems
        assert problem.startswith("there is no value")
    # 1 + ln 2 lies between 1 and 2
    assert not any("not among" in problem for problem in prove(asked(Integer(1), Integer(2))).problems)
    free = Question(
        identifier="one",
        integral=LOGARITHM,
        answers=ModelAnswer(answer=ln(X)),
        condition=asked(Integer(1), Integer(2)).condition,
    )
    assert prove(free).problems == ("the value of an antiderivative is answered by a number",)
    unbounded = value_through(LOGARITHM, Condition(point=Integer(0), given=Integer(1), at=Integer(1)), 20)
    assert "piece" in unbounded.reason  # type: ignore[union-attr]


@pytest.mark.parametrize(
    "shown",
    [
        [LOGARITHM, Integer(5), Equation(X, Integer(1))],
        [LOGARITHM, Equation(X, Integer(1)), Equation(X, Integer(2))],
        [Equation(X, Integer(1)), Equation(X, Integer(2)), LOGARITHM],
        [LOGARITHM, Integer(5), Equation(Symbol("t"), Integer(1)), Equation(X, Integer(2))],
        [LOGARITHM, Integer(5), Integer(6), Equation(X, Integer(1)), Equation(X, Integer(2))],
    ],
)
def test_a_question_that_is_not_understood(shown: list[Any]) -> None:
    with pytest.raises(QuestionError):
        condition_of(LOGARITHM, shown)


def test_results_are_marked_as_values(tmp_path: Path) -> None:
    path = package(tmp_path, "qti3")
    questions = questions_of(path)
    name, question = next((name, one) for name, one in questions.items() if "logarithm" in name)
    assert isinstance(question, Question)
    assert isinstance(question.answers, Accepted)
    antiderivative = plain(ln(3 * X + 1))
    typed = (question.answers.keyed, "77", antiderivative)
    results = tmp_path / "results"
    results.mkdir()
    for place, response in enumerate(typed):
        results.joinpath(f"{place}.xml").write_text(document(f"s{place}", {name: {"RESPONSE": (response,)}}))
    rows = list(result_rows(results, questions))
    marked = [row.unmarked() if row.entry is None else mark_entry(row.entry) for row in rows]
    assert [one.verdict for one in marked] == ["correct", "incorrect", "incorrect"]
    assert [one.usable for one in marked] == [True] * 3
