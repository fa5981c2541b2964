"""What students do when an angle is substituted.

Most change one number or function of the plan, or one side of the triangle, and run to the end from there.
All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeAlias

from qbank.maths.expression import Apply, Expression, Integer, Symbol, fraction, product
from qbank.maths.factors import Factored
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.surds import Surd
from qbank.maths.tidying import tidy
from qbank.messages import Message, say
from qbank.techniques.carrying import Solver, multiplied
from qbank.techniques.circular import even_powers
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost
from qbank.techniques.standard.standard_sums import expanded_plan
from qbank.techniques.technique import Slip
from qbank.techniques.trigonometric.found import Found
from qbank.techniques.trigonometric.kinds import SINE
from qbank.techniques.trigonometric.put_back import put_back
from qbank.techniques.trigonometric.triangle import Triangle
from qbank.techniques.trigonometric.trigonometric_plan import TrigonometricPlan
from qbank.techniques.working import WorkedSolution

__all__ = ["trigonometric_slips"]

_ONE = Surd(fraction(1, 1))

_Wrong: TypeAlias = Callable[[Found, Solver], Expression | None]


def trigonometric_slips(
    find: Callable[[Expression, Symbol], Found | None], solve: Solver
) -> tuple[Slip, ...]:
    """The slips, given what finds the substitution, and what solves an integral in t."""

    def slip(name: str, sentence: Message, wrong: _Wrong) -> Slip:
        def answer(solution: WorkedSolution) -> Expression | None:
            found = find(solution.integrand, solution.variable)
            changed = None if found is None else wrong(found, solve)
            if changed is None or changed == solution.antiderivative:
                return None
            return changed if solution.variable in changed.symbols() else None

        return Slip(identifier=f"angle-{name}", sentence=sentence, answer=answer)

    return (
        *(slip(*row) for row in _ROWS),
        sign_of_a_term_lost("angle"),
        last_term_lost("angle"),
        differentiated_instead("angle"),
    )


def _run(plan: TrigonometricPlan, solve: Solver) -> Expression | None:
    """What a plan leads to."""
    found = Found.of(plan, solve)
    return None if found is None else found.back.answer


def _back(
    found: Found,
    *,
    in_letter: Expression | None = None,
    triangle: Triangle | None = None,
    angle: Expression | None = None,
) -> Expression | None:
    """What another way back leads to."""
    back = put_back(
        found.solution.antiderivative if in_letter is None else in_letter,
        triangle or found.plan.triangle(),
        angle or found.plan.meaning(modulus=True),
        found.plan.seen.constant,
        found.front,
    )
    return None if back is None else back.answer


def _rate_forgotten(found: Found, solve: Solver) -> Expression | None:
    return _run(replace(found.plan, with_rate=False), solve)


def _root_without_number(found: Found, _: Solver) -> Expression | None:
    """`sqrt(4 - x^2) = cos t`."""
    plan = replace(found.plan, root_number=_ONE)
    front, _outer = plan.in_letter()
    return _back(replace(found, front=front))


def _number_squared(found: Found, solve: Solver) -> Expression | None:
    """`x = 4 sin t` for sqrt(4 - x^2), from there to the end."""
    plan = found.plan
    number = Surd(plan.number.square)
    outside = plan.root_number.times(plan.number.reciprocal())
    return _run(replace(plan, number=number, root_number=number.times(outside)), solve)


def _root_of_the_same_function(found: Found, solve: Solver) -> Expression | None:
    """`sqrt(x^2 + 4) = 2 tan t`, as if tan^2 t + 1 were tan^2 t; the way back is right."""
    plan = found.plan
    if plan.kind == SINE:
        return None
    wrong = Found.of(replace(plan, root=plan.kind.inner), solve)
    return None if wrong is None else wrong.back.answer


def _sides_swapped(found: Found, _: Solver) -> Expression | None:
    return _back(found, triangle=replace(found.plan.triangle(), swapped=True))


def _triangle_without_number(found: Found, _: Solver) -> Expression | None:
    """`sin t = x` for x = 2 sin t."""
    triangle = found.plan.triangle()
    outside = triangle.root_number.times(triangle.number.reciprocal())
    return _back(found, triangle=replace(triangle, number=_ONE, root_number=outside))


def _left_in_angle(found: Found, _: Solver) -> Expression | None:
    """`2x + sin 2x` for 2t + sin 2t."""
    plan = found.plan
    whole = multiplied(found.whole_front(), found.solution.antiderivative)
    return whole.substitute({plan.letter: plan.seen.variable})


def _angle_not_inverted(found: Found, _: Solver) -> Expression | None:
    """`x/2` for t where sin t = x/2."""
    wrong = _back(found, angle=found.plan.triangle().ratio(found.plan.kind.inner))
    return None if wrong is None else tidy(wrong)


def _double_sine_as_twice_the_sine(found: Found, _: Solver) -> Expression | None:
    """`sin 2t = 2 sin t`."""
    letter = found.plan.letter

    def halved(tree: Expression) -> Expression:
        match tree:
            case Apply("sin", argument) if argument != letter and letter in argument.symbols():
                number = argument.substitute({letter: Integer(1)})
                return product(number, Apply("sin", letter))
            case _:
                return tree.rebuild(halved)

    changed = halved(found.solution.antiderivative)
    return None if changed == found.solution.antiderivative else _back(found, in_letter=changed)


def _half_lost(found: Found, _: Solver) -> Expression | None:
    """The half of the double-angle identity."""
    if found.solution.technique != even_powers.TECHNIQUE.identifier:
        return None
    wrong = (
        one.answer
        for one in even_powers.TECHNIQUE.wrong_answers(found.solution)
        if one.slip == "double-angle-half-lost"
    )
    changed = next(wrong, None)
    return None if changed is None else _back(found, in_letter=changed)


def _shift_forgotten(found: Found, _: Solver) -> Expression | None:
    """`arcsin(x/2)` for arcsin((x + 1)/2)."""
    plan = found.plan
    square = replace(plan.seen.square, shift=fraction(0, 1))
    seen = replace(plan.seen, square=square)
    wrong = replace(plan, seen=seen)
    return _back(found, triangle=wrong.triangle(), angle=wrong.meaning(modulus=True))


def _root_term_by_term(found: Found, _: Solver) -> Expression | None:
    """`sqrt(4 - x^2) = 2 - x`."""
    plan = found.plan
    seen, k = plan.seen, plan.number
    if seen.power != 1 or seen.square.shift or k.radicand != 1:
        return None
    outside = plan.root_number.times(k.reciprocal())
    if outside.radicand != 1:
        return None
    ends = outside.rational * k.rational, outside.rational * seen.square.scale
    signs = {"sin": (1, -1), "tan": (1, 1), "sec": (-1, 1)}[plan.kind.inner]
    line = polynomial_tree(tuple(size * sign for size, sign in zip(ends, signs, strict=True)), seen.variable)
    rest = tuple((base, n) for base, n in seen.moving.powers if not seen.is_under(base))
    whole = Factored(coefficient=fraction(1, 1), powers=((line, fraction(1, 1)), *rest)).tree()
    found_plan = expanded_plan(multiplied(seen.constant, whole), seen.variable)
    return None if found_plan is None else found_plan.answer()


_ROWS: tuple[tuple[str, Message, _Wrong], ...] = (
    (
        "differential-not-replaced",
        say("The differential must be replaced as well: differentiate what the variable is in the angle."),
        _rate_forgotten,
    ),
    (
        "number-of-root-forgotten",
        say(
            "Take the number out of the root as well: the root is that number times a function of the angle."
        ),
        _root_without_number,
    ),
    (
        "number-not-rooted",
        say("The number under the root is a square: substitute with its root, not with the number itself."),
        _number_squared,
    ),
    (
        "sides-interchanged",
        say(
            "Look at the triangle again: the sine has the opposite side above the line, the cosine the adjacent one."
        ),
        _sides_swapped,
    ),
    (
        "triangle-without-number",
        say(
            "Name the sides of the triangle with the number from the substitution; none of them is 1 by itself."
        ),
        _triangle_without_number,
    ),
    (
        "angle-not-inverted",
        say("The angle is the inverse function of this ratio, not the ratio itself."),
        _angle_not_inverted,
    ),
    (
        "double-angle-as-twice-the-sine",
        say("The sine of twice the angle is twice the sine times the cosine."),
        _double_sine_as_twice_the_sine,
    ),
    (
        "half-of-double-angle-lost",
        say("The double-angle identity has a factor one half in front."),
        _half_lost,
    ),
    (
        "left-in-the-angle",
        say(
            "The answer is still in the angle: put the variable back with the substitution and the triangle."
        ),
        _left_in_angle,
    ),
    (
        "shift-forgotten",
        say("The whole bracket of the completed square was substituted, so the whole bracket comes back."),
        _shift_forgotten,
    ),
    (
        "root-of-the-same-function",
        say("Use the identity for the root: one plus tangent squared is secant squared."),
        _root_of_the_same_function,
    ),
    (
        "root-taken-term-by-term",
        say("The root of a sum or difference is not the sum or difference of the roots."),
        _root_term_by_term,
    ),
)
