"""From a draw to a question: the integral, its worked solution, the key and what may go wrong."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from functools import partial

from qbank.bank.application import Application
from qbank.bank.drawing import Draw, fill
from qbank.bank.model import Bank, Find, Template
from qbank.items.applications.applied import apply
from qbank.items.distractors import AUTHOR, Candidate, Proposal
from qbank.items.item import Check
from qbank.items.limit_sought import SoughtRefused, limit_sought
from qbank.items.question import Question
from qbank.items.refusal import DrawRefused
from qbank.maths.clock import PATIENT
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.domain import Domain
from qbank.maths.enclosing import enclose
from qbank.maths.expression import Expression, Integral, Symbol, as_fraction
from qbank.maths.verdict import Proof, Proved
from qbank.techniques.applications.asked import ApplicationRefused
from qbank.techniques.definite import DefiniteRefused, definite_value_slips, work_definite
from qbank.techniques.definites.choosing import is_way, value_with
from qbank.techniques.definites.leaf import leaf, leaves
from qbank.techniques.definites.showing import value_rows
from qbank.techniques.definites.way import value_slips
from qbank.techniques.first_step import first_step
from qbank.techniques.planner import solve_with, technique
from qbank.techniques.presenting import rows
from qbank.techniques.working import WorkedSolution

__all__ = ["inside", "question_of"]

#: places to look at an integrand; generic, so that no student's work meets them by chance
_SAMPLES = tuple(Fraction(n, 16) for n in (5, 9, 13, 19, 25, 37, 53, 83, -3, -7, -11, -21, -39, -67))
_CHECKS = 5


def question_of(bank: Bank, template: Template, draw: Draw) -> Question:
    """The question of a draw.

    Args:
        bank: the template's bank.
        template: the template drawn from.
        draw: its parameter values.

    Raises:
        DrawRefused: the draw asks nothing that can be answered with proof.
    """
    integrand = fill(template.integrand, draw)
    if template.application is not None:
        return _applied(bank, template, draw, template.application)
    if template.task == "definite":
        return _definite(bank, template, draw, integrand)
    return _indefinite(bank, template, draw, integrand)


def _indefinite(bank: Bank, template: Template, draw: Draw, integrand: Expression) -> Question:
    domain = _domain(template, draw)
    solution = _solution(template, integrand)
    key, proof = _key(template, draw, integrand, solution, domain)
    proposals: Iterable[Proposal] = ()
    if solution is not None and template.technique is not None:
        proposals = (
            Proposal(slip=s.identifier, sentence=s.sentence, propose=partial(s.answer, solution))
            for s in technique(template.technique).slips
        )
    return Question(
        variable=template.variable,
        integrand=integrand,
        limits=None,
        domain=domain,
        key=key,
        proof=proof,
        enclosure=None,
        working=() if solution is None else rows(solution, bank.conventions.constant),
        own=tuple(_author_candidates(template, draw)),
        proposals=tuple(proposals),
        checks=_checks(template, integrand, domain),
        begins=None if solution is None or not solution.lines else first_step(solution),
        solution=solution,
    )


def _definite(bank: Bank, template: Template, draw: Draw, integrand: Expression) -> Question:
    assert template.limits is not None
    lower, upper = (fill(limit, draw) for limit in template.limits)
    if template.find is not None:
        return _sought(template, draw, template.find, integrand, lower)
    if is_way(template.technique):
        return _by_way(template, Integral(integrand, template.variable, lower, upper))
    solution = _solution(template, integrand)
    if solution is None:
        raise DrawRefused("a definite integral needs a technique")
    try:
        worked = work_definite(integrand, template.variable, lower, upper, solution=solution)
    except DefiniteRefused as refusal:
        raise DrawRefused(str(refusal)) from refusal
    proposals = (
        Proposal(slip=s.slip, sentence=s.sentence, propose=s.value) for s in definite_value_slips(worked)
    )
    return Question(
        variable=template.variable,
        integrand=integrand,
        limits=(lower, upper),
        domain=None,
        key=worked.value,
        proof=worked.proof,
        enclosure=(worked.enclosure.lower, worked.enclosure.upper),
        working=rows(worked, bank.conventions.constant),
        own=(),
        proposals=tuple(proposals),
        checks=_checks(template, integrand, None),
        worked=worked,
    )


def _sought(template: Template, draw: Draw, find: Find, integrand: Expression, lower: Expression) -> Question:
    """A definite integral whose upper limit is asked for."""
    letter = Symbol(find.letter)
    integral = Integral(integrand, template.variable, lower, letter)
    solution = None if is_way(template.technique) else _solution(template, integrand)
    stretch = next(leaves(integral), None) if solution is None else leaf(integral, solution)
    if stretch is None or letter in integrand.symbols():
        raise DrawRefused("no technique fits the integrand, or the limit stands in it")
    bounds = (fill(find.lower, draw), fill(find.upper, draw))
    try:
        found = limit_sought(stretch, letter, dict(draw.values)[find.letter], bounds)
    except SoughtRefused as refusal:
        raise DrawRefused(str(refusal)) from refusal
    return Question(
        variable=template.variable,
        integrand=integrand,
        limits=(lower, letter),
        domain=None,
        key=found.key,
        proof=found.proof,
        enclosure=found.enclosure,
        working=found.working,
        own=(),
        proposals=(),
        checks=_checks(template, integrand, None),
        sought=found.sought,
    )


def _by_way(template: Template, integral: Integral) -> Question:
    """A definite integral whose template names the way that it is worked by."""
    assert template.technique is not None
    assert integral.lower is not None
    assert integral.upper is not None
    worked = value_with(template.technique, integral)
    if worked is None:
        raise DrawRefused(f"the way {template.technique} does not fit this integral")
    return Question(
        variable=template.variable,
        integrand=integral.integrand,
        limits=(integral.lower, integral.upper),
        domain=None,
        key=worked.value,
        proof=worked.proof,
        enclosure=(worked.enclosure.lower, worked.enclosure.upper),
        working=value_rows(worked),
        own=(),
        proposals=tuple(
            Proposal(slip=s.slip, sentence=s.sentence, propose=s.value) for s in value_slips(worked)
        ),
        checks=_checks(template, integral.integrand, None),
        by_way=worked,
    )


def _applied(bank: Bank, template: Template, draw: Draw, application: Application) -> Question:
    try:
        applied = apply(application, draw, template.variable)
    except ApplicationRefused as refusal:
        raise DrawRefused(str(refusal)) from refusal
    worked, integral = applied.worked, applied.worked.set_up.one_integral
    return Question(
        variable=template.variable,
        integrand=integral.integrand,
        limits=worked.set_up.limits,
        domain=None,
        key=worked.value,
        proof=worked.proof,
        enclosure=worked.enclosure,
        working=worked.rows(bank.conventions.constant),
        own=(),
        proposals=tuple(applied.proposals()),
        checks=_checks(template, integral.integrand, None),
        applied=applied,
    )


def _solution(template: Template, integrand: Expression) -> WorkedSolution | None:
    if template.technique is None:
        return None
    solution = solve_with(template.technique, integrand, template.variable)
    if solution is None and template.antiderivative is None:
        raise DrawRefused(f"the technique {template.technique} does not fit this integrand")
    return solution


def _key(
    template: Template,
    draw: Draw,
    integrand: Expression,
    solution: WorkedSolution | None,
    domain: Domain | None,
) -> tuple[Expression, Proof]:
    if template.antiderivative is not None:
        key = fill(template.antiderivative, draw)
        verdict = decide_antiderivative(key, integrand, template.variable, domain=domain, budget=PATIENT)
        if not isinstance(verdict, Proved):
            raise DrawRefused("the author's antiderivative is not proved for this draw")
        return key, verdict.proof
    assert solution is not None
    return solution.antiderivative, solution.proof


def _domain(template: Template, draw: Draw) -> Domain | None:
    if template.domain is None:
        return None
    lower, upper = (fill(end, draw) for end in template.domain)
    return Domain(lower=lower, upper=upper)


def _author_candidates(template: Template, draw: Draw) -> Iterable[Candidate]:
    for distractor in template.distractors:
        yield Candidate(slip=AUTHOR, sentence=distractor.feedback, answer=fill(distractor.answer, draw))


def _checks(template: Template, integrand: Expression, domain: Domain | None) -> tuple[Check, ...]:
    found: list[Check] = []
    for point in _SAMPLES:
        value = enclose(integrand, at={template.variable: point}, digits=17)
        if value is not None and inside(point, domain):
            found.append(Check(at=point, value=value.decimal))
        if len(found) == _CHECKS:
            break
    return tuple(found)


def inside(point: Fraction, domain: Domain | None) -> bool:
    """Whether a sample point lies in a domain, and not nearer to its ends than these are known."""
    if domain is None:
        return True
    lower, upper = _value(domain.lower), _value(domain.upper)
    return (lower is None or lower < point) and (upper is None or point < upper)


def _value(end: Fraction | Expression | None) -> Fraction | None:
    """An end of a domain as a number; a sample point does not lie nearer to it than the error of this."""
    if end is None or isinstance(end, Fraction):
        return end
    exact = as_fraction(end)
    if exact is not None:
        return exact
    bounds = enclose(end, at={})
    return None if bounds is None else bounds.lower
