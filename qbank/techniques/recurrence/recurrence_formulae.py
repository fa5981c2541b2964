"""Recurrence (reduction) formulae: the formula is derived with a letter for the power, then used down to the base case.

    let I_n = int sin^n x dx
    n I_n = -sin^(n-1) x cos x + (n - 1) I_(n-2)                            derived, line by line
    int sin^6 x dx = -1/6 sin^5 x cos x + 5/6 I_4 = ... = ... + 5/16 x      used three times

It comes first where the usual way does the same thing five times or more: five rounds by parts (from x^5 e^x and (ln x)^5
on), five integrals in one line (from tan^8 x on), a bracket to the fifth power (even powers of sine and cosine from 10 on),
an odd power of the secant that is brought down five times (from 11 on). There the working is shorter (x^6 e^x: 14 rows for
20; tan^9 x: 389 signs for 491; sec^11 x: 888 for 971), or, for sin^10 x, longer (863 for 681) but without a line that has a
sum of six terms under its integral. An odd power of sine and an even one of the secant stay with their substitution, which is
shorter at every power; below these powers the usual way is taught first, and this one is another.

Common practice: the usual order of a textbook's section on these formulae.
"""

from __future__ import annotations

from functools import lru_cache

from qbank.maths.constant_factor import ONE, before_integral, in_front, number, over, times
from qbank.maths.expression import Expression, Integer, Integral, Power, Symbol, as_fraction, sum_of
from qbank.maths.factors import factored
from qbank.messages import Message, say
from qbank.techniques.indexed_integral import IndexedIntegral, spare_names
from qbank.techniques.recurrence.circular_recurrences import circular_recurrence
from qbank.techniques.recurrence.product_recurrences import product_recurrence
from qbank.techniques.recurrence.recurrence import Recurrence, Stage
from qbank.techniques.recurrence.recurrence_slips import recurrence_slips
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "recurrence-formulae"

#: it comes first for powers from this one on, and for some from a higher one on
_FEWEST = 5


# a technique and each of its slips look at one integrand in turn
@lru_cache(maxsize=64)
def _find(integrand: Expression, variable: Symbol) -> Recurrence | None:
    return circular_recurrence(integrand, variable) or product_recurrence(integrand, variable)


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    plan = _find(integrand, variable)
    if plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    whole = before_integral(plan.front, Integral(plan.member(plan.power), variable))
    written = set(factored(plan.member(plan.power)).powers) <= set(factored(integrand).powers)
    if not written:
        said = say("Write it without a fraction, with any constant in front.")
        working.step(whole, "rewrite", said)
    elif plan.front != ONE:
        working.step(whole, "constant-factor", say("Take the constant out."))
    letter, index = spare_names(sum_of(integrand, variable))
    called = IndexedIntegral(letter, index, Integral(plan.member(index), variable))
    working.call(
        called,
        say("Write {letter} for the power: one formula then serves for every power.", letter=index.name),
    )
    plan.derive(working, called)
    _go_down(working, plan, called)
    return working.finish()


def _is_first(integrand: Expression, variable: Symbol) -> bool:
    """Whether the usual way would do the same thing five times or more; most integrands have no such power at all."""
    powers = (as_fraction(node.exponent) for node in integrand.walk() if isinstance(node, Power))
    if not any(abs(n) >= _FEWEST for n in powers if n is not None):
        return False
    plan = _find(integrand, variable)
    return plan is not None and plan.is_first


def _go_down(working: Working, plan: Recurrence, called: IndexedIntegral) -> None:
    """Write how the formula is used: each line multiplies the last bracket out and opens the next."""
    stages = list(plan.stages())
    for stage in stages[:-1]:
        opened = before_integral(stage.size, _bracket(plan, stage, called))
        working.step(sum_of(*stage.done, opened), "recurrence", _used(called, stage))
    last = stages[-1]
    if not last.size.coefficient:
        if not working.stands(sum_of(*last.done)):
            working.step(sum_of(*last.done), "expand", say("Multiply out."))
        return
    base = called.at(last.power)
    working.balance(base, plan.base(last.power), rule="base-case", reason=_base_reason(plan, last.power))
    working.step(plan.answer(), "base-case", say("Put this in and multiply out."))


def _bracket(plan: Recurrence, stage: Stage, called: IndexedIntegral) -> Expression:
    """What the formula says for one power."""
    rung = plan.rung(stage.power)
    share = over(number(rung.share))
    terms = (in_front(times(share, size), body) for size, body in rung.terms)
    lower = times(share, rung.lower)
    left = (before_integral(lower, called.at(stage.power - plan.step)),) if lower.coefficient else ()
    return sum_of(*terms, *left)


def _used(called: IndexedIntegral, stage: Stage) -> Message:
    n, k = called.index.name, str(stage.power)
    if stage.done:
        return say("Multiply out, and use the formula with {letter} = {number}.", letter=n, number=k)
    return say("Use the formula with {letter} = {number}.", letter=n, number=k)


def _base_reason(plan: Recurrence, power: int) -> Message:
    if plan.member(power) == Integer(1):
        return say("The base case: the integral of 1 is the variable itself.")
    return say("The base case: this is a standard integral.")


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Recurrence formulae",
    work=_work,
    slips=recurrence_slips(_find),
    first_for=_is_first,
)
