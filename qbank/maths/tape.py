"""A walk recorded once and replayed at many points: the number system whose numbers are steps of a programme.

    tree --Walk(Tape)--> steps (each: an operation on the results of earlier steps) --Tape.run--> balls at a point

Equal steps are recorded once, so parts that the two sides of an identity share are computed once at each point.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import partial
from typing import Any

from flint import arb

from qbank.maths.balls import Ball, Balls, precision, to_ball

__all__ = ["Step", "Tape"]

_BALLS = Balls({})


def _unary(function: Callable[[Ball], Any]) -> Callable[[Ball, Ball], Any]:
    return lambda ball, _: function(ball)


_NEGATE = _unary(operator.neg)
_EXP, _LN, _LN_ABSOLUTE = _unary(_BALLS.exp), _unary(_BALLS.ln), _unary(_BALLS.ln_absolute)
_COS_SIN, _FIRST, _SECOND = (
    _unary(_BALLS.cos_sin),
    _unary(operator.itemgetter(0)),
    _unary(operator.itemgetter(1)),
)
_ARCTAN, _ARCSIN, _ABSOLUTE = _unary(_BALLS.arctan), _unary(_BALLS.arcsin), _unary(_BALLS.absolute)
_BOUNDED = _unary(_BALLS.bounded)


def _power(base: Ball, _: Ball, *, exponent: Fraction) -> Ball:
    return _BALLS.power(base, exponent)


class Step:
    """The result of one step; its operators record further steps."""

    __slots__ = ("place", "tape")

    def __init__(self, tape: Tape, place: int) -> None:
        self.tape = tape
        self.place = place

    def __neg__(self) -> Step:
        return self.tape.record(_NEGATE, self)

    def __add__(self, other: Step | int) -> Step:
        return self.tape.record(operator.add, self, other)

    def __radd__(self, other: int) -> Step:
        return self.tape.record(operator.add, other, self)

    def __sub__(self, other: Step | int) -> Step:
        return self.tape.record(operator.sub, self, other)

    def __rsub__(self, other: int) -> Step:
        return self.tape.record(operator.sub, other, self)

    def __mul__(self, other: Step | int) -> Step:
        return self.tape.record(operator.mul, self, other)

    def __rmul__(self, other: int) -> Step:
        return self.tape.record(operator.mul, other, self)

    def __truediv__(self, other: Step | int) -> Step:
        return self.tape.record(operator.truediv, self, other)

    def __rtruediv__(self, other: int) -> Step:
        return self.tape.record(operator.truediv, other, self)


class Tape:
    """The number system that records."""

    pointwise = True

    def __init__(self) -> None:
        self._known: dict[Any, int] = {}
        self._numbers: list[tuple[int, Fraction | int]] = []
        self._letters: list[tuple[int, str]] = []
        self._pi: int | None = None
        self._steps: list[tuple[int, Callable[[Ball, Ball], Any], int, int]] = []
        self._count = 0
        #: bits -> the results list with the constants filled in
        self._prepared: dict[int, list[Any]] = {}

    def __len__(self) -> int:
        return len(self._steps)

    def record(self, operation: Callable[[Any, Any], Any], left: Step | int, right: Step | int = 0) -> Step:
        """Record a step, or find it among those recorded."""
        a = left.place if isinstance(left, Step) else self.number(left).place
        b = right.place if isinstance(right, Step) else self.number(right).place
        key = (operation, a, b)
        place = self._known.get(key)
        if place is None:
            place = self._known[key] = self._new()
            self._steps.append((place, operation, a, b))
        return Step(self, place)

    def _new(self) -> int:
        self._count += 1
        return self._count - 1

    def _leaf(self, key: Any, register: Callable[[int], Any]) -> Step:
        place = self._known.get(key)
        if place is None:
            place = self._known[key] = self._new()
            register(place)
        return Step(self, place)

    def number(self, value: Fraction | int) -> Step:
        """A rational number."""
        return self._leaf(value, lambda place: self._numbers.append((place, value)))

    def pi(self) -> Step:
        """The circle constant."""
        return self._leaf("pi", lambda place: setattr(self, "_pi", place))

    def letter(self, name: str) -> Step:
        """A letter, given a value at each run."""
        return self._leaf(("letter", name), lambda place: self._letters.append((place, name)))

    def power(self, base: Step, exponent: Fraction) -> Step:
        """A real power."""
        key = ("power", exponent)
        operation = self._known.setdefault(key, partial(_power, exponent=exponent))  # type: ignore[arg-type]
        return self.record(operation, base)  # type: ignore[arg-type]

    def exp(self, argument: Step) -> Step:
        """The exponential function."""
        return self.record(_EXP, argument)

    def ln(self, argument: Step) -> Step:
        """The natural logarithm."""
        return self.record(_LN, argument)

    def ln_absolute(self, argument: Step) -> Step:
        """The natural logarithm of the absolute value."""
        return self.record(_LN_ABSOLUTE, argument)

    def cos_sin(self, angle: Step) -> tuple[Step, Step]:
        """Cosine and sine."""
        both = self.record(_COS_SIN, angle)
        return self.record(_FIRST, both), self.record(_SECOND, both)

    def arctan(self, argument: Step) -> Step:
        """The inverse tangent."""
        return self.record(_ARCTAN, argument)

    def arcsin(self, argument: Step) -> Step:
        """The inverse sine."""
        return self.record(_ARCSIN, argument)

    def absolute(self, argument: Step) -> Step:
        """The absolute value."""
        return self.record(_ABSOLUTE, argument)

    def bounded(self, argument: Step) -> Step:
        """The same number, seen to be bounded."""
        return self.record(_BOUNDED, argument)

    def start(self, letters: Mapping[str, Fraction], bits: int) -> list[Any]:
        """The results before the first step: constants and letters, at so many bits."""
        results = self._prepared.get(bits)
        if results is None:
            with precision(bits):
                results = self._prepared[bits] = [None] * self._count
                for place, value in self._numbers:
                    results[place] = to_ball(value)
                if self._pi is not None:
                    results[self._pi] = arb.pi()
        results = results.copy()
        for place, name in self._letters:
            results[place] = to_ball(letters[name])
        return results

    def run(self, results: list[Any], first: int, last: int) -> None:
        """Carry out the steps from `first` up to, but not including, `last` at the working precision.

        Raises:
            Undefined: when a step has no real value.
            Blurred: when that cannot be told at this precision.
        """
        for place, operation, a, b in self._steps[first:last]:
            results[place] = operation(results[a], results[b])
