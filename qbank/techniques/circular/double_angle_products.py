"""Powers of functions of an angle beside powers of the sine of twice the angle: one identity leaves one angle.

sin x sin^7 2x             sin 2x = 2 sin x cos x      128 int sin^8 x cos^7 x dx
cos(a + b x) cosec^2(2a + 2b x)                        1/4 int sec(a + b x) cosec^2(a + b x) dx

What is left is for the powers of sine and cosine of one angle. Where one of them is odd, as in cos^2 x sin 2x, this is the
first way; sin x sin 2x, and what leaves two even powers, goes by product to sum, which is taught before it.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import before_integral, number, split_constant, times
from qbank.maths.expression import Apply, Expression, Integer, Integral, Symbol, fraction, product
from qbank.maths.factors import Factored
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.circular.angles import Angle, as_angle
from qbank.techniques.circular.circular_powers import CIRCULAR, POWER_LIMIT, power_product
from qbank.techniques.slips import slips_of
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["double_angle_products"]

_IDENTIFIER = "double-angle-products"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """`constant * sin^m A cos^n A * sin^k(2A)`.

    Attributes:
        constant: in front.
        angle: A.
        double: 2A as it was written.
        sine: m.
        cosine: n.
        power: k, not 0.
    """

    constant: Factored
    angle: Angle
    double: Expression
    sine: int
    cosine: int
    power: int

    @property
    def single(self) -> Expression:
        """The powers of one angle, without the number that the identity brings."""
        powers = (("sin", Fraction(self.sine + self.power)), ("cos", Fraction(self.cosine + self.power)))
        return power_product(self.angle.tree, powers)

    def front(self, base: Fraction | None = None) -> Factored:
        """The constant before them; the number is a power of 2, or what a slip makes of it."""
        return times(self.constant, number(fraction(2, 1) ** self.power if base is None else base))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """An integrand of this kind, and the working of what is left."""

    seen: _Seen
    solution: WorkedSolution


def double_angle_products(solve: Solver, families: tuple[Technique, ...]) -> Technique:
    """The technique, given what solves the integral in one angle, and whose slips may occur in it."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> _Found | None:
        seen = _seen(integrand, variable)
        solution = None if seen is None else solved_beside(integrand, solve, seen.single, variable)
        if seen is None or solution is None:
            return None
        return _Found(seen=seen, solution=solution)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, found)

    slip = slips_of(_IDENTIFIER, find)

    def carried(slip_: Slip, family: str) -> Slip:
        def wrong(found: _Found) -> Expression | None:
            if found.solution.technique != family:
                return None
            changed = slip_.answer(found.solution)
            return None if changed is None else multiplied(found.seen.front(), changed)

        return slip(slip_.identifier, slip_.sentence, wrong)

    def cosine_lost(found: _Found) -> Expression | None:
        """`sin 2A = 2 sin A`."""
        seen = found.seen
        powers = (("sin", Fraction(seen.sine + seen.power)), ("cos", Fraction(seen.cosine)))
        solution = solve(power_product(seen.angle.tree, powers), found.solution.variable)
        return None if solution is None else multiplied(seen.front(), solution.antiderivative)

    return Technique(
        identifier=_IDENTIFIER,
        title="Products with the sine of twice the angle: the identity leaves one angle",
        work=work,
        slips=(
            slip(
                "two-lost",
                say("The sine of twice an angle is two times sine times cosine: do not lose the two."),
                lambda found: _with(found, fraction(1, 1)),
            ),
            slip(
                "two-not-raised",
                say("When a product is raised to a power, each factor is, the number too."),
                lambda found: None if found.seen.power == 1 else _with(found, fraction(2, 1)),
            ),
            slip(
                "cosine-lost",
                say("The sine of twice an angle is two times sine times cosine, not twice the sine."),
                cosine_lost,
            ),
            *(carried(one, family.identifier) for family in families for one in family.slips),
        ),
        first_for=_leaves_an_odd_power,
    )


def _leaves_an_odd_power(integrand: Expression, variable: Symbol) -> bool:
    """Whether sines and cosines are left that one substitution integrates, and more than a plain product was there."""
    seen = _seen(integrand, variable)
    if seen is None or min(seen.sine, seen.cosine, seen.power) < 0:
        return False
    odd = (seen.sine + seen.power) % 2 or (seen.cosine + seen.power) % 2
    return bool(odd) and seen.sine + seen.cosine + seen.power > 2


def _with(found: _Found, base: Fraction) -> Expression:
    return multiplied(found.seen.front(base), found.solution.antiderivative)


def _worked(integrand: Expression, variable: Symbol, found: _Found) -> WorkedSolution:
    seen = found.seen
    working = Working(_IDENTIFIER, integrand, variable)
    working.aside(
        Apply("sin", seen.double),
        product(Integer(2), Apply("sin", seen.angle.tree), Apply("cos", seen.angle.tree)),
        "double-angle",
        say("One angle is twice the other: the sine of the double angle is two times sine times cosine."),
    )
    working.step(
        before_integral(seen.front(), Integral(seen.single, variable)),
        "double-angle",
        say("Put this in and collect the powers: one angle is left."),
    )
    carry(working, found.solution.lines, lambda line: multiplied(seen.front(), line))
    return working.finish()


def _seen(integrand: Expression, variable: Symbol) -> _Seen | None:
    """See an integrand as such a product, else None."""
    constant, moving = split_constant(integrand, variable)
    if len(moving.powers) < 2:
        return None
    functions = list[tuple[str, Angle, int]]()
    for base, n in moving.powers:
        if not isinstance(base, Apply) or base.function not in CIRCULAR or n.denominator != 1:
            return None
        angle = as_angle(base.argument, variable)
        if angle is None or abs(n) > POWER_LIMIT:
            return None
        functions.append((base.function, angle, int(n)))
    angles = sorted((angle for _, angle, _ in functions), key=lambda angle: abs(angle.slope))
    if not angles or abs(angles[0].slope) == abs(angles[-1].slope):
        return None
    angle, double = angles[0], angles[-1]
    if not double.same_as(angle.times(2)):
        return None
    sine = cosine = power = 0
    for name, one, k in functions:
        if one.same_as(angle):
            sine, cosine = sine + k * CIRCULAR[name][0], cosine + k * CIRCULAR[name][1]
        elif one.same_as(double) and name in ("sin", "cosec"):
            power += k * CIRCULAR[name][0]
        else:
            return None
    if not power or not (sine or cosine) or abs(sine) + abs(cosine) + 2 * abs(power) > POWER_LIMIT:
        return None
    return _Seen(constant=constant, angle=angle, double=double.tree, sine=sine, cosine=cosine, power=power)
