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
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Any, Literal, TypeAlias

from flint import acb, arb, ctx, fmpq, fmpq_poly

from qbank.maths.complex_balls import BallFunction, OutsideTheLanguage, ball_function, exact_number
from qbank.maths.expansions import Algebra, Expansion
from qbank.maths.expression import (
    INFINITY,
    PI,
    Apply,
    Expression,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
)
from qbank.maths.growth import Beyond, Coefficient, Growth, TooSoon, Undecided, exact, minus, number
from qbank.maths.tails import Diverges, expand, tail_integral

__all__ = ["Enclosed", "Enclosure", "Refused", "integrate_rigorously"]

Ball: TypeAlias = Any

_NAN = acb(arb.nan(), arb.nan())
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


class _OutOfTime(_GivenUp):
    """More digits than the time or the work allowed; fewer may still be had."""


def integrate_rigorously(
    integrand: Expression,
    variable: Symbol,
    lower: Expression,
    upper: Expression,
    *,
    digits: int = 20,
    budget: float = 2.0,
) -> Enclosure:
    """Enclose a definite integral, or say why not.

    Args:
        integrand: a function of the variable alone, meant on the real line.
        variable: the variable of integration.
        lower: the lower limit, a constant expression or plus or minus infinity.
        upper: the upper limit, likewise; below the lower one the integral changes its sign.
        digits: how many significant digits are wanted.
        budget: seconds of this thread's computing that may be spent.

    Returns:
        An enclosure (perhaps of fewer digits than were wanted), or the reason why there is none: a pole, a part of
        the interval where the integrand is not real, a divergent integral, a singularity of an unknown kind, a
        letter without a value, no time left.

    >>> from qbank.maths.expression import Integer, sin
    >>> x = Symbol("x")
    >>> integrate_rigorously(sin(x), x, Integer(0), PI).digits_text
    '2.0000000000000000000'
    >>> integrate_rigorously(1 / x, x, Negate(Integer(1)), Integer(1))
    Refused(reason='the integral diverges at x = 0: the integrand is of order |x - a|^(-1)')
    """
    refusal = Refused(reason="no time was given")
    stop = time.thread_time() + budget
    for wanted in sorted({digits, min(digits, _FEW)}, reverse=True):
        rest = stop - time.thread_time()
        deadline = stop if wanted <= _FEW else stop - 0.4 * rest
        try:
            return _enclose(integrand, variable, (lower, upper), wanted, deadline)
        except OutsideTheLanguage as problem:
            return Refused(reason=str(problem))
        except _OutOfTime as problem:
            refusal = Refused(reason=str(problem))
        except _GivenUp as problem:
            return Refused(reason=str(problem))
    return refusal


def _enclose(
    integrand: Expression,
    variable: Symbol,
    limits: tuple[Expression, Expression],
    digits: int,
    deadline: float,
) -> Enclosed:
    with ctx.workprec(int(digits * 3.33) + 80):
        start, end = _limit(limits[0]), _limit(limits[1])
        work = _Work(integrand, variable, digits, deadline)
        sign = _order(start, end)
        if sign == 0:
            return _report(arb(0), digits)
        total = work.integrate(*((start, end) if sign > 0 else (end, start)))
        return _report(total if sign > 0 else -total, digits)


def _report(total: Ball, digits: int) -> Enclosed:
    if total.is_finite() and not abs(total) < arb(2) ** _LARGE:
        raise _GivenUp("the value of the integral is too large to be written out")
    if not total.rad() <= _COARSE * (1 + abs(total.mid())):
        raise _OutOfTime("no useful enclosure was found with the work allowed")
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
    return Fraction(mantissa >> short if short > 0 else mantissa) * Fraction(2) ** max(exponent, -2 * _LARGE)


# ---------------------------------------------------------------------- the ends


@dataclass(frozen=True, slots=True, kw_only=True)
class _End:
    """An end of a piece: a number (exact where it can be), or an infinity.

    Attributes:
        at: the number; None for an infinity.
        infinite: 1 or -1 for an infinity, else 0.
    """

    at: Coefficient = None
    infinite: int = 0

    def ball(self) -> Ball:
        return number(self.at)


def _limit(tree: Expression) -> _End:
    if tree == INFINITY:
        return _End(infinite=1)
    if isinstance(tree, Negate) and tree.operand == INFINITY:
        return _End(infinite=-1)
    value = _linear_in_pi(tree)
    if value is None:
        ball = ball_function(tree, Symbol(""))(acb(0), False)
        if not ball.is_finite() or not ball.imag.contains(0):
            raise _GivenUp("a limit of integration has no real value")
        value = ball.real
    return _End(at=value)


def _linear_in_pi(tree: Expression) -> Coefficient | None:
    """A limit such as `pi/2 - 1` exactly; None when it is not a polynomial in pi."""
    return _polynomial(tree, PI)


def _order(lower: _End, upper: _End) -> int:
    if lower.infinite or upper.infinite:
        return (upper.infinite > lower.infinite) - (upper.infinite < lower.infinite)
    gap = upper.at - lower.at if _both_exact(lower.at, upper.at) else upper.ball() - lower.ball()
    size = number(gap)
    if size > 0 or size < 0:
        return 1 if size > 0 else -1
    if size.is_zero():
        return 0
    raise _GivenUp("the two limits of integration are too close to be told apart")


def _both_exact(left: Coefficient, right: Coefficient) -> bool:
    return isinstance(left, fmpq_poly) and isinstance(right, fmpq_poly)


# ---------------------------------------------------------------------- the work


class _Work:
    """One integrand with its accuracy and its time."""

    def __init__(self, integrand: Expression, variable: Symbol, digits: int, deadline: float) -> None:
        self.tree = integrand
        self.variable = variable
        self.digits = digits
        self.deadline = deadline
        self.function = self._timed(ball_function(integrand, variable))

    def _timed(self, function: BallFunction) -> BallFunction:
        """The function until the time is up; then non-finite (an exception may not cross the library)."""

        def evaluate(z: Ball, analytic: bool) -> Ball:
            return _NAN if time.thread_time() > self.deadline else function(z, analytic)

        return evaluate

    def integrate(self, lower: _End, upper: _End) -> Ball:
        """The sum over the pieces between the exact points where something happens."""
        points = [lower, *_points_inside(self.tree, self.variable, lower, upper), upper]
        total = arb(0)
        for start, end in pairwise(points):
            total += self._piece(start, end)
        return total

    def _piece(self, start: _End, end: _End) -> Ball:
        ends = ((start, 1, self._nature(start, end, 1)), (end, -1, self._nature(end, start, -1)))
        if all(nature == "smooth" for _, _, nature in ends):
            return self._plain(self.function, start.ball(), end.ball())
        middle = _middle(start, end)
        return sum((self._half(place, side, nature, middle) for place, side, nature in ends), arb(0))

    def _half(self, place: _End, side: int, nature: _Nature, middle: Fraction) -> Ball:
        """The integral between an end of a piece and a point within it."""
        if nature != "smooth":
            try:
                return self._to_the_end(place, side, middle)
            except _GivenUp:
                if nature == "unbounded":
                    raise
        inner = arb(_q(middle))
        ends = (place.ball(), inner) if side > 0 else (inner, place.ball())
        return self._plain(self.function, *ends)

    def _nature(self, place: _End, other: _End, side: int) -> _Nature:
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
        count = 0

        def counted(z: Ball, analytic: bool) -> Ball:
            nonlocal count
            count += 1
            return function(z, analytic)

        result = acb.integral(
            counted, start, end, rel_tol=goal, abs_tol=goal * arb(2) ** -40, eval_limit=_EVALUATIONS
        )
        if result.is_finite():
            return result.real
        if count >= _EVALUATIONS or time.thread_time() > self.deadline:
            raise _OutOfTime("no enclosure was found with the time and work allowed")
        raise _GivenUp(self._where(function, start, end))

    def _where(self, function: BallFunction, start: Ball, end: Ball) -> str:
        """Bisect towards a point where the integrand has no finite ball."""
        if function is not self.function:
            return "the integrand has no finite bound, or no real value, on part of the interval"
        least, most = Fraction(float(start.mid())), Fraction(float(end.mid()))
        for _ in range(60):
            middle = (least + most) / 2
            left = arb(_q(least)).union(arb(_q(middle)))
            if function(acb(left), False).is_finite():
                least = middle
            else:
                most = middle
        place = f"{float(least):.6g}"
        place = "0" if abs(least) < Fraction(1, 10**12) else place
        return f"the integrand has no finite bound, or no real value, near {self.variable.name} = {place}"

    # ------------------------------------------------------------------ ends

    def _to_the_end(self, place: _End, side: int, middle: Fraction) -> Ball:
        """From an end with a singularity, or an infinite one, to a point within the piece."""
        wanted = arb(10) ** -(self.digits + 2)
        best: tuple[int, Ball] | None = None
        reason = "the behaviour at an end of the interval is not understood"
        for start in _STARTS:
            if self._too_near(place, start, middle):
                continue
            if time.thread_time() > self.deadline:
                break
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
            late = time.thread_time() > self.deadline
            raise (
                _OutOfTime("no enclosure was found with the time and work allowed")
                if late
                else _GivenUp(reason)
            )
        start, tail = best
        with ctx.workprec(ctx.prec + 4 * start.bit_length()):
            return self._up_to(place, side, middle, start) + tail

    def _divergence(self, place: _End, growth: Growth) -> str:
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

    def _name(self, place: _End) -> str:
        if place.infinite:
            return "infinity" if place.infinite > 0 else "minus infinity"
        return f"{self.variable.name} = {float(place.ball().mid()):.6g}"

    def _expansion(self, place: _End, side: int, algebra: Algebra) -> Expansion:
        """The integrand times |dx/dy|, for x = a + 1/y, a - 1/y, y or -y."""
        if place.infinite:
            x = Expansion(((Growth(power=Fraction(1)), exact(place.infinite)),))
            return expand(self.tree, self.variable, x, algebra)
        step = Expansion(((Growth(power=Fraction(-1)), exact(side)),))
        x = algebra.add(algebra.constant(place.at), step)
        return algebra.multiply(
            expand(self.tree, self.variable, x, algebra), Expansion(((Growth(power=Fraction(-2)), exact(1)),))
        )

    def _too_near(self, place: _End, start: int, middle: Fraction) -> bool:
        """Whether the tail from a start would reach beyond the middle."""
        reach = arb(_q(middle)) - (0 if place.infinite else place.ball())
        size = abs(reach)
        return not (size < start if place.infinite else size * start > 1)

    def _up_to(self, place: _End, side: int, middle: Fraction, start: int) -> Ball:
        """The integral between the middle and the beginning of the tail, left to right."""
        inner = arb(_q(middle))
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


def _q(value: Fraction) -> Any:
    return fmpq(value.numerator, value.denominator)


def _middle(start: _End, end: _End) -> Fraction:
    """A short fraction well inside a piece."""
    if start.infinite and end.infinite:
        return Fraction(0)
    if start.infinite:
        return Fraction(_floor(end.ball()) - 1)
    if end.infinite:
        return Fraction(_floor(start.ball()) + 2)
    low, high = start.ball(), end.ball()
    return Fraction(float(((low + high) / 2).mid())).limit_denominator(
        max(16, int(float((16 / (high - low)).mid())))
    )


def _floor(value: Ball) -> int:
    return int(float(value.floor().mid()))


# ---------------------------------------------------------------------- exact points inside


def _points_inside(tree: Expression, variable: Symbol, lower: _End, upper: _End) -> Iterator[_End]:
    """The rational points strictly inside where a modulus, root, logarithm or denominator vanishes, in order."""
    roots: set[Fraction] = set()
    for part in _critical_parts(tree):
        polynomial = _polynomial(part, variable)
        if polynomial is not None and polynomial.degree() > 0:
            roots.update(_rational_roots(polynomial))
    for root in sorted(roots):
        place = arb(_q(root))
        if (lower.infinite or place > lower.ball()) and (upper.infinite or place < upper.ball()):
            yield _End(at=exact(root))


def _critical_parts(tree: Expression) -> Iterator[Expression]:
    for node in tree.walk():
        match node:
            case Root(radicand, _):
                yield radicand
            case Apply("abs" | "ln", argument):
                yield argument
            case Quotient(_, denominator):
                yield denominator
                if isinstance(denominator, Product):
                    yield from denominator.factors
            case Power(base, exponent):
                index = exact_number(exponent)
                if index is None or index.denominator > 1 or index < 0:
                    yield base


def _rational_roots(polynomial: Any) -> Iterator[Fraction]:
    for factor, _ in polynomial.factor()[1]:
        if factor.degree() == 1:
            root = -factor[0] / factor[1]
            yield Fraction(int(root.p), int(root.q))


def _polynomial(tree: Expression, letter: Expression) -> Any | None:
    """A tree as a polynomial with rational coefficients in one letter; None when it is not one (or is large)."""
    value = exact_number(tree)
    if value is not None:
        return exact(value)
    if tree == letter:
        return fmpq_poly([0, 1])
    match tree:
        case Negate(operand):
            inner = _polynomial(operand, letter)
            return None if inner is None else minus(inner)
        case Sum() | Product():
            return _fold(tree, letter)
        case Quotient(numerator, denominator):
            over, under = _polynomial(numerator, letter), exact_number(denominator)
            return None if over is None or not under else over * fmpq_poly([1 / _q(under)])
        case Power(base, exponent):
            inner, index = _polynomial(base, letter), exact_number(exponent)
            whole = index is not None and index.denominator == 1 and 0 <= index <= 12
            return inner ** int(index) if inner is not None and index is not None and whole else None
        case _:
            return None


def _fold(tree: Sum | Product, letter: Expression) -> Any | None:
    join: Callable[[Any, Any], Any] = (lambda a, b: a + b) if isinstance(tree, Sum) else (lambda a, b: a * b)
    total = exact(0 if isinstance(tree, Sum) else 1)
    for child in tree.children:
        inner = _polynomial(child, letter)
        if inner is None:
            return None
        total = join(total, inner)
    return total
