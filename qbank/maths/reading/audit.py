"""The bounds of a finished tree: number of nodes, depth, and the size of its numbers.

Depth is the depth of the tree and not only of brackets, because `1/2/3/4/...` and `----x` nest without any. The size
of numbers is estimated from below upwards, so that `(9^900)^900` is refused although each exponent is small.
"""

from __future__ import annotations

from math import inf, log10

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

__all__ = ["audit"]

_CONSTANTS = {"pi": 3.2, "e": 2.8, "infinity": inf}


def audit(tree: Expression, source: str) -> None:
    """Refuse a tree that is too large.

    Args:
        tree: the tree that was read.
        source: its text, for the error.

    Raises:
        ReadingError: `too-many-parts`, `too-nested`, `exponent-too-large` or `number-too-large`.
    """
    nodes = [(tree, 1)]
    for node, depth in nodes:
        if depth > limits.NESTING:
            _fail("too-nested", f"this is nested more than {limits.NESTING} levels deep", source)
        nodes.extend((child, depth + 1) for child in node.children)
        if len(nodes) > limits.NODES:
            _fail("too-many-parts", f"this has more than {limits.NODES} parts", source)
    if any(type(node) is Power for node, _ in nodes):
        _check_sizes([node for node, _ in nodes], source)


def _check_sizes(nodes: list[Expression], source: str) -> None:
    """Check every power; `nodes` holds parents before children."""
    sizes: dict[int, float | None] = {}
    for node in reversed(nodes):
        if isinstance(node, Power):
            base, exponent = sizes[id(node.base)], sizes[id(node.exponent)]
            if exponent is not None and exponent > limits.EXPONENT:
                _fail("exponent-too-large", f"an exponent is larger than {limits.EXPONENT}", source)
            if base is None or exponent is None:
                sizes[id(node)] = None
                continue
            digits = abs(log10(base)) * exponent if base else 0.0
            if digits > limits.POWER_DIGITS:
                _fail("number-too-large", f"a power has more than {limits.POWER_DIGITS} digits", source)
            sizes[id(node)] = 10.0**digits if digits < 300 else inf
        else:
            sizes[id(node)] = _size(node, sizes)


def _size(node: Expression, sizes: dict[int, float | None]) -> float | None:
    """About how large a number is, without sign; None for what is no number made by plain arithmetic."""
    parts: list[float] = []
    for child in node.children:
        part = sizes[id(child)]
        if part is None:
            return None
        parts.append(part)
    match node:
        case Integer():
            return float(node.value)
        case Decimal():
            return float(node.value)
        case Constant():
            return _CONSTANTS[node.name]
        case Sum():
            return sum(parts)
        case Product():
            size = 1.0
            for part in parts:
                size *= part
            return size
        case Quotient():
            return parts[0] / parts[1] if parts[1] else None
        case Negate():
            return parts[0]
    return None


def _fail(code: str, message: str, source: str) -> None:
    raise ReadingError(
        code, message, position=(0, len(source)), hint="write a shorter expression", source=source
    )
