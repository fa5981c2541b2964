"""The same antiderivative in another form: what a key is rewritten to, and by which constant the two differ.

    sin^2 x/2     Pythagorean identity     -cos^2 x/2     differs by 1/2
                  double angle             -cos 2x/4      differs by 1/4

A rule looks at one term, a number times a function, and rewrites it where it can; terms that it does not know stay. A
number that comes out alone is dropped, since any constant may be added to an antiderivative. Nothing here is believed:
whoever uses a form proves it first, and the constant with it. Sources of the identities: DLMF 4.21 (circular functions),
4.8 and 4.10 (logarithms and powers), 4.24 (inverse functions).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm
from typing import TypeAlias

from qbank.maths.expression import (
    PI,
    Apply,
    E,
    Expression,
    Integer,
    Power,
    Product,
    Quotient,
    Sum,
    Symbol,
    cos,
    ln,
    product,
    rational,
    sin,
    sqrt,
    sum_of,
)
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.tidying import scaled, split_coefficient, tidy
from qbank.messages import say

__all__ = ["Rewritten", "rewritings", "shifted"]

#: a term rewritten: the new term, and what it lacks of the old one
_Pair: TypeAlias = tuple[Expression, Expression]
#: number in front, function, variable -> the term rewritten, or None
_Rule: TypeAlias = Callable[[Fraction, Expression, Symbol], "_Pair | None"]

_NONE = Integer(0)
#: f^2 = a + b g^2
_SQUARES = {
    "sin": ("cos", 1, -1),
    "cos": ("sin", 1, -1),
    "tan": ("sec", -1, 1),
    "sec": ("tan", 1, 1),
    "cot": ("cosec", -1, 1),
    "cosec": ("cot", 1, 1),
}
_RECIPROCALS = {"sin": "cosec", "cosec": "sin", "cos": "sec", "sec": "cos", "tan": "cot", "cot": "tan"}
#: numbers of a polynomial multiplied out, and its degree
_LARGEST, _DEGREE = 3000, 8
#: a logarithm is multiplied by no larger number, and takes no larger one into its argument
_LOGARITHM = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Rewritten:
    """Another form of an expression.

    Attributes:
        answer: the form.
        constant: what has to be added to it to get the old form back; the tree of 0 where they are equal.
        reason: how one comes to it, a sentence; empty where a number was added.
        slight: whether it looks much like the old form.
    """

    answer: Expression
    constant: Expression
    reason: str
    slight: bool = False


def rewritings(tree: Expression, variable: Symbol) -> Iterator[Rewritten]:
    """Other forms of an expression, the slight ones last.

    Args:
        tree: an antiderivative, without constant of integration.
        variable: its letter.

    >>> from qbank.maths.notation import plain
    >>> x = Symbol("x")
    >>> [(plain(one.answer), plain(one.constant)) for one in rewritings(sin(x) ** 2 / 2, x)]
    [('-1/2 cos^2 x', '1/2'), ('-1/4 cos 2x', '1/4')]
    """
    for reason, rule, slight in _RULES:
        found = _termwise(tree, variable, rule)
        if found is not None:
            yield Rewritten(answer=found[0], constant=found[1], reason=reason, slight=slight)
    for reason, whole in (
        (say("A common factor is taken out."), _factored),
        (say("All terms stand over one denominator."), _joined),
    ):
        answer = whole(tree)
        if answer is not None:
            yield Rewritten(answer=answer, constant=_NONE, reason=reason, slight=True)


def shifted(tree: Expression, number: int) -> Rewritten:
    """The expression with a number added to it."""
    return Rewritten(
        answer=sum_of(tree, rational(number)),
        constant=rational(-number),
        reason="",
        slight=True,
    )


def _termwise(tree: Expression, variable: Symbol, rule: _Rule) -> _Pair | None:
    terms, constants, changed = [], [], False
    for term in tree.terms if isinstance(tree, Sum) else (tree,):
        number, body = split_coefficient(term)
        new = rule(number, body, variable)
        changed |= new is not None
        terms.append(term if new is None else new[0])
        if new is not None and new[1] != _NONE:
            constants.append(new[1])
    return (tidy(sum_of(*terms)), tidy(sum_of(*constants))) if changed else None


def _equal(number: Fraction, body: Expression) -> _Pair:
    """A term that lacks nothing of the old one."""
    return scaled(number, body), _NONE


def _pythagorean(number: Fraction, body: Expression, _: Symbol) -> _Pair | None:
    """`sin^2 = 1 - cos^2` and its like: of the square itself, and of one square in a higher power."""
    match body:
        case Power(Apply(name, u), Integer(n)) if n > 1 and name in _SQUARES:
            other, constant, sign = _SQUARES[name]
            square = Apply(other, u) ** 2
            if n == 2:
                return scaled(number * sign, square), rational(number * constant)
            bracket: Expression = (
                (1 - square if sign < 0 else 1 + square) if constant > 0 else (square - Integer(1))
            )
            inner = bracket if n < 4 else bracket ** (n // 2)
            return _equal(number, inner if n % 2 == 0 else product(Apply(name, u), inner))
    return None


def _double_angle(number: Fraction, body: Expression, variable: Symbol) -> _Pair | None:
    """Squares to the cosine of twice the angle, and functions of an even multiple to those of its half."""
    match body:
        case Power(Apply("sin" | "cos" as name, u), Integer(n)) if n > 1 and n % 2 == 0:
            double = cos(_multiple(2, u, variable))
            sign = -1 if name == "sin" else 1
            if n == 2:
                return scaled(number * sign / 2, double), rational(number / 2)
            inner = (1 - double if sign < 0 else 1 + double) / 2
            return _equal(number, inner ** (n // 2))
        case Product((Apply("sin", u), Apply("cos", v))) if u == v:
            return _equal(number / 2, sin(_multiple(2, u, variable)))
        case Apply("sin" | "cos" as name, u):
            half = _half(u, variable)
            if half is None:
                return None
            if name == "sin":
                return _equal(2 * number, product(sin(half), cos(half)))
            return scaled(2 * number, cos(half) ** 2), rational(-number)
    return None


def _other_double_angle(number: Fraction, body: Expression, variable: Symbol) -> _Pair | None:
    """`cos 2u = 1 - 2 sin^2 u`."""
    match body:
        case Apply("cos", u) if (half := _half(u, variable)) is not None:
            return scaled(-2 * number, sin(half) ** 2), rational(number)
    return None


def _reciprocal_in_logarithm(number: Fraction, body: Expression, _: Symbol) -> _Pair | None:
    match body:
        case Apply("ln", Apply("abs", Apply(name, u))) if name in _RECIPROCALS:
            return _equal(-number, _log_of_size(Apply(_RECIPROCALS[name], u)))
    return None


def _power_in_logarithm(number: Fraction, body: Expression, _: Symbol) -> _Pair | None:
    """`n ln u = ln u^n`, and a root for a half."""
    match body:
        case Apply("ln", Apply("abs", u)) | Apply("ln", u):
            size = abs(number)
            if size.denominator == 1 and 2 <= size <= _LOGARITHM:
                power = u**size.numerator
                whole = ln(power) if size % 2 == 0 else _log_like(body, power)
                return _equal(number / size, whole)
            if size.denominator == 2:
                return _equal(2 * number, ln(sqrt(body.argument)))
    return None


def _factor_in_logarithm(number: Fraction, body: Expression, variable: Symbol) -> _Pair | None:
    """`ln |2u| = ln |u| + ln 2`: the same up to a constant."""
    match body:
        case Apply("ln", Apply("abs", u)) | Apply("ln", u):
            multiple = _multiple(2, u, variable)
            return scaled(number, _log_like(body, multiple)), scaled(-number, ln(Integer(2)))
    return None


def _inverse(number: Fraction, body: Expression, _: Symbol) -> _Pair | None:
    """`arcsin u = pi/2 - arccos u`, and the other way."""
    match body:
        case Apply("arcsin" | "arccos" as name, u):
            other = "arccos" if name == "arcsin" else "arcsin"
            return scaled(-number, Apply(other, u)), scaled(number / 2, PI)
    return None


def _odd(number: Fraction, body: Expression, variable: Symbol) -> _Pair | None:
    """`f(u) = -f(-u)` of an inverse function whose argument is a fraction."""
    match body:
        case Apply("arctan" | "arcsin" as name, Quotient(u, v)) if isinstance(u, Sum):
            return _equal(-number, Apply(name, Quotient(_multiple(-1, u, variable), v)))
    return None


def _expanded(number: Fraction, body: Expression, variable: Symbol) -> _Pair | None:
    """A power of a polynomial multiplied out, its constant term dropped."""
    if not isinstance(body, Power | Product) or not body.holds(Sum):
        return None
    found = as_polynomial(body, variable)
    if found is None or len(found) - 1 > _DEGREE:
        return None
    numbers = [number * one for one in found]
    if any(max(abs(one.numerator), one.denominator) > _LARGEST for one in numbers[1:]):
        return None
    return polynomial_tree((Fraction(0), *numbers[1:]), variable), rational(numbers[0])


def _split_exponent(number: Fraction, body: Expression, variable: Symbol) -> _Pair | None:
    """`e^(u + k) = e^k e^u`, and `e^(2u) = (e^u)^2`."""
    match body:
        case Power(base, u) if base == E:
            found = as_polynomial(u, variable)
            if found is not None and found[0] and len(found) > 1:
                rest = polynomial_tree((Fraction(0), *found[1:]), variable)
                constant = Power(E, rational(found[0])) if found[0] != 1 else E
                return _equal(number, product(constant, Power(E, rest)))
            half = _half(u, variable)
            if half is not None:
                return _equal(number, Power(Power(E, half), Integer(2)))
    return None


_RULES: tuple[tuple[str, _Rule, bool], ...] = (
    (say("The Pythagorean identity leads from the one to the other."), _pythagorean, False),
    (say("The double-angle identities lead from the one to the other."), _double_angle, False),
    (say("Another double-angle identity leads from the one to the other."), _other_double_angle, False),
    (say("The logarithm of a reciprocal is minus the logarithm."), _reciprocal_in_logarithm, False),
    (say("A number in front of a logarithm is a power inside it."), _power_in_logarithm, False),
    (say("The logarithm of a product is the sum of the logarithms."), _factor_in_logarithm, False),
    (say("The two inverse functions add up to a right angle."), _inverse, False),
    (say("Multiply out to see it."), _expanded, False),
    (say("The laws of powers lead from the one to the other."), _split_exponent, False),
    (say("The inverse function is odd."), _odd, True),
)


def _log_of_size(tree: Expression) -> Expression:
    return ln(Apply("abs", tree))


def _log_like(body: Apply, argument: Expression) -> Expression:
    """The logarithm of an argument, with modulus signs where `body` has them."""
    return (
        _log_of_size(argument)
        if isinstance(body.argument, Apply) and body.argument.function == "abs"
        else ln(argument)
    )


def _multiple(number: int, tree: Expression, variable: Symbol) -> Expression:
    """A number times an argument, as a polynomial in order where it is one."""
    found = as_polynomial(tree, variable)
    if found is None:
        return scaled(number, tree)
    return polynomial_tree(tuple(number * one for one in found), variable)


def _half(tree: Expression, variable: Symbol) -> Expression | None:
    """Half of a polynomial whose coefficients are even whole numbers."""
    found = as_polynomial(tree, variable)
    if found is None or len(found) < 2 or any(one.denominator != 1 or one % 2 for one in found):
        return None
    return polynomial_tree(tuple(one / 2 for one in found), variable)


def _factored(tree: Expression) -> Expression | None:
    """`sin u - sin^3 u/3` as `1/3 sin u (3 - sin^2 u)`: all terms are powers of one function."""
    if not isinstance(tree, Sum):
        return None
    parts = [(number, *_base(body)) for number, body in map(split_coefficient, tree.terms)]
    bases = {base for _, base, _ in parts}
    lowest = min(power for _, _, power in parts)
    if len(bases) != 1 or lowest < 1 or isinstance(parts[0][1], Symbol):
        return None
    base, numbers = parts[0][1], [number for number, _, _ in parts]
    front = Fraction(gcd(*(one.numerator for one in numbers)), lcm(*(one.denominator for one in numbers)))
    inside = sum_of(*(scaled(number / front, _raised(base, power - lowest)) for number, _, power in parts))
    return tidy(product(rational(front), _raised(base, lowest), inside))


def _base(body: Expression) -> tuple[Expression, int]:
    match body:
        case Power(Apply() as base, Integer(n)):
            return base, n
        case Apply():
            return body, 1
    return body, 0


def _raised(base: Expression, power: int) -> Expression:
    return Integer(1) if power == 0 else base if power == 1 else Power(base, Integer(power))


def _joined(tree: Expression) -> Expression | None:
    """All terms over one denominator: `3x/8 + sin 2x/4` as `(3x + 2 sin 2x)/8`."""
    if not isinstance(tree, Sum):
        return None
    parts = [split_coefficient(term) for term in tree.terms]
    below = lcm(*(number.denominator for number, _ in parts))
    if below == 1:
        return None
    return Quotient(sum_of(*(scaled(number * below, body) for number, body in parts)), Integer(below))
