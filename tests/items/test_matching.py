"""Matching: every partner belongs to one integral and to no other, by differences in high precision."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

import pytest

from qbank.bank.drawing import Stream, draws
from qbank.bank.loading import parse_bank
from qbank.bank.model import MatchedWith
from qbank.cli.arguments import open_bank
from qbank.cli.board import item_text
from qbank.items.building import build_item
from qbank.items.cloning import clones
from qbank.items.item import Item, Matching
from qbank.items.matching import Solved, matching
from qbank.items.refusal import DrawRefused
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Expression, Symbol
from qbank.maths.reading import read
from qbank.maths.verdict import Proof
from qbank.techniques.first_step import FirstStep, first_step, fits, is_step_of
from qbank.techniques.planner import solve
from tests.items.matching_items import BANK, TEMPLATES, matching_bank, matching_item, matching_of
from tests.marking.float_oracle import is_right

X = Symbol("x")
SHIPPED = open_bank(None)


def response_of(item: Item) -> Matching:
    assert isinstance(item.response, Matching)
    return item.response


def items() -> Iterator[Item]:
    yield from (matching_item(name) for name in TEMPLATES)
    bank = matching_bank()
    yield from clones(bank, bank.template("steps"), 3, 2)
    for template in SHIPPED.templates:
        if "matching" in template.responses:
            yield from clones(SHIPPED, template, 2, 7)


def test_partners_belong_to_one_integral_alone() -> None:
    shows = set()
    for item in items():
        response = response_of(item)
        shows.add(response.shows)
        for row in response.rows:
            assert isinstance(row.proof, Proof)
            assert is_right(row.key, row.integrand) is True
            for partner in response.partners:
                belongs = partner.identifier == row.partner
                if isinstance(partner.answer, FirstStep):
                    assert fits(partner.answer, row.integrand, item.variable) is belongs
                    assert is_step_of(partner.answer, row.integrand, item.variable) is belongs
                else:
                    assert isinstance(partner.answer, Expression)
                    assert is_right(partner.answer, row.integrand) is belongs
    assert shows == {"antiderivative", "first-step"}


def test_a_slip_is_left_over_where_antiderivatives_are_matched() -> None:
    for name in ("alone", "beside"):
        response = matching_of(name)
        assert (len(response.rows), len(response.partners)) == (4, 5)
        (extra,) = (one for one in response.partners if one.slip is not None)
        assert extra.identifier not in [row.partner for row in response.rows]
        assert extra.misled in [row.identifier for row in response.rows]
        assert extra.feedback
        assert len(response.mismatches) == 4 * 4


def test_the_working_is_that_of_all_integrals() -> None:
    item = matching_item("steps")
    starts = [row for row in item.working if row.kind == "start"]
    assert len(starts) == len(matching_of("steps").rows) == 3
    assert item.integrand == matching_of("steps").rows[0].integrand
    assert item.key == matching_of("steps").rows[0].key


def test_the_board() -> None:
    text = list(item_text(matching_item("steps")))
    assert text[0].startswith("Match each integral to the first step towards it.")
    assert any("Let u = x^2 + " in line and "[Q1]" in line for line in text)
    text = list(item_text(matching_item("alone")))
    assert text[0] == "Match each integral to its antiderivative. One answer is left over."
    assert any(", with Q" in line for line in text)


def test_same_draw_same_item_and_others_vary() -> None:
    bank = matching_bank()
    one, two = (list(clones(bank, bank.template("beside"), 4, 3)) for _ in range(2))
    assert one == two
    assert len({response_of(item).partners for item in one}) == 4


@pytest.mark.parametrize(
    ("template", "plan", "why"),
    [
        # steps of the same kind fit both integrals, whatever is drawn
        ("alone", MatchedWith(others=("alone", "beside"), show="first-step"), "belong to one of them alone"),
        ("steps", MatchedWith(others=("steps", "alone"), show="first-step"), "belong to one of them alone"),
    ],
)
def test_what_cannot_be_told_apart_is_refused(template: str, plan: MatchedWith, why: str) -> None:
    bank = matching_bank()
    changed = replace(bank.template(template), matching=plan)
    with pytest.raises(DrawRefused, match=why):
        build_item(bank, changed, next(draws(bank, changed, 1)), "matching")


def test_without_working_or_slips_there_is_nothing_to_match() -> None:
    for plan, why in (
        ("{with: [beside, alone], show: first-step}", "no worked solution"),
        ("{with: [beside, alone, steps]}", None),
    ):
        own = "  - {identifier: own, title: Own, integrand: 2x, antiderivative: x^2, responses: [matching]}\n"
        own = own.replace("responses", f"matching: {plan}, responses")
        bank = parse_bank((BANK + own).encode(), "own.yaml")
        template = bank.template("own")
        draw = next(draws(bank, template, 1))
        if why is None:
            assert len(response_of(build_item(bank, template, draw, "matching")).rows) == 4
            continue
        with pytest.raises(DrawRefused, match=why):
            build_item(bank, template, draw, "matching")


def solved(text: str) -> Solved:
    integrand = read(text, variable=X).tree
    solution = solve(integrand, X)
    assert solution is not None
    return Solved(
        integrand=integrand,
        key=solution.antiderivative,
        proof=solution.proof,
        working=(),
        begins=first_step(solution),
        candidates=lambda: (),
        against=lambda answer: decide_antiderivative(answer, integrand, X),
    )


@pytest.mark.parametrize("shows", ["antiderivative", "first-step"])
def test_where_nothing_is_left_over(shows: Literal["antiderivative", "first-step"]) -> None:
    """No slip is a reason to refuse, no further step is none."""
    one, *others = map(solved, ("2x (x^2 + 1)^3", "sin(3x)^2", "tan(2x)^2"))
    found = matching(
        one,
        [iter([other, one]) for other in others],
        variable=X,
        shows=shows,
        constant="C",
        stream=Stream("trial"),
    )
    if shows == "antiderivative":
        assert found == "no slip could be found that is wrong for every integral"
        return
    assert isinstance(found, Matching)
    assert len(found.partners) == len(found.rows) == 3
    assert found.mismatches == ()


def test_a_response_without_evidence_cannot_be_built() -> None:
    response = matching_of("alone")
    first, second, *others = response.rows
    for change in (
        {"mismatches": response.mismatches[1:]},
        {"rows": (first, replace(second, partner=first.partner), *others)},
        {"rows": (first, replace(second, partner="Z"), *others)},
        {"rows": (first, first, *others)},
    ):
        with pytest.raises(ValueError, match=r"witness|partner|identifiers"):
            replace(response, **change)
    with pytest.raises(KeyError):
        response.partner("Z")
