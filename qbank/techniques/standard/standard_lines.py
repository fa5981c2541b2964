"""The lines that a teacher writes for a sum of standard forms, in the variable or in the letter of a substitution."""

from __future__ import annotations

from qbank.maths.constant_factor import before_integral
from qbank.maths.expression import Expression, Integral, Symbol, sum_of
from qbank.messages import say, together
from qbank.techniques.standard.standard_exceptions import exceptions
from qbank.techniques.standard.standard_exponentials import ExponentialTerm
from qbank.techniques.standard.standard_letter_powers import LetterPowerTerm
from qbank.techniques.standard.standard_sums import Plan
from qbank.techniques.standard.standard_terms import PowerTerm, StandardTerm
from qbank.techniques.working import Working

__all__ = ["integrating_reason", "standard_lines"]


def standard_lines(working: Working, plan: Plan, letter: Symbol) -> Expression:
    """Write the lines from the integral of a plan to its antiderivative.

    Args:
        working: where the lines go; the integral itself stands there already.
        plan: what is integrated.
        letter: the letter of integration.

    Returns:
        The antiderivative, the last line written.
    """
    if plan.expanded:
        working.step(
            Integral(plan.integrand(), letter), "expand", say("Multiply out and take it term by term.")
        )
    elif plan.rewritten:
        working.step(_rewritten(plan, letter), "rewrite", _rewriting_reason(plan))
    if len(plan.terms) > 1 and not all(_is_power(t) and t.inner.plain for t in plan.terms):
        integrals = (before_integral(t.constant, Integral(t.core(), letter)) for t in plan.terms)
        working.step(sum_of(*integrals), "sum-rule", say("Take each term by itself, constants in front."))
    reason = integrating_reason(plan)
    drafts = tuple(term.draft() for term in plan.terms)
    if any(draft is not None for draft in drafts):
        pairs = zip(drafts, plan.terms, strict=True)
        line = sum_of(*(term.answer() if draft is None else draft for draft, term in pairs))
        working.step(line, "standard-integral", reason)
        reason = say("Work out the numbers.")
    answer = plan.answer()
    working.step(answer, "standard-integral", reason)
    return answer


def _rewritten(plan: Plan, letter: Symbol) -> Expression:
    """The integral of the standard forms; a constant before a single one goes in front."""
    if len(plan.terms) > 1:
        return Integral(plan.integrand(), letter)
    (term,) = plan.terms
    return before_integral(term.constant, Integral(term.core(), letter))


def integrating_reason(plan: Plan) -> str:
    """What to say when the terms are integrated: at most two different things, and what letters must not be."""
    said = tuple(dict.fromkeys(term.reason for term in plan.terms))
    reason = together(*said) if len(said) <= 2 else say("Integrate each term by its standard form.")
    return together(reason, *exceptions(plan.terms))


def _is_power(term: StandardTerm) -> bool:
    return isinstance(term, PowerTerm | LetterPowerTerm)


def _rewriting_reason(plan: Plan) -> str:
    if any(isinstance(term, ExponentialTerm) and term.joined for term in plan.terms):
        return say("Bring exponentials together: where the exponents are the same, the bases are multiplied.")
    if all(map(_is_power, plan.terms)):
        return say("Write it as a power.") if len(plan.terms) == 1 else say("Write the terms as powers.")
    return (
        say("Write it as a standard form.")
        if len(plan.terms) == 1
        else say("Write the terms as standard forms.")
    )
