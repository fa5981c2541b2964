"""No two trees are written alike: tried on every tree of up to five nodes (MathML: four) over a small alphabet.

The alphabet holds one operation of each kind that brackets, powers and functions could confuse. Spoken words are
compared without their commas, which a listener may not hear.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from itertools import product as choices

import pytest

from qbank.maths.conventions import Conventions
from qbank.maths.equation import Statement
from qbank.maths.expression import (
    Apply,
    Differential,
    E,
    Expression,
    Integer,
    Integral,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
)
from qbank.maths.notation import latex, mathml, plain, speech, typst

x = Symbol("x")
LEAVES = (x, Integer(2), E)
ONE: tuple[Callable[[Expression], Expression], ...] = (
    Negate,
    Root,
    lambda part: Root(part, 3),
    lambda part: Apply("sin", part),
    lambda part: Apply("ln", part),
    lambda part: Apply("abs", part),
    lambda part: Apply("exp", part),
)
TWO: tuple[Callable[[Expression, Expression], Expression], ...] = (
    lambda one, other: Sum((one, other)),
    lambda one, other: Product((one, other)),
    Quotient,
    Power,
)


@cache
def trees(nodes: int) -> tuple[Expression, ...]:
    """Every tree of exactly so many nodes."""
    return tuple(_trees(nodes))


def _trees(nodes: int) -> Iterator[Expression]:
    if nodes == 1:
        yield from LEAVES
        return
    for part in trees(nodes - 1):
        yield from (make(part) for make in ONE)
    for first in range(1, nodes - 1):
        for one, other in choices(trees(first), trees(nodes - 1 - first)):
            yield from (make(one, other) for make in TWO)
    if nodes == 4:
        for parts in choices(LEAVES, repeat=3):
            yield from (Sum(parts), Product(parts))


def heard(tree: Statement) -> str:
    return speech(tree).replace(",", "")


def heard_in_german(tree: Statement) -> str:
    return speech(tree, Conventions(language="de")).replace(",", "")


def seen(tree: Statement) -> str:
    """What a page shows: the signs and their places, without the invisible ones."""
    from lxml import etree

    return etree.tostring(mathml(tree)[0], encoding="unicode").replace("\u2062", "").replace("\u2061", "")


@pytest.mark.parametrize(
    "write", [plain, latex, typst, heard, heard_in_german, seen], ids=lambda write: write.__name__
)
def test_different_trees_are_written_differently(write: Callable[[Statement], str]) -> None:
    written: dict[str, Expression] = {}
    largest = 4 if write is seen else 5
    for nodes in range(1, largest + 1):
        for tree in trees(nodes):
            other = written.setdefault(write(tree), tree)
            assert other == tree, write(tree)


def test_integrals_are_told_apart() -> None:
    bodies = (x, x + 1, Product((x, Differential(x))), 2 * x, Integral(x, x))
    lines = [Integral(body, x) for body in bodies]
    lines += [Integral(body, x, Integer(0), upper) for body in bodies for upper in (x, x + 1)]
    products = [Product((line, x)) for line in lines] + [Product((x, line)) for line in lines]
    for write in (plain, latex, typst, heard, heard_in_german, seen):
        assert len({write(line) for line in lines + products}) == len(lines + products)
