"""The shipped bank of trigonometric substitution has each root at each level."""

from __future__ import annotations

from itertools import product
from pathlib import Path

from qbank.cli.arguments import open_bank

LIBRARY = Path(__file__).parents[3] / "qbank" / "bank" / "library"
BANK = open_bank(LIBRARY / "saltmarrow-trigonometric-substitution.yaml")


def test_each_root_stands_at_each_level() -> None:
    found = {(kind, level) for template in BANK.templates for kind, level in [template.tags]}
    assert found == set(product(("sine", "tangent", "secant"), ("level-1", "level-2", "level-3")))
