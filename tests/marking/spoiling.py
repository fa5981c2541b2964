"""Wrong answers that come as near to right ones as possible."""

from __future__ import annotations

import random
from collections.abc import Callable

from qbank.maths.expression import (
    PI,
    Apply,
    Expression,
    Integer,
    Negate,
    Sum,
    Symbol,
    rational,
    sin,
    sqrt,
    sum_of,
)

__all__ = ["SPOILERS"]

x = Symbol("x")
TINY = rational(1, 10**9)


def scaled(tree: Expression, _: random.Random) -> Expression:
    return tree * (1 + TINY)


def a_coefficient(tree: Expression, rng: random.Random) -> Expression:
    terms = list(tree.terms) if isinstance(tree, Sum) else [tree]
    place = rng.randrange(len(terms))
    terms[place] = terms[place] * (1 + TINY)
    return sum_of(*terms)


def sign_turned(tree: Expression, rng: random.Random) -> Expression:
    terms = list(tree.terms) if isinstance(tree, Sum) else [tree]
    place = rng.randrange(len(terms))
    terms[place] = Negate(terms[place])
    return sum_of(*terms)


def term_dropped(tree: Expression, rng: random.Random) -> Expression:
    terms = list(tree.terms) if isinstance(tree, Sum) else [tree]
    terms.pop(rng.randrange(len(terms)))
    return sum_of(*terms) if terms else Integer(0)


def sine_for_cosine(tree: Expression, rng: random.Random) -> Expression:
    found = [node for node in tree.walk() if isinstance(node, Apply) and node.function in ("sin", "cos")]
    if not found:
        return tree + x * TINY
    place = rng.choice(found)

    def visit(node: Expression) -> Expression:
        if node is place:
            return Apply("cos" if place.function == "sin" else "sin", place.argument)
        return node.rebuild(visit)

    return visit(tree)


def vanishing(tree: Expression, rng: random.Random) -> Expression:
    """A term that vanishes at whole numbers, at multiples of pi, at small fractions, or nearly everywhere."""
    return tree + TINY * rng.choice(
        [
            sin(PI * x),
            sin(x),
            sin(12 * PI * x),
            x * (x - 1) * (2 * x - 1) * (3 * x - 1) * (x + 1),
            Apply("exp", -(x**2)),
            1 / (1 + x**2),
            sin(PI * x) ** 2 * sin(x),
        ]
    )


def modulus_of_variable(tree: Expression, _: random.Random) -> Expression:
    return tree.substitute({x: Apply("abs", x)})


def half_of_the_line(tree: Expression, rng: random.Random) -> Expression:
    size = rng.choice([Apply("abs", x), sqrt(x**2)])
    return rng.choice([tree * size / x, tree + (size - x) * TINY, tree + (size + x) * TINY])


SPOILERS: tuple[Callable[[Expression, random.Random], Expression], ...] = (
    scaled,
    a_coefficient,
    sign_turned,
    term_dropped,
    sine_for_cosine,
    vanishing,
    modulus_of_variable,
    half_of_the_line,
)
