"""All zeros of a function between two ends, exactly, and its sign where there are none: what a modulus is split at.

    polynomials             rational zeros, and surds of quadratic factors
    m sin(ax + b) + k       both families of angles, and so for cos, tan, and p sin + q cos of one angle
    m e^(ax + b) + k, ln    one zero, or none
    products, powers        the zeros of the factors

A list of zeros is complete or is not given. Between neighbouring zeros a continuous function keeps its sign, which a
rigorous value in the middle tells.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from qbank.maths.covering import defined_between
from qbank.maths.deciding import decide_equal
from qbank.maths.domain import Domain
from qbank.maths.enclosing import Enclosure, enclose
from qbank.maths.exact_values import exact_value
from qbank.maths.expression import (
    INFINITY,
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
    difference,
    ln,
    product,
    rational,
    sum_of,
)
from qbank.maths.number_system import Undefined
from qbank.maths.polynomial import as_polynomial
from qbank.maths.polynomial_factors import factorise
from qbank.maths.tidying import split_coefficient
from qbank.maths.verdict import SEAL, Proof, Proved

__all__ = ["Signed", "sign_between", "zeros_between"]

_DIGITS = 30
#: zeros of one function between two ends
_MOST = 64
_INFINITE = (INFINITY, Negate(INFINITY))
_FAR = Fraction(10**30)
_PERIODS = {"sin": 2, "cos": 2, "tan": 1}


class _Unknown(Exception):  # noqa: N818 - a way out, caught in this module
    """A function whose zeros are not known here."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Signed:
    """The sign of a function between two neighbouring zeros.

    Attributes:
        sign: 1 or -1.
        proof: that its modulus is itself, or its negative.
    """

    sign: int
    proof: Proof


def zeros_between(
    tree: Expression, variable: Symbol, lower: Expression, upper: Expression
) -> tuple[Expression, ...] | None:
    """The zeros of a function strictly between two ends, in order, each once.

    Args:
        tree: a function of the variable alone.
        variable: the letter.
        lower: the smaller end, a constant.
        upper: the larger one.

    Returns:
        All of them; None when they are not known to be all, or an end cannot be told from a zero.

    >>> from qbank.maths.expression import sin
    >>> x = Symbol("x")
    >>> zeros_between(1 + 2 * sin(x), x, Integer(0), PI) == ()
    True
    >>> zeros_between(x**2 - 1, x, Integer(0), Integer(3))
    (Integer(value=1),)
    """
    ends = (_end(lower), _end(upper))
    if ends[0] is None or ends[1] is None:
        return None
    try:
        found = [
            (zero, place)
            for zero in _zeros(tree, variable, (ends[0], ends[1]))
            if (place := _inside(zero, (lower, upper), (ends[0], ends[1]))) is not None
        ]
    except (_Unknown, Undefined):
        return None
    found.sort(key=lambda pair: pair[1].lower)
    different: list[tuple[Expression, Enclosure]] = []
    for zero, place in found:
        if different and place.lower <= different[-1][1].upper:
            if zero != different[-1][0]:
                return None
            continue
        different.append((zero, place))
    return tuple(zero for zero, _ in different)


def sign_between(tree: Expression, variable: Symbol, lower: Expression, upper: Expression) -> Signed | None:
    """The sign of a function that has no zero strictly between two ends.

    Returns:
        None when there is a zero, or the sign is not certain.

    >>> x = Symbol("x")
    >>> sign_between(x - 2, x, Integer(0), Integer(2)).sign
    -1
    """
    ends = (_end(lower), _end(upper))
    if ends[0] is None or ends[1] is None:
        return None
    middle = _middle(ends[0], ends[1])
    value = enclose(tree, at={variable: middle}, digits=_DIGITS)
    if value is None or value.lower <= 0 <= value.upper:
        return None
    sign = 1 if value.lower > 0 else -1
    domain = Domain(lower=lower, upper=upper)
    verdict = decide_equal(Apply("abs", tree), tree if sign > 0 else Negate(tree), variable, domain=domain)
    if isinstance(verdict, Proved) and not verdict.undefined_at:
        return Signed(sign=sign, proof=verdict.proof)
    endless = lower in _INFINITE or upper in _INFINITE
    if endless or zeros_between(tree, variable, lower, upper) != ():
        return None
    inwards = (ends[1].lower - ends[0].upper) / 10**6
    if not defined_between(tree, variable, ends[0].upper + inwards, ends[1].lower - inwards):
        return None
    proof = Proof(claim="the function keeps its sign between its zeros", method="all zeros known", seal=SEAL)
    return Signed(sign=sign, proof=proof)


def _end(tree: Expression) -> Enclosure | None:
    """Where an end is, an infinite one beyond everything that is met here."""
    if tree in _INFINITE:
        far = _FAR if tree == INFINITY else -_FAR
        return Enclosure(decimal="", lower=far, upper=far)
    return enclose(tree, at={}, digits=_DIGITS)


def _middle(low: Enclosure, high: Enclosure) -> Fraction:
    if low.lower == -_FAR and high.upper == _FAR:
        return Fraction(1)
    if low.lower == -_FAR:
        return high.lower - 1
    return low.upper + 1 if high.upper == _FAR else (low.upper + high.lower) / 2


def _inside(
    zero: Expression, limits: tuple[Expression, Expression], ends: tuple[Enclosure, Enclosure]
) -> Enclosure | None:
    """Where a zero lies; None when it is at an end or outside."""
    if zero in limits:
        return None
    place = enclose(zero, at={}, digits=_DIGITS)
    if place is None:
        raise _Unknown
    if place.upper < ends[0].lower or place.lower > ends[1].upper:
        return None
    if place.lower > ends[0].upper and place.upper < ends[1].lower:
        return place
    finite = (limit for limit in limits if limit not in _INFINITE)
    if any(exact_value(difference(zero, limit)) == Integer(0) for limit in finite):
        return None
    raise _Unknown


def _zeros(tree: Expression, variable: Symbol, ends: tuple[Enclosure, Enclosure]) -> Iterator[Expression]:
    """Zeros of a tree, at least all those between the ends."""
    if variable not in tree.symbols():
        if tree == Integer(0):
            raise _Unknown
        return
    coefficients = as_polynomial(tree, variable)
    if coefficients is not None:
        yield from _of_polynomial(coefficients)
        return
    match tree:
        case Negate(operand):
            yield from _zeros(operand, variable, ends)
        case Product(factors):
            for factor in factors:
                yield from _zeros(factor, variable, ends)
        case Quotient(numerator, denominator) if variable not in denominator.symbols():
            yield from _zeros(numerator, variable, ends)
        case Power(base, Integer()) if base != E:
            yield from _zeros(base, variable, ends)
        case Power(base, _) if base == E:
            return
        case Apply("ln", argument):
            yield from _zeros(difference(argument, Integer(1)), variable, ends)
        case Apply("sin" | "cos" | "tan"):
            yield from _of_wave(tree, Integer(0), variable, ends)
        case Sum(terms):
            yield from _of_sum(terms, variable, ends)
        case _:
            raise _Unknown


def _of_polynomial(coefficients: tuple[Fraction, ...]) -> Iterator[Expression]:
    for factor, _ in factorise(coefficients)[1]:
        match factor:
            case (constant, slope):
                yield rational(Fraction(-constant, slope))
            case (c, b, a) if b * b < 4 * a * c:
                continue
            case (c, b, a):
                root = Root(Integer(b * b - 4 * a * c))
                for over in (sum_of(rational(-b), root), difference(rational(-b), root)):
                    yield exact_value(Quotient(over, rational(2 * a)))
            case _:
                raise _Unknown


def _of_sum(
    terms: Iterable[Expression], variable: Symbol, ends: tuple[Enclosure, Enclosure]
) -> Iterator[Expression]:
    """A constant and one function, or a sine and a cosine of one angle."""
    moving = [split_coefficient(term) for term in terms if variable in term.symbols()]
    rest = sum_of(*(term for term in terms if variable not in term.symbols()))
    match moving:
        case [(size, Power(base, exponent))] if base == E:
            height = exact_value(Quotient(Negate(rest), rational(size)))
            value = enclose(height, at={})
            if value is not None and value.lower > 0:
                slope, shift = _linear(exponent, variable)
                yield exact_value(Quotient(difference(ln(height), shift), slope))
            elif value is None or value.upper > 0:
                raise _Unknown
        case [(size, Apply("sin" | "cos" | "tan") as wave)]:
            yield from _of_wave(wave, exact_value(Quotient(Negate(rest), rational(size))), variable, ends)
        case [(size, Apply("ln", argument))]:
            height = Power(E, exact_value(Quotient(Negate(rest), rational(size))))
            yield from _zeros(difference(argument, height), variable, ends)
        case [(p, Apply("sin", one)), (q, Apply("cos", other))] if one == other and rest == Integer(0):
            yield from _of_wave(Apply("tan", one), rational(-q / p), variable, ends)
        case [(q, Apply("cos", one)), (p, Apply("sin", other))] if one == other and rest == Integer(0):
            yield from _of_wave(Apply("tan", one), rational(-q / p), variable, ends)
        case _:
            raise _Unknown


def _of_wave(
    wave: Expression, height: Expression, variable: Symbol, ends: tuple[Enclosure, Enclosure]
) -> Iterator[Expression]:
    """Where a circular function has a value."""
    assert isinstance(wave, Apply)
    bounds = enclose(height, at={})
    if bounds is None:
        raise _Unknown
    if wave.function != "tan" and (bounds.lower > 1 or bounds.upper < -1):
        return
    slope, shift = _linear(wave.argument, variable)
    first = exact_value(Apply(f"arc{wave.function}", height))
    bases = {"sin": (first, difference(PI, first)), "cos": (first, Negate(first)), "tan": (first,)}
    period = _PERIODS[wave.function]
    for base in bases[wave.function]:
        turns = [_turn(base, slope, shift, end, period) for end in ends]
        least, most = floor(min(turns)) - 1, ceil(max(turns)) + 1
        if most - least > _MOST:
            raise _Unknown
        for turn in range(least, most + 1):
            angle = sum_of(base, product(rational(turn * period), PI))
            yield exact_value(Quotient(difference(angle, shift), slope))


def _turn(base: Expression, slope: Expression, shift: Expression, end: Enclosure, period: int) -> float:
    """How many periods an end lies from a base angle, about."""
    values = [enclose(part, at={}) for part in (base, slope, shift)]
    numbers = [float(value.lower) for value in values if value is not None]
    if len(numbers) < len(values):
        raise _Unknown
    return (numbers[1] * float(end.lower) + numbers[2] - numbers[0]) / (period * 3.141592653589793)


def _linear(argument: Expression, variable: Symbol) -> tuple[Expression, Expression]:
    """Slope and shift of an argument `ax + b`, whose numbers may have pi in them."""
    shift = exact_value(argument.substitute({variable: Integer(0)}))
    slope = exact_value(difference(argument.substitute({variable: Integer(1)}), shift))
    line = sum_of(product(slope, variable), shift)
    if slope == Integer(0) or not isinstance(decide_equal(line, argument, variable), Proved):
        raise _Unknown
    return slope, shift
