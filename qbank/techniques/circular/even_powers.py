"""sin^m cos^n with both powers even: double-angle identities, again and again until only cosines are left.

Odd powers of a cosine that turn up on the way are split as in `odd_powers`, within the same chain of lines.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, TypeAlias

from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    Negate,
    Power,
    Quotient,
    Symbol,
    product,
    rational,
    sum_of,
)
from qbank.maths.tidying import scaled
from qbank.techniques.circular.angles import ONE, Angle, Constants
from qbank.techniques.circular.circular_powers import CircularPowers, circular_powers, power_product
from qbank.techniques.circular.double_angles import (
    AS_TAUGHT,
    Combination,
    DoubleAngles,
    Piece,
    content,
    is_ready,
)
from qbank.techniques.circular.split_slips import if_different, raised_like_a_variable
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "even-powers"

#: what is done with the number inside the angle when a cosine is integrated
_CosineRule: TypeAlias = Literal["divided", "forgotten", "multiplied", "differentiated"]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """The numbers of one working.

    Attributes:
        seen: the integrand.
        sine: the power of the sine.
        cosine: the power of the cosine.
        identities: as the student remembers them.
        rule: what is done with the number inside the angle of a cosine; anything but "divided" is a slip.
    """

    seen: CircularPowers
    sine: int
    cosine: int
    identities: DoubleAngles = AS_TAUGHT
    rule: _CosineRule = "divided"

    @property
    def start(self) -> Combination:
        """The integrand without its coefficient."""
        return ((Piece.of(1, self.sine, self.cosine), Fraction(1)),)

    def integrated(self, combination: Combination) -> Combination:
        """The numbers before x, sin(tA) and powers of it, under the same pieces."""
        return tuple((piece, number * self._factor(piece)) for piece, number in combination)

    def _factor(self, piece: Piece) -> Fraction:
        if not piece.times:
            return Fraction(1)
        slope = self.seen.angle.slope * piece.times
        if self.rule == "differentiated" and not piece.sine:
            return -slope
        by = {"forgotten": Fraction(1), "multiplied": 1 / slope}.get(self.rule, slope)
        return 1 / (by * (piece.sine + 1))

    def constants(self, piece: Piece) -> Constants:
        """The constants before the integral of a piece that are not rational."""
        constants = self.seen.constants
        if not piece.times or self.rule == "forgotten":
            return constants.whole()
        multiplied = self.rule == "multiplied" or (self.rule == "differentiated" and not piece.sine)
        return constants.inverted() if multiplied else constants

    def outcome(self) -> tuple[tuple[Piece, Fraction, Constants], ...]:
        """What two plans have in common exactly when they lead to one answer."""
        result = self.integrated(self.identities.finished(self.start))
        return tuple((piece, number, self.constants(piece)) for piece, number in result)

    def answer(self) -> Expression:
        """The antiderivative, multiplied out."""
        terms = (
            scaled(self.seen.coefficient * number, constants.applied(self.body(piece)))
            for piece, number, constants in self.outcome()
        )
        return sum_of(*terms)

    def bracket(self, front: Fraction, result: Combination) -> Expression:
        """The antiderivative with the number and the constant still in front."""
        unit = Constants(over=self.seen.angle.unit)
        terms = (
            scaled(number, unit.applied(self.body(piece)) if piece.times else self.body(piece))
            for piece, number in result
        )
        return self.seen.constants.whole().in_front(front, sum_of(*terms))

    def body(self, piece: Piece) -> Expression:
        """What the integral of a piece is a multiple of."""
        if not piece.times:
            return self.seen.angle.variable
        return product(*_raised(_function(self.seen.angle, "sin", piece.times), piece.sine + 1))


def _plan(integrand: Expression, variable: Symbol) -> _Plan | None:
    """The numbers of an integrand of this kind, else None."""
    seen = circular_powers(integrand, variable)
    if seen is None or not seen.whole:
        return None
    sine, cosine = seen.sine_and_cosine
    if sine < 0 or cosine < 0 or sine % 2 or cosine % 2 or not sine + cosine:
        return None
    return _Plan(seen=seen, sine=int(sine), cosine=int(cosine))


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    plan = _plan(integrand, variable)
    if plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    seen = plan.seen
    plain = seen.names <= {"sin", "cos"}
    if not plain or not seen.tidy:
        powers = (("sin", Fraction(plan.sine)), ("cos", Fraction(plan.cosine)))
        reason = "Collect the powers." if plain else "Write everything with sine and cosine."
        collected = Integral(power_product(seen.angle.tree, powers), variable)
        working.step(seen.before(collected), "rewrite", reason)
    front, combination = _take_apart(working, plan)
    bracket = plan.bracket(front, plan.integrated(combination))
    working.step(bracket, "standard-integral", _last_reason(plan, combination))
    if bracket != plan.answer():
        working.step(plan.answer(), "expand", "Multiply out.")
    return working.finish()


def _take_apart(working: Working, plan: _Plan) -> tuple[Fraction, Combination]:
    """Write the rounds; the number in front at the end, and the pieces that can be integrated at sight."""
    angle, combination, front = plan.seen.angle, plan.start, plan.seen.coefficient
    before = plan.seen.constants.whole().in_front
    again = False
    while not all(is_ready(piece) for piece, _ in combination):
        replaced = sum_of(*(_times(number, _apart_tree(angle, piece)) for piece, number in combination))
        line = before(front, Integral(replaced, angle.variable))
        working.step(line, "double-angle", _reason(combination, again=again))
        gathered = _gathering_reason(combination)
        combination = plan.identities.round(combination)
        common = content(combination)
        combination = tuple((piece, number / common) for piece, number in combination)
        front *= common
        expanded = sum_of(*(scaled(number, _piece_tree(angle, piece)) for piece, number in combination))
        working.step(before(front, Integral(expanded, angle.variable)), "expand", gathered)
        again = True
    return front, combination


def _reason(combination: Combination, *, again: bool) -> str:
    if again:
        odd = any(piece.cosine % 2 and not is_ready(piece) for piece, _ in combination)
        even = any(not piece.cosine % 2 and piece.times for piece, _ in combination)
        use, split = (
            "Use the double angle again for the even powers",
            "write an odd power with one factor split off",
        )
        if odd and even:
            return f"{use}; {split}."
        return f"{split.capitalize()}." if odd else f"{use}."
    piece = combination[0][0]
    product_rule = "sine times cosine is half the sine of twice the angle"
    square, sign = ("cosine", "plus") if piece.cosine > piece.sine else ("sine", "minus")
    square_rule = f"{square} squared is half of one {sign} the cosine of twice the angle"
    if not (piece.sine and piece.cosine):
        return f"Double angle: {square_rule}."
    return f"Double angle: {product_rule}{'' if piece.sine == piece.cosine else f', and {square_rule}'}."


def _gathering_reason(combination: Combination) -> str:
    piece = combination[0][0]
    alone = len(combination) == 1 and not piece.cosine % 2
    if alone and (piece.sine == piece.cosine or piece.sine + piece.cosine == 2):
        return "Take the number outside the integral."
    return "Multiply out and collect."


def _last_reason(plan: _Plan, combination: Combination) -> str:
    powers = any(piece.sine for piece, _ in combination)
    angle = plan.seen.angle
    bare = angle.unit == ONE and all(abs(angle.slope) * piece.times in (0, 1) for piece, _ in combination)
    divided = "" if bare else ", dividing by the number inside the angle"
    remark = "; a power of the sine times the cosine goes by substitution" if powers else ""
    return f"Integrate term by term{divided}{remark}."


def _times(number: Fraction, tree: Expression) -> Expression:
    """A number in front of a factor that keeps its shape when the number is 1."""
    return tree if number == 1 else Negate(tree) if number == -1 else scaled(number, tree)


def _function(angle: Angle, name: str, times: int) -> Expression:
    return Apply(name, angle.times(times).tree)


def _raised(base: Expression, exponent: int) -> tuple[Expression, ...]:
    if not exponent:
        return ()
    return (base,) if exponent == 1 else (Power(base, Integer(exponent)),)


def _piece_tree(angle: Angle, piece: Piece) -> Expression:
    """`sin^i(tA) cos^j(tA)`, or 1."""
    if not piece.times:
        return Integer(1)
    sine, cosine = (_function(angle, name, piece.times) for name in ("sin", "cos"))
    return product(*_raised(sine, piece.sine), *_raised(cosine, piece.cosine))


def _apart_tree(angle: Angle, piece: Piece) -> Expression:
    """A piece after the identity has been put in, before anything is multiplied out."""
    if is_ready(piece):
        return _piece_tree(angle, piece)
    if piece.cosine % 2:
        sine, cosine = (_function(angle, name, piece.times) for name in ("sin", "cos"))
        bracket = sum_of(Integer(1), Negate(Power(sine, Integer(2))))
        return product(*_raised(sine, piece.sine), *_raised(bracket, piece.cosine // 2), cosine)
    sine, cosine = (_function(angle, name, 2 * piece.times) for name in ("sin", "cos"))
    common, pairs = min(piece.sine, piece.cosine), abs(piece.sine - piece.cosine) // 2
    half = Quotient(sum_of(Integer(1), cosine if piece.cosine > piece.sine else Negate(cosine)), Integer(2))
    return product(*_raised(product(rational(1, 2), sine), common), *_raised(half, pairs))


# What students write (common practice: from the marking of scripts, not from a published table).


def _slip(change: Callable[[_Plan], _Plan | None]) -> Callable[[WorkedSolution], Expression | None]:
    def answer(solution: WorkedSolution) -> Expression | None:
        right = _plan(solution.integrand, solution.variable)
        return None if right is None else if_different(change(right), right)

    return answer


def _with(identities: DoubleAngles) -> Callable[[_Plan], _Plan]:
    return lambda plan: replace(plan, identities=identities)


def _ruled(rule: _CosineRule) -> Callable[[_Plan], _Plan]:
    return lambda plan: replace(plan, rule=rule)


def _raised_like_a_variable(solution: WorkedSolution) -> Expression | None:
    plan = _plan(solution.integrand, solution.variable)
    return None if plan is None else raised_like_a_variable(plan.seen)


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Even powers of sine and cosine",
    work=_work,
    slips=(
        Slip(
            identifier="double-angle-sign",
            sentence="Sine squared goes with minus the cosine of twice the angle, cosine squared with plus.",
            answer=_slip(_with(DoubleAngles(sign=-1))),
        ),
        Slip(
            identifier="double-angle-cosine-not-divided",
            sentence="Divide by the number inside the angle when you integrate a cosine.",
            answer=_slip(_ruled("forgotten")),
        ),
        Slip(
            identifier="double-angle-half-lost",
            sentence="The double-angle identity has a factor one half in front.",
            answer=_slip(_with(DoubleAngles(half=Fraction(1)))),
        ),
        Slip(
            identifier="even-power-raised-like-a-variable",
            sentence="The power rule needs the derivative of the function beside it; a power alone cannot simply be raised.",
            answer=_raised_like_a_variable,
        ),
        Slip(
            identifier="double-angle-not-doubled",
            sentence="The identity for a square has twice the angle on the other side.",
            answer=_slip(_with(DoubleAngles(factor=1))),
        ),
        Slip(
            identifier="double-angle-cosine-multiplied",
            sentence="When integrating, divide by the number inside the angle; multiplying belongs to differentiating.",
            answer=_slip(_ruled("multiplied")),
        ),
        Slip(
            identifier="double-angle-cosine-differentiated",
            sentence="The cosine was differentiated; its integral is the sine, with no minus sign, divided by the number inside.",
            answer=_slip(_ruled("differentiated")),
        ),
        Slip(
            identifier="double-angle-middle-term-lost",
            sentence="A bracket raised to a power has middle terms too: multiply it out term by term.",
            answer=_slip(_with(DoubleAngles(middle=False))),
        ),
        Slip(
            identifier="double-angle-power-lost",
            sentence="The identity replaces a square; a higher power needs the whole right side raised to a power.",
            answer=_slip(_with(DoubleAngles(power=False))),
        ),
        differentiated_instead("even-power"),
    ),
)
