"""Signs of factors: which polynomials are positive everywhere, and what even roots say about products of signs.

The sign of a factor that takes both signs is a generator s with s^2 = 1. An even root of g says that the product
of the signs of g's factors is +1 wherever the expression is real at all; those facts are linear equations over
GF(2), solved one by one: the latest sign in a fact is replaced by the product of the others.
"""

from __future__ import annotations

from typing import Any

from flint import arb, fmpz_poly

from qbank.maths.balls import precision
from qbank.maths.exact.field import Element, Field, Generator, Polynomial
from qbank.maths.number_system import NotSettled, Undefined
from qbank.maths.rationals import fraction

__all__ = ["constant_ball", "definite_sign", "facts_known", "sign_of", "state_positive"]

#: real roots are looked for up to this degree
MOST_DEGREE = 60
#: bits tried in turn for the sign of a number
SIGN_BITS = (64, 256, 1024)


def sign_of(field: Field, factor: Polynomial) -> Element:
    """The sign of a factor: 1 or -1 when it is known, else a generator; that of a sign is the sign itself."""
    known = definite_sign(field, factor)
    if known:
        return field.number(known)
    found = field.find("sign", lambda g: bool(g.meaning == factor or factor == field.context.gen(g.index)))
    if found is None:
        found = field.add_generator("sign", factor)
        field.relate(found, 2, field.context.gen(found.index) ** 2 - 1)
    return field.element(found)


def definite_sign(field: Field, factor: Polynomial) -> int:
    """1 or -1 for a polynomial (not zero) that has this sign wherever it is defined and not zero; 0 if unknown."""
    used = [
        g for g, degree in zip(reversed(field.generators), _degrees(field, factor), strict=True) if degree
    ]
    if all(generator.constant for generator in used):
        return _sign_of_constant(field, factor)
    if _even_with_one_sign(field, factor, used):
        return 1 if factor.leading_coefficient() > 0 else -1
    if len(used) == 1:
        return _sign_without_roots(factor, used[0])
    return _sign_of_quadratic(field, factor, used)


def _degrees(field: Field, factor: Polynomial) -> tuple[int, ...]:
    degrees: tuple[int, ...] = factor.degrees()[field.size - len(field.generators) :]
    return degrees


def _even_with_one_sign(field: Field, factor: Polynomial, used: list[Generator]) -> bool:
    """Whether all terms have one sign and no generator of unknown sign to an odd power, but for |x| = (sign of x) x."""
    coefficients = factor.coeffs()
    if any((c > 0) != (coefficients[0] > 0) for c in coefficients):
        return False
    loose = [g.index for g in used if not g.positive]
    own = {g.index: _letter_of_sign(field, g) for g in used if g.kind == "sign"}
    for powers in factor.monoms():
        odd = {index for index in loose if powers[index] % 2}
        moduli = {index for sign, letter in own.items() if {sign, letter} <= odd for index in (sign, letter)}
        if odd - moduli:
            return False
    return True


def _letter_of_sign(field: Field, sign: Generator) -> int:
    """The index of the generator whose sign this is; -1 when it is the sign of something larger."""
    return next((g.index for g in field.generators if sign.meaning == field.context.gen(g.index)), -1)


def _sign_without_roots(factor: Polynomial, generator: Generator) -> int:
    """The sign of a polynomial in one generator that has no real zero (no positive one for a positive generator)."""
    degree = int(factor.degrees()[generator.index])
    if degree == 1 or degree > MOST_DEGREE or (degree % 2 and not generator.positive):
        return 0
    dense = [0] * (degree + 1)
    for powers, coefficient in factor.terms():
        dense[int(powers[generator.index])] = coefficient
    if degree == 2 and dense[1] ** 2 < 4 * dense[0] * dense[2]:
        return 1 if dense[2] > 0 else -1
    roots: Any = fmpz_poly(dense).complex_roots()
    for root, _ in roots:
        if root.imag == 0 and not (generator.positive and root.real <= 0):
            return 0
    return 1 if sum(dense) > 0 else -1


def _sign_of_quadratic(field: Field, factor: Polynomial, used: list[Generator]) -> int:
    """The sign of a g^2 + b g + c by that of a and of 4ac - b^2."""
    for generator in used:
        if factor.degrees()[generator.index] != 2:
            continue
        a, b, c = (_coefficient(field, factor, generator.index, power) for power in (2, 1, 0))
        first = definite_sign(field, a)
        if first:
            gap = 4 * a * c - b * b
            if gap and definite_sign(field, gap) == 1:
                return first
    return 0


def _coefficient(field: Field, factor: Polynomial, index: int, power: int) -> Polynomial:
    terms = {
        (*powers[:index], 0, *powers[index + 1 :]): coefficient
        for powers, coefficient in factor.terms()
        if powers[index] == power
    }
    return field.context.from_dict(terms)


def _sign_of_constant(field: Field, factor: Polynomial) -> int:
    for bits in SIGN_BITS:
        with precision(bits):
            ball = _evaluate(field, factor, {})
            if ball > 0:
                return 1
            if ball < 0:
                return -1
    raise NotSettled("a constant is too close to zero to tell its sign")


def constant_ball(element: Element, cache: dict[int, Any] | None = None) -> Any:
    """The ball of an element that is a number, at the working precision."""
    known: dict[int, Any] = {} if cache is None else cache
    over = _evaluate(element.field, element.num, known)
    return over if element.den.is_one() else over / _evaluate(element.field, element.den, known)


def _evaluate(field: Field, factor: Polynomial, cache: dict[int, Any]) -> Any:
    total = arb(0)
    for powers, coefficient in factor.terms():
        term = arb(coefficient)
        for index, power in enumerate(powers):
            if power:
                term *= _generator_ball(field, index, cache) ** power
        total += term
    return total


def _generator_ball(field: Field, index: int, cache: dict[int, Any]) -> Any:
    if index not in cache:
        generator = field.generator_at(index)
        cache[index] = _ball_of(field, generator, cache)
    return cache[index]


def _ball_of(field: Field, generator: Generator, cache: dict[int, Any]) -> Any:
    if generator.kind == "pi":
        return arb.pi()
    if generator.kind in ("root", "logarithm"):
        inner = abs(_evaluate(field, generator.meaning, cache))
        if generator.kind == "logarithm":
            return inner.log()
        return inner.sqrt() if generator.unit == fraction(1, 2) else inner.root(generator.unit.denominator)
    inner = constant_ball(generator.meaning, cache)
    if generator.kind == "exponential":
        return (inner * generator.unit.numerator / generator.unit.denominator).exp()
    if generator.kind == "half tangent":
        return (inner * generator.unit.numerator / (2 * generator.unit.denominator)).tan()
    if generator.kind == "arctan":
        return inner.atan()
    assert generator.kind == "arcsin", generator.kind
    return inner.asin()


def state_positive(field: Field, sign: Element) -> None:
    """State that a product of signs is +1 wherever the expression is real.

    Raises:
        Undefined: when it is -1 for sure, so that the expression is real nowhere.
    """
    num = field.reduce(sign.num)
    value = int(num.leading_coefficient()) * int(sign.den.leading_coefficient())
    if num.is_constant():
        if value < 0:
            raise Undefined("an even root or a logarithm of a number that is never positive")
        return
    powers = num.degrees()
    latest = next(index for index, power in enumerate(powers) if power)
    others = num // field.context.gen(latest)
    field.relate(field.generator_at(latest), 1, field.context.gen(latest) - others)


def facts_known(field: Field) -> int:
    """How many facts have been stated about signs."""
    return sum(degree == 1 for degree, _ in field.relations.values())
