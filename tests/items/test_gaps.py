"""Workings with pieces left blank: how many, where, and each by the lines that are shown before it."""

from __future__ import annotations

import re

import pytest

from qbank.bank.loading import parse_bank
from qbank.bank.problem import BankError
from qbank.items.item import Item, WorkingTask
from qbank.items.tasks.asked import TaskGap, TaskQuestion
from qbank.maths.equation import Equation
from qbank.maths.expression import Integral, as_fraction
from qbank.maths.notation import plain
from qbank.maths.notation.gapped import has_gap, pieces
from qbank.maths.verdict import Proof, Proved, Witness
from qbank.techniques.blanking import filled
from qbank.techniques.following import follows, numbers_named
from qbank.techniques.presenting import Row
from tests.items.gap_items import BANK, TEMPLATES, gap_bank, gap_items


def response_of(item: Item) -> WorkingTask:
    assert isinstance(item.response, WorkingTask)
    return item.response


@pytest.mark.parametrize("name", TEMPLATES)
def test_the_lines_follow_with_what_is_to_be_filled_in(name: str) -> None:
    template = gap_bank().template(name)
    for item in gap_items(name, 3):
        response = response_of(item)
        kinds = {one.kind if isinstance(one, TaskGap) else "line" for one in response.questions}
        assert kinds <= set(template.gaps)
        integral, rows = Integral(item.integrand, item.variable), [line.row for line in response.lines]
        for one in response.gaps:
            line = response.lines[one.line - 1]
            assert line.question == one.identifier
            assert line.gapped is not None
            (place,) = (at for at, part in enumerate(line.gapped.statements) if has_gap(part))
            assert pieces(line.gapped.statements[place], item.conventions) is not None
            again = tuple(filled(part, one.value) for part in line.gapped.statements)
            assert [plain(part) for part in again] == [plain(part) for part in line.row.statements]
            row = Row(kind=line.row.kind, statements=again)
            verdict = follows(row, rows[: one.line - 1], integral, numbers_named(rows))
            assert isinstance(verdict, Proved)
            proof, witness = one.evidence
            assert isinstance(proof, Proof)
            assert isinstance(witness, Witness)
            assert (one.letter is None) == (one.kind == "number") == (as_fraction(one.value) is not None)


def test_the_fading_says_how_much() -> None:
    counts = {name: [len(response_of(one).questions) for one in gap_items(name, 3)] for name in TEMPLATES}
    assert counts["gap-one"] == [1, 1, 1]
    assert all(2 <= count <= 3 for count in counts["gap-expressions"])
    kinds = set()
    for item in gap_items("gap-all", 3):
        response = response_of(item)
        assert [line.question is None for line in response.lines] == [True] + [False] * 6
        kinds |= {"line" if isinstance(one, TaskQuestion) else one.kind for one in response.questions}
    assert kinds == {"line", "number", "expression"}


def test_the_constant_stands_behind_a_gap() -> None:
    for item in gap_items("gap-expressions", 3):
        for line in response_of(item).lines:
            row = line.gapped or line.row
            for one in row.statements:
                if not isinstance(one, Equation):
                    open_ = any(isinstance(node, Integral) for node in one.walk())
                    assert ("C" in {letter.name for letter in one.symbols()}) != open_


def test_equal_seeds_give_equal_gaps() -> None:
    assert gap_items("gap-all", 3)[:2] == gap_items("gap-all", 2)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("gaps: [number]", "gaps: [numbers]", "number"),
        ("gaps: [number]", "gaps: []", "gaps"),
        ("responses: [complete-working]\n    gaps", "responses: [choice]\n    gaps", "gaps belongs to"),
        ("gaps: [number]", "gaps: [number]\n    options: 5", "no options"),
    ],
)
def test_what_a_template_says_wrongly(old: str, new: str, said: str) -> None:
    with pytest.raises(BankError) as caught:
        parse_bank(BANK.replace(old, new, 1).encode(), "gaps.yaml")
    assert re.search(said, str(caught.value))
    assert "gaps.yaml:" in str(caught.value)
