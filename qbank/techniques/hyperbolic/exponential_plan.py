"""Products of sinh, cosh and exponentials as sums of exponentials: the numbers of the working, and of a student's.

sinh A = (e^A - e^(-A))/2     cosh A = (e^A + e^(-A))/2

    e^(2x) sinh 3x       1/2 e^(5x) - 1/2 e^(-x)
    sinh 2x cosh 3x      1/4 e^(5x) - 1/4 e^(-5x) - 1/4 e^x + 1/4 e^(-x)     in pairs: 1/2 sinh 5x - 1/2 sinh x
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from qbank.maths.constant_factor import in_front, number, over, times
from qbank.maths.expression import Apply, E, Expression, Integer, Power, Symbol, fraction, product, sum_of
from qbank.maths.factors import Factored, factored
from qbank.techniques.circular.angle_sums import AngleSum, angle_sum

__all__ = ["ExponentialPlan", "Piece", "exponential_plan"]

#: larger products are nobody's exercise
_FACTOR_LIMIT = 6

#: what is done with the number in an exponent; anything but "divided" is a slip
Rule: TypeAlias = Literal["divided", "forgotten", "multiplied", "sign lost"]
Name: TypeAlias = Literal["exp", "sinh", "cosh"]
Factors: TypeAlias = tuple[tuple[Name, AngleSum], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """`number * f(angle)`, f the exponential, sinh or cosh."""

    number: Fraction
    name: Name
    angle: AngleSum

    def tree(self) -> Expression:
        """The function without the number; 1 for `e^0`."""
        if self.angle.is_zero:
            return Integer(1)
        return _function(self.name, self.angle)


@dataclass(frozen=True, slots=True, kw_only=True)
class ExponentialPlan:
    """The numbers of one working.

    Attributes:
        variable: the variable.
        constant: what stands in front.
        factors: exponentials first, a square as two factors.
        half: the number in the definitions.
        sinh: the sign between the two exponentials of sinh.
        joined: whether exponents are added when exponentials are multiplied; False for multiplied (a slip).
        rule: what is done with the number in an exponent.
    """

    variable: Symbol
    constant: Factored
    factors: Factors
    half: Fraction = Fraction(1, 2)
    sinh: int = -1
    joined: bool = True
    rule: Rule = "divided"

    @property
    def in_pairs(self) -> bool:
        """Whether the exponentials are put together again: where the question has none."""
        return all(name != "exp" for name, _ in self.factors)

    def expanded(self) -> tuple[Piece, ...]:
        """The product as a sum of exponentials, the largest number in an exponent first."""
        found: dict[AngleSum, Fraction] = {_zero(self.variable): fraction(1, 1)}
        for name, angle in self.factors:
            parts: tuple[tuple[AngleSum, Fraction], ...] = ((angle, fraction(1, 1)),)
            if name != "exp":
                sign = self.sinh if name == "sinh" else 1
                parts = ((angle, self.half), (_zero(self.variable).plus(angle, -1), sign * self.half))
            spread: dict[AngleSum, Fraction] = {}
            for one, c in found.items():
                for other, d in parts:
                    whole = self._exponent(one, other)
                    spread[whole] = spread.get(whole, fraction(0, 1)) + c * d
            found = spread
        pieces = (Piece(number=c, name="exp", angle=angle) for angle, c in found.items() if c)
        return tuple(sorted(pieces, key=lambda piece: -_size(piece.angle)))

    def paired(self) -> tuple[Piece, ...]:
        """The exponentials put together to sinh and cosh, where the numbers allow it."""
        left = {piece.angle: piece.number for piece in self.expanded()}
        pieces = list[Piece]()
        for piece in self.expanded():
            opposite = _zero(self.variable).plus(piece.angle, -1)
            if piece.angle not in left:
                continue
            c = left.pop(piece.angle)
            if abs(left.get(opposite, 0)) != abs(c) or piece.angle.is_zero:
                pieces.append(Piece(number=c, name="exp", angle=piece.angle))
                continue
            name: Name = "cosh" if left.pop(opposite) == c else "sinh"
            sign = -1 if piece.angle.falls and name == "sinh" else 1
            pieces.append(Piece(number=2 * c * sign, name=name, angle=piece.angle.rising))
        return tuple(pieces)

    def pieces(self) -> tuple[Piece, ...]:
        """What is integrated term by term."""
        return self.paired() if self.in_pairs else self.expanded()

    def integral(self, piece: Piece) -> Expression:
        """The integral of one piece, the constant in front."""
        front = times(self.constant, number(piece.number))
        if not piece.angle.moving:
            return in_front(front, product(*_not_one(piece.tree()), self.variable))
        slope = piece.angle.slope
        match self.rule:
            case "divided":
                front = times(front, over(slope))
            case "multiplied":
                front = times(front, slope)
            case "sign lost":
                front = times(front, over(_positive(slope)))
            case "forgotten":
                # the minus sign of e^(-x) is remembered, or it would be another slip
                front = times(front, number(-1 if slope.coefficient < 0 else 1))
        other: dict[Name, Name] = {"exp": "exp", "sinh": "cosh", "cosh": "sinh"}
        return in_front(front, _function(other[piece.name], piece.angle))

    def answer(self) -> Expression:
        """The antiderivative, multiplied out."""
        return sum_of(*map(self.integral, self.pieces()))

    def _exponent(self, one: AngleSum, other: AngleSum) -> AngleSum:
        if self.joined or one.is_zero or not (one.moving and other.moving):
            return one.plus(other, 1)
        (unit, c), (_, d) = one.moving[0], other.moving[0]
        return AngleSum(variable=self.variable, moving=((unit, c * d),), number=fraction(0, 1), others=())


def exponential_plan(integrand: Expression, variable: Symbol) -> ExponentialPlan | None:
    """The numbers of a product of sinh, cosh and exponentials with at least two factors, else None.

    >>> x = Symbol("x")
    >>> plan = exponential_plan(E ** (2 * x) * Apply("sinh", 3 * x), x)
    >>> [piece.number for piece in plan.expanded()]
    [Fraction(1, 2), Fraction(-1, 2)]
    """
    seen = factored(integrand)
    factors = list[tuple[Name, AngleSum]]()
    moving: list[Expression] = []
    for base, n in seen.powers:
        if variable not in base.symbols():
            continue
        moving.append(base)
        found = _factors(base, n, variable)
        if found is None:
            return None
        factors += found
    # exponentials first; with exponentials alone there is nothing to do here
    factors.sort(key=lambda one: one[0] != "exp")
    if not 2 <= len(factors) <= _FACTOR_LIMIT or factors[-1][0] == "exp":
        return None
    units = {unit for _, angle in factors for unit, _ in angle.moving}
    # with letters in two numbers it is not known whether their sum is zero
    if len(units) > 1:
        return None
    return ExponentialPlan(variable=variable, constant=seen.without(*moving), factors=tuple(factors))


def _factors(base: Expression, n: Fraction, variable: Symbol) -> list[tuple[Name, AngleSum]] | None:
    """One base with its exponent as factors, else None."""
    if n.denominator != 1:
        return None
    match base:
        case Apply("sinh" | "cosh" as name, argument) if 0 < n <= _FACTOR_LIMIT:
            angle = angle_sum(argument, variable)
            return None if angle is None else [(name, angle)] * int(n)
        case Apply("exp", argument):
            exponent = _multiple(angle_sum(argument, variable), int(n))
        case Power(constant, argument) if constant == E:
            exponent = _multiple(angle_sum(argument, variable), int(n))
        case _:
            return None
    return None if exponent is None else [("exp", exponent)]


def _multiple(angle: AngleSum | None, n: int) -> AngleSum | None:
    if angle is None or abs(n) > _FACTOR_LIMIT:
        return None
    whole = _zero(angle.variable)
    for _ in range(abs(n)):
        whole = whole.plus(angle, 1 if n > 0 else -1)
    return whole


def _zero(variable: Symbol) -> AngleSum:
    return AngleSum(variable=variable, moving=(), number=fraction(0, 1), others=())


def _size(angle: AngleSum) -> Fraction:
    return angle.moving[0][1] if angle.moving else fraction(0, 1)


def _function(name: Name, angle: AngleSum) -> Expression:
    return Power(E, angle.tree) if name == "exp" else Apply(name, angle.tree)


def _positive(constant: Factored) -> Factored:
    return times(constant, number(-1 if constant.coefficient < 0 else 1))


def _not_one(tree: Expression) -> tuple[Expression, ...]:
    return () if tree == Integer(1) else (tree,)
