"""Trigonometric substitution, which turns the root of a quadratic into a single function of an angle.

int sqrt(4 - x^2) dx            x = 2 sin t    4 int cos^2 t dt
int 1/(x^2 + 4)^(3/2) dx        x = 2 tan t    1/4 int cos t dt
int 1/(x^2 sqrt(x^2 - 9)) dx    x = 3 sec t    1/9 int cos t dt, written for x > 3 and proved for x < -3 too

The integral in t is for the techniques of circular functions; the triangle leads back.
"""

from __future__ import annotations

from functools import lru_cache

from qbank.maths.constant_factor import before_integral
from qbank.maths.expression import Apply, Expression, Integral, Symbol, sum_of
from qbank.maths.notation import plain
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.messages import Message, say
from qbank.techniques.carrying import Solver, carry, letters_of, multiplied, renamed
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.technique import Technique
from qbank.techniques.trigonometric.found import Found
from qbank.techniques.trigonometric.kinds import SECANT, SINE
from qbank.techniques.trigonometric.put_back import PutBack
from qbank.techniques.trigonometric.trigonometric_plan import TrigonometricPlan, trigonometric_plan
from qbank.techniques.trigonometric.trigonometric_slips import trigonometric_slips
from qbank.techniques.working import Line, WorkedSolution, Working

__all__ = ["trigonometric_substitution"]

_IDENTIFIER = "trigonometric-substitution"


def trigonometric_substitution(solve: Solver) -> Technique:
    """The technique, given what solves the integral in t."""
    # numbers stand in front of it, so that many integrals in x, and most slips, leave the same one
    solve = lru_cache(maxsize=128)(solve)

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> Found | None:
        plan = trigonometric_plan(integrand, variable)
        return None if plan is None else Found.of(plan, solve)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, found)

    return Technique(
        identifier=_IDENTIFIER,
        title="Trigonometric substitution",
        work=work,
        slips=trigonometric_slips(find, solve),
    )


def _worked(integrand: Expression, found: Found) -> WorkedSolution:
    plan, seen = found.plan, found.plan.seen
    variable, letter = seen.variable, plan.letter
    working = Working(_IDENTIFIER, integrand, variable)
    if _is_unlike_its_squares(plan):
        working.aside(seen.under, seen.square.tree, "complete-square", _square_reason(plan))
    working.let_be(letter, plan.meaning(), *plan.equations(), reason=_let_reason(plan), domain=plan.domain())
    written = before_integral(seen.constant, Integral(plan.written(), letter))
    working.step(written, "substitution", say("Write everything in {letter}.", letter=letter.name))
    front = found.whole_front()
    simple = before_integral(front, Integral(found.outer, letter))
    if simple != written:
        plain_number = found.front.square == 1
        said = say("Simplify.") if plain_number else say("Simplify, and take the numbers outside.")
        working.step(simple, "simplify", said)
    if found.apart is not None:
        said = say("Sine squared and cosine squared add up to 1; this takes the fraction apart.")
        working.step(before_integral(front, Integral(found.apart, letter)), "pythagorean-identity", said)
    carry(
        working,
        _with_other_letters(found.solution, integrand, variable),
        lambda line: multiplied(front, line),
    )
    _back(working, plan, found.back)
    return working.finish()


def _is_unlike_its_squares(plan: TrigonometricPlan) -> bool:
    """Whether the quadratic is not written as a square and a number already."""
    square, under = plan.seen.square, plan.seen.under
    coefficients = as_polynomial(under, square.letter) or ()
    return under == polynomial_tree(coefficients, square.letter) and bool(
        square.shift or square.scale != 1 or abs(square.factor) != 1
    )


def _square_reason(plan: TrigonometricPlan) -> Message:
    root = plan.seen.power % 2 == 1
    if plan.seen.square.shift:
        return (
            say("Complete the square under the root.") if root else say("Complete the square below the line.")
        )
    return (
        say("Write what is under the root with a square and a number squared.")
        if root
        else say("Write what is below the line with a square and a number squared.")
    )


def _let_reason(plan: TrigonometricPlan) -> Message:
    if plan.kind == SINE:
        return say(
            "A number squared minus a square: substitute a sine; the angle runs from -pi/2 to pi/2, where the cosine "
            "is not negative."
        )
    if plan.kind != SECANT:
        return say(
            "A square plus a number squared: substitute a tangent; the angle lies between -pi/2 and pi/2, where the "
            "secant is positive."
        )
    return say(
        "A square minus a number squared: substitute a secant. This is written for {variable} > {least}, where the "
        "angle lies between 0 and pi/2 and the tangent is positive.",
        variable=plan.seen.variable.name,
        least=plain(plan.least()),
    )


def _with_other_letters(
    solution: WorkedSolution, integrand: Expression, variable: Symbol
) -> tuple[Line, ...]:
    """The lines for the integral in t, letters of the question not used again."""
    used = sum_of(integrand, variable)
    new: dict[Symbol, Symbol] = {}
    introduced = sorted(letters_of(solution), key=lambda letter: letter.name)
    for letter in introduced:
        if letter in used.symbols():
            new[letter] = spare_letter(sum_of(used, solution.variable, *introduced, *new.values()))
    return renamed(solution.lines, new)


def _back(working: Working, plan: TrigonometricPlan, back: PutBack) -> None:
    letter = plan.letter.name
    if back.identities:
        working.found(
            *back.identities,
            rule="double-angle",
            reason=say(
                "The triangle will show the angle {letter} itself, so write this without multiples of it.",
                letter=letter,
            ),
        )
        working.step(back.expanded, "double-angle", say("Put this in."))
    if back.sides:
        working.found(*back.sides, rule="triangle", reason=_triangle_reason(plan))
    working.step(back.raw, "substitute-back", _back_reason(plan))
    if back.answer != back.raw:
        said = say("Tidy up.")
        if plan.number.square != 1 and any(
            isinstance(node, Apply) and node.function == "ln" for node in back.answer.walk()
        ):
            said = say("Tidy up; a constant inside the logarithm goes into the constant of integration.")
        working.step(back.answer, "tidy", said)


def _triangle_reason(plan: TrigonometricPlan) -> Message:
    if plan.kind == SINE:
        return say(
            "In the right-angled triangle this sine is opposite over hypotenuse; Pythagoras gives the third side."
        )
    if plan.kind == SECANT:
        return say(
            "In the right-angled triangle this secant is hypotenuse over adjacent; Pythagoras gives the third side."
        )
    return say(
        "In the right-angled triangle this tangent is opposite over adjacent; Pythagoras gives the hypotenuse."
    )


def _back_reason(plan: TrigonometricPlan) -> Message:
    if plan.kind != SECANT:
        return say("Put the variable back.")
    return say(
        "Put the variable back; differentiating shows that this holds on the other part of the domain, too."
    )
