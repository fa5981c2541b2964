"""How an answer is written when the last integral by parts is done.

1/2 (x + 1) e^(2x) - 1/4 e^(2x)      1/4 (2x + 1) e^(2x)              one bracket before each function
x ln(2x + 1) - x + 1/2 ln|2x + 1|    1/2 (2x + 1) ln(2x + 1) - x      no modulus where the question has the logarithm
e^(2x) sin 3x                        1/13 e^(2x) (2 sin 3x - 3 cos 3x)
"""

from __future__ import annotations

from fractions import Fraction
from math import gcd, lcm

from qbank.maths.constant_factor import ONE, number, over, split_constant, times
from qbank.maths.derivative import derivative
from qbank.maths.expression import (
    Apply,
    Constant,
    Expression,
    Integer,
    Quotient,
    Sum,
    Symbol,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.tidying import scaled, split_coefficient
from qbank.techniques.parts.parts_choice import Choice

__all__ = ["cycle_answer", "cycle_numbers", "divided_by", "tidied_up"]


def tidied_up(tree: Expression, core: Expression, variable: Symbol) -> Expression:
    """An antiderivative with one bracket before each function, where brackets occur at all.

    Args:
        tree: the terms as they came.
        core: the integrand, whose logarithms need no modulus in the answer.
        variable: the variable.
    """
    logarithms = [node.argument for node in core.walk() if isinstance(node, Apply) and node.function == "ln"]
    plain = _without_modulus(tree, tuple(logarithms))
    terms = plain.terms if isinstance(plain, Sum) else (plain,)
    if plain is tree and len(terms) < 3 and not any(map(_may_be_joined, terms)):
        return tree
    found: dict[frozenset[tuple[Expression, Fraction]], list[tuple[Expression, ...]]] = {}
    for term in terms:
        polynomial, rest = _split(term, variable)
        found.setdefault(frozenset(rest.powers), []).append((term, polynomial, rest.tree()))
    kept: list[Expression] = []
    for group in found.values():
        brackets = any(isinstance(node, Sum) for _, polynomial, _ in group for node in polynomial.walk())
        logarithm = plain != tree and group[0][2] != Integer(1)
        if len(group) == 1 or not (brackets or logarithm or group[0][2] == Integer(1)):
            kept += [term for term, _, _ in group]
        else:
            kept += _joined([polynomial for _, polynomial, _ in group], group[0][2], variable)
    return sum_of(*kept)


def _may_be_joined(term: Expression) -> bool:
    """Whether a term has a bracket, or no function in it."""
    return term.holds(Sum) or not term.holds(Apply, Constant)


def _without_modulus(tree: Expression, arguments: tuple[Expression, ...]) -> Expression:
    if isinstance(tree, Apply) and tree.function == "abs" and tree.argument in arguments:
        return tree.argument
    return tree.rebuild(lambda child: _without_modulus(child, arguments))


def _split(term: Expression, variable: Symbol) -> tuple[Expression, Factored]:
    """A term as a polynomial with its number, and the rest."""
    seen = factored(term)
    polynomial = tuple(
        pair
        for pair in seen.powers
        if pair[1].denominator == 1 and pair[1] > 0 and as_polynomial(pair[0], variable) is not None
    )
    rest = seen.without(*(base for base, _ in polynomial))
    return (
        Factored(coefficient=seen.coefficient, powers=polynomial).tree(),
        Factored(coefficient=fraction(1, 1), powers=rest.powers),
    )


def _joined(polynomials: list[Expression], rest: Expression, variable: Symbol) -> list[Expression]:
    """The sum of polynomials times the rest, with whole coefficients in the bracket."""
    whole = as_polynomial(sum_of(*polynomials), variable)
    assert whole is not None  # each of them is a polynomial
    if not whole:
        return []
    if rest == Integer(1):
        return list(_terms(polynomial_tree(whole, variable)))
    below = lcm(*(c.denominator for c in whole))
    above = gcd(*(int(c * below) for c in whole)) * (1 if whole[-1] > 0 else -1)
    size = Fraction(above, below)
    body = polynomial_tree(tuple(c / size for c in whole), variable)
    return [scaled(size, rest if body == Integer(1) else product(body, rest))]


def _terms(tree: Expression) -> tuple[Expression, ...]:
    return tree.terms if isinstance(tree, Sum) else (tree,)


def divided_by(raw: Expression, back: Factored) -> Expression:
    """A sum divided by `1 + back`: what its terms share stands in front of one bracket, letters below one line.

    >>> x = Symbol("x")
    >>> divided_by(sum_of(x, Apply("sin", x)), ONE) == scaled(Fraction(1, 2), sum_of(x, Apply("sin", x)))
    True
    """
    if back.powers:
        whole = Factored(
            coefficient=Fraction(back.coefficient.denominator),
            powers=tuple((base, -n) for base, n in back.powers if n < 0),
        )
        above = sum_of(*(times(whole, factored(term)).tree() for term in _terms(raw)))
        return Quotient(above, sum_of(whole.tree(), times(whole, back).tree()))
    parts = [split_coefficient(term) for term in _terms(raw)]
    sizes = [size / (1 + back.coefficient) for size, _ in parts]
    below = lcm(*(size.denominator for size in sizes))
    front = Fraction(gcd(*(int(size * below) for size in sizes)), below)
    bracket = sum_of(*(scaled(size / front, body) for size, (_, body) in zip(sizes, parts, strict=True)))
    return scaled(front, bracket)


def cycle_numbers(choice: Choice, variable: Symbol) -> tuple[Factored, Factored, Expression]:
    """`(a, b, E)` for an integrand like `E sin bx` whose factor E has the integral `E / a` (times x for `sin(ln x)`)."""
    assert isinstance(choice.u, Apply)
    front, body = split_constant(choice.v, variable)
    rate, _ = split_constant(derivative(choice.u.argument, variable), variable)
    return over(front), rate, body.tree()


def cycle_answer(choice: Choice, variable: Symbol) -> Expression:
    """`E (a sin - b cos)/(a^2 + b^2)`, or the same with the cosine first."""
    assert isinstance(choice.u, Apply)
    a, b, body = cycle_numbers(choice, variable)
    other = Apply("cos" if choice.u.function == "sin" else "sin", choice.u.argument)
    sign = number(-1 if choice.u.function == "sin" else 1)
    pair = (times(a, factored(choice.u)), times(sign, b, factored(other)))
    if a.powers or b.powers:
        below = sum_of(times(a, a).tree(), times(b, b).tree())
        return Quotient(product(body, sum_of(*(one.tree() for one in pair))), below)
    common = Fraction(
        gcd(*(one.coefficient.numerator for one in pair)), lcm(*(one.coefficient.denominator for one in pair))
    )
    bracket = sum_of(
        *(scaled(one.coefficient / common, times(one, over(number(one.coefficient))).tree()) for one in pair)
    )
    size = common / (a.coefficient**2 + b.coefficient**2)
    return scaled(size, product(*(() if body == ONE.tree() else (body,)), bracket))
