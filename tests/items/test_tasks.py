"""Tasks about working: one right option in each question, wrong ones judged, drawn alike every time."""

from __future__ import annotations

from dataclasses import replace

import pytest

from qbank.bank.loading import parse_bank
from qbank.bank.problem import BankError
from qbank.cli.board import item_text
from qbank.items.cloning import clones
from qbank.items.item import Item, WorkingTask
from qbank.items.tasks.asked import TaskOption
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Expression, Integer, Integral, Symbol
from qbank.maths.notation import plain
from qbank.maths.verdict import Proof, Proved, Refuted, Witness
from qbank.techniques.following import follow, follows, numbers_named
from qbank.techniques.misused_rules import misused_rules
from qbank.techniques.opening import leads_on, opening_of
from qbank.techniques.planner import solve_all
from qbank.techniques.presenting import Row
from tests.items.task_items import BANK, task_bank
from tests.marking.float_oracle import is_right

STEPS = ("circular", "exponential", "parts")


def response_of(item: Item) -> WorkingTask:
    assert isinstance(item.response, WorkingTask)
    return item.response


def drawn(name: str, count: int) -> list[Item]:
    return list(clones(task_bank(), task_bank().template(name), count, 3))


def text(option: TaskOption) -> str:
    return "".join(piece if isinstance(piece, str) else plain(piece) for piece in option.shown)


@pytest.mark.parametrize("name", STEPS)
def test_a_first_step_is_the_only_one_that_leads_on(name: str) -> None:
    judgements = set()
    for item in drawn(name, 3):
        response = response_of(item)
        assert (response.task, response.lines, item.form) == ("first-step", (), "first-step")
        (question,) = response.choices
        assert len({text(option) for option in question.options}) == len(question.options) == 4
        for option in question.options:
            judgements.add(option.judgement)
            begins = [opening_of(one) for one in solve_all(item.integrand, item.variable)]
            assert (option.shown in begins) is option.right
            if option.right:
                assert isinstance(option.evidence, Proof)
            elif option.judgement == "invalid":
                assert isinstance(option.evidence, Witness)
                (answer,) = (
                    one.answer
                    for one in misused_rules(item.integrand, item.variable)
                    if one.shown == option.shown
                )
                assert is_right(answer, item.integrand) is False
            else:
                assert not leads_on(option.shown, item.integrand, item.variable)
            assert option.feedback
    assert {"begins", "invalid"} <= judgements
    # beside sines and cosines x can be integrated by parts, and so such a step leads on
    assert judgements & {"useless", "unfit"} or name != "exponential"


def test_the_title_says_what_is_to_be_done() -> None:
    assert [drawn(name, 1)[0].title for name in ("parts", "fault", "blank-one")] == [
        "Choose the first step",
        "Find the fault",
        "Complete the working",
    ]


def test_draws_are_repeatable_and_differ() -> None:
    first, second = drawn("circular", 4), drawn("circular", 4)
    assert first == second
    assert len({tuple(map(text, response_of(one).choices[0].options)) for one in first}) > 1


def test_the_board_shows_the_judgements() -> None:
    shown = "\n".join(item_text(drawn("exponential", 1)[0]))
    assert "[key]" in shown
    assert "[useless: parts-without-an-integral]" in shown


@pytest.mark.parametrize(
    ("change", "code"),
    [
        (("technique: odd-powers", "antiderivative: x"), "unfit-response"),
        (("marks: 2", 'domain: ["0", "1"]'), "unfit-response"),
        (("marks: 2", 'task: definite\n    limits: ["0", "1"]'), "unfit-response"),
    ],
)
def test_what_a_template_may_not_say(change: tuple[str, str], code: str) -> None:
    with pytest.raises(BankError) as caught:
        parse_bank(BANK.replace(*change).encode(), "steps.yaml")
    assert code in [problem.code for problem in caught.value.problems]


@pytest.mark.parametrize("name", ["fault", "fault-by-parts"])
def test_one_line_is_wrong_and_every_other_follows(name: str) -> None:
    places = set()
    for item in drawn(name, 5):
        response = response_of(item)
        (question,) = response.choices
        assert question.ordered
        assert len(question.options) == len(response.lines) >= 3
        assert [text(option) for option in question.options] == [
            f"Line {line.number}" for line in response.lines
        ]
        rows = [line.row for line in response.lines]
        verdicts = follow(rows, Integral(item.integrand, item.variable))
        for option, verdict in zip(question.options, verdicts, strict=True):
            assert isinstance(verdict, Refuted if option.right else Proved)
            assert isinstance(option.evidence, Witness if option.right else Proof)
        places.add(question.key.identifier)
        # the last line is an answer, and a wrong one: by high-precision differences, which know nothing of verdicts
        (last,) = rows[-1].statements
        assert isinstance(last, Expression)
        assert is_right(last.substitute({Symbol("C"): Integer(0)}), item.integrand) is False
        told = question.key.feedback
        assert str(told[0]).startswith("Right, this line does not follow.")
        (right,) = (piece for piece in told if not isinstance(piece, str))
        assert any(right in row.statements for row in item.working)
        assert not any(line.question for line in response.lines)
    assert len(places) > 1


@pytest.mark.parametrize(("name", "level"), [("blank-one", 1), ("blank-some", 2), ("blank-most", 3)])
def test_blank_lines(name: str, level: int) -> None:
    for item in drawn(name, 3):
        response = response_of(item)
        rows = [line.row for line in response.lines]
        # what stands in the blanks is the worked solution
        assert tuple(row.statements for row in rows) == tuple(row.statements for row in item.working[1:])
        integral = Integral(item.integrand, item.variable)
        blank = [line for line in response.lines if line.question is not None]
        assert 1 not in [line.number for line in blank]
        assert len(blank) == len(response.choices)
        if level == 1:
            assert len(blank) == 1
        elif level == 2:
            assert 2 <= len(blank) <= len(rows) / 2
        else:
            assert len(blank) == len(rows) - 1
        for line, question in zip(blank, response.choices, strict=True):
            assert question.line == line.number
            assert len({text(option) for option in question.options}) == len(question.options) >= 3
            before = rows[: line.number - 1]
            for option in question.options:
                statements = tuple(piece for piece in option.shown if not isinstance(piece, str))
                row = replace(line.row, statements=statements)
                verdict = follows(row, before, integral, numbers_named(rows))
                assert isinstance(verdict, Proved if option.right else Refuted), text(option)
                (last, *others) = statements
                if (
                    row.kind == "step"
                    and not any(isinstance(n, Integral) for n in walked(last))
                    and not others
                ):
                    assert answers_rightly(last, before, item) is option.right, text(option)


def walked(statement: Statement) -> list[Expression]:
    assert isinstance(statement, Expression)
    return list(statement.walk())


def answers_rightly(statement: Statement, before: list[Row], item: Item) -> bool | None:
    """By high-precision differences, letters put back."""
    assert isinstance(statement, Expression)
    letters = {
        first.left: first.right
        for row in before
        if row.kind == "let" and isinstance(first := row.statements[0], Equation)
        if isinstance(first.left, Symbol)
    }
    return is_right(statement.substitute({**letters, Symbol("C"): Integer(0)}), item.integrand)


def test_fading_belongs_to_blank_lines() -> None:
    with pytest.raises(BankError) as caught:
        parse_bank(BANK.replace("marks: 2", "marks: 2\n    fading: 2", 1).encode(), "steps.yaml")
    assert "needless" in [problem.code for problem in caught.value.problems]
