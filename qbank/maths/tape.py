"""A walk recorded once and replayed at many points: the number system whose numbers are steps of a programme.

    tree --Walk(Tape)--> steps (each: an operation on the results of earlier steps) --Tape.run--> balls at a point

Equal steps are recorded once, so parts that the two sides of an identity share are computed once at each point. Which
results are bounded whatever the point is known while recording; only the others are looked at when replaying.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Any

from flint import arb

from qbank.maths.balls import Ball, Balls, precision, to_ball
from qbank.maths.samples import Point

__all__ = ["Step", "Tape"]

_BALLS = Balls({})
#: stands for the second operand of an operation that has only one
_NONE = -1

# operations on an operand that is known to be bounded are the library's own; the others look at it
_EXP, _SIN_COS, _ARCTAN, _ABSOLUTE = arb.exp, arb.sin_cos, arb.atan, abs
_SINE, _COSINE = operator.itemgetter(0), operator.itemgetter(1)
_LN, _LN_ABSOLUTE, _ARCSIN, _BOUNDED = _BALLS.ln, _BALLS.ln_absolute, _BALLS.arcsin, _BALLS.bounded

#: operations whose result is bounded when the operands are
_KEEPING = frozenset({operator.neg, operator.add, operator.sub, operator.mul, _ABSOLUTE, _LN, _LN_ABSOLUTE})
#: operations with a smooth value for all real numbers, single ones apart (zero as a divisor or under ln | |)
_NEARLY_TOTAL = frozenset(
    {
        operator.neg,
        operator.add,
        operator.sub,
        operator.mul,
        operator.truediv,
        _EXP,
        _LN_ABSOLUTE,
        _SIN_COS,
        _SINE,
        _COSINE,
        _ARCTAN,
        _BOUNDED,
    }
)


class Step:
    """The result of one step; its operators record further steps."""

    __slots__ = ("place", "tape")

    def __init__(self, tape: Tape, place: int) -> None:
        self.tape = tape
        self.place = place

    def __neg__(self) -> Step:
        return self.tape.record(operator.neg, self)

    def __add__(self, other: Step | int) -> Step:
        return self.tape.record(operator.add, self, other)

    def __radd__(self, other: int) -> Step:
        return self.tape.record(operator.add, self.tape.number(other), self)

    def __sub__(self, other: Step | int) -> Step:
        return self.tape.record(operator.sub, self, other)

    def __rsub__(self, other: int) -> Step:
        return self.tape.record(operator.sub, self.tape.number(other), self)

    def __mul__(self, other: Step | int) -> Step:
        return self.tape.record(operator.mul, self, other)

    def __rmul__(self, other: int) -> Step:
        return self.tape.record(operator.mul, self.tape.number(other), self)

    def __truediv__(self, other: Step | int) -> Step:
        return self.tape.record(operator.truediv, self, other)

    def __rtruediv__(self, other: int) -> Step:
        return self.tape.record(operator.truediv, self.tape.number(other), self)


class Tape:
    """The number system that records.

    Attributes:
        is_nearly_total: whether every step recorded here has a smooth value for all operands, single ones apart.
    """

    pointwise = True

    def __init__(self) -> None:
        self.is_nearly_total = True
        self._known: dict[Any, int] = {}
        self._numbers: list[tuple[int, Fraction | int]] = []
        self._letters: list[tuple[int, str]] = []
        self._pi = self._one = _NONE
        self._steps: list[tuple[int, Callable[..., Any], int, int]] = []
        self._first = self._count = 0
        #: places of results that are bounded whatever the point, and of numbers that are not zero
        self._bounded: set[int] = set()
        self._divisors: set[int] = set()
        #: bits -> the results of this tape with the constants filled in
        self._prepared: dict[int, list[Any]] = {}

    def __len__(self) -> int:
        return len(self._steps)

    def fork(self) -> Tape:
        """A tape that goes on where this one ends, and knows what is recorded here; this one stays as it is."""
        onward = Tape()
        onward._known = self._known.copy()
        onward._bounded, onward._divisors = self._bounded.copy(), self._divisors.copy()
        onward._one = self._one
        onward._first = onward._count = self._count
        return onward

    def record(
        self,
        operation: Callable[..., Any],
        left: Step,
        right: Step | int | None = None,
        *,
        bounds: bool = False,
        nearly_total: bool = False,
    ) -> Step:
        """Record a step, or find it among those recorded.

        Args:
            operation: what is done.
            left: its first operand.
            right: its second, if it has two.
            bounds: whether the result is bounded in any case.
            nearly_total: whether it has a smooth value for nearly all operands, like the operations listed above.
        """
        a, b = left.place, _NONE
        if right is not None:
            b = right.place if isinstance(right, Step) else self.number(right).place
            if operation is operator.mul and self._one in (a, b):
                return Step(self, a if b == self._one else b)
        key = (operation, a, b)
        place = self._known.get(key)
        if place is None:
            place = self._known[key] = self._new()
            self._steps.append((place, operation, a, b))
            divides = operation is operator.truediv and b in self._divisors
            if not bounds and (divides or operation in _KEEPING):
                bounds = a in self._bounded and (b == _NONE or b in self._bounded)
            if bounds:
                self._bounded.add(place)
            self.is_nearly_total = self.is_nearly_total and (nearly_total or operation in _NEARLY_TOTAL)
        return Step(self, place)

    def _new(self) -> int:
        self._count += 1
        return self._count - 1

    def _leaf(self, key: Any) -> tuple[int, bool]:
        """The place of a number or a letter, and whether it is new."""
        place = self._known.get(key)
        if place is not None:
            return place, False
        place = self._known[key] = self._new()
        self._bounded.add(place)
        return place, True

    def number(self, value: Fraction | int) -> Step:
        """A rational number."""
        # whole numbers and pairs of them are found faster than fractions
        over, under = value.numerator, value.denominator
        place, new = self._leaf(over if under == 1 else (over, under))
        if new:
            self._numbers.append((place, value))
            if over:
                self._divisors.add(place)
            if over == under:
                self._one = place
        return Step(self, place)

    def pi(self) -> Step:
        """The circle constant."""
        place, new = self._leaf("pi")
        if new:
            self._pi = place
        return Step(self, place)

    def letter(self, name: str) -> Step:
        """A letter, given a value at each run."""
        place, new = self._leaf(("letter", name))
        if new:
            self._letters.append((place, name))
        return Step(self, place)

    def power(self, base: Step, exponent: Fraction | int) -> Step:
        """A real power: a whole one of a root, so that all powers of one root have that step in common."""
        over, under = exponent.numerator, exponent.denominator
        if under > 1:
            base = self.record(_root(under), base, bounds=base.place in self._bounded)
            if over == 1:
                return base
        return self.record(_power(over), self.bounded(base), bounds=over >= 0, nearly_total=True)

    def exp(self, argument: Step) -> Step:
        """The exponential function."""
        return self.record(_EXP, self.bounded(argument))

    def ln(self, argument: Step) -> Step:
        """The natural logarithm."""
        return self.record(_LN, argument)

    def ln_absolute(self, argument: Step) -> Step:
        """The natural logarithm of the absolute value."""
        return self.record(_LN_ABSOLUTE, argument)

    def cos_sin(self, angle: Step) -> tuple[Step, Step]:
        """Cosine and sine."""
        both = self.record(_SIN_COS, self.bounded(angle))
        return self.record(_COSINE, both, bounds=True), self.record(_SINE, both, bounds=True)

    def arctan(self, argument: Step) -> Step:
        """The inverse tangent."""
        return self.record(_ARCTAN, self.bounded(argument), bounds=True)

    def arcsin(self, argument: Step) -> Step:
        """The inverse sine."""
        return self.record(_ARCSIN, argument, bounds=True)

    def absolute(self, argument: Step) -> Step:
        """The absolute value."""
        return self.record(_ABSOLUTE, argument)

    def bounded(self, argument: Step) -> Step:
        """The same number, seen to be bounded."""
        return argument if argument.place in self._bounded else self.record(_BOUNDED, argument, bounds=True)

    def start(self, point: Point, bits: int, earlier: Sequence[Any] = ()) -> list[Any]:
        """The results before the first step: constants and letters, at so many bits.

        Args:
            point: the values of the letters.
            bits: the working precision.
            earlier: for a fork, all results of the tape that it goes on from, at the same point and precision.
        """
        prepared = self._prepared.get(bits)
        if prepared is None:
            with precision(bits):
                prepared = self._prepared[bits] = self._constants()
        results = [*earlier, *prepared]
        if self._letters:
            balls = point.balls(bits)
            for place, name in self._letters:
                results[place] = balls[name]
        return results

    def _constants(self) -> list[Any]:
        """The results with the constants filled in, at the working precision."""
        results: list[Any] = [None] * (self._count - self._first)
        for place, value in self._numbers:
            results[place - self._first] = to_ball(value)
        if self._pi != _NONE:
            results[self._pi - self._first] = arb.pi()
        return results

    def run(self, results: list[Any]) -> None:
        """Carry out the steps at the working precision.

        Args:
            results: from `start`; they are filled in.

        Raises:
            Undefined: when a step has no real value.
            Blurred: when that cannot be told at this precision.
        """
        for place, operation, a, b in self._steps:
            results[place] = operation(results[a]) if b < 0 else operation(results[a], results[b])


@lru_cache(maxsize=256)
def _power(exponent: int) -> Callable[[Ball], Any]:
    """The operation of raising to a whole power, the same object for the same power."""
    return lambda ball: ball**exponent


@lru_cache(maxsize=256)
def _root(index: int) -> Callable[[Ball], Any]:
    """The operation of taking a root, the same object for the same root."""
    if index == 2:
        return _BALLS.square_root
    exponent = Fraction(1, index)
    return lambda ball: _BALLS.power(ball, exponent)
