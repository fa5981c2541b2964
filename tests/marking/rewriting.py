"""Random rewriting of answers by identities, for right answers in unexpected forms.

Each rule takes one node to an equal one, or to one that differs by a constant where the answer as a whole is meant. Sources: DLMF 4.21
(circular identities), 4.24 (inverse functions), 4.8 and 4.10 (logarithms and powers).
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator

from qbank.maths.expression import (
    PI,
    Apply,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
    cos,
    ln,
    product,
    rational,
    sin,
    sqrt,
    sum_of,
)

__all__ = ["rewritten", "shifted"]

Rule = Callable[[Expression, random.Random], Expression | None]
TWO, HALF = Integer(2), rational(1, 2)


def function(name: str, argument: Expression) -> Expression:
    return Apply(name, argument)


def of_square(tree: Expression, rng: random.Random) -> Expression | None:
    match tree:
        case Power(Apply("sin", u), Integer(2)):
            return rng.choice([1 - cos(u) ** 2, (1 - cos(2 * u)) / 2])
        case Power(Apply("cos", u), Integer(2)):
            return rng.choice([1 - sin(u) ** 2, (1 + cos(2 * u)) / 2])
        case Power(Apply("tan", u), Integer(2)):
            return function("sec", u) ** 2 - 1
        case Power(Apply("sec", u), Integer(2)):
            return 1 + function("tan", u) ** 2
        case Power(Apply("cot", u), Integer(2)):
            return function("cosec", u) ** 2 - 1
        case Power(Apply("cosec", u), Integer(2)):
            return 1 + function("cot", u) ** 2
    return None


def of_circular(tree: Expression, rng: random.Random) -> Expression | None:
    match tree:
        case Apply("sin", u):
            return rng.choice(
                [
                    2 * sin(u / 2) * cos(u / 2),
                    cos(PI / 2 - u),
                    -sin(u + PI),
                    3 * sin(u / 3) - 4 * sin(u / 3) ** 3,
                ]
            )
        case Apply("cos", u):
            return rng.choice([1 - 2 * sin(u / 2) ** 2, sin(PI / 2 - u), 2 * cos(u / 2) ** 2 - 1, cos(-u)])
        case Apply("tan", u):
            return rng.choice([sin(u) / cos(u), function("cot", PI / 2 - u), sin(2 * u) / (1 + cos(2 * u))])
        case Apply("sec", u):
            return 1 / cos(u)
        case Apply("cot", u):
            return rng.choice([cos(u) / sin(u), 1 / function("tan", u)])
        case Apply("cosec", u):
            return 1 / sin(u)
    return None


def of_product(tree: Expression, _: random.Random) -> Expression | None:
    match tree:
        case Product((*front, Apply("sin", a), Apply("sin", b))):
            return product(*front, (cos(a - b) - cos(a + b)) / 2)
        case Product((*front, Apply("cos", a), Apply("cos", b))):
            return product(*front, (cos(a - b) + cos(a + b)) / 2)
        case Product((*front, Apply("sin", a), Apply("cos", b))):
            return product(*front, (sin(a + b) + sin(a - b)) / 2)
        case Product((*front, Sum(terms))):
            return sum_of(*(product(*front, term) for term in terms))
        case Quotient(Sum(terms), below):
            return sum_of(*(term / below for term in terms))
    return None


def of_logarithm(tree: Expression, rng: random.Random) -> Expression | None:
    match tree:
        case Apply("ln", Apply("abs", Quotient(u, v))):
            return function("ln", abs_of(u)) - function("ln", abs_of(v))
        case Apply("ln", Apply("abs", Product((u, *rest)))):
            return function("ln", abs_of(u)) + function("ln", abs_of(product(*rest)))
        case Apply("ln", Apply("abs", u)):
            return rng.choice(
                [ln(u**2) / 2, -ln(abs_of(1 / u)), ln(u**4) / 4, ln(abs_of(3 * u)) - ln(Integer(3))]
            )
        case Apply("ln", u):
            return rng.choice([ln(abs_of(u)), -ln(1 / u), 2 * ln(sqrt(u))])
    return None


def abs_of(tree: Expression) -> Expression:
    return Apply("abs", tree)


def of_inverse(tree: Expression, rng: random.Random) -> Expression | None:
    match tree:
        case Apply("arcsin", u):
            return rng.choice([PI / 2 - function("arccos", u), function("arctan", u / sqrt(1 - u**2))])
        case Apply("arctan", u):
            return rng.choice(
                [
                    function("arcsin", u / sqrt(1 + u**2)),
                    PI / 2 - function("arccot", u),
                    2 * function("arctan", u / (1 + sqrt(1 + u**2))),
                    -function("arctan", -u),
                ]
            )
    return None


def of_power(tree: Expression, rng: random.Random) -> Expression | None:
    match tree:
        case Root(u, 2):
            return u**HALF
        case Power(base, exponent) if base == E:
            return rng.choice([1 / E ** (-exponent), (E ** (exponent / 2)) ** 2, Apply("exp", exponent)])
        case Power(u, Integer(n)) if n > 1:
            return rng.choice([u * u ** (n - 1), (u**n * u) / u])
    return None


def of_sum(tree: Expression, rng: random.Random) -> Expression | None:
    match tree:
        case Sum((Quotient(a, b), Quotient(c, d), *rest)):
            return sum_of((a * d + c * b) / (b * d), *rest)
        case Sum(terms):
            kept = list(terms)
            rng.shuffle(kept)
            return rng.choice(
                [sum_of(*kept), product(TWO, sum_of(*kept)) / 2, Negate(sum_of(*map(Negate, kept)))]
            )
    return None


def of_anything(tree: Expression, rng: random.Random) -> Expression | None:
    if as_fraction(tree) is not None:
        return None
    return rng.choice(
        [
            tree + 1 - 1,
            3 * tree / 3,
            Negate(Negate(tree)),
            tree * (sin(Symbol("x")) ** 2 + cos(Symbol("x")) ** 2),
        ]
    )


RULES: tuple[Rule, ...] = (
    of_square,
    of_circular,
    of_product,
    of_logarithm,
    of_inverse,
    of_power,
    of_sum,
    of_anything,
)
CONSTANTS = (
    Symbol("C"),
    Integer(7),
    PI / 3,
    -ln(Integer(5)),
    Symbol("k") / 2,
    sqrt(Integer(2)),
)


def places(tree: Expression) -> Iterator[Expression]:
    """Nodes outside of exponents: those are to stay numbers."""
    yield tree
    children = (tree.base,) if isinstance(tree, Power) and tree.base != E else tree.children
    for child in children:
        yield from places(child)


def once(tree: Expression, rng: random.Random) -> Expression:
    """One rule at one place, or the tree itself where the choice does not fit."""
    rule, place = rng.choice(RULES), rng.choice(list(places(tree)))
    new = rule(place, rng)
    if new is None:
        return tree
    done = False

    def visit(node: Expression) -> Expression:
        nonlocal done
        if node is place and not done:
            done = True
            return new
        return node.rebuild(visit)

    return visit(tree)


def rewritten(tree: Expression, rng: random.Random, steps: int) -> Expression:
    """Some rules, one after another."""
    for _ in range(steps):
        for _ in range(12):
            new = once(tree, rng)
            if new != tree:
                tree = new
                break
    return tree


def shifted(tree: Expression, rng: random.Random) -> Expression:
    """With a constant added."""
    return tree + rng.choice(CONSTANTS)
