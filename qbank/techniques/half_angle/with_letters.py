"""A fraction of circular or hyperbolic functions with letters for numbers, written in one letter.

1/(a + b cos x)     t = tan(x/2)     2/((a - b) t^2 + a + b)
1/(a + b cosh x)    u = e^x          2/(b u^2 + 2a u + b)

The formulae of the substitution are put into the integrand as it stands, and the whole is read as a quotient of polynomials
in all letters.
"""

from __future__ import annotations

from fractions import Fraction

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
from qbank.maths.parametric import Letters
from qbank.maths.tidying import scaled
from qbank.techniques.fractions.letter_pieces import polynomial_in
from qbank.techniques.half_angle.circle import Circle
from qbank.techniques.half_angle.circular_fraction import CircularFraction

__all__ = ["with_letters"]

_NAMES = {"sin": "sinh", "cos": "cosh", "tan": "tanh", "sec": "sech", "cosec": "cosech", "cot": "coth"}


def with_letters(
    seen: CircularFraction, circle: Circle, rate: LetterFraction, letter: Symbol
) -> tuple[Factored, Expression] | None:
    """The constant in front and the integrand in the letter, for an angle of slope 1; None where it does not fit.

    Args:
        seen: the integrand, its letters those of its core.
        circle: sine and cosine in the letter, without a second function beside it.
        rate: by what that is multiplied.
        letter: the letter.
    """
    if not seen.single or circle.sine.b != ZERO or circle.cosine.b != ZERO:
        return None
    values = _values(seen, circle, letter)

    def put(tree: Expression) -> Expression:
        return values.get(tree) or tree.rebuild(put)

    whole = product(put(seen.core), scaled(*rate.written(letter)))
    others = whole.symbols() - {letter}
    if not others or seen.angle.variable in others:
        return None
    letters = Letters((*sorted(others, key=lambda one: one.name), letter))
    found = letters.read(whole)
    if found is None or not found:
        return None
    front, moving = split_constant(found.factored().tree(), letter)
    powers = list[tuple[Expression, Fraction]]()
    for base, n in moving.powers:
        line = letters.polynomial(base, letter)
        if line is None:
            return None
        powers.append((polynomial_in(line, letter), n))
    return front, Factored(coefficient=fraction(1, 1), powers=tuple(powers)).tree()


def _values(seen: CircularFraction, circle: Circle, letter: Symbol) -> dict[Expression, Expression]:
    """Each function of the angle in the letter."""
    sine, cosine = (scaled(*one.a.written(letter)) for one in (circle.sine, circle.cosine))
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
