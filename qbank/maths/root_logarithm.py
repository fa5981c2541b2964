"""The derivative of the logarithm of a sum with a root, simplified: `ln(x + sqrt(x^2 + 1))' = 1/sqrt(x^2 + 1)`.

    (A + sqrt B)' = A' + A A'/sqrt B = A' (sqrt B + A)/sqrt B      where B is A^2 and a constant, so that B' = 2 A A'

so the bracket cancels and A'/sqrt B is left; with a minus sign before the root it is -A'/sqrt B.
"""

from __future__ import annotations

from fractions import Fraction

from qbank.maths.constant_factor import number, over, times
from qbank.maths.deciding import decide_equal
from qbank.maths.derivative import derivative
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Power,
    Root,
    Sum,
    Symbol,
    as_fraction,
    fraction,
    product,
)
from qbank.maths.factors import Factored, factored, power_tree
from qbank.maths.tidying import scaled, split_coefficient
from qbank.maths.verdict import Proved

__all__ = ["root_logarithm_slope"]


def root_logarithm_slope(tree: Expression, variable: Symbol) -> Expression | None:
    """The derivative of such a logarithm, or of a power of one; None for anything else.

    >>> x = Symbol("x")
    >>> root_logarithm_slope(Apply("ln", x + Root(x**2 + 1)), x) == 1 / Root(x**2 + 1)
    True
    """
    if isinstance(tree, Power):
        n, inner = as_fraction(tree.exponent), root_logarithm_slope(tree.base, variable)
        if n is None or inner is None:
            return None
        return times(number(n), factored(power_tree(tree.base, n - 1)), factored(inner)).tree()
    terms = _terms(tree)
    if terms is None:
        return None
    (beside, size, under) = terms
    rate = derivative(beside, variable)
    wanted = product(Integer(2), beside, rate)
    if not isinstance(
        decide_equal(derivative(scaled(size * size, under), variable), wanted, variable), Proved
    ):
        return None
    root = Factored(coefficient=size, powers=((under, fraction(1, 2)),))
    return times(factored(rate), over(root)).tree()


def _terms(tree: Expression) -> tuple[Expression, Fraction, Expression] | None:
    """What stands beside the root, the number before the root, and what is under it."""
    if not isinstance(tree, Apply) or tree.function != "ln":
        return None
    inside = tree.argument
    if isinstance(inside, Apply) and inside.function == "abs":
        inside = inside.argument
    if not isinstance(inside, Sum) or len(inside.terms) != 2:
        return None
    for root, beside in (inside.terms, inside.terms[::-1]):
        size, body = split_coefficient(root)
        if isinstance(body, Root) and body.index == 2 and isinstance(body.radicand, Sum):
            return beside, size, body.radicand
    return None
