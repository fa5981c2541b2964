"""An exponential times sines and cosines of one angle, `e^(ax) (p sin bx + q cos bx)`: its integral is of the same kind.

    int e^(ax) sin bx dx = e^(ax) (a sin bx - b cos bx)/(a^2 + b^2)
    int e^(ax) cos bx dx = e^(ax) (b sin bx + a cos bx)/(a^2 + b^2)      NIST DLMF 4.26.7 and 4.26.8

Beside a polynomial it is the part that is integrated; both integrals are found at the side first.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import gcd, lcm

from qbank.maths.expression import (
    Apply,
    E,
    Expression,
    Integral,
    Power,
    Sum,
    Symbol,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.polynomial import as_linear
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["ExponentialWave", "exponential_wave", "found_at_the_side", "side_lines"]


@dataclass(frozen=True, slots=True, kw_only=True)
class ExponentialWave:
    """`e^(ax) (sine sin bx + cosine cos bx)`.

    Attributes:
        exponential: e^(ax), as it was written.
        angle: bx, perhaps with a number added.
        rate: a.
        slope: b.
        sine: the number before the sine.
        cosine: the number before the cosine.
    """

    exponential: Expression
    angle: Expression
    rate: Fraction
    slope: Fraction
    sine: Fraction
    cosine: Fraction

    def tree(self) -> Expression:
        """Written with one number in front and one bracket, the sine first unless only it has a minus sign."""
        terms = [(self.sine, Apply("sin", self.angle)), (self.cosine, Apply("cos", self.angle))]
        kept = [(size, function) for size, function in terms if size]
        if len(kept) == 1:
            return scaled(kept[0][0], product(self.exponential, kept[0][1]))
        below = lcm(*(size.denominator for size, _ in kept))
        front = Fraction(gcd(*(int(size * below) for size, _ in kept)), below)
        if all(size < 0 for size, _ in kept):
            front = -front
        elif kept[0][0] < 0:
            kept.reverse()
        bracket = sum_of(*(scaled(size / front, function) for size, function in kept))
        return scaled(front, product(self.exponential, bracket))

    def integral(self) -> ExponentialWave:
        """An antiderivative.

        >>> x = Symbol("x")
        >>> wave = exponential_wave(factored(Power(E, x) * Apply("sin", x)), x)
        >>> wave.integral().sine, wave.integral().cosine
        (Fraction(1, 2), Fraction(-1, 2))
        """
        a, b = self.rate, self.slope
        size = a * a + b * b
        return replace(
            self,
            sine=(a * self.sine + b * self.cosine) / size,
            cosine=(a * self.cosine - b * self.sine) / size,
        )

    def alone(self, sine: int, cosine: int) -> ExponentialWave:
        """The same with other numbers before the sine and the cosine."""
        return replace(self, sine=Fraction(sine), cosine=Fraction(cosine))


def exponential_wave(seen: Factored, variable: Symbol) -> ExponentialWave | None:
    """A product as such a wave, else None."""
    if len(seen.powers) != 2 or any(n != 1 for _, n in seen.powers):
        return None
    found = [(base, other) for (base, _), (other, _) in (seen.powers, seen.powers[::-1]) if _is_power(base)]
    if len(found) != 1:
        return None
    exponential, waves = found[0]
    assert isinstance(exponential, Power)  # it was seen to be
    parts = _waves(waves)
    line = as_linear(exponential.exponent, variable)
    inside = None if parts is None else as_linear(parts[0], variable)
    if parts is None or line is None or inside is None:
        return None
    angle, sine, cosine = parts
    return ExponentialWave(
        exponential=exponential,
        angle=angle,
        rate=line[0],
        slope=inside[0],
        sine=sine * seen.coefficient,
        cosine=cosine * seen.coefficient,
    )


def _is_power(tree: Expression) -> bool:
    return isinstance(tree, Power) and tree.base == E


def _waves(tree: Expression) -> tuple[Expression, Fraction, Fraction] | None:
    """The angle, and the numbers before its sine and cosine."""
    angles, sizes = set[Expression](), {"sin": fraction(0, 1), "cos": fraction(0, 1)}
    for term in tree.terms if isinstance(tree, Sum) else (tree,):
        seen = factored(term)
        match seen.powers:
            case ((Apply("sin" | "cos" as function, angle), Fraction(numerator=1, denominator=1)),):
                angles.add(angle)
                sizes[function] += seen.coefficient
            case _:
                return None
    return (angles.pop(), sizes["sin"], sizes["cos"]) if len(angles) == 1 and any(sizes.values()) else None


def side_lines(working: Working, wave: ExponentialWave, variable: Symbol) -> None:
    """Find the integrals of `e^(ax) sin bx` and `e^(ax) cos bx` at the side."""
    sine, cosine = wave.alone(1, 0), wave.alone(0, 1)
    over, ratio = 1 / wave.rate, wave.slope / wave.rate
    integrals = {one: Integral(one.tree(), variable) for one in (sine, cosine)}
    for one, other, sign, said in (
        (sine, cosine, -1, say("At the side: by parts, with the exponential integrated.")),
        (cosine, sine, 1, say("The same with the cosine.")),
    ):
        right = sum_of(scaled(over, one.tree()), scaled(sign * ratio, integrals[other]))
        working.balance(integrals[one], right, rule="by-parts", reason=said)
    for one, said in (
        (sine, say("Put the second of these into the first and solve for the integral.")),
        (cosine, say("Put the first into the second and solve as well.")),
    ):
        working.balance(integrals[one], one.integral().tree(), rule="divide", reason=said)


def found_at_the_side(core: Expression, variable: Symbol) -> WorkedSolution | None:
    """The working of an integral of such a wave, when both integrals are known already; else None."""
    wave = exponential_wave(factored(core), variable)
    if wave is None:
        return None
    working = Working("by-parts", core, variable)
    working.step(wave.integral().tree(), "standard-integral", say("Use the integrals found at the side."))
    return working.finish()
