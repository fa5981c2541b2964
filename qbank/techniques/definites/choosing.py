"""Which way a teacher would take for a definite integral, and the worked value that it gives.

The ways stand in teaching order; the first that fits is taken, `value_all` gives all that fit.
"""

from __future__ import annotations

from collections.abc import Iterator

from qbank.maths.expression import Apply, Integral, Quotient
from qbank.maths.number_system import Undefined
from qbank.techniques.definite import DefiniteRefused
from qbank.techniques.definites.antiderivative import ANTIDERIVATIVE, LIMITS_CHANGED, ends_in_new_letter
from qbank.techniques.definites.even import EVEN
from qbank.techniques.definites.improper import IMPROPER
from qbank.techniques.definites.jumps import JUMPS
from qbank.techniques.definites.leaf import ends, leaves
from qbank.techniques.definites.modulus import MODULUS
from qbank.techniques.definites.odd import ODD
from qbank.techniques.definites.odd_terms import ODD_TERMS
from qbank.techniques.definites.periods import PERIODS
from qbank.techniques.definites.reflection import HIGH_POWER, REFLECTION, bracket_power
from qbank.techniques.definites.way import Way, WorkedValue

__all__ = ["WAYS", "is_way", "value_all", "value_of", "value_with", "way"]

WAYS: tuple[Way, ...] = (
    ODD,
    ODD_TERMS,
    EVEN,
    PERIODS,
    MODULUS,
    REFLECTION,
    IMPROPER,
    LIMITS_CHANGED,
    ANTIDERIVATIVE,
    JUMPS,
)
"""All ways, in teaching order."""

_BY_IDENTIFIER = {known.identifier: known for known in WAYS}


def way(identifier: str) -> Way:
    """A way by its identifier.

    Raises:
        KeyError: no way has this identifier.
    """
    return _BY_IDENTIFIER[identifier]


def is_way(identifier: str | None) -> bool:
    """Whether a way has this identifier."""
    return identifier in _BY_IDENTIFIER


def value_of(integral: Integral) -> WorkedValue | None:
    """The worked value by the way taught first, or None when none fits.

    >>> from qbank.maths.expression import Integer, Symbol, ln, rational
    >>> x = Symbol("x")
    >>> value_of(Integral(x / (x**2 + 1), x, Integer(0), Integer(2))).value == rational(1, 2) * ln(Integer(5))
    True
    """
    return next(_values(integral), None)


def value_all(integral: Integral) -> tuple[WorkedValue, ...]:
    """The worked values by every way that fits, in teaching order."""
    return tuple(_values(integral))


def value_with(identifier: str, integral: Integral) -> WorkedValue | None:
    """The worked value by one way, or None when it does not fit.

    Raises:
        KeyError: no way has this identifier.
    """
    return _worked(way(identifier), integral)


def _values(integral: Integral) -> Iterator[WorkedValue]:
    for known in _in_order(integral):
        worked = _worked(known, integral)
        if worked is not None:
            yield worked


def _in_order(integral: Integral) -> Iterator[Way]:
    """Teaching order, with two of the ways where this integral has them.

    A reflection comes last where nothing asks for it, below a line, in a logarithm or in a high power of a bracket: `sin^2 x` from 0 to pi/2 may be
    reflected, but a teacher halves the angle. And of the two ways by an antiderivative, that of the technique taught
    first comes first.
    """
    early = _has_moving_parts(integral)
    for known in WAYS:
        if known is LIMITS_CHANGED:
            found = next(leaves(integral), None)
            changed = found is not None and ends_in_new_letter(found)
            yield from (LIMITS_CHANGED, ANTIDERIVATIVE) if changed else (ANTIDERIVATIVE, LIMITS_CHANGED)
        elif known is not ANTIDERIVATIVE and (early or known is not REFLECTION):
            yield known
    if not early:
        yield REFLECTION


def _has_moving_parts(integral: Integral) -> bool:
    """Whether the variable stands below a line, in a logarithm or in a high power of a bracket."""
    return bracket_power(integral.integrand) >= HIGH_POWER or any(
        integral.variable in (node.denominator if isinstance(node, Quotient) else node).symbols()
        for node in integral.integrand.walk()
        if isinstance(node, Quotient) or (isinstance(node, Apply) and node.function == "ln")
    )


def _worked(known: Way, integral: Integral) -> WorkedValue | None:
    """What a way makes of an integral without other letters."""
    lower, upper = ends(integral)
    if (integral.integrand.symbols() - {integral.variable}) | lower.symbols() | upper.symbols():
        return None
    try:
        return known.work(integral)
    except (DefiniteRefused, Undefined):
        return None
