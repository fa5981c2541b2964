"""The deterministic draw: values for a template's parameters, the same on every machine, each draw once.

The values of all parameters form a box of N points. A keyed permutation of 0..N-1 orders the box; the points that
meet the conditions, in that order, are the draws. So no draw repeats, any seed gives its own order, nothing has to
be remembered, and the draws of a template depend on its own name only, never on its neighbours.

The permutation is a four-round Feistel network over SHA-256, walked until it lands inside the box.
Source: M. Luby, C. Rackoff, "How to construct pseudorandom permutations from pseudorandom functions", SIAM J.
Comput. 17 (1988); cycle walking: J. Black, P. Rogaway, "Ciphers with arbitrary finite domains", CT-RSA 2002.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from hashlib import sha256
from math import prod
from typing import TypeVar

from qbank.bank.arithmetic import NotRationalError, evaluate
from qbank.bank.model import Bank, Template
from qbank.maths.expression import Expression, Symbol, rational
from qbank.maths.tidying import tidy

__all__ = ["Draw", "Stream", "box_size", "draws", "every_draw", "fill"]

_T = TypeVar("_T")

#: points of the box looked at in a row without one that meets the conditions
PATIENCE = 20_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Draw:
    """Values for a template's letters.

    Attributes:
        template: the template's identifier.
        point: number of the point in the template's box; names the draw for good.
        values: parameters, then derived values, by name.
    """

    template: str
    point: int
    values: tuple[tuple[str, Fraction], ...]


class Stream:
    """Numbers from SHA-256 in counter mode, for the small choices inside one item (order of options, ...).

    Args:
        key: what the stream belongs to; equal keys give equal streams.

    >>> Stream("a", 1).below(10) == Stream("a", 1).below(10)
    True
    """

    def __init__(self, *key: str | int) -> None:
        self._key = repr(key).encode()
        self._counter = 0

    def below(self, bound: int) -> int:
        """The next number from 0 to `bound - 1`, each equally likely (rejection, no modulo bias)."""
        limit = (1 << 64) // bound * bound
        while True:
            block = sha256(self._key + self._counter.to_bytes(8)).digest()
            self._counter += 1
            number = int.from_bytes(block[:8])
            if number < limit:
                return number % bound

    def shuffled(self, values: tuple[_T, ...]) -> tuple[_T, ...]:
        """The values in an order drawn from the stream (Fisher and Yates)."""
        result = list(values)
        for last in range(len(result) - 1, 0, -1):
            other = self.below(last + 1)
            result[last], result[other] = result[other], result[last]
        return tuple(result)


def box_size(template: Template) -> int:
    """How many points the box of parameter values has, conditions not yet asked."""
    return prod(len(parameter.values) for parameter in template.parameters)


def draws(bank: Bank, template: Template, seed: int) -> Iterator[Draw]:
    """The draws of a template in the order of a seed, each once, until the box is exhausted.

    Where conditions hold so rarely that `PATIENCE` points in a row are in vain, the search ends there.

    Args:
        bank: gives its identifier to the key, so that two banks do not draw alike.
        template: what to draw for.
        seed: any integer.
    """
    size = box_size(template)
    permutation = _Permutation(size, repr((bank.identifier, template.identifier, seed)).encode())
    in_vain = index = 0
    while index < size and in_vain < PATIENCE:
        draw = _draw(template, permutation[index])
        index += 1
        in_vain += 1
        if draw is not None:
            in_vain = 0
            yield draw


def every_draw(template: Template) -> Iterator[Draw]:
    """All draws of a template in the order of the file."""
    found = (_draw(template, point) for point in range(box_size(template)))
    return (draw for draw in found if draw is not None)


def fill(tree: Expression, draw: Draw) -> Expression:
    """An expression of the template with the drawn values put in, tidied."""
    values: Mapping[Symbol, Expression] = {Symbol(name): rational(value) for name, value in draw.values}
    return tidy(tree.substitute(values))


def _draw(template: Template, point: int) -> Draw | None:
    """The draw at a point of the box, None where a condition fails or a derived value does not exist."""
    values: dict[str, Fraction] = {}
    rest = point
    for parameter in template.parameters:
        rest, index = divmod(rest, len(parameter.values))
        values[parameter.name] = parameter.values[index]
    try:
        for derived in template.derived:
            values[derived.name] = evaluate(derived.meaning, values)
    except NotRationalError:
        return None
    if not all(condition.holds(values) for condition in template.conditions):
        return None
    return Draw(template=template.identifier, point=point, values=tuple(values.items()))


class _Permutation:
    """A keyed permutation of 0..size-1, computed point by point."""

    _ROUNDS = 4

    def __init__(self, size: int, key: bytes) -> None:
        self._size = size
        self._key = key
        self._half = max(1, ((size - 1).bit_length() + 1) // 2)

    def __getitem__(self, index: int) -> int:
        mask = (1 << self._half) - 1
        number = index
        while True:
            left, right = number >> self._half, number & mask
            for round_number in range(self._ROUNDS):
                block = sha256(self._key + bytes([round_number]) + right.to_bytes(32)).digest()
                left, right = right, left ^ (int.from_bytes(block) & mask)
            number = left << self._half | right
            if number < self._size:
                return number
