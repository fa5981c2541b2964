"""Items with coefficients of a given form, for the tests of items, writers and marking."""

from __future__ import annotations

from functools import cache

from qbank.bank.loading import parse_bank
from qbank.bank.model import Bank
from qbank.items.cloning import clones
from qbank.items.item import Coefficients, Item

HEAD = 'identifier: trial\ntitle: A trial\nlanguage: en\nlicence: CC0-1.0\nversion: "1.0.0"\ntemplates:\n'

#: name -> the lines of a template
TEMPLATES = {
    "fourth-power": "technique: even-powers\nintegrand: cos(2x)^4\nmarks: 6",
    "fifth-power": "technique: odd-powers\nintegrand: 5cos(2x + 1)^5\nmarks: 3",
    "one-number": "technique: standard-forms\nintegrand: (7x + 5)^3\nmarks: 2",
    "two-squares": (
        "antiderivative: sin(x)^2/2\nintegrand: sin(x) cos(x)\noffer: [cos(x)^2, cos(2x)]\nmarks: 4"
    ),
    "tangent-or-secant": (
        "antiderivative: tan(x)^2/2 + 3x\nintegrand: tan(x) sec(x)^2 + 3\noffer: [2sec(x)^2]\nmarks: 4"
    ),
    "not-needed": (
        "antiderivative: x e^x - e^x\nintegrand: x e^x\noffer: [x^2 e^x]\nmarks: 3\n"
        'distractors: [{answer: "x e^x + e^x", feedback: "Mind the sign."}]'
    ),
    "decimals": "technique: even-powers\nintegrand: 9cos(4x + 6)^4\nentry: decimals\nfigures: 3\nmarks: 6",
    "large-decimals": (
        "antiderivative: 1234x^2 - 2345sin(x)/3\nintegrand: 2468x - 2345cos(x)/3\nentry: decimals\nmarks: 2"
    ),
    "with-domain": (
        'antiderivative: ln(x) - 3/(2x)\nintegrand: 1/x + 3/(2x^2)\ndomain: ["0", "4"]\nmarks: 2'
    ),
}


def trial(body: str) -> Bank:
    """A bank of one template, answered by coefficients."""
    lines = "".join(f"    {line}\n" for line in (*body.splitlines(), "responses: [coefficients]"))
    return parse_bank((HEAD + "  - identifier: one\n    title: One\n" + lines).encode(), "trial.yaml")


@cache
def item_of(name: str) -> Item:
    """The item of a template."""
    bank = trial(TEMPLATES[name])
    return next(clones(bank, bank.templates[0], 1, 1))


def form_of(name: str) -> Coefficients:
    """The response of a template."""
    response = item_of(name).response
    assert isinstance(response, Coefficients)
    return response
