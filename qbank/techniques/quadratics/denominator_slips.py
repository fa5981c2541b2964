"""What students do with a quadratic below the line: each slip is the plan with a number changed, run to the end.

All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from qbank.maths.expression import Apply, Expression, Quotient, fraction, product
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.surds import Surd
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.quadratics.completed_denominator import CompletedPlan, Form, last_number
from qbank.techniques.quadratics.completed_square import CompletedSquare, complete_square
from qbank.techniques.quadratics.denominator_plan import Plan, plan_of
from qbank.techniques.quadratics.divided_only import DividedPlan
from qbank.techniques.quadratics.over_quadratic import OverQuadratic, derivative
from qbank.techniques.quadratics.real_roots import DoubleRootPlan, TwoRootsPlan
from qbank.techniques.technique import Slip
from qbank.techniques.working import WorkedSolution

__all__ = ["SLIPS"]

Change = Callable[[Plan], Plan | None]


def _by(change: Change) -> Callable[[WorkedSolution], Expression | None]:
    """The answer of a student whose plan differs; None where the slip cannot occur or changes nothing."""

    def answer(solution: WorkedSolution) -> Expression | None:
        plan = plan_of(solution.integrand, solution.variable)
        wrong = change(plan) if plan is not None else None
        return None if wrong is None or wrong == plan else wrong.answer()

    return answer


def _with_square(plan: CompletedPlan, square: CompletedSquare) -> CompletedPlan:
    """The same working from another square on."""
    return _with_rest(replace(plan, square=square), plan.rest)


def _with_rest(plan: CompletedPlan, rest: Fraction) -> CompletedPlan:
    return replace(plan, rest=rest, last=last_number(plan.seen.front * rest, plan.square, plan.form))


def _factor_of_arctan_forgotten(plan: Plan) -> Plan | None:
    if not isinstance(plan, CompletedPlan) or not plan.rest or plan.form != "arctan":
        return None
    return replace(plan, last=plan.last.times(plan.square.root))


def _root_not_taken(plan: Plan) -> Plan | None:
    """`x^2 + 4` worked with 4 in place of 2."""
    if not isinstance(plan, CompletedPlan) or not plan.rest:
        return None
    return _with_square(plan, replace(plan.square, root=Surd(plan.square.root.square)))


def _sign_in_square(plan: Plan) -> Plan | None:
    if not isinstance(plan, CompletedPlan) or not plan.rest:
        return None
    return _with_square(plan, replace(plan.square, shift=-plan.square.shift))


def _square_not_balanced(plan: Plan) -> Plan | None:
    """`x^2 + 4x + 13` as `(x + 2)^2 + 13`."""
    if not isinstance(plan, CompletedPlan) or not plan.rest or not plan.square.shift:
        return None
    square = plan.square
    number = square.number + square.shift**2
    added = complete_square((number, fraction(0, 1), fraction(1, 1)), square.letter) if number else None
    if added is None or (number > 0) != (square.number > 0):
        return None
    return _with_square(plan, replace(square, number=number, root=added.root))


def _leading_coefficient_lost(plan: Plan) -> Plan | None:
    if not isinstance(plan, CompletedPlan) or not plan.rest:
        return None
    return _with_square(plan, replace(plan.square, factor=fraction(1, 1)))


def _inner_coefficient_forgotten(plan: Plan) -> Plan | None:
    match plan:
        case CompletedPlan() if plan.rest:
            return replace(plan, last=plan.last.times(plan.square.scale))
        case TwoRootsPlan():
            return replace(plan, ends=(Fraction(plan.tops[0]), Fraction(plan.tops[1])))
        case DividedPlan(left=OverQuadratic(under=under)):
            return replace(plan, log=plan.log * abs(under[1]))
        case DoubleRootPlan():
            slope = plan.bracket[1]
            return replace(plan, log=plan.log * slope, power=plan.power * slope)
        case _:
            return None


def _log_of_any_denominator(solution: WorkedSolution) -> Expression | None:
    """`ln(x^2 + 4)` for the integral of `1/(x^2 + 4)`."""
    plan = plan_of(solution.integrand, solution.variable)
    if plan is None or (isinstance(plan, CompletedPlan) and not plan.rest):
        return None
    if isinstance(plan, DividedPlan):
        return None if not plan.whole else _log_of_line(plan)
    return None if plan.whole else scaled(plan.seen.front, _log(plan))


def _log_of_line(plan: DividedPlan) -> Expression | None:
    return None if plan.left is None else replace(plan, whole=(), log=plan.seen.front).answer()


def _divided_by_derivative(solution: WorkedSolution) -> Expression | None:
    """`ln(x^2 + 4)/(2x)` for the integral of `1/(x^2 + 4)`."""
    plan = plan_of(solution.integrand, solution.variable)
    if plan is None or isinstance(plan, DividedPlan) or plan.whole or not plan.seen.is_constant_above:
        return None
    slope = polynomial_tree(derivative(plan.seen.under), plan.seen.letter)
    return scaled(plan.seen.front, Quotient(_log(plan), slope))


def _log(plan: CompletedPlan | TwoRootsPlan | DoubleRootPlan) -> Expression:
    under = plan.seen.under_tree
    return Apply("ln", under if plan.seen.discriminant < 0 else Apply("abs", under))


def _factor_by_factor(solution: WorkedSolution) -> Expression | None:
    """`x^2/2 * 1/3 arctan(x/3)` for the integral of `x/(x^2 + 9)`."""
    plan = plan_of(solution.integrand, solution.variable)
    if not isinstance(plan, CompletedPlan) or plan.whole or plan.seen.is_constant_above:
        return None
    if plan.form != "arctan":
        return None
    number, above = plan.seen.over_integrated()
    last = last_number(plan.seen.front * number, plan.square, plan.form)
    return last.in_front_of(product(above, Apply("arctan", plan.square.ratio)))


def _last_part_forgotten(plan: Plan) -> Plan | None:
    match plan:
        case CompletedPlan() if plan.multiple and plan.rest:
            return replace(plan, rest=fraction(0, 1))
        case DoubleRootPlan() if plan.log and plan.power:
            return replace(plan, power=fraction(0, 1))
        case DividedPlan() if plan.whole and plan.log:
            return replace(plan, log=fraction(0, 1))
        case _:
            return None


def _half_lost(plan: Plan) -> Plan | None:
    """The leading coefficient of the numerator is put in front of the logarithm, as if 2x were x."""
    if (
        not isinstance(plan, CompletedPlan)
        or not plan.multiple
        or plan.seen.line == derivative(plan.seen.under)
    ):
        return None
    return replace(plan, multiple=2 * plan.multiple)


def _two_multiplied(plan: Plan) -> Plan | None:
    """`2 ln(x^2 + 9)` for the integral of `x/(x^2 + 9)`."""
    if not isinstance(plan, CompletedPlan) or plan.seen.line == derivative(plan.seen.under):
        return None
    return replace(plan, multiple=4 * plan.multiple)


def _arctan_for_logarithm(plan: Plan) -> Plan | None:
    """`1/3 arctan(x/3)` for the integral of `x/(x^2 + 9)`."""
    if not isinstance(plan, CompletedPlan) or plan.rest or plan.form != "arctan":
        return None
    return _with_rest(replace(plan, multiple=fraction(0, 1)), fraction(1, 1))


def _constant_not_adjusted(plan: Plan) -> Plan | None:
    """`x + 3` split as `1/2 (2x + 2) + 3`."""
    if not isinstance(plan, CompletedPlan) or not plan.multiple or not plan.rest or not plan.seen.line[0]:
        return None
    return _with_rest(plan, plan.seen.line[0])


def _arcsin_for_arctan(plan: Plan) -> Plan | None:
    if not isinstance(plan, CompletedPlan) or not plan.rest or plan.form != "arctan":
        return None
    return replace(plan, form="arcsin", last=plan.last.times(plan.square.root))


def _whole_part_forgotten(plan: Plan) -> Plan | None:
    if not plan.whole or (isinstance(plan, DividedPlan) and not plan.log):
        return None
    return replace(plan, whole=())


def _sign_of_remainder(plan: Plan) -> Plan | None:
    """`1 + 1/(x^2 + 1)` for x^2/(x^2 + 1)."""
    match plan:
        case DividedPlan() if plan.whole and plan.log:
            return replace(plan, log=-plan.log)
        case CompletedPlan() if plan.whole:
            turned = replace(plan.seen, front=-plan.seen.front)
            return replace(plan, seen=turned, last=plan.last.times(-1))
        case _:
            return None


def _sum_for_difference(plan: Plan) -> Plan | None:
    """The formula of a sum of squares used for a difference, or the other way round."""
    if isinstance(plan, CompletedPlan) and plan.rest:
        form: Form = "ln" if plan.form == "arctan" else "arctan"
        last = last_number(plan.seen.front * plan.rest, plan.square, form)
        return replace(plan, form=form, last=last)
    if not isinstance(plan, TwoRootsPlan) or not plan.seen.is_constant_above or plan.seen.under[1]:
        return None
    square = complete_square(plan.seen.under, plan.seen.letter)
    assert square is not None, "two roots leave something over"
    last = last_number(plan.seen.front, square, "arctan")
    one, none = fraction(1, 1), fraction(0, 1)
    return CompletedPlan(
        seen=plan.seen, whole=plan.whole, multiple=none, rest=one, square=square, last=last, form="arctan"
    )


def _front_of_ratio_lost(plan: Plan) -> Plan | None:
    """The logarithms with nothing of the numerators of the two fractions in front."""
    if isinstance(plan, CompletedPlan) and plan.rest and plan.form == "ln":
        return replace(plan, last=plan.last.times(2))
    if not isinstance(plan, TwoRootsPlan) or not all(plan.tops):
        return None
    return replace(plan, front=plan.seen.front / plan.leading, ends=_signs(plan))


def _signs(plan: TwoRootsPlan) -> tuple[Fraction, Fraction]:
    first, second = (Fraction(1 if end > 0 else -1) for end in plan.ends)
    return first, second


def _numerators_swapped(plan: Plan) -> Plan | None:
    if not isinstance(plan, TwoRootsPlan) or not all(plan.tops):
        return None
    second, first = plan.tops
    ends = (Fraction(first, plan.brackets[0][1]), Fraction(second, plan.brackets[1][1]))
    return replace(plan, tops=(first, second), ends=ends)


def _logs_added(plan: Plan) -> Plan | None:
    if not isinstance(plan, TwoRootsPlan) or plan.ends[0] * plan.ends[1] >= 0:
        return None
    return replace(plan, ends=(abs(plan.ends[0]), abs(plan.ends[1])))


def _logs_subtracted(plan: Plan) -> Plan | None:
    if not isinstance(plan, TwoRootsPlan) or plan.ends[0] * plan.ends[1] <= 0:
        return None
    return replace(plan, ends=(plan.ends[0], -plan.ends[1]))


def _other_bracket_not_divided_by(plan: Plan) -> Plan | None:
    """The root of each bracket put into the numerator only: `(3x + 1)/((x - 3)(x + 2))` with 10 above x - 3."""
    if not isinstance(plan, TwoRootsPlan) or not all(plan.tops):
        return None
    one, two = (Fraction(-constant, slope) for constant, slope in plan.brackets)
    return replace(plan, ends=(plan.ends[0] * (one - two), plan.ends[1] * (two - one)))


def _minus_of_reciprocal_lost(plan: Plan) -> Plan | None:
    return replace(plan, power=-plan.power) if isinstance(plan, DoubleRootPlan) and plan.power else None


def _power_moved_the_wrong_way(plan: Plan) -> Plan | None:
    """`1/(x + 1)^2` taken to `-1/(3 (x + 1)^3)`."""
    if not isinstance(plan, DoubleRootPlan) or not plan.power:
        return None
    return replace(plan, power=plan.power / 3, exponent=3)


SLIPS = (
    Slip(
        identifier="factor-of-inverse-tangent-forgotten",
        sentence=say(
            "The inverse tangent of a quotient needs one over the number below it in front: its derivative shows why."
        ),
        answer=_by(_factor_of_arctan_forgotten),
    ),
    Slip(
        identifier="root-of-the-number-not-taken",
        sentence=say(
            "The standard integral uses the number that is squared, so take the square root of the constant first."
        ),
        answer=_by(_root_not_taken),
    ),
    Slip(
        identifier="logarithm-of-any-denominator",
        sentence=say(
            "The logarithm of the denominator needs its derivative above the line; a constant there is not enough."
        ),
        answer=_log_of_any_denominator,
    ),
    Slip(
        identifier="logarithm-divided-by-a-derivative-that-varies",
        sentence=say(
            "Only a constant may be divided by at the end; a derivative that contains the variable may not."
        ),
        answer=_divided_by_derivative,
    ),
    Slip(
        identifier="numerator-and-reciprocal-integrated-apart",
        sentence=say(
            "The integral of a product is not the product of the integrals: split the numerator instead."
        ),
        answer=_factor_by_factor,
    ),
    Slip(
        identifier="sign-when-completing-the-square",
        sentence=say(
            "Check the completed square by multiplying it out: the middle term must come back with its sign."
        ),
        answer=_by(_sign_in_square),
    ),
    Slip(
        identifier="square-not-balanced",
        sentence=say(
            "Completing the square adds the square of half the middle number, so take it away from the constant again."
        ),
        answer=_by(_square_not_balanced),
    ),
    Slip(
        identifier="coefficient-of-the-square-not-taken-out",
        sentence=say(
            "Take the coefficient of the square out of the denominator first and carry it along in front."
        ),
        answer=_by(_leading_coefficient_lost),
    ),
    Slip(
        identifier="coefficient-inside-bracket-forgotten",
        sentence=say("The bracket has a coefficient in front of the variable: divide by it."),
        answer=_by(_inner_coefficient_forgotten),
    ),
    Slip(
        identifier="half-of-the-logarithm-lost",
        sentence=say(
            "The derivative of the denominator brings a factor of two, so a half belongs in front of the logarithm."
        ),
        answer=_by(_half_lost),
    ),
    Slip(
        identifier="two-before-logarithm-multiplied",
        sentence=say(
            "The derivative of the denominator brings a factor of two: divide by it, do not multiply."
        ),
        answer=_by(_two_multiplied),
    ),
    Slip(
        identifier="inverse-tangent-with-derivative-above",
        sentence=say("With the derivative of the denominator above the line the integral is a logarithm."),
        answer=_by(_arctan_for_logarithm),
    ),
    Slip(
        identifier="numerator-constant-not-adjusted",
        sentence=say(
            "After splitting off the multiple of the derivative, correct the constant so that the numerator stays the same."
        ),
        answer=_by(_constant_not_adjusted),
    ),
    Slip(
        identifier="second-part-of-fraction-forgotten",
        sentence=say("The numerator has a second part after the split: it needs an integral of its own."),
        answer=_by(_last_part_forgotten),
    ),
    Slip(
        identifier="inverse-sine-for-inverse-tangent",
        sentence=say(
            "Without a root in the denominator it is the inverse tangent; the inverse sine belongs to a root."
        ),
        answer=_by(_arcsin_for_arctan),
    ),
    Slip(
        identifier="sum-and-difference-of-squares-confused",
        sentence=say(
            "A sum of two squares leads to the inverse tangent, a difference of two squares to logarithms."
        ),
        answer=_by(_sum_for_difference),
    ),
    Slip(
        identifier="numbers-before-logarithms-lost",
        sentence=say(
            "Each logarithm keeps the number above its fraction: check them by putting the fractions together again."
        ),
        answer=_by(_front_of_ratio_lost),
    ),
    Slip(
        identifier="numerators-of-fractions-swapped",
        sentence=say(
            "Check which numerator belongs to which bracket by putting the fractions together again."
        ),
        answer=_by(_numerators_swapped),
    ),
    Slip(
        identifier="logarithms-added-for-subtracted",
        sentence=say("One of the two fractions is subtracted, so its logarithm is subtracted too."),
        answer=_by(_logs_added),
    ),
    Slip(
        identifier="logarithms-subtracted-for-added",
        sentence=say("The two fractions are added, so their logarithms are added too."),
        answer=_by(_logs_subtracted),
    ),
    Slip(
        identifier="other-bracket-not-divided-by",
        sentence=say(
            "Put the root of a bracket into the numerator and into the other bracket, and divide the one by the other."
        ),
        answer=_by(_other_bracket_not_divided_by),
    ),
    Slip(
        identifier="whole-part-of-division-forgotten",
        sentence=say("Dividing first gives a whole part as well as a fraction, and both are integrated."),
        answer=_by(_whole_part_forgotten),
    ),
    Slip(
        identifier="sign-of-remainder-changed",
        sentence=say(
            "Check the division by multiplying back: whole part times denominator, and the remainder with its sign."
        ),
        answer=_by(_sign_of_remainder),
    ),
    Slip(
        identifier="minus-of-reciprocal-lost",
        sentence=say(
            "Raising the power minus two by one gives minus one, and dividing by it brings a minus sign."
        ),
        answer=_by(_minus_of_reciprocal_lost),
    ),
    Slip(
        identifier="negative-power-moved-the-wrong-way",
        sentence=say(
            "Raising a negative power by one brings it nearer to zero: minus two becomes minus one."
        ),
        answer=_by(_power_moved_the_wrong_way),
    ),
)
