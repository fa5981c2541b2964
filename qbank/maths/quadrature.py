"""Rigorous enclosures of definite integrals, which know nothing of an antiderivative.

    limits -> pieces between exact singular points -> each piece: middle + ends -> one ball -> Enclosed | Refused

The middle of a piece is integrated by `acb.integral` (Gauss-Legendre with error bounds from complex balls, bisection
where that fails: F. Johansson, Numerical integration in arbitrary-precision ball arithmetic, 2018). At an end where the
integrand is not bounded, or which is infinite, the piece stops short: what is left out is bounded by an expansion
that holds all the way to the end (`qbank.maths.tails`), and near a finite end the integral is taken in u with
x = a + e^-u, near an infinite one with slow decay in u with x = e^u.

A pole inside the interval can never give a number: every ball around it is non-finite. Where the integrand is not
real on part of the interval, the same happens. One limit of this: a gap in the domain narrower than the accuracy asked
for, inside the interval and away from its ends, may go unnoticed; the number is then right for the rest of it.

Work is bounded by counting operations, never by time, so that the same integral ends the same way on every machine.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Any, Literal, TypeAlias

from flint import acb, arb, ctx

from qbank.maths.clock import Deadline
from qbank.maths.complex_balls import BallFunction, OutsideTheLanguage, ball_function
from qbank.maths.ends import BadLimit, End, as_limit, as_rational, middle, order, points_inside
from qbank.maths.expansions import Algebra, Expansion
from qbank.maths.expression import Expression, Symbol, fraction
from qbank.maths.growth import Beyond, Growth, TooSoon, Undecided, exact, number
from qbank.maths.tails import Diverges, expand, tail_integral

__all__ = ["EFFORT", "Enclosed", "Enclosure", "Refused", "integrate_rigorously"]

Ball: TypeAlias = Any

_NOT_FOUND = "no enclosure was found with the work allowed"
#: starts that are tried for a tail: the integral is taken up to there
_STARTS = (8, 32, 128, 512, 2**12, 2**20, 2**40, 2**80, 2**160, 2**320)
#: up to this start a tail towards infinity is integrated in x itself, beyond it in ln x
_DIRECT = 512
#: an enclosure wider than this part of the value is no use to anybody
_COARSE = 10**-3
#: what is tried when the digits wanted were too many
_FEW = 8
#: values beyond this power of two are not written out
_LARGE = 100_000
#: evaluations of the integrand for one stretch; beyond, what is left is enclosed as it is
_EVALUATIONS = 60_000
#: operations on balls for one integral: an evaluation costs as many as the integrand has nodes
EFFORT = 500_000
#: what an attempt at a tail costs for each node of the integrand, in the same unit
_TAIL = 300
#: part of the effort that is kept for an enclosure of fewer digits
_KEPT = fraction(2, 5)
#: seconds of computing after which a machine has stopped making sense; no integral comes near
_NET = 300.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Enclosed:
    """The integral lies between two rational numbers.

    Attributes:
        lower: a number not above it.
        upper: a number not below it.
        digits_text: the decimal digits that are certain, at most as many as were asked for.
    """

    lower: Fraction
    upper: Fraction
    digits_text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Refused:
    """No enclosure.

    Attributes:
        reason: why, in one sentence.
    """

    reason: str


Enclosure: TypeAlias = Enclosed | Refused
_Nature: TypeAlias = Literal["smooth", "bounded", "unbounded"]


class _GivenUp(Exception):  # noqa: N818 - a way out, caught in this module
    """No enclosure of a piece; the text is the reason."""


class _TooMuch(_GivenUp):
    """More digits than the work allowed; fewer may still be had."""


def integrate_rigorously(
    integrand: Expression,
    variable: Symbol,
    lower: Expression,
    upper: Expression,
    *,
    digits: int = 20,
    effort: int = EFFORT,
) -> Enclosure:
    """Enclose a definite integral, or say why not.

    Args:
        integrand: a function of the variable alone, meant on the real line.
        variable: the variable of integration.
        lower: the lower limit, a constant expression or plus or minus infinity.
        upper: the upper limit, likewise; below the lower one the integral changes its sign.
        digits: how many significant digits are wanted.
        effort: operations on balls that may be spent, a few microseconds each.

    Returns:
        An enclosure (perhaps of fewer digits than were wanted), or the reason why there is none: a pole, a part of
        the interval where the integrand is not real, a divergent integral, a singularity of an unknown kind, a
        letter without a value, more work than is allowed.

    >>> from qbank.maths.expression import PI, Integer, Negate, sin
    >>> x = Symbol("x")
    >>> integrate_rigorously(sin(x), x, Integer(0), PI).digits_text
    '2.0000000000000000000'
    >>> integrate_rigorously(1 / x, x, Negate(Integer(1)), Integer(1))
    Refused(reason='the integral diverges at x = 0: the integrand is of order |x - a|^(-1)')
    """
    refusal = Refused(reason=_NOT_FOUND)
    purse = _Purse(effort, sum(1 for _ in integrand.walk()))
    for wanted in sorted({digits, min(digits, _FEW)}, reverse=True):
        purse.keep(0 if wanted <= _FEW else int(effort * _KEPT))
        try:
            return _enclose(integrand, variable, (lower, upper), wanted, purse)
        except OutsideTheLanguage as problem:
            return Refused(reason=str(problem))
        except _TooMuch as problem:
            refusal = Refused(reason=str(problem))
        except (_GivenUp, BadLimit) as problem:
            return Refused(reason=str(problem))
    return refusal


def _enclose(
    integrand: Expression,
    variable: Symbol,
    limits: tuple[Expression, Expression],
    digits: int,
    purse: _Purse,
) -> Enclosed:
    with ctx.workprec(int(digits * 3.33) + 80):
        start, end = as_limit(limits[0]), as_limit(limits[1])
        work = _Work(integrand, variable, digits, purse)
        sign = order(start, end)
        if sign == 0:
            return _report(arb(0), digits)
        total = work.integrate(*((start, end) if sign > 0 else (end, start)))
        return _report(total if sign > 0 else -total, digits)


def _report(total: Ball, digits: int) -> Enclosed:
    if total.is_finite() and not abs(total) < arb(2) ** _LARGE:
        raise _GivenUp("the value of the integral is too large to be written out")
    if not total.rad() <= _COARSE * (1 + abs(total.mid())):
        raise _TooMuch("no useful enclosure was found with the work allowed")
    least, most = _below(total.lower()), -_below((-total).lower())
    text = total.str(digits, radius=False)
    if least <= 0 <= most:
        size = max(most, -least)
        places = next((k for k in range(digits, 0, -1) if size < Fraction(1, 10**k)), 0)
        text = "0" if not size else "0." + "0" * places
    return Enclosed(lower=least, upper=most, digits_text=text)


def _below(point: Ball) -> Fraction:
    """A point of a ball (exact), or for a very small one a fraction just below it."""
    mantissa, exponent = (int(part) for part in point.man_exp())
    short = -2 * _LARGE - exponent
    return Fraction(mantissa >> short if short > 0 else mantissa) * fraction(2, 1) ** max(
        exponent, -2 * _LARGE
    )


# ---------------------------------------------------------------------- the work


class _Purse:
    """What is left of the effort for one integral.

    Args:
        effort: operations that may be spent.
        nodes: those that one evaluation of the integrand costs.
    """

    def __init__(self, effort: int, nodes: int) -> None:
        self._left = effort
        self._kept = 0
        self._nodes = nodes
        self._net = Deadline(_NET)

    def keep(self, effort: int) -> None:
        """Lay a part aside: it does not count as left until something else is said."""
        self._kept = effort

    def evaluations(self) -> int:
        """How many evaluations are left; zero when there are none."""
        return 0 if self._net.passed() else max(0, (self._left - self._kept) // self._nodes)

    def spend(self, evaluations: int) -> None:
        """Take out what so many evaluations cost."""
        self._left -= evaluations * self._nodes


class _Work:
    """One integrand with its accuracy and its effort."""

    def __init__(self, integrand: Expression, variable: Symbol, digits: int, purse: _Purse) -> None:
        self.tree = integrand
        self.variable = variable
        self.digits = digits
        self.purse = purse
        self.function = ball_function(integrand, variable)

    def integrate(self, lower: End, upper: End) -> Ball:
        """The sum over the pieces between the exact points where something happens."""
        points = [lower, *points_inside(self.tree, self.variable, lower, upper), upper]
        total = arb(0)
        for start, end in pairwise(points):
            total += self._piece(start, end)
        return total

    def _piece(self, start: End, end: End) -> Ball:
        ends = ((start, 1, self._nature(start, end, 1)), (end, -1, self._nature(end, start, -1)))
        if all(nature == "smooth" for _, _, nature in ends):
            return self._plain(self.function, start.ball(), end.ball())
        inside = middle(start, end)
        return sum((self._half(place, side, nature, inside) for place, side, nature in ends), arb(0))

    def _half(self, place: End, side: int, nature: _Nature, inside: Fraction) -> Ball:
        """The integral between an end of a piece and a point within it."""
        if nature != "smooth":
            try:
                return self._to_the_end(place, side, inside)
            except _GivenUp:
                if nature == "unbounded":
                    raise
        inner = arb(as_rational(inside))
        ends = (place.ball(), inner) if side > 0 else (inner, place.ball())
        return self._plain(self.function, *ends)

    def _nature(self, place: End, other: End, side: int) -> _Nature:
        """Whether the integrand is analytic around an end, or at least bounded next to it."""
        if place.infinite:
            return "unbounded"
        width = arb(2) ** -40
        if not other.infinite:
            width = width * abs(other.ball() - place.ball())
        near = place.ball().union(place.ball() + side * width)
        if not self.function(acb(near), False).is_finite():
            return "unbounded"
        around = acb(place.ball() + arb(0, width.upper()), arb(0, width.upper()))
        return "smooth" if self.function(around, True).is_finite() else "bounded"

    def _plain(self, function: BallFunction, start: Ball, end: Ball) -> Ball:
        goal = arb(10) ** -(self.digits + 4)
        most = min(_EVALUATIONS, self.purse.evaluations())
        if not most:
            raise _TooMuch(_NOT_FOUND)
        count = 0

        def counted(z: Ball, analytic: bool) -> Ball:
            nonlocal count
            count += 1
            return function(z, analytic)

        result = acb.integral(
            counted, start, end, rel_tol=goal, abs_tol=goal * arb(2) ** -40, eval_limit=most
        )
        self.purse.spend(count)
        if result.is_finite():
            return result.real
        if count >= most:
            raise _TooMuch(_NOT_FOUND)
        raise _GivenUp(self._where(function, start, end))

    def _where(self, function: BallFunction, start: Ball, end: Ball) -> str:
        """Bisect towards a point where the integrand has no finite ball."""
        if function is not self.function:
            return "the integrand has no finite bound, or no real value, on part of the interval"
        least, most = Fraction(float(start.mid())), Fraction(float(end.mid()))
        for _ in range(60):
            middle = (least + most) / 2
            left = arb(as_rational(least)).union(arb(as_rational(middle)))
            if function(acb(left), False).is_finite():
                least = middle
            else:
                most = middle
        place = f"{float(least):.6g}"
        place = "0" if abs(least) < Fraction(1, 10**12) else place
        return f"the integrand has no finite bound, or no real value, near {self.variable.name} = {place}"

    # ------------------------------------------------------------------ ends

    def _to_the_end(self, place: End, side: int, inside: Fraction) -> Ball:
        """From an end with a singularity, or an infinite one, to a point within the piece."""
        wanted = arb(10) ** -(self.digits + 2)
        best: tuple[int, Ball] | None = None
        reason = "the behaviour at an end of the interval is not understood"
        for start in _STARTS:
            if self._too_near(place, start, inside):
                continue
            if not self.purse.evaluations():
                break
            self.purse.spend(_TAIL)
            algebra = Algebra(Beyond(start))
            try:
                tail = tail_integral(self._expansion(place, side, algebra), algebra)
            except TooSoon:
                continue
            except Diverges as problem:
                raise _GivenUp(self._divergence(place, problem.growth)) from problem
            except Undecided as problem:
                reason = f"at {self._name(place)} there is {problem}"
                continue
            if tail.is_finite() and (best is None or tail.rad() < best[1].rad()):
                best = (start, tail)
            if best is not None and best[1].rad() < wanted:
                break
        if best is None:
            raise _GivenUp(reason) if self.purse.evaluations() else _TooMuch(_NOT_FOUND)
        start, tail = best
        with ctx.workprec(ctx.prec + 4 * start.bit_length()):
            return self._up_to(place, side, inside, start) + tail

    def _divergence(self, place: End, growth: Growth) -> str:
        """How the integrand behaves where its integral diverges; near a number, y is 1/|x - a|."""
        name = self.variable.name
        if growth.exponent:
            how = (
                "the integrand grows exponentially" if growth.trend > 0 else "the integrand falls too slowly"
            )
        elif place.infinite:
            how = f"the integrand is of order {name}^({growth.power})"
        else:
            how = f"the integrand is of order |{name} - a|^(-{growth.power + 2})"
        return f"the integral diverges at {self._name(place)}: {how}"

    def _name(self, place: End) -> str:
        if place.infinite:
            return "infinity" if place.infinite > 0 else "minus infinity"
        return f"{self.variable.name} = {float(place.ball().mid()):.6g}"

    def _expansion(self, place: End, side: int, algebra: Algebra) -> Expansion:
        """The integrand times |dx/dy|, for x = a + 1/y, a - 1/y, y or -y."""
        if place.infinite:
            x = Expansion(((Growth(power=fraction(1, 1)), exact(place.infinite)),))
            return expand(self.tree, self.variable, x, algebra)
        step = Expansion(((Growth(power=fraction(-1, 1)), exact(side)),))
        x = algebra.add(algebra.constant(place.at), step)
        return algebra.multiply(
            expand(self.tree, self.variable, x, algebra),
            Expansion(((Growth(power=fraction(-2, 1)), exact(1)),)),
        )

    def _too_near(self, place: End, start: int, inside: Fraction) -> bool:
        """Whether the tail from a start would reach beyond the middle."""
        reach = arb(as_rational(inside)) - (0 if place.infinite else place.ball())
        size = abs(reach)
        return not (size < start if place.infinite else size * start > 1)

    def _up_to(self, place: End, side: int, inside: Fraction, start: int) -> Ball:
        """The integral between the middle and the beginning of the tail, left to right."""
        inner = arb(as_rational(inside))
        if place.infinite and start <= _DIRECT:
            far = arb(place.infinite * start)
            return (
                self._plain(self.function, far, inner) if side > 0 else self._plain(self.function, inner, far)
            )
        f = self.function
        if place.infinite:
            return self._slow_tail(place.infinite, inner, start)
        a = place.at

        def in_u(u: Ball, analytic: bool) -> Ball:
            step = (-u).exp()
            return f(acb(number(a)) + side * step, analytic) * step

        return self._plain(in_u, -(abs(inner - place.ball()).log()), arb(start).log())

    def _slow_tail(self, sign: int, inner: Ball, start: int) -> Ball:
        f = self.function

        def in_u(u: Ball, analytic: bool) -> Ball:
            step = u.exp()
            return f(sign * step, analytic) * step

        if inner * sign >= 1:
            return self._plain(in_u, abs(inner).log(), arb(start).log())
        low, high = (inner, arb(1)) if sign > 0 else (arb(-1), inner)
        return self._plain(f, low, high) + self._plain(in_u, arb(0), arb(start).log())
