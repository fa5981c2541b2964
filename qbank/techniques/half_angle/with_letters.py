"""A fraction of circular or hyperbolic functions with letters for numbers, written in one letter.

1/(a + b cos x)     t = tan(x/2)     2/((a - b) t^2 + a + b)
1/(a + b cosh x)    u = e^x          2/(b u^2 + 2a u + b)
1/(a + b cos^2 x)   u = tan x        1/(a u^2 + a + b), where cos^2 x is 1/(1 + u^2)

The formulae of the substitution are put into the integrand as it stands, and the whole is read as a quotient of polynomials
in all letters.
"""

from __future__ import annotations

from fractions import Fraction
from math import prod

from qbank.maths.constant_factor import split_constant
from qbank.maths.expression import (
    Apply,
    E,
    Expression,
    Integer,
    Power,
    Quotient,
    Symbol,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import Factored
from qbank.maths.letter_fraction import ZERO, LetterFraction
from qbank.maths.parametric import Letters, Parametric, TooLargeError
from qbank.maths.tidying import scaled
from qbank.techniques.fractions.letter_pieces import polynomial_in
from qbank.techniques.half_angle.circle import Circle, Value
from qbank.techniques.half_angle.circular_fraction import CircularFraction

__all__ = ["with_letters"]

#: v, the second function beside the letter
_BESIDE = Symbol("v_0")
_NAMES = {"sin": "sinh", "cos": "cosh", "tan": "tanh", "sec": "sech", "cosec": "cosech", "cot": "coth"}


def with_letters(
    seen: CircularFraction, circle: Circle, rate: LetterFraction, letter: Symbol, *, odd: bool = False
) -> tuple[Factored, Expression] | None:
    """The constant in front and the integrand in the letter, for an angle of slope 1; None where it does not fit.

    Args:
        seen: the integrand, its letters those of its core.
        circle: sine and cosine in the letter.
        rate: by what that is multiplied.
        letter: the letter.
        odd: whether the integrand must be v times a fraction in the letter, and not that fraction alone.
    """
    if not seen.single:
        return None
    values = _values(seen, circle, letter)

    def put(tree: Expression) -> Expression:
        return values.get(tree) or tree.rebuild(put)

    whole = put(seen.core)
    others = whole.symbols() - {letter, _BESIDE}
    if not others or seen.angle.variable in others or _BESIDE in seen.core.symbols():
        return None
    letters = Letters((*sorted(others, key=lambda one: one.name), _BESIDE, letter))
    square, times_ = (letters.read(scaled(*one.written(letter))) for one in (circle.square, rate))
    found = letters.read(product(whole, _BESIDE) if odd else whole)
    if found is None or square is None or times_ is None:
        return None
    try:
        found = _without_second(letters, found, square)
        found = None if found is None else found * times_ / square if odd else found * times_
    except (TooLargeError, ZeroDivisionError):
        return None
    if not found:
        return None
    front, moving = split_constant(found.factored().tree(), letter)
    powers = list[tuple[Expression, Fraction]]()
    for base, n in moving.powers:
        line = letters.polynomial(base, letter)
        if line is None:
            return None
        powers.append((polynomial_in(line, letter), n))
    return front, Factored(coefficient=fraction(1, 1), powers=tuple(powers)).tree()


def _without_second(letters: Letters, found: Parametric, square: Parametric) -> Parametric | None:
    """A quotient in which only even powers of v are left, with its square put in for each; None where others are."""
    sides = (found * found.denominator, found.denominator)
    read = [letters.coefficients(side, _BESIDE) for side in sides]
    totals, parities = list[Parametric](), set[int]()
    for coefficients in read:
        if coefficients is None:
            return None
        total = letters.number(0)
        for degree, c in enumerate(coefficients):
            if c:
                parities.add(degree % 2)
                total = total + prod([square] * (degree // 2), start=c)
        totals.append(total)
    return totals[0] / totals[1] if len(parities) < 2 else None


def _values(seen: CircularFraction, circle: Circle, letter: Symbol) -> dict[Expression, Expression]:
    """Each function of the angle in the letter."""
    sine, cosine = (_written(one, letter) for one in (circle.sine, circle.cosine))
    one, angle = Integer(1), seen.angle.tree
    known = {
        "sin": sine,
        "cos": cosine,
        "tan": Quotient(sine, cosine),
        "sec": Quotient(one, cosine),
        "cosec": Quotient(one, sine),
        "cot": Quotient(cosine, sine),
    }
    if circle.sum_sign > 0:
        known = {_NAMES[name]: tree for name, tree in known.items()} | {"exp": sum_of(cosine, sine)}
    found: dict[Expression, Expression] = {Apply(name, angle): tree for name, tree in known.items()}
    if "exp" in known:
        found[Power(E, angle)] = known["exp"]
    return found


def _written(value: Value, letter: Symbol) -> Expression:
    """`a + b v`."""
    parts = [scaled(*value.a.written(letter))] if value.a != ZERO else []
    if value.b != ZERO:
        parts.append(product(scaled(*value.b.written(letter)), _BESIDE))
    return sum_of(*parts)
