"""From a draw to a proved item.

    template + draw -> question (integrand, limits) -> worked solution -> key + distractors -> Item

A draw that cannot make a good item is refused with a reason (`DrawRefused`): the technique does not fit, too few
distinct wrong answers, a value on the border of rounding. Another draw is then taken; nothing is mended by guessing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from itertools import chain, islice

from qbank.bank.application import Application
from qbank.bank.drawing import Draw, Stream, draws, fill
from qbank.bank.model import Bank, Find, ResponseForm, Template
from qbank.items import wording
from qbank.items.applications.applied import Applied, apply
from qbank.items.coefficients import FormQuestion, coefficients
from qbank.items.distractors import AUTHOR, Candidate, Proposal, is_plain, plain_first, select_distractors
from qbank.items.evaluation import Evaluated, EvaluationQuestion, EvaluationRefused, evaluation
from qbank.items.item import (
    Check,
    Choice,
    Coefficients,
    FreeExpression,
    Item,
    Matching,
    Option,
    Prose,
    Response,
    SeveralAnswers,
    Sought,
)
from qbank.items.limit_sought import SoughtRefused, limit_sought
from qbank.items.line_marks import line_marks
from qbank.items.linear_form import FormRefused
from qbank.items.matching import Solved, matching
from qbank.items.numeric import NumberRefused, numeric
from qbank.items.pairing import apart, paired
from qbank.items.several import SeveralQuestion, several_answers
from qbank.items.tasks.asked import WorkingTask
from qbank.items.tasks.faults import fault_task, prompt_fault
from qbank.items.tasks.first_steps import first_step_task, prompt_first_step
from qbank.items.tasks.gaps import gap_task, prompt_gaps
from qbank.items.translated import translated
from qbank.items.values import double_values, placed, way_doubles
from qbank.maths.clock import PATIENT
from qbank.maths.deciding import (
    decide_antiderivative,
    decide_equal,
    decide_same_up_to_constant,
)
from qbank.maths.domain import Domain
from qbank.maths.enclosing import enclose
from qbank.maths.expression import Expression, Integer, Integral, Symbol, as_fraction
from qbank.maths.number_system import NotSettled
from qbank.maths.points import Sides, slope_side, value_side
from qbank.maths.verdict import Proof, Proved, Refuted, Unsettled, Verdict
from qbank.messages import say
from qbank.techniques.applications.asked import ApplicationRefused
from qbank.techniques.definite import (
    DefiniteRefused,
    DefiniteSolution,
    definite_value_slips,
    work_definite,
)
from qbank.techniques.definites.choosing import is_way, value_with
from qbank.techniques.definites.leaf import leaf, leaves
from qbank.techniques.definites.showing import value_rows
from qbank.techniques.definites.way import WorkedValue, value_slips
from qbank.techniques.first_step import FirstStep, first_step
from qbank.techniques.planner import solve_with, technique
from qbank.techniques.presenting import Row, as_they_stand, rows, with_constant
from qbank.techniques.working import WorkedSolution

__all__ = ["DrawRefused", "build_item"]

_LETTERS = "ABCDE"
#: places to look at an integrand; generic, so that no student's work meets them by chance
_SAMPLES = tuple(Fraction(n, 16) for n in (5, 9, 13, 19, 25, 37, 53, 83, -3, -7, -11, -21, -39, -67))
_CHECKS = 5
#: in one item of so many, no two slips are put together
_PAIRED_OF = 5
#: integrals of a matching, where antiderivatives are matched, and draws looked at for each
_ROWS, _TRIED = 4, 6


class DrawRefused(Exception):  # noqa: N818 - a refusal is an answer, not an error
    """This draw makes no good item; the text says why.

    Attributes:
        accident: whether it is an accident of this draw's numbers, which passing it over mends (a value on the
            border of rounding); otherwise the template should be changed.
    """

    def __init__(self, reason: str, *, accident: bool = False) -> None:
        super().__init__(reason)
        self.accident = accident


@dataclass(frozen=True, slots=True, kw_only=True)
class _Question:
    """What is asked, with its answer: the middle stage between a draw and an item."""

    integrand: Expression
    limits: tuple[Expression, Expression] | None
    domain: Domain | None
    key: Expression
    proof: Proof
    enclosure: tuple[Fraction, Fraction] | None
    working: tuple[Row, ...]
    own: tuple[Candidate, ...]
    proposals: tuple[Proposal, ...]
    checks: tuple[Check, ...]
    evaluated: Evaluated | None = None
    worked: DefiniteSolution | None = None
    begins: FirstStep | None = None
    solution: WorkedSolution | None = None
    sought: Sought | None = None
    by_way: WorkedValue | None = None
    applied: Applied | None = None

    @property
    def candidates(self) -> Iterator[Candidate]:
        """All wrong answers, the author's own first, then the slips in the catalogue's order."""
        return chain(self.own, _answered(self.proposals))


def build_item(bank: Bank, template: Template, draw: Draw, form: ResponseForm) -> Item:
    """Build the item of a draw, with all its proofs.

    Args:
        bank: the template's bank.
        template: the template drawn from.
        draw: its parameter values.
        form: one of the template's response forms.

    Raises:
        DrawRefused: the draw makes no good item.
    """
    question = _question(bank, template, draw)
    integral = Integral(question.integrand, template.variable, *(question.limits or ()))
    stream = Stream(bank.identifier, template.identifier, draw.point, "options")
    if form == "evaluation":
        question = _evaluated(bank, template, question, _evaluation(bank, template, question, stream))
    prompt, response = _response(bank, template, draw, question, integral, form, stream)
    if question.applied is not None:
        prompt = question.applied.prompt(figures=template.figures if form == "numeric" else None)
    if template.domain is not None:
        lower, upper = (fill(end, draw) for end in template.domain)
        prompt = wording.within(prompt, template.variable, lower, upper)
    item = Item(
        identifier=f"{template.identifier}-{draw.point:04d}-{form}",
        bank=bank.identifier,
        template=template.identifier,
        title=_title(template, question, response),
        technique=template.technique,
        tags=template.tags,
        language=bank.language,
        conventions=bank.conventions,
        parameters=draw.values,
        prompt=prompt,
        integrand=question.integrand,
        variable=template.variable,
        limits=question.limits,
        key=question.key,
        proof=question.proof,
        enclosure=question.enclosure,
        working=_working(question, response),
        checks=question.checks,
        response=response,
        marks=template.marks,
        difficulty=len(question.working) + _digits(question),
        through=None if question.evaluated is None else question.evaluated.through,
        sought=question.sought,
        figure=None if question.applied is None else question.applied.figure(bank.conventions),
    )
    return translated(item, bank.language)


def _title(template: Template, question: _Question, response: Response) -> str:
    if isinstance(response, WorkingTask):
        return wording.task_title(response.task)
    if question.applied is not None:
        return question.applied.title
    return wording.title(definite=template.task == "definite", evaluated=question.evaluated is not None)


def _question(bank: Bank, template: Template, draw: Draw) -> _Question:
    integrand = fill(template.integrand, draw)
    if template.application is not None:
        return _applied(bank, template, draw, template.application)
    if template.task == "definite":
        return _definite(bank, template, draw, integrand)
    return _indefinite(bank, template, draw, integrand)


def _indefinite(bank: Bank, template: Template, draw: Draw, integrand: Expression) -> _Question:
    domain = _domain(template, draw)
    solution = _solution(template, integrand)
    key, proof = _key(template, draw, integrand, solution, domain)
    proposals: Iterable[Proposal] = ()
    if solution is not None and template.technique is not None:
        proposals = (
            Proposal(slip=s.identifier, sentence=s.sentence, propose=partial(s.answer, solution))
            for s in technique(template.technique).slips
        )
    return _Question(
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


def _definite(bank: Bank, template: Template, draw: Draw, integrand: Expression) -> _Question:
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
    return _Question(
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


def _sought(
    template: Template, draw: Draw, find: Find, integrand: Expression, lower: Expression
) -> _Question:
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
    return _Question(
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


def _by_way(template: Template, integral: Integral) -> _Question:
    """A definite integral whose template names the way that it is worked by."""
    assert template.technique is not None
    assert integral.lower is not None
    assert integral.upper is not None
    worked = value_with(template.technique, integral)
    if worked is None:
        raise DrawRefused(f"the way {template.technique} does not fit this integral")
    return _Question(
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


def _applied(bank: Bank, template: Template, draw: Draw, application: Application) -> _Question:
    try:
        applied = apply(application, draw, template.variable)
    except ApplicationRefused as refusal:
        raise DrawRefused(str(refusal)) from refusal
    worked, integral = applied.worked, applied.worked.set_up.one_integral
    return _Question(
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


def _response(
    bank: Bank,
    template: Template,
    draw: Draw,
    question: _Question,
    integral: Integral,
    form: ResponseForm,
    stream: Stream,
) -> tuple[Prose, Response]:
    match form:
        case "choice":
            return wording.prompt_choice(integral), _choice(bank, template, question, stream)
        case "several-answers":
            return wording.prompt_several(question.integrand), _several(template, question, stream)
        case "matching":
            matched = _matching(bank, template, draw, question, stream)
            return wording.prompt_matching(matched), matched
        case "numeric":
            prompt = wording.prompt_numeric(integral, template.figures)
            if question.sought is not None:
                prompt = wording.prompt_sought(integral, question.sought, template.figures)
            try:
                return prompt, numeric(question.key, question.candidates, template.figures)
            except NumberRefused as refusal:
                raise DrawRefused(str(refusal), accident=True) from refusal
        case "evaluation":
            assert question.evaluated is not None
            prompt = wording.prompt_evaluation(integral, question.evaluated.through, template.figures)
            return prompt, question.evaluated.response
        case "coefficients":
            response = _coefficients(bank, template, draw, question, stream)
            return wording.prompt_coefficients(response, question.integrand), response
        case "free-expression":
            constant = bank.conventions.constant
            rubric = wording.rubric(
                question.integrand, template.variable, question.key, constant, template.policy
            )
            return wording.prompt_free(integral), FreeExpression(
                rubric=rubric, line_marks=line_marks(question.working, template.marks), policy=template.policy
            )
        case "show-that":
            guide = wording.marking_guide(
                question.key, question.working, line_marks(question.working, template.marks)
            )
            return wording.prompt_show_that(integral, question.key), FreeExpression(rubric=guide)
        case "first-step":
            return prompt_first_step(integral), _task(bank, template, question, form, stream)
        case "find-fault":
            return prompt_fault(integral), _task(bank, template, question, form, stream)
        case "complete-working":
            return prompt_gaps(integral), _task(bank, template, question, form, stream)


def _task(
    bank: Bank, template: Template, question: _Question, form: ResponseForm, stream: Stream
) -> WorkingTask:
    assert question.solution is not None, "the loader asks for a technique"
    solution, constant = question.solution, bank.conventions.constant
    if form == "first-step":
        found = first_step_task(solution, template.options, stream)
    elif form == "find-fault":
        found = fault_task(solution, constant, stream)
    else:
        found = gap_task(solution, constant, template.fading, template.options, stream)
    if isinstance(found, str):
        raise DrawRefused(found)
    return found


def _choice(bank: Bank, template: Template, question: _Question, stream: Stream) -> Choice:
    variable, definite = template.variable, question.limits is not None
    wanted = template.options - 1
    chosen = select_distractors(
        _options_in_turn(question, stream, wanted),
        wanted,
        against_question=lambda answer: _against_question(answer, question, variable),
        against_option=lambda first, second: _against_option(first, second, question, variable),
    )
    if len(chosen) < wanted:
        raise DrawRefused(f"only {len(chosen)} of {wanted} different wrong answers could be found")
    right = wording.value_feedback() if definite else wording.key_feedback(question.integrand, variable)
    parts: list[tuple[Expression, str | None, Prose, object]] = [(question.key, None, right, question.proof)]
    parts.extend(
        (d.candidate.answer, d.candidate.slip, wording.slip_feedback(d.candidate.sentence), d.witness)
        for d in chosen
    )
    constant = bank.conventions.constant
    options = (
        Option(
            identifier=letter,
            answer=answer if definite else with_constant(answer, constant),
            slip=slip,
            feedback=feedback,
            evidence=evidence,  # type: ignore[arg-type]
        )
        for letter, (answer, slip, feedback, evidence) in zip(
            _LETTERS, stream.shuffled(tuple(parts)), strict=False
        )
    )
    return Choice(options=tuple(options))


def _against_question(answer: Expression, question: _Question, variable: Symbol) -> Verdict:
    """Whether an answer is right; one that is right on a part of the domain is neither right nor a distractor."""
    if question.limits is not None:
        return decide_equal(answer, question.key, variable, budget=PATIENT)
    verdict = _derivative(answer, question, variable)
    if isinstance(verdict, Refuted) and not _wrong_everywhere(answer, question, variable):
        # a witness somewhere is not enough
        return Unsettled(reason="right in places")
    return verdict


def _derivative(answer: Expression, question: _Question, variable: Symbol) -> Verdict:
    """Whether the derivative of an answer is the integrand."""
    return decide_antiderivative(answer, question.integrand, variable, domain=question.domain, budget=PATIENT)


def _against_option(first: Expression, second: Expression, question: _Question, variable: Symbol) -> Verdict:
    decide = decide_same_up_to_constant if question.limits is None else decide_equal
    return decide(first, second, variable, domain=question.domain, budget=PATIENT)


def _several(template: Template, question: _Question, stream: Stream) -> SeveralAnswers:
    variable = template.variable
    wanted = SeveralQuestion(
        key=question.key,
        proof=question.proof,
        integrand=question.integrand,
        variable=variable,
        candidates=_options_in_turn(question, stream, template.options - 1),
        against_question=lambda answer: _against_question(answer, question, variable),
        against_option=lambda first, second: _against_option(first, second, question, variable),
    )
    found = several_answers(wanted, stream)
    if found is None:
        raise DrawRefused("too few different wrong answers could be found")
    return found


def _working(question: _Question, response: Response) -> tuple[Row, ...]:
    """The working of the question, of a matching that of all its integrals."""
    if isinstance(response, Matching):
        return tuple(row for one in response.rows for row in one.working)
    return question.working


def _matching(bank: Bank, template: Template, draw: Draw, question: _Question, stream: Stream) -> Matching:
    plan = template.matching
    named = tuple(bank.template(name) for name in plan.others)
    # one integral of each template for first steps, else four in turn
    beside = named if plan.show == "first-step" else ((*named, template) * _ROWS)[: _ROWS - 1]
    found = matching(
        _solved(question, template.variable, stream),
        [_beside(bank, template, draw, other, row, stream) for row, other in enumerate(beside)],
        variable=template.variable,
        shows=plan.show,
        constant=bank.conventions.constant,
        stream=stream,
    )
    if isinstance(found, str):
        raise DrawRefused(found)
    return found


def _beside(
    bank: Bank, template: Template, draw: Draw, other: Template, row: int, stream: Stream
) -> Iterator[Solved]:
    """Integrals of a template that may stand in a row beside a draw."""
    seed = Stream(bank.identifier, template.identifier, draw.point, "beside", row).below(2**32)
    for candidate in islice(draws(bank, other, seed), _TRIED):
        try:
            yield _solved(_question(bank, other, candidate), template.variable, stream)
        except DrawRefused:
            continue


def _solved(question: _Question, variable: Symbol, stream: Stream) -> Solved:
    return Solved(
        integrand=question.integrand,
        key=question.key,
        proof=question.proof,
        working=question.working,
        begins=question.begins,
        candidates=lambda: chain(
            question.own, plain_first(_answered(stream.shuffled(question.proposals)), question.key)
        ),
        against=lambda answer: _against_question(answer, question, variable),
    )


def _options_in_turn(question: _Question, stream: Stream, wanted: int) -> Iterator[Candidate]:
    """The author's own wrong answers first, then slips; in most items two of them apart and together.

    A value is no sum of terms that slips change one by one; there the slips depend on a place drawn for the key.
    """
    singles = plain_first(_in_turn(question.proposals, stream), question.key)
    if question.applied is not None:
        twice = (one for one in question.applied.doubles(stream) if is_plain(one.answer, question.key))
        return placed(singles, twice, question.key, wanted, stream)
    if question.worked is not None:
        doubles = double_values(question.worked, stream)
        plain = (candidate for candidate in doubles if is_plain(candidate.answer, question.key))
        return placed(singles, plain, question.key, wanted, stream)
    if question.limits is not None:
        doubles = iter(()) if question.by_way is None else way_doubles(question.by_way, stream)
        plain = (candidate for candidate in doubles if is_plain(candidate.answer, question.key))
        return placed(singles, plain, question.key, wanted, stream)
    arranged = apart if stream.below(_PAIRED_OF) == 0 else paired
    return chain(question.own, arranged(singles, question.key))


def _in_turn(proposals: tuple[Proposal, ...], stream: Stream) -> Iterator[Candidate]:
    """The most typical slip that occurs first, the others in a drawn order: clones vary."""
    left = iter(proposals)
    first = next(_answered(left), None)
    if first is not None:
        yield first
        yield from _answered(stream.shuffled(tuple(left)))


def _answered(proposals: Iterable[Proposal]) -> Iterator[Candidate]:
    """The slips that occur, each run when it is wanted."""
    found = (proposal.candidate() for proposal in proposals)
    return (candidate for candidate in found if candidate is not None)


def _wrong_everywhere(answer: Expression, question: _Question, variable: Symbol) -> bool:
    """Whether the derivative of an answer provably misses the integrand at every sample point."""
    try:
        sides = Sides(slope_side(answer), value_side(question.integrand), variable, {})
    except NotSettled:
        return False
    outcomes = (sides.compare({variable.name: check.at}).outcome for check in question.checks)
    return all(outcome in ("differ", "left undefined") for outcome in outcomes)


def _coefficients(
    bank: Bank, template: Template, draw: Draw, question: _Question, stream: Stream
) -> Coefficients:
    def right(answer: Expression) -> bool:
        verdict = decide_antiderivative(answer, question.integrand, template.variable, domain=question.domain)
        return isinstance(verdict, Proved) and not verdict.undefined_at

    offer = tuple(fill(function, draw) for function in template.offer)
    trees = (question.integrand, question.key, *offer)
    letters = {symbol.name for tree in trees for symbol in tree.symbols()}
    wanted = FormQuestion(
        key=question.key,
        integrand=question.integrand,
        variable=template.variable,
        taken=frozenset({*letters, template.variable.name, bank.conventions.constant}),
        offer=offer,
        candidates=tuple(question.candidates),
        entry=template.entry,
        figures=template.figures,
        marks=template.marks,
    )
    try:
        return coefficients(wanted, stream, usable=lambda at: _inside(at, question.domain), right=right)
    except FormRefused as refusal:
        raise DrawRefused(str(refusal), accident=refusal.accident) from refusal


def _evaluated(bank: Bank, template: Template, question: _Question, found: Evaluated) -> _Question:
    """The question of an antiderivative made into that of a value of it."""
    particular, constant = found.particular, bank.conventions.constant
    before = question.working or (
        Row(kind="start", statements=(Integral(question.integrand, template.variable),)),
        Row(
            kind="step",
            statements=(with_constant(question.key, constant),),
            reason=say("An antiderivative, with its constant."),
            rule="antiderivative",
        ),
    )
    return replace(
        question,
        key=particular.value,
        proof=particular.proof,
        enclosure=particular.enclosure,
        working=(*before, *as_they_stand(particular.lines)),
        evaluated=found,
    )


def _evaluation(bank: Bank, template: Template, question: _Question, stream: Stream) -> Evaluated:
    def right(answer: Expression) -> bool:
        return isinstance(_derivative(answer, question, template.variable), Proved)

    def same(first: Expression, second: Expression) -> bool:
        return isinstance(_against_option(first, second, question, template.variable), Proved)

    wanted = EvaluationQuestion(
        key=question.key,
        integrand=question.integrand,
        variable=template.variable,
        constant=Symbol(bank.conventions.constant),
        candidates=tuple(question.candidates),
        figures=template.figures,
    )
    try:
        return evaluation(
            wanted, stream, usable=lambda at: _inside(at, question.domain), right=right, same=same
        )
    except EvaluationRefused as refusal:
        raise DrawRefused(str(refusal), accident=True) from refusal


def _checks(template: Template, integrand: Expression, domain: Domain | None) -> tuple[Check, ...]:
    found: list[Check] = []
    for point in _SAMPLES:
        value = enclose(integrand, at={template.variable: point}, digits=17)
        if value is not None and _inside(point, domain):
            found.append(Check(at=point, value=value.decimal))
        if len(found) == _CHECKS:
            break
    return tuple(found)


def _inside(point: Fraction, domain: Domain | None) -> bool:
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


def _digits(question: _Question) -> int:
    """Digits of all whole numbers in the key above 9: what makes a calculation long."""
    numbers = (node.value for node in question.key.walk() if isinstance(node, Integer))
    return sum(len(str(number)) - 1 for number in numbers)
