"""A constant in the exact form a teacher writes: `sqrt(3)/2` for sin(pi/3), `3 ln 2` for ln 8, `pi/4 - 1/2`.

The exact system brings the constant to its normal form; square roots leave the denominator; the normal form is then
written as a sum of terms, each a fraction of roots and pi with logarithms behind it.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from qbank.maths.clock import PATIENT
from qbank.maths.exact.field import Element, Field, Generator, Polynomial
from qbank.maths.exact.normal_form import in_exact_system
from qbank.maths.exact.signs import definite_sign
from qbank.maths.expression import (
    PI,
    Apply,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Quotient,
    Root,
    Symbol,
    as_fraction,
    exp,
    fraction,
    ln,
    product,
    rational,
    sum_of,
)
from qbank.maths.number_system import NotSettled

__all__ = ["exact_value"]

_NOTHING: Mapping[Symbol, Expression] = {}

#: the kinds of terms in the order of writing
CIRCLE, ROOTS, POWERS_OF_E, LOGARITHMS, NUMBER = range(5)

NOTHING_LOWERED: Mapping[int, int] = {}

#: (coefficient, factors that are no logarithms, logarithm factors) of one term
_Term = tuple[Fraction, tuple[Expression, ...], tuple[Expression, ...]]


def exact_value(expression: Expression, *, budget: float = PATIENT) -> Expression:
    """The closed form of a constant expression.

    Args:
        expression: the constant, such as `sin(pi/3) - ln(8)`.
        budget: seconds.

    Returns:
        The closed form; the expression itself when there is none to be had within the bounds.

    Raises:
        Undefined: when the expression has no real value.

    >>> from qbank.maths.expression import *
    >>> exact_value(sin(PI / 3)) == sqrt(Integer(3)) / 2
    True
    >>> exact_value(ln(Integer(8))) == 3 * ln(Integer(2))
    True
    >>> exact_value(Apply("arctan", Integer(1)) - rational(1, 2)) == PI / 4 - rational(1, 2)
    True
    """

    def ask(walk: Any) -> Expression:
        return _Writer(walk.value(expression)).tree()

    try:
        return in_exact_system(ask, Symbol(""), _NOTHING, seconds=budget)
    except NotSettled:
        return expression


class _Writer:
    """Writes one element as a tree."""

    def __init__(self, element: Element) -> None:
        self.field: Field = element.field
        self.element = _without_roots_below(element)

    def tree(self) -> Expression:
        num, den = self.field.reduce(self.element.num), self.element.den
        if len(den) == 1:
            lowered, left = self._exponentials_lowered(den)
            top = self.sum(num, int(den.leading_coefficient()), lowered)
            return top if left is None else Quotient(top, left)
        angle = next((g for g in self.element.used() if g.kind == "half tangent"), None)
        if angle is not None:
            return self._in_cosine_and_sine(num, den, angle)
        return Quotient(self.sum(num, 1), self.sum(den, 1))

    def _exponentials_lowered(self, den: Polynomial) -> tuple[dict[int, int], Expression | None]:
        """Of a denominator of one term: the powers of exponentials in it, and the tree of what else there is."""
        lowered: dict[int, int] = {}
        others: list[Expression] = []
        for index, power in enumerate(map(int, den.degrees())):
            if power and self.field.generator_at(index).kind == "exponential":
                lowered[index] = power
            elif power:
                others.append(self._power(self.field.generator_at(index), power))
        return lowered, product(*others) if others else None

    def sum(
        self, polynomial: Polynomial, divisor: int, lowered: Mapping[int, int] = NOTHING_LOWERED
    ) -> Expression:
        """A polynomial over a whole number and some exponentials, as the sum of its terms."""
        terms = [
            self._term(
                [int(power) - lowered.get(index, 0) for index, power in enumerate(powers)],
                Fraction(int(number), divisor),
            )
            for powers, number in polynomial.terms()
        ]
        terms = sorted(_join_logarithms(terms), key=_order)
        if terms and all(_order(term)[0] == ROOTS for term in terms[:-1]) and terms[-1][0] > 0:
            # 1 + sqrt 2, but sqrt 2 - 1
            terms = [terms[-1], *terms[:-1]] if _order(terms[-1])[0] == NUMBER else terms
        trees = [_written(term) for term in terms]
        first = next((place for place, tree in enumerate(trees) if not isinstance(tree, Negate)), 0)
        return sum_of(*trees[first : first + 1], *trees[:first], *trees[first + 1 :])

    def _term(self, powers: list[int], coefficient: Fraction) -> _Term:
        plain: list[Expression] = []
        logarithms: list[Expression] = []
        roots: dict[int, int] = {}
        exponent: Expression | None = None
        for index, power in reversed(list(enumerate(powers))):
            if not power:
                continue
            generator = self.field.generator_at(index)
            whole = self._whole_number(generator)
            if generator.kind == "root" and whole is not None:
                # whole numbers under roots of one order come together: sqrt 2 sqrt 3 = sqrt 6
                share = power * generator.unit
                roots[share.denominator] = roots.get(share.denominator, 1) * whole**share.numerator
            elif generator.kind == "exponential":
                part = self._multiple(generator.meaning, generator.unit * power)
                exponent = part if exponent is None else exponent + part
            else:
                (logarithms if generator.kind == "logarithm" else plain).append(self._power(generator, power))
        under = [Root(Integer(value), order) for order, value in sorted(roots.items())]
        if exponent is not None:
            plain.append(E if exponent == Integer(1) else exp(exponent))
        return coefficient, (*under, *plain), tuple(logarithms)

    def _whole_number(self, generator: Generator) -> int | None:
        meaning = generator.meaning
        if generator.kind != "root" or not meaning.is_constant():
            return None
        return int(meaning.leading_coefficient())

    def _multiple(self, element: Element, factor: Fraction) -> Expression:
        return _Writer(element * self.field.number(factor)).tree()

    def _power(self, generator: Generator, power: int) -> Expression:
        if generator.kind == "root":
            share = power * generator.unit
            inner = self._size(generator.meaning)
            base = inner if share.numerator == 1 else Power(inner, Integer(share.numerator))
            return Root(base, share.denominator)
        tree = self._generator(generator)
        return tree if power == 1 else Power(tree, Integer(power))

    def _generator(self, generator: Generator) -> Expression:
        match generator.kind:
            case "pi":
                return PI
            case "letter":
                return Symbol(generator.meaning)
            case "logarithm":
                return ln(self._size(generator.meaning))
            case "arctan" | "arcsin":
                return Apply(generator.kind, _Writer(generator.meaning).tree())
            case "cosine" | "sine":
                return Apply(
                    "cos" if generator.kind == "cosine" else "sin", _Writer(generator.meaning).tree()
                )
        raise NotSettled("a sign or an angle that cannot be written")

    def _size(self, polynomial: Polynomial) -> Expression:
        """|polynomial|, the bars left out where the sign is known."""
        known = definite_sign(self.field, polynomial)
        tree = self.sum(-polynomial if known < 0 else polynomial, 1)
        return tree if known else Apply("abs", tree)

    def _in_cosine_and_sine(self, num: Polynomial, den: Polynomial, angle: Generator) -> Expression:
        """A quotient in t = tan(half an angle), rewritten in the cosine and sine of the angle."""
        field = self.field
        degree = max(p.degrees()[angle.index] for p in (num, den))
        half = (degree + 1) // 2
        meaning = angle.meaning * field.number(angle.unit)
        cosine = field.add_generator("cosine", meaning, constant=True)
        sine = field.add_generator("sine", meaning, constant=True)
        c, s = field.context.gen(cosine.index), field.context.gen(sine.index)
        field.relate(sine, 2, s * s + c * c - 1)
        parts = [
            Element(field, _circular_form(field, part, angle.index, half, (c, s)), field.one_polynomial)
            for part in (num, den)
        ]
        return _Writer(parts[0] / parts[1]).tree()


def _circular_form(
    field: Field, part: Polynomial, index: int, half: int, pair: tuple[Polynomial, Polynomial]
) -> Polynomial:
    """4^half (cos of half the angle)^(2 half) times a polynomial in t, in the cosine and sine of the angle.

    t^2k becomes (1 - c)^k (1 + c)^(half - k) and t^(2k+1) becomes s (1 - c)^k (1 + c)^(half - k - 1), up to 2^half.
    """
    c, s = pair
    total = field.context.constant(0)
    for powers, number in part.terms():
        k, odd = divmod(int(powers[index]), 2)
        rest = field.context.from_dict({(*powers[:index], 0, *powers[index + 1 :]): number})
        total += rest * (1 - c) ** k * (1 + c) ** (half - k - odd) * (s if odd else 1)
    return field.reduce(total)


def _without_roots_below(element: Element) -> Element:
    """Multiply by conjugates until no square root stands in the denominator."""
    field = element.field
    for _ in range(8):
        degrees = element.den.degrees()
        top = next((index for index, degree in enumerate(degrees) if degree), None)
        if top is None or field.generator_at(top).kind != "root" or field.relations[top][0] != 2:
            return element
        constant = element.den.subs({f"g{top}": 0})
        mate = 2 * constant - element.den
        num, den = field.times(element.num, mate), field.times(element.den, mate)
        element = field.quotient(num, den)
    return element


def _join_logarithms(terms: list[_Term]) -> list[_Term]:
    """Put terms together that are logarithms with coefficients of one size: ln 3 - ln 2 becomes ln(3/2)."""
    joined: dict[tuple[Fraction, tuple[Expression, ...]], list[tuple[int, Expression]]] = {}
    result: list[_Term] = []
    for term in terms:
        coefficient, plain, logarithms = term
        argument = _numeric_argument(logarithms)
        if argument is None:
            result.append(term)
            continue
        key = (abs(coefficient), plain)
        if key not in joined:
            joined[key] = []
            result.append((fraction(0, 1), plain, logarithms))
        joined[key].append((1 if coefficient > 0 else -1, argument))
    for place, (coefficient, plain, logarithms) in enumerate(result):
        if not coefficient:
            key = next(
                key for key, group in joined.items() if key[1] == plain and ln(group[0][1]) == logarithms[0]
            )
            result[place] = _one_logarithm(key[0], plain, joined.pop(key))
    return result


def _numeric_argument(logarithms: tuple[Expression, ...]) -> Expression | None:
    if len(logarithms) != 1 or not isinstance(logarithms[0], Apply):
        return None
    argument = logarithms[0].argument
    return argument if isinstance(argument, Integer) else None


def _one_logarithm(
    size: Fraction, plain: tuple[Expression, ...], group: list[tuple[int, Expression]]
) -> _Term:
    value = fraction(1, 1)
    for sign, argument in group:
        number = as_fraction(argument)
        assert number is not None
        value = value * number if sign > 0 else value / number
    if value < 1:
        return -size, plain, (ln(rational(1 / value)),)
    return size, plain, (ln(rational(value)),)


def _order(term: _Term) -> tuple[int, str]:
    """Circle numbers and functions, roots, powers of e, logarithms, then plain numbers; always the same way."""
    _, plain, logarithms = term
    parts = plain + logarithms
    if not parts:
        return NUMBER, ""
    if logarithms:
        return LOGARITHMS, repr(parts)
    if any(part.has(E) for part in plain):
        return POWERS_OF_E, repr(parts)
    return ROOTS if all(isinstance(part, Root) for part in plain) else CIRCLE, repr(parts)


def _written(term: _Term) -> Expression:
    """One term as a tree: the fraction in front, its numerator made of roots and pi, logarithms behind."""
    coefficient, plain, logarithms = term
    size = abs(coefficient)
    over = plain if size.numerator == 1 and plain else (Integer(size.numerator), *plain)
    front = product(*over)
    if size.denominator != 1:
        front = Quotient(front, Integer(size.denominator))
    factors = logarithms if front == Integer(1) and logarithms else (front, *logarithms)
    tree = product(*factors)
    return Negate(tree) if coefficient < 0 else tree
