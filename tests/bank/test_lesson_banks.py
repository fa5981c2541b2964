"""The shipped banks for single lessons: every template has clones enough, each sound, and level 1 keeps to small numbers."""

from __future__ import annotations

from pathlib import Path

import pytest

from qbank.authoring.sampling import sampled
from qbank.bank.loading import parse_bank
from qbank.bank.model import Bank, Template
from qbank.items.checking import check_template
from qbank.maths.expression import Integer

LIBRARY = Path(__file__).parents[2] / "qbank" / "bank" / "library"
BANKS = [
    parse_bank((LIBRARY / f"{name}.yaml").read_bytes(), f"{name}.yaml")
    for name in ("saltmarrow-hyperbolic", "saltmarrow-half-angle")
]
TEMPLATES = [(bank, template) for bank in BANKS for template in bank.templates]

#: the house rule for friendly numbers at level 1
LARGEST = 60


@pytest.mark.parametrize(("bank", "template"), TEMPLATES, ids=lambda value: value.identifier)
def test_a_template_has_enough_clones_and_no_problems(bank: Bank, template: Template) -> None:
    report = check_template(bank, template, sample=2, seed=99)
    assert report.problems == ()
    assert report.possible >= 200


@pytest.mark.parametrize("bank", BANKS, ids=lambda bank: bank.identifier)
def test_there_are_three_levels(bank: Bank) -> None:
    assert {tag for template in bank.templates for tag in template.tags} == {"level-1", "level-2", "level-3"}


@pytest.mark.parametrize(
    ("bank", "template"),
    [(bank, template) for bank, template in TEMPLATES if "level-1" in template.tags],
    ids=lambda value: value.identifier,
)
def test_numbers_are_friendly_at_level_1(bank: Bank, template: Template) -> None:
    for item in sampled(bank, template, ("free-expression",), count=12, seed=5).items:
        numbers = [node.value for node in item.key.walk() if isinstance(node, Integer)]
        assert max(map(abs, numbers)) <= LARGEST, numbers
