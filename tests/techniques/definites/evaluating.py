"""What the tests of the ways share: read an integral, work it by a way, and hold its value against the world."""

from __future__ import annotations

import mpmath
import sympy

from qbank.maths.deciding import decide_equal
from qbank.maths.enclosing import enclose
from qbank.maths.expression import INFINITY, Expression, Integral, Negate, Symbol
from qbank.maths.notation import plain
from qbank.maths.oracle import to_sympy
from qbank.maths.reading import read
from qbank.maths.verdict import Proved
from qbank.techniques.definites.choosing import value_of, value_with
from qbank.techniques.definites.way import WorkedValue, value_slips

X = Symbol("x")
_ENDS = {"infinity": INFINITY, "-infinity": Negate(INFINITY)}


def tree(text: str) -> Expression:
    return _ENDS.get(text) or read(text, variable=X).tree


def integral(integrand: str, lower: str, upper: str) -> Integral:
    return Integral(tree(integrand), X, tree(lower), tree(upper))


def worked(way: str, integrand: str, lower: str, upper: str, value: str) -> WorkedValue:
    """Worked by a way, its value equal to one that was found otherwise, and inside the bounds."""
    found = value_with(way, integral(integrand, lower, upper))
    assert found is not None, f"declined: {integrand}"
    assert found.way == way
    assert isinstance(decide_equal(found.value, tree(value), X), Proved), plain(found.value)
    bounds = enclose(found.value, at={}, digits=15)
    assert bounds is not None
    assert bounds.lower <= found.enclosure.upper
    assert bounds.upper >= found.enclosure.lower
    return found


def board(found: WorkedValue) -> list[str]:
    """The lines as plain text."""
    return [", ".join(plain(part) for part in line.statements) for line in found.lines]


def first(integrand: str, lower: str, upper: str) -> str | None:
    """The way that the planner takes."""
    found = value_of(integral(integrand, lower, upper))
    return None if found is None else found.way


def wrong_values(found: WorkedValue) -> dict[str, Expression]:
    """The slips that occur with their values, each outside the rigorous bounds of the right one."""
    values = {slip.slip: value for slip in value_slips(found) if (value := slip.value()) is not None}
    for slip, value in values.items():
        bounds = enclose(value, at={}, digits=15)
        assert bounds is not None, slip
        assert bounds.upper < found.enclosure.lower or bounds.lower > found.enclosure.upper, slip
    return values


def mpmath_agrees(found: WorkedValue, *between: float) -> bool:
    """Whether quadrature by mpmath, which shares no code with ours, has the value; places to split at may be given."""
    asked = found.integral
    assert asked.lower is not None
    assert asked.upper is not None
    letter = sympy.Symbol("x", real=True)
    function = sympy.lambdify(letter, to_sympy(asked.integrand), "mpmath")
    ends = []
    for end in (asked.lower, asked.upper):
        infinite = INFINITY in end.walk()
        sign = -1 if isinstance(end, Negate) and infinite else 1
        ends.append(sign * mpmath.inf if infinite else mpmath.mpf(sympy.N(to_sympy(end), 30)))
    with mpmath.workdps(30):
        ours = mpmath.mpf(sympy.N(to_sympy(found.value), 30))
        theirs = mpmath.quad(function, [ends[0], *between, ends[1]])
        return bool(abs(theirs - ours) < mpmath.mpf(10) ** -12 * (1 + abs(ours)))
