"""Find the limit for which an integral has a given value: the only one, confirmed by quadrature, read back and refuted."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from qbank.bank.loading import parse_bank
from qbank.bank.problem import BankError
from qbank.items.checking import check_template
from qbank.items.decking import deal
from qbank.items.item import Item
from qbank.maths.expression import Integer, Integral, Symbol
from qbank.maths.notation import plain
from qbank.packages.evaluations import limit_between
from qbank.packages.proving import prove
from qbank.packages.question import Accepted, Question, SoughtLimit
from qbank.packages.results import questions_of, result_rows
from qbank.packages.verifying import verify
from qbank.writers import WRITERS, save

X, A = Symbol("x"), Symbol("a")
BANK = """
identifier: sought
title: Limits sought
language: en-GB
licence: CC0-1.0
authors: [The Saltmarrow mathematics room]
version: "1.0.0"
templates:
  - identifier: line
    title: A line
    technique: antiderivative
    task: definite
    parameters: {q: {kind: integer, from: 1, to: 6}, a: {kind: integer, from: 2, to: 9}}
    integrand: 2x + q
    limits: ["0", a]
    find: {letter: a, from: "0", to: "12"}
"""


def items(count: int = 3) -> list[Item]:
    deck = deal(parse_bank(BANK.encode(), "bank.yaml"), count=count, seed=1)
    return list(deck.sections[0].items)


def test_the_number_solves_the_equation() -> None:
    for item in items(6):
        values = dict(item.parameters)
        key, q = values["a"], values["q"]
        assert item.sought is not None
        assert plain(item.sought.value) == str(key**2 + q * key)
        assert item.enclosure is not None
        assert item.enclosure[0] < key < item.enclosure[1]
        assert item.limits == (Integer(0), A)
        assert plain(item.working[-1].statements[0]) == f"a = {key}"


@pytest.mark.parametrize("target", ["qti3", "qti21", "qti12", "json"])
def test_the_number_is_proved_from_the_package(tmp_path: Path, target: str) -> None:
    writer = WRITERS[target]
    deck = deal(parse_bank(BANK.encode(), "bank.yaml"), count=2, seed=1)
    report = verify(save(writer, deck, tmp_path / writer.file_name(deck)))
    assert report.sound
    assert {name: row.proved for name, row in report.rows.items()} == {"limit sought, definite integral": 2}


def test_a_wrong_key_or_a_second_solution_is_seen() -> None:
    integral = Integral(2 * X + 1, X, Integer(0), A)
    sought = SoughtLimit(lower=Integer(0), upper=Integer(12), value=Integer(12))
    near = Fraction(1, 200)

    def problems(number: int, asked: Integral = integral, bounds: SoughtLimit = sought) -> tuple[str, ...]:
        accepted = Accepted(lower=number - near, upper=number + near, keyed=f"{number}.00")
        return prove(Question(identifier="one", integral=asked, answers=accepted, condition=bounds)).problems

    assert problems(3) == ()
    assert problems(4) == ("the number sought is not among those that score",)
    # 2x - 4 from 0 to a is 0 at a = 4, but for a = 0 too, and it falls before it grows
    falling = Integral(2 * X - 4, X, Integer(0), A)
    assert (
        "keep its sign"
        in problems(4, falling, SoughtLimit(lower=Integer(0), upper=Integer(12), value=Integer(0)))[0]
    )
    assert (
        "do not lie"
        in problems(3, bounds=SoughtLimit(lower=Integer(4), upper=Integer(12), value=Integer(12)))[0]
    )
    assert "not a number" in limit_between(
        integral, SoughtLimit(lower=A, upper=A, value=A), (Fraction(1), Fraction(2))
    )


def test_an_integrand_that_changes_its_sign_makes_no_item() -> None:
    bank = parse_bank(BANK.replace("2x + q", "2x - 3q").encode(), "bank.yaml")
    report = check_template(bank, bank.templates[0], sample=2, seed=1)
    assert any("keep its sign" in problem for problem in report.problems)


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("letter: a", "letter: q", "no-such-limit"),
        ('limits: ["0", a]', 'limits: ["0", a + 1]', "no-such-limit"),
        ("    find:", "    responses: [choice]\n    find:", "unfit-response"),
    ],
)
def test_what_a_bank_may_not_ask(old: str, new: str, code: str) -> None:
    with pytest.raises(BankError) as found:
        parse_bank(BANK.replace(old, new).encode(), "bank.yaml")
    assert code in {problem.code for problem in found.value.problems}


@pytest.mark.parametrize(("typed", "verdict"), [("right", "correct"), ("1.5", "incorrect")])
def test_results(tmp_path: Path, typed: str, verdict: str) -> None:
    writer = WRITERS["qti3"]
    deck = deal(parse_bank(BANK.encode(), "bank.yaml"), count=1, seed=1)
    questions = questions_of(save(writer, deck, tmp_path / writer.file_name(deck)))
    ((name, question),) = questions.items()
    assert isinstance(question, Question)
    assert isinstance(question.answers, Accepted)
    given = question.answers.keyed if typed == "right" else typed
    (tmp_path / "results.xml").write_text(
        '<assessmentResult xmlns="http://www.imsglobal.org/xsd/imsqti_result_v3p0">'
        f'<itemResult identifier="{name}" datestamp="2026-01-01T00:00:00Z" sessionStatus="final">'
        '<responseVariable identifier="RESPONSE" cardinality="single" baseType="float">'
        f"<candidateResponse><value>{given}</value></candidateResponse></responseVariable>"
        "</itemResult></assessmentResult>",
        encoding="utf-8",
    )
    (row,) = result_rows(tmp_path / "results.xml", questions)
    assert row.settled is not None
    assert row.settled.verdict == verdict
