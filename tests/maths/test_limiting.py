"""Limits decided exactly: a table by hand, SymPy's own limits, and what must not be decided."""

from __future__ import annotations

import pytest
import sympy

from qbank.maths.deciding import decide_equal
from qbank.maths.expression import INFINITY, Expression, Negate, Symbol, ln
from qbank.maths.limiting import NoLimit, limit_at
from qbank.maths.notation import plain
from qbank.maths.oracle import to_sympy
from qbank.maths.reading import read
from qbank.maths.verdict import Proved

X = Symbol("x")
ENDS = {"infinity": INFINITY, "-infinity": Negate(INFINITY)}


def tree(text: str) -> Expression:
    return ENDS.get(text) or read(text, variable=X).tree


#: body, what x tends to, the side, the limit by hand
TABLE = (
    ("arctan(x)", "infinity", 0, "pi/2"),
    ("1/2 arctan(x/2)", "-infinity", 0, "-pi/4"),
    ("(2/sqrt(3)) arctan((2x+1)/sqrt(3))", "infinity", 0, "pi sqrt(3)/3"),
    ("-x^2 e^(-x) - 2x e^(-x) - 2e^(-x)", "infinity", 0, "0"),
    ("e^x", "-infinity", 0, "0"),
    ("-ln(x)/x - 1/x", "infinity", 0, "0"),
    ("ln(2x+1) - ln(x+3)", "infinity", 0, "ln 2"),
    ("ln x - 1/2 ln(x^2+1)", "infinity", 0, "0"),
    ("(1/3) arctan(x/3) + 5 - ln(x/(2x+1))", "infinity", 0, "pi/6 + ln 2 + 5"),
    ("x ln x - x", "0", 1, "0"),
    ("arcsin(x/3)", "3", -1, "pi/2"),
    ("2 sqrt(x) + ln(x + 2)", "0", 1, "ln 2"),
    ("ln x", "infinity", 0, "infinity"),
    ("ln x", "0", 1, "-infinity"),
    ("tan x", "pi/2", -1, "infinity"),
    ("e^(-x)(sin x - cos x)/2", "infinity", 0, "0"),
)


@pytest.mark.parametrize(("body", "to", "side", "value"), TABLE)
def test_limit(body: str, to: str, side: int, value: str) -> None:
    found = limit_at(tree(body), X, tree(to), side).value
    if value in ENDS or found in ENDS.values():
        assert found == tree(value)
    else:
        assert isinstance(decide_equal(found, tree(value), X), Proved), plain(found)


@pytest.mark.parametrize(("body", "to", "side"), [row[:3] for row in TABLE[::3] if row[3] not in ENDS])
def test_limit_by_sympy(body: str, to: str, side: int) -> None:
    letter = sympy.Symbol("x", real=True)
    place = {"infinity": sympy.oo, "-infinity": -sympy.oo}.get(to)
    wanted = sympy.limit(
        to_sympy(tree(body)), letter, to_sympy(tree(to)) if place is None else place, "-" if side < 0 else "+"
    )
    assert sympy.simplify(to_sympy(limit_at(tree(body), X, tree(to), side).value) - wanted) == 0


@pytest.mark.parametrize(
    ("body", "to", "side"),
    [("sin x", "infinity", 0), ("cos(1/x)", "0", 1), ("x sin x", "infinity", 0), ("ln x", "-infinity", 0)],
)
def test_what_has_no_limit_gets_none(body: str, to: str, side: int) -> None:
    with pytest.raises(NoLimit):
        limit_at(tree(body), X, tree(to), side)


def test_a_power_that_moves_above_and_below_is_not_guessed() -> None:
    # the base has no bound, the exponent tends to 0, the power is e all the way
    with pytest.raises(NoLimit, match="both move"):
        limit_at(X ** (1 / ln(X)), X, INFINITY)
