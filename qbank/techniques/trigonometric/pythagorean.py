"""Products of powers that no single technique integrates, taken apart by sin^2 + cos^2 = 1.

sec^3 t/tan^2 t      1/(sin^2 t cos t), so sec t + cosec t cot t
cos^4 t/sin^2 t      (1 - sin^2 t)^2/sin^2 t, so cosec^2 t - 2 + sin^2 t
tan^4 t/sec^3 t      (1 - cos^2 t)^2/cos t, so sec t - 2 cos t + cos^3 t
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import comb
from typing import TypeAlias

from qbank.maths.expression import Expression, Symbol, sum_of
from qbank.maths.tidying import scaled
from qbank.techniques.trigonometric.kinds import powers_tree, sine_and_cosine

__all__ = ["taken_apart"]

#: exponents of sine and cosine, each with its number
_Terms: TypeAlias = dict[tuple[int, int], int]


def taken_apart(powers: Mapping[str, int], letter: Symbol) -> Expression | None:
    """The product as a sum, or None where the identity does not help.

    >>> taken_apart({"sec": 3, "tan": -2}, Symbol("t")) == powers_tree({"sec": 1}, Symbol("t")) + powers_tree(
    ...     {"cosec": 1, "cot": 1}, Symbol("t")
    ... )
    True
    """
    terms = _terms(*sine_and_cosine(powers))
    if len(terms) < 2:
        return None
    return sum_of(
        *(scaled(Fraction(c), powers_tree({"sin": i, "cos": j}, letter)) for (i, j), c in terms.items())
    )


def _terms(sine: int, cosine: int) -> _Terms:
    if sine < 0 and cosine < 0:
        found: _Terms = {}
        for part in (_terms(sine + 2, cosine), _terms(sine, cosine + 2)):
            for place, c in part.items():
                found[place] = found.get(place, 0) + c
        return found
    if sine < 0 < cosine and cosine % 2 == 0:
        half = cosine // 2
        return {(sine + 2 * n, 0): comb(half, n) * (-1) ** n for n in range(half + 1)}
    if cosine < 0 < sine and sine % 2 == 0:
        half = sine // 2
        return {(0, cosine + 2 * n): comb(half, n) * (-1) ** n for n in range(half + 1)}
    return {(sine, cosine): 1}
