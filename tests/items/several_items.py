"""Items with several right options, for the tests of items, writers, packages and marking."""

from __future__ import annotations

from functools import cache

from qbank.items.cloning import clones
from qbank.items.item import Item, SeveralAnswers
from tests.items.test_building import trial

__all__ = ["TEMPLATES", "several_item", "several_of"]

#: name -> the lines of a template
TEMPLATES = {
    "three-right": "technique: substitution\nintegrand: 6 sin(3x) cos(3x)\nmarks: 4",
    "two-right": "technique: even-powers\nintegrand: 3 sin(x)^2\nmarks: 3",
    "logarithm": "technique: tangent-secant\nintegrand: 9 cot(3x + 4)^3\nmarks: 6",
    "no-other-form": "technique: substitution\nintegrand: x (x^2 + 7)^7\nmarks: 1",
    "interval": 'technique: standard-forms\nintegrand: 1/(2x + 1)\ndomain: ["0", "4"]\nmarks: 2',
}


@cache
def several_item(name: str) -> Item:
    """The item of a template."""
    bank = trial(TEMPLATES[name] + "\nresponses: [several-answers]")
    return next(clones(bank, bank.templates[0], 1, 1))


def several_of(name: str) -> SeveralAnswers:
    """Its response."""
    response = several_item(name).response
    assert isinstance(response, SeveralAnswers)
    return response
