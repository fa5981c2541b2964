"""What students do when they integrate by parts.

Most of these need only the terms of the right answer: the first is u v, the others are what the integral left gives.
All common practice: from the marking of scripts, not from a published table.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import TypeAlias

from qbank.maths.constant_factor import number, over, split_constant, times
from qbank.maths.expression import Expression, Negate, Symbol, as_fraction, sum_of
from qbank.maths.factors import Factored, factored
from qbank.maths.tidying import tidy
from qbank.messages import say
from qbank.techniques.carrying import multiplied
from qbank.techniques.parts.parts_run import PartsRun
from qbank.techniques.slips import differentiated_instead
from qbank.techniques.standard.standard_sums import plan_as_written
from qbank.techniques.technique import Slip
from qbank.techniques.working import WorkedSolution

__all__ = ["parts_slips"]

#: finds the constant in front of an integrand and the rounds for the rest
Find: TypeAlias = Callable[[Expression, Symbol], tuple[Factored, PartsRun] | None]
_Wrong: TypeAlias = Callable[[PartsRun], Expression | None]


def parts_slips(find: Find) -> tuple[Slip, ...]:
    """The slips, given what finds the rounds of an integrand."""

    def slip(name: str, sentence: str, wrong: _Wrong) -> Slip:
        def answer(solution: WorkedSolution) -> Expression | None:
            found = find(solution.integrand, solution.variable)
            changed = wrong(found[1]) if found is not None else None
            if found is None or changed is None or solution.variable not in changed.symbols():
                return None
            whole = multiplied(found[0], changed)
            return None if whole == solution.antiderivative else whole

        return Slip(identifier=f"parts-{name}", sentence=sentence, answer=answer)

    return (*(slip(*row) for row in _ROWS), differentiated_instead("parts"))


def _sign(run: PartsRun) -> Expression | None:
    """`u v + int v du`."""
    if run.solution is None:
        return None
    first, *rest = run.parts()
    return sum_of(first, *(_opposite(term) for term in rest))


def _sign_of_later(run: PartsRun) -> Expression | None:
    """The minus sign before the bracket of the second round is not multiplied in."""
    parts = run.parts()
    if run.solution is None or len(parts) < 3:
        return None
    return sum_of(*parts[:2], *(_opposite(term) for term in parts[2:]))


def _opposite(tree: Expression) -> Expression:
    return multiplied(number(-1), tree)


def _product_of_integrals(run: PartsRun) -> Expression | None:
    choice = run.rounds[0].choice
    plan = plan_as_written(choice.u, run.variable)
    if plan is None or choice.dv == number(1).tree():
        return None
    pair = (choice.v, plan.answer()) if choice.kind == "cyclic" else (plan.answer(), choice.v)
    return times(*map(factored, pair)).tree()


def _second_part_lost(run: PartsRun) -> Expression | None:
    return run.rounds[0].done if run.solution is not None else None


def _du_forgotten(run: PartsRun) -> Expression | None:
    """`u v - int v dx`: u is not differentiated in the second part, it is left out."""
    one = run.rounds[0]
    plan = plan_as_written(one.choice.v, run.variable)
    # where du is dx nothing is forgotten
    if plan is None or run.solution is None or one.du == number(1).tree():
        return None
    return sum_of(one.done, _opposite(plan.answer()))


def _constant_of_du_forgotten(run: PartsRun) -> Expression | None:
    """The number in du, 2 in `2x dx`, is lost."""
    size = split_constant(run.rounds[0].du, run.variable)[0]
    if run.solution is None or abs(size.coefficient) in (0, 1):
        return None
    first, *rest = run.parts()
    by = number(1 / abs(size.coefficient))
    return sum_of(first, *(multiplied(by, term) for term in rest))


def _slope_forgotten(run: PartsRun) -> Expression | None:
    """V without the number that dv brings: all of it is too large by that number."""
    by = _slope(run)
    return None if by is None else multiplied(number(by), run.answer())


def _slope_multiplied(run: PartsRun) -> Expression | None:
    by = _slope(run)
    return None if by is None else multiplied(number(by * by), run.answer())


def _slope(run: PartsRun) -> Fraction | None:
    choice = run.rounds[0].choice
    if choice.kind not in ("polynomial", "cyclic") or choice.wave is not None:
        return None
    size = abs(split_constant(choice.v, run.variable)[0].coefficient)
    return None if size == 1 else 1 / size


def _sign_of_v(run: PartsRun) -> Expression | None:
    """The integral of the sine taken without its minus sign."""
    choice = run.rounds[0].choice
    if choice.kind != "polynomial" or split_constant(choice.v, run.variable)[0].coefficient > 0:
        return None
    return _opposite(run.answer())


def _not_divided(run: PartsRun) -> Expression | None:
    """The integral that came back is dropped in place of being brought over."""
    return run.raw() if run.solution is None else None


def _brought_over_with_wrong_sign(run: PartsRun) -> Expression | None:
    """The integral is taken to the other side with the same sign: divided by `1 - k` in place of `1 + k`."""
    share = as_fraction(run.share)
    if run.solution is not None or share is None or share == 2:
        return None
    return multiplied(over(number(2 - share)), run.raw())


def _second_part_not_integrated(run: PartsRun) -> Expression | None:
    """`u v - v u'`: the second part is written without integrating it."""
    one = run.rounds[0]
    if run.solution is None or one.choice.kind not in ("logarithm", "inverse"):
        return None
    wrong = tidy(times(factored(one.choice.v), factored(one.du)).tree())
    return sum_of(one.done, Negate(wrong)) if run.variable in wrong.symbols() else None


_ROWS: tuple[tuple[str, str, _Wrong], ...] = (
    (
        "sign-of-second-part",
        say("The integral of v du is taken away from u v: keep the minus sign."),
        _sign,
    ),
    (
        "factors-integrated-separately",
        say("The integral of a product is not the product of the integrals."),
        _product_of_integrals,
    ),
    (
        "second-part-lost",
        say("The product u v is only the first part: the integral of v du is still to be taken away."),
        _second_part_lost,
    ),
    (
        "derivative-of-u-forgotten",
        say("In the second part u is replaced by its derivative, not left out."),
        _du_forgotten,
    ),
    (
        "sign-of-later-terms",
        say(
            "A minus sign before a bracket changes every sign in it: use brackets when you integrate by parts again."
        ),
        _sign_of_later,
    ),
    (
        "inner-coefficient-forgotten",
        say("The coefficient inside comes out when you differentiate, so v must be divided by it."),
        _slope_forgotten,
    ),
    (
        "constant-of-du-forgotten",
        say("The derivative of u brings a number: keep it in the second part."),
        _constant_of_du_forgotten,
    ),
    (
        "sign-of-integral",
        say("Check the sign of v by differentiating it: the integral of this function has a minus sign."),
        _sign_of_v,
    ),
    (
        "inner-coefficient-multiplied",
        say("When integrating, divide by the coefficient inside; multiplying belongs to differentiating."),
        _slope_multiplied,
    ),
    (
        "not-divided-at-the-end",
        say("The integral stands on both sides: bring it over, and divide by the number in front of it."),
        _not_divided,
    ),
    (
        "brought-over-with-wrong-sign",
        say("When the integral is brought to the other side its sign changes."),
        _brought_over_with_wrong_sign,
    ),
    (
        "second-part-not-integrated",
        say("In the second part v times the derivative of u must still be integrated."),
        _second_part_not_integrated,
    ),
)
