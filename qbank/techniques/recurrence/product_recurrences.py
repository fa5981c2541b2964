"""Powers beside an exponential, a sine or a cosine, and powers of a logarithm, seen with their recurrence."""

from __future__ import annotations

from qbank.maths.constant_factor import ONE, number, split_constant, times
from qbank.maths.expression import (
    Apply,
    E,
    Expression,
    Power,
    Sum,
    Symbol,
    fraction,
)
from qbank.maths.factors import Factored, factored, power_tree
from qbank.techniques.circular.angles import Angle, as_angle
from qbank.techniques.parts.by_parts import exponentials_above
from qbank.techniques.recurrence.parts_recurrences import Exponentials, Logarithms, Waves
from qbank.techniques.recurrence.recurrence import Recurrence, raised

__all__ = ["product_recurrence"]

#: a first power needs no formula, and powers above the last are nobody's exercise
_POWERS = range(2, 11)


def product_recurrence(integrand: Expression, variable: Symbol) -> Recurrence | None:
    """The recurrence for a power times an exponential, a sine or a cosine, or for a power of a logarithm, else None.

    >>> x = Symbol("x")
    >>> found = product_recurrence(x**5 * Power(E, 2 * x), x)
    >>> found.power, found.rung(5).lower.coefficient
    (5, Fraction(-5, 2))
    """
    front, moving = split_constant(integrand, variable)
    if not front.coefficient or not 0 < len(moving.powers) <= 2:
        return None
    moving = exponentials_above(moving)
    for base, n in moving.powers:
        rest = moving.without(base)
        if n not in _POWERS:
            continue
        if isinstance(base, Apply) and base.function == "ln":
            return _of_logarithm(base, int(n), rest, variable, front)
        if (base == variable or isinstance(base, Sum)) and [k for _, k in rest.powers] == [1]:
            return _of_bracket(base, int(n), rest.tree(), variable, front)
    return None


def _of_logarithm(
    base: Apply, n: int, rest: Factored, variable: Symbol, front: Factored
) -> Recurrence | None:
    """`P^m (ln L)^n`, where the derivative of the logarithm is a number over P."""
    inner = as_angle(base.argument, variable)
    if inner is None:
        return None
    alone = inner.number == 0 and not inner.others
    beside, m = rest.powers[0] if rest.powers else (variable if alone else base.argument, fraction(0, 1))
    if m == -1 or not (alone if beside == variable else beside == base.argument):
        return None
    slope = ONE if beside == variable else _rate(inner)
    return Logarithms(
        variable=variable,
        front=front,
        power=n,
        rate=times(slope, number(m + 1)),
        falling=base,
        slope=slope,
        dv=raised(beside, 0) if not m else power_tree(beside, m),
        v=power_tree(beside, m + 1),
    )


def _of_bracket(
    base: Expression, n: int, beside: Expression, variable: Symbol, front: Factored
) -> Recurrence | None:
    """`L^n` times an exponential, a sine or a cosine of something linear."""
    bracket = as_angle(base, variable)
    match beside:
        case Power(base=Expression() as e, exponent=inside) if e == E:
            made: type[Exponentials | Waves] = Exponentials
        case Apply("sin" | "cos", inside):
            made = Waves
        case _:
            return None
    angle = as_angle(inside, variable)
    if bracket is None or angle is None:
        return None
    return made(
        variable=variable,
        front=front,
        power=n,
        rate=_rate(angle),
        falling=base,
        slope=_rate(bracket),
        dv=beside,
        v=beside if made is Exponentials else _other_wave(beside),
    )


def _rate(angle: Angle) -> Factored:
    return times(number(angle.slope), factored(angle.unit))


def _other_wave(wave: Expression) -> Expression:
    assert isinstance(wave, Apply)  # asked for waves only
    return Apply("cos" if wave.function == "sin" else "sin", wave.argument)
