"""Two angles that differ by a constant d: what a fraction of their sines and cosines is with d taken out.

sin A/sin B       A = B + d     cos d + sin d cot B
1/(sin A sin B)   d = A - B     (sin A cos B - cos A sin B)/(sin d sin A sin B) = (cot B - cot A)/sin d
1/(sin A cos B)                 (cos A cos B + sin A sin B)/(cos d sin A cos B) = (cot A + tan B)/cos d
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TypeAlias

from qbank.maths.constant_factor import ONE, in_front, over, split_constant, times
from qbank.maths.equation import Equation
from qbank.maths.exact_values import exact_value
from qbank.maths.expression import (
    Apply,
    Constant,
    Expression,
    Integer,
    Negate,
    Quotient,
    Sum,
    Symbol,
    cos,
    difference,
    opposite,
    product,
    sin,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.techniques.carrying import multiplied
from qbank.techniques.circular.angle_sums import AngleSum, angle_sum
from qbank.techniques.circular.circular_powers import CIRCULAR
from qbank.techniques.standard.standard_terms import logarithm

__all__ = ["Divided", "Multiplied", "Shifted", "shifted_angles"]

#: a sine or cosine by its name, and its angle
_Wave: TypeAlias = tuple[str, AngleSum]


@dataclass(frozen=True, slots=True, kw_only=True)
class Divided:
    """`constant * f(A)/g(B)` with A = B + d or, where d would have a minus sign, A = B - d.

    Attributes:
        variable: the variable.
        constant: the constant in front.
        above: f and A.
        below: g and B.
        shift: d.
        sign: 1 or -1.
        swapped: whether sine and cosine of d are taken for each other: a slip.
        turned: whether the sign of the identity is the other one: a slip.
        without_variable: whether the integral of a constant is taken to be the constant: a slip.
    """

    variable: Symbol
    constant: Factored
    above: _Wave
    below: _Wave
    shift: Expression
    sign: int
    swapped: bool = False
    turned: bool = False
    without_variable: bool = False

    def _parts(self) -> tuple[tuple[Expression, str], tuple[Expression, str]]:
        """The two terms of f(B + d): each the constant in front, and the function of B."""
        cosine, sine = (_value(name, self.shift) for name in ("cos", "sin"))
        if self.swapped:
            cosine, sine = sine, cosine
        minus = (self.above[0] == "cos") ^ (self.sign < 0) ^ self.turned
        other = "sin" if self.above[0] == "cos" else "cos"
        return (cosine, self.above[0]), (opposite(sine) if minus else sine, other)

    def equations(self) -> tuple[Equation, ...]:
        """`A = B + d`, where that is not how A is written, and `f(A) = f(B) cos d + ...`."""
        above, below = self.above[1].tree, self.below[1].tree
        moved = Equation(above, Sum((below, self.shift if self.sign > 0 else Negate(self.shift))))
        parts = (_before(c, Apply(name, below)) for c, name in self._kept())
        identity = Equation(_wave(self.above), sum_of(*parts))
        return (moved, identity) if isinstance(below, Sum) else (identity,)

    def _kept(self) -> tuple[tuple[Expression, str], ...]:
        return tuple((c, name) for c, name in self._parts() if c != Integer(0))

    def terms(self) -> tuple[Expression, ...]:
        """The fraction as terms that can be integrated, without the constant in front."""
        found = []
        for c, name in self._kept():
            if name == self.below[0]:
                found.append(c)
            else:
                ratio = Apply("tan" if name == "sin" else "cot", self.below[1].tree)
                found.append(_before(c, ratio))
        return tuple(found)

    def answer(self) -> Expression:
        """The antiderivative."""
        slope, found = self.below[1].slope, []
        for c, name in self._kept():
            if name == self.below[0]:
                whole = c if self.without_variable else _before(c, self.variable)
                found.append(multiplied(self.constant, whole))
            else:
                # the tangent is minus the derivative of the cosine over the cosine
                front = times(self.constant, over(slope))
                size = opposite(c) if name == "sin" else c
                found.append(multiplied(front, _before(size, logarithm(_wave(self.below)))))
        return sum_of(*found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Multiplied:
    """`constant/(f(A) g(B))` with d = A - B.

    Attributes:
        constant: the constant in front.
        first: f and A.
        second: g and B.
        shift: d.
        exponent: that of the sine or cosine of d in front, -1; 0 and 1 are slips.
        upside_down: whether the ratio in the logarithm is the other way up: a slip.
    """

    constant: Factored
    first: _Wave
    second: _Wave
    shift: Expression
    exponent: int = -1
    upside_down: bool = False

    @property
    def mixed(self) -> bool:
        """Whether one is a sine and the other a cosine."""
        return self.first[0] != self.second[0]

    @property
    def divisor(self) -> Expression:
        """The sine or cosine of d, as it is known."""
        return _value("cos" if self.mixed else "sin", self.shift)

    def equations(self) -> tuple[Equation, ...]:
        """`sin d = sin A cos B - cos A sin B`, or the same for the cosine, and its value where that is known."""
        whole = Apply("cos" if self.mixed else "sin", self.shift)
        identity = Equation(whole, self._expanded())
        return (identity,) if self.divisor == whole else (identity, Equation(whole, self.divisor))

    def _expanded(self) -> Expression:
        a, b = self.first[1].tree, self.second[1].tree
        if self.mixed:
            return sum_of(product(cos(a), cos(b)), product(sin(a), sin(b)))
        return difference(product(sin(a), cos(b)), product(cos(a), sin(b)))

    @property
    def front(self) -> Factored:
        """All that stands in front of the integral."""
        return times(self.constant, self._size())

    def _size(self) -> Factored:
        divisor = factored(self.divisor)
        return {-1: over(divisor), 0: ONE, 1: divisor}[self.exponent]

    def written(self) -> Expression:
        """The integrand with the identity above the line, without what stands in front."""
        return Quotient(self._expanded(), product(_wave(self.first), _wave(self.second)))

    def terms(self) -> tuple[Expression, Expression]:
        """The two terms that are left when each is divided."""
        a, b = self.first[1].tree, self.second[1].tree
        if self.mixed:
            return Apply("cot", a), Apply("tan", b)
        if self.first[0] == "sin":
            return Apply("cot", b), Negate(Apply("cot", a))
        return Apply("tan", a), Negate(Apply("tan", b))

    def logarithms(self) -> Expression:
        """The antiderivative as each term gives it."""
        above, below = self._ratio()
        front = self._before_logarithms()
        return difference(in_front(front, logarithm(above)), in_front(front, logarithm(below)))

    def answer(self) -> Expression:
        """The antiderivative with one logarithm."""
        above, below = self._ratio()
        ratio = Quotient(below, above) if self.upside_down else Quotient(above, below)
        return in_front(self._before_logarithms(), logarithm(ratio))

    def _before_logarithms(self) -> Factored:
        return times(self.constant, over(self.first[1].slope), self._size())

    def _ratio(self) -> tuple[Expression, Expression]:
        first, second = _wave(self.first), _wave(self.second)
        return (first, second) if self.mixed else (second, first)


def _before(size: Expression, body: Expression) -> Expression:
    """A number such as `-sqrt(2)/2`, or a sine or cosine of a constant, with something: `x cos a`, `-sin a cot x`."""
    if isinstance(size, Negate):
        return Negate(_before(size.operand, body))
    if size == Integer(1):
        return body
    return (
        product(body, size) if isinstance(body, Symbol) and isinstance(size, Apply) else product(size, body)
    )


def _wave(wave: _Wave) -> Expression:
    return Apply(wave[0], wave[1].tree)


def _value(name: str, shift: Expression) -> Expression:
    """The sine or cosine of d: known exactly for parts of pi, else as it stands."""
    whole = Apply(name, shift)
    return exact_value(whole) if shift.holds(Constant) and not shift.symbols() else whole


Shifted: TypeAlias = Divided | Multiplied


@lru_cache(maxsize=64)
def shifted_angles(integrand: Expression, variable: Symbol) -> Shifted | None:
    """See an integrand as a fraction of one sine or cosine of each of two such angles, else None.

    >>> x = Symbol("x")
    >>> shifted_angles(1 / (Apply("sin", x) * Apply("sin", x + 1)), x).divisor == Apply("sin", Integer(1))
    True
    """
    constant, moving = split_constant(integrand, variable)
    waves = list[tuple[str, AngleSum, int]]()
    for base, n in moving.powers:
        if not isinstance(base, Apply) or base.function not in CIRCULAR or abs(n) != 1:
            return None
        angle = angle_sum(base.argument, variable)
        powers = [(name, k) for name, k in zip(("sin", "cos"), CIRCULAR[base.function], strict=True) if k]
        if angle is None or len(powers) != 1 or len(waves) == 2:
            return None
        waves.append((powers[0][0], angle, powers[0][1] * int(n)))
    if len(waves) < 2 or min(n for *_, n in waves) > 0 or constant.coefficient == 0:
        return None
    first, second = sorted(waves, key=lambda wave: -wave[2])
    shift = first[1].plus(second[1], -1)
    if shift.moving or shift.is_zero or first[1].moving != second[1].moving:
        return None
    if first[2] > 0:
        return Divided(
            variable=variable,
            constant=constant,
            above=first[:2],
            below=second[:2],
            shift=shift.rising.tree,
            sign=-1 if shift.falls else 1,
        )
    found = Multiplied(constant=constant, first=first[:2], second=second[:2], shift=shift.rising.tree)
    if shift.falls and not found.mixed:
        found = replace(found, first=second[:2], second=first[:2])
    if found.mixed and found.first[0] == "cos":
        found = replace(found, first=found.second, second=found.first)
    return None if found.divisor == Integer(0) else found
