"""Items and working as text for the terminal."""

from __future__ import annotations

import pytest

from qbank.cli.arguments import open_bank
from qbank.cli.board import board, item_text
from qbank.items.cloning import clones
from qbank.items.item import Choice, Item, Numeric
from qbank.maths.conventions import DEFAULT
from qbank.maths.expression import Symbol, sin
from qbank.techniques import solve
from qbank.techniques.presenting import rows

BANK = open_bank(None)
x = Symbol("x")


def items(template: str, count: int = 2) -> list[Item]:
    return list(clones(BANK, BANK.template(template), count, 1))


@pytest.mark.parametrize("template", ["definite-sine-squared", "linear-power", "cotangent-cubed"])
def test_every_form_is_shown(template: str) -> None:
    for item in items(template):
        lines = "\n".join(item_text(item))
        assert "∫" in lines
        match item.response:
            case Choice(options=options):
                assert all(f"  {option.identifier}  " in lines for option in options)
                assert lines.count("[key]") == 1
            case Numeric() as numeric:
                assert f"= {numeric.decimal}" in lines
                assert all(f"[{slip.slip}]" in lines for slip in numeric.slips)
            case _:
                assert "right answer" in lines


def test_reasons_stand_beside_or_below() -> None:
    solution = solve(sin(3 * x) ** 2 * 5, x)
    assert solution is not None
    text = list(board(rows(solution, "C"), DEFAULT))
    assert text[0].startswith("    ∫")
    assert all("[" in line for line in text[1:])
    assert text[-1].split("[")[0].rstrip().endswith("+ C")
