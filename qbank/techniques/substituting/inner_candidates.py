"""What may be substituted: the parts of an integrand, and powers of which these are powers.

x e^(x^2)          x^2 and e^(x^2)
x/(1 + x^4)        1 + x^4, x^4 and x^2
1/(x^5 + x)        x^5 + x and x^4, for it is x (x^4 + 1)
"""

from __future__ import annotations

from collections.abc import Iterator

from qbank.maths.expression import (
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
    fraction,
)
from qbank.maths.polynomial import as_polynomial
from qbank.maths.polynomial_factors import factorise
from qbank.maths.tidying import split_coefficient

__all__ = ["inner_candidates"]

#: so many parts are tried
_CANDIDATE_LIMIT = 60
#: a bracket with a lower power, and one that falls into factors with so many coefficients, is for partial fractions
_LEAST_POWER, _QUADRATIC = 3, 3


def inner_candidates(nodes: tuple[Expression, ...], variable: Symbol) -> Iterator[Expression]:
    """The parts of the integrand, and the roots of its powers: `x^2` of `x^4`, `e^x` of `e^(2x)`.

    Args:
        nodes: the integrand and all its parts, the whole first.
        variable: the variable.
    """
    tried = set[Expression]()
    # a product or quotient that is the whole integrand is not a function of itself times its own derivative
    parts = nodes[1:] if isinstance(nodes[0], Product | Quotient) else nodes
    exponents = {node.exponent for node in nodes if isinstance(node, Power)}
    for node in parts:
        if _is_power_beside(node, nodes, variable) or (
            _is_minus_power(node, variable) and node not in exponents
        ):
            continue
        for part in (node, *_roots(node, variable)):
            if part not in tried and variable in part.symbols() and part != variable:
                tried.add(part)
                yield part
                if len(tried) == _CANDIDATE_LIMIT:
                    return


def _is_minus_power(node: Expression, variable: Symbol) -> bool:
    """Whether it is `-x^4`: the power itself is the better choice, but for an exponent."""
    return isinstance(node, Negate) and isinstance(node.operand, Power) and node.operand.base == variable


def _is_power_beside(node: Expression, nodes: tuple[Expression, ...], variable: Symbol) -> bool:
    """Whether it is a power of a function that stands once, as a factor: the function itself is the better choice."""
    whole = nodes[0]
    if not isinstance(node, Power) or not isinstance(whole, Product) or node not in whole.factors:
        return False
    return node.base != variable and variable in node.base.symbols() and nodes.count(node) == 1


def _roots(node: Expression, variable: Symbol) -> Iterator[Expression]:
    match node:
        case Power(base, Integer(n)) if base == variable and n <= 24:
            yield from (Power(base, Integer(k)) for k in range(n // 2, 1, -1) if n % k == 0)
        case Power(Apply() as base, Integer(4 as n)):
            yield Power(base, Integer(n // 2))
        case Power(base, exponent) if base == E:
            rate, body = split_coefficient(exponent)
            if rate.denominator == 1 and abs(rate) > 1:
                yield Power(base, body)
        case Power(base, exponent) if (as_fraction(exponent) or fraction(0, 1)).denominator == 2:
            yield Root(base)
        case Sum():
            yield from _power_in_sum(node, variable)
        case _:
            return


def _power_in_sum(node: Sum, variable: Symbol) -> Iterator[Expression]:
    """`x^4` of `x^5 + x`, which is x times a bracket that does not fall into factors for partial fractions."""
    if len(node.terms) != 2:
        return
    whole = as_polynomial(node, variable)
    present = [n for n, c in enumerate(whole or ()) if c]
    if whole is None or len(present) != 2 or present[0] == 0 or present[1] - present[0] < _LEAST_POWER:
        return
    if any(len(factor) > _QUADRATIC for factor, _ in factorise(whole)[1]):
        yield Power(variable, Integer(present[1] - present[0]))
