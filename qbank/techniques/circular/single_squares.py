"""Sums of a constant and a function that are single squares, by the sum of squares or by half the angle.

a - a sin^2 x      a cos^2 x
1 + cos 2x         2 cos^2 x
1 - cosh x         -2 sinh^2(x/2)
1 + sin x          (sin(x/2) + cos(x/2))^2,  or 2 cos^2(x/2 - pi/4) where powers of one function are wanted
"""

from __future__ import annotations

from dataclasses import dataclass

from qbank.maths.constant_factor import ONE, number, over, split_constant, times
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    PI,
    Apply,
    Expression,
    Integer,
    Negate,
    Power,
    Quotient,
    Sum,
    Symbol,
    cos,
    fraction,
    sin,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.messages import say
from qbank.techniques.circular.angles import as_angle

__all__ = ["SingleSquare", "single_square"]

#: of a function f: what 1 - f^2, 1 + f^2 and f^2 - 1 are squares of (NIST DLMF 4.21(i), 4.35(i))
_ONE_LESS = {"sin": "cos", "cos": "sin", "tanh": "sech", "sech": "tanh"}
_ONE_MORE = {"tan": "sec", "cot": "cosec", "sinh": "cosh", "cosech": "coth"}
_LESS_ONE = {"sec": "tan", "cosec": "cot", "cosh": "sinh", "coth": "cosech"}

#: of f(2A): the function of A whose square is half of 1 + f, and of 1 - f with its sign (DLMF 4.21.21, 4.21.22, 4.35.19)
_HALF = {("cos", 1): ("cos", 1), ("cos", -1): ("sin", 1), ("cosh", 1): ("cosh", 1), ("cosh", -1): ("sinh", -1)}  # fmt: skip

#: of f: the g and the number n for which the root of c + s f(b x) has the integral n s/b g(b x) over the root
_BESIDE = {"cos": ("sin", 2), "sin": ("cos", -2), "cosh": ("sinh", 2)}


@dataclass(frozen=True, slots=True, kw_only=True)
class SingleSquare:
    """`sum = size * function^2`.

    Attributes:
        whole: the sum.
        size: a constant.
        function: what is squared.
        root: the integral of the root of the sum in the whole angle, where half of it stands in the function.
        slope: of half the angle.
    """

    whole: Expression
    size: Factored
    function: Expression
    root: Factored | None = None
    slope: Factored = ONE

    @property
    def halved(self) -> bool:
        """Whether half the angle stands in the function."""
        return self.root is not None

    @property
    def equation(self) -> Equation:
        """The identity."""
        square = Power(self.function, Integer(2))
        return Equation(self.whole, times(self.size, factored(square)).tree())

    @property
    def rule(self) -> str:
        """The name of the identity."""
        return "double-angle" if self.halved else "pythagorean-identity"

    @property
    def reason(self) -> str:
        """Why it holds."""
        if not self.halved:
            return say("With the sum of squares this is a single square.")
        if isinstance(self.function, Sum):
            return say(
                "With half the angle one is a sum of two squares and the sine is twice a product: together a square."
            )
        if isinstance(self.whole, Sum) and any(_is_sine(term) for term in self.whole.terms):
            return say(
                "The sine is the cosine of the rest of a right angle, and with half the angle there is a single square."
            )
        return say("The double-angle identity read backwards: with half the angle this is a single square.")


def single_square(base: Sum, variable: Symbol, *, summed: bool) -> SingleSquare | None:
    """A sum of a constant and another term as a single square, else None.

    Args:
        base: the sum.
        variable: the variable.
        summed: whether the square may be that of a sum of two functions.

    >>> from qbank.maths.expression import cos, sin
    >>> x = Symbol("x")
    >>> single_square(2 - 2 * sin(x) ** 2, x, summed=True).function == cos(x)
    True
    >>> single_square(1 + sin(2 * x), x, summed=True).function == sin(x) + cos(x)
    True
    """
    if len(base.terms) != 2:
        return None
    fixed = [term for term in base.terms if variable not in term.symbols()]
    if len(fixed) != 1:
        return None
    size, moving = split_constant(next(term for term in base.terms if term is not fixed[0]), variable)
    constant = factored(fixed[0])
    if len(moving.powers) != 1 or constant.powers != size.powers:
        return None
    if not constant.coefficient or abs(constant.coefficient) != abs(size.coefficient):
        return None
    function, exponent = moving.powers[0]
    if not isinstance(function, Apply):
        return None
    if exponent == 2:
        return _by_sum_of_squares(base, function, constant, size)
    if exponent == 1:
        return _by_half_the_angle(base, function, constant, size, variable, summed=summed)
    return None


def _by_sum_of_squares(base: Sum, function: Apply, constant: Factored, size: Factored) -> SingleSquare | None:
    if constant.coefficient == size.coefficient:
        name, front = _ONE_MORE.get(function.function), constant
    elif function.function in _LESS_ONE:
        name, front = _LESS_ONE[function.function], size
    else:
        name, front = _ONE_LESS.get(function.function), constant
    if name is None:
        return None
    return SingleSquare(whole=base, size=front, function=Apply(name, function.argument))


def _by_half_the_angle(
    base: Sum, function: Apply, constant: Factored, size: Factored, variable: Symbol, *, summed: bool
) -> SingleSquare | None:
    angle = as_angle(function.argument, variable)
    if angle is None or function.function not in _BESIDE:
        return None
    half = angle.times(fraction(1, 2)).tree
    sign = 1 if constant.coefficient == size.coefficient else -1
    halved, turned = _halved(function.function, half, sign, summed=summed)
    other, of_root = _BESIDE[function.function]
    root = times(
        size,
        number(of_root / angle.slope),
        over(factored(angle.unit)),
        factored(Apply(other, function.argument)),
        Factored(coefficient=fraction(1, 1), powers=((base, fraction(-1, 2)),)),
    )
    return SingleSquare(
        whole=base,
        size=times(constant, number(turned)),
        function=halved,
        root=root,
        slope=times(number(angle.slope / 2), factored(angle.unit)),
    )


def _halved(name: str, half: Expression, sign: int, *, summed: bool) -> tuple[Expression, int]:
    """The function of half the angle, and the number by which its square is multiplied."""
    if name != "sin":
        halved, turned = _HALF[name, sign]
        return Apply(halved, half), 2 * turned
    if summed:
        both = (sin(half), cos(half)) if sign > 0 else (cos(half), Negate(sin(half)))
        return sum_of(*both), 1
    quarter = Quotient(PI, Integer(4))
    return cos(sum_of(half, Negate(quarter) if sign > 0 else quarter)), 2


def _is_sine(term: Expression) -> bool:
    return any(isinstance(node, Apply) and node.function == "sin" for node in term.walk())
