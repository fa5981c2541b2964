"""Sines and cosines of twice the angle, four times or three times, written with those of the angle itself.

sin 2t = 2 sin t cos t
sin 3t = 3 sin t - 4 sin^3 t
cos 2t = 1 - 2 sin^2 t     where the sine is a power of the variable, else 2 cos^2 t - 1
"""

from __future__ import annotations

from fractions import Fraction

from qbank.maths.equation import Equation
from qbank.maths.expression import Apply, Expression, Integer, Power, Symbol, difference, product
from qbank.maths.polynomial import as_linear
from qbank.maths.tidying import scaled, tidy
from qbank.techniques.trigonometric.kinds import SINE, Kind

__all__ = ["identities", "without_multiples"]

#: the odd multiple that has an identity of its own
_TRIPLE = 3


def without_multiples(tree: Expression, letter: Symbol, kind: Kind) -> Expression:
    """The tree with functions of the angle itself only.

    >>> t = Symbol("t")
    >>> without_multiples(Apply("sin", 2 * t), t, SINE) == 2 * Apply("sin", t) * Apply("cos", t)
    True
    """
    multiple = _multiple(tree, letter)
    if multiple is None or not isinstance(tree, Apply):
        return tree.rebuild(lambda child: without_multiples(child, letter, kind))
    return tidy(without_multiples(_halved(tree.function, multiple, letter, kind), letter, kind))


def identities(tree: Expression, letter: Symbol, kind: Kind) -> tuple[Equation, ...]:
    """The identities that are used for it, each once."""
    found: dict[Expression, Expression] = {}
    waiting = [tree]
    while waiting:
        for node in waiting.pop().walk():
            multiple = _multiple(node, letter)
            if multiple is not None and isinstance(node, Apply) and node not in found:
                found[node] = _halved(node.function, multiple, letter, kind)
                waiting.append(found[node])
    return tuple(Equation(left, right) for left, right in found.items())


def _multiple(tree: Expression, letter: Symbol) -> int | None:
    """2, 4, 8, ... or 3 for a sine or cosine of that many times the angle."""
    match tree:
        case Apply("sin" | "cos", argument):
            linear = as_linear(argument, letter)
        case _:
            return None
    if linear is None or linear[1] or linear[0].denominator != 1:
        return None
    times = int(linear[0])
    return times if times > 1 and (times == _TRIPLE or times & (times - 1) == 0) else None


def _halved(name: str, multiple: int, letter: Symbol, kind: Kind) -> Expression:
    if multiple == _TRIPLE:
        one = Apply(name, letter)
        once, cubed = product(Integer(3), one), product(Integer(4), Power(one, Integer(3)))
        return difference(once, cubed) if name == "sin" else difference(cubed, once)
    sine, cosine = (Apply(f, scaled(Fraction(multiple, 2), letter)) for f in ("sin", "cos"))
    if name == "sin":
        return product(Integer(2), sine, cosine)
    if kind == SINE:
        return difference(Integer(1), product(Integer(2), Power(sine, Integer(2))))
    return difference(product(Integer(2), Power(cosine, Integer(2))), Integer(1))
