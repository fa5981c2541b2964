"""The bounds of a finished tree: number of nodes, depth, and the size of its numbers.

Depth is the depth of the tree and not only of brackets, because `1/2/3/4/...` and `----x` nest without any. The size
of numbers is estimated from below upwards, so that `(9^900)^900` is refused although each exponent is small.
"""

from __future__ import annotations

from math import inf, log10, prod

from qbank.maths.expression import (
    Constant,
    Decimal,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Sum,
)
from qbank.maths.reading import limits
from qbank.maths.reading.errors import ReadingError
from qbank.messages import say

__all__ = ["audit"]

_CONSTANTS = {"pi": 3.2, "e": 2.8, "infinity": inf}


#: a text of so few tokens is not too large: a token makes at most three levels and five nodes
_FEW_TOKENS = 30


def audit(tree: Expression, powers: list[Power], tokens: int, source: str) -> None:
    """Refuse a tree that is too large.

    Args:
        tree: the tree that was read.
        powers: the powers that were read, inner ones before outer ones.
        tokens: of how many tokens it was read.
        source: its text, for the error.

    Raises:
        ReadingError: `too-many-parts`, `too-nested`, `exponent-too-large` or `number-too-large`.
    """
    if tokens > _FEW_TOKENS:
        _check_nesting(tree, source)
    sizes: dict[int, float | None] = {}
    for power in powers:
        _check_power(power, sizes, source)


def _check_nesting(tree: Expression, source: str) -> None:
    """Check depth and number of nodes."""
    level: list[Expression] = [tree]
    depth = count = 1
    while level:
        if depth > limits.NESTING:
            _fail(
                "too-nested",
                say("this is nested more than {limit} levels deep", limit=str(limits.NESTING)),
                source,
            )
        level = [child for node in level for child in node.children]
        depth, count = depth + 1, count + len(level)
        if count > limits.NODES:
            _fail("too-many-parts", say("this has more than {limit} parts", limit=str(limits.NODES)), source)


def _check_power(power: Power, sizes: dict[int, float | None], source: str) -> None:
    """Check a power, and note its own size; the powers inside are noted already."""
    base, exponent = _size(power.base, sizes), _size(power.exponent, sizes)
    if exponent is not None and exponent > limits.EXPONENT:
        _fail(
            "exponent-too-large",
            say("an exponent is larger than {limit}", limit=str(limits.EXPONENT)),
            source,
        )
    if base is None or exponent is None:
        sizes[id(power)] = None
        return
    digits = abs(log10(base)) * exponent if base else 0.0
    if digits > limits.POWER_DIGITS:
        _fail(
            "number-too-large",
            say("a power has more than {limit} digits", limit=str(limits.POWER_DIGITS)),
            source,
        )
    sizes[id(power)] = 10.0**digits if digits < 300 else inf


def _size(node: Expression, sizes: dict[int, float | None]) -> float | None:
    """About how large a number is, without sign; None for what is no number made by plain arithmetic."""
    match node:
        case Integer():
            return float(node.value)
        case Power():
            return sizes[id(node)]
        case Decimal():
            return float(node.value)
        case Constant():
            return _CONSTANTS[node.name]
        case Sum() | Product() | Quotient() | Negate():
            parts: list[float] = []
            for child in node.children:
                part = _size(child, sizes)
                if part is None:
                    return None
                parts.append(part)
            return _combined(node, parts)
    return None


def _combined(node: Expression, parts: list[float]) -> float | None:
    match node:
        case Sum():
            return sum(parts)
        case Product():
            return prod(parts)
        case Quotient():
            return parts[0] / parts[1] if parts[1] else None
    return parts[0]


def _fail(code: str, message: str, source: str) -> None:
    raise ReadingError(
        code, message, position=(0, len(source)), hint=say("write a shorter expression"), source=source
    )
