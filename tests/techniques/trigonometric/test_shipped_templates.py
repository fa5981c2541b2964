"""The shipped bank of trigonometric substitution: each root at each level, sound, with friendly numbers at level 1."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest

from qbank.bank.model import Template
from qbank.cli.arguments import open_bank
from qbank.items.checking import check_template
from qbank.items.cloning import clones
from qbank.maths.expression import Integer

LIBRARY = Path(__file__).parents[3] / "qbank" / "bank" / "library"
BANK = open_bank(LIBRARY / "saltmarrow-trigonometric-substitution.yaml")
EASIEST = [template for template in BANK.templates if "level-1" in template.tags]


def test_each_root_stands_at_each_level() -> None:
    found = {(kind, level) for template in BANK.templates for kind, level in [template.tags]}
    assert found == set(product(("sine", "tangent", "secant"), ("level-1", "level-2", "level-3")))


@pytest.mark.parametrize("template", BANK.templates, ids=lambda template: template.identifier)
def test_a_template_has_enough_clones_and_no_problems(template: Template) -> None:
    report = check_template(BANK, template, sample=2, seed=99)
    assert report.problems == ()
    assert report.possible >= 200


@pytest.mark.parametrize("template", EASIEST, ids=lambda template: template.identifier)
def test_no_number_above_60_at_level_1(template: Template) -> None:
    for item in clones(BANK, template, 5, 1):
        assert all(node.value <= 60 for node in item.key.walk() if isinstance(node, Integer))
