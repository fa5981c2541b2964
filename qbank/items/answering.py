"""How a question is answered: its response in the form that is wanted, with the prompt that asks for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain, islice

from qbank.bank.drawing import Draw, Stream, draws, fill
from qbank.bank.model import Bank, ResponseForm, Template
from qbank.items import guiding, wording
from qbank.items.asking import inside, question_of
from qbank.items.coefficients import FormQuestion, coefficients
from qbank.items.distractors import plain_first
from qbank.items.evaluation import Evaluated, EvaluationQuestion, EvaluationRefused, evaluation
from qbank.items.item import Coefficients, FreeExpression, Matching, Prose, Response
from qbank.items.line_marks import line_marks
from qbank.items.linear_form import FormRefused
from qbank.items.matching import Solved, matching
from qbank.items.numeric import NumberRefused, numeric
from qbank.items.offering import choice, several
from qbank.items.question import Question, answered
from qbank.items.refusal import DrawRefused
from qbank.items.tasks.asked import WorkingTask
from qbank.items.tasks.faults import fault_task, prompt_fault
from qbank.items.tasks.first_steps import first_step_task, prompt_first_step
from qbank.items.tasks.gaps import gap_task, prompt_gaps
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Expression, Integral, Symbol
from qbank.maths.verdict import Proved
from qbank.messages import say
from qbank.techniques.presenting import Row, as_they_stand, with_constant

__all__ = ["evaluated", "evaluation_of", "response_to"]

#: integrals of a matching, where antiderivatives are matched, and draws looked at for each
_ROWS, _TRIED = 4, 6


def response_to(
    bank: Bank,
    template: Template,
    draw: Draw,
    question: Question,
    integral: Integral,
    form: ResponseForm,
    stream: Stream,
) -> tuple[Prose, Response]:
    """The prompt and the response of a question in one form.

    Args:
        bank: the template's bank.
        template: the template drawn from.
        draw: its parameter values.
        question: the question of the draw.
        integral: what it asks for.
        form: the response form.
        stream: what is drawn for the options.

    Raises:
        DrawRefused: there is no good response of this form.
    """
    match form:
        case "choice":
            return wording.prompt_choice(integral), choice(bank, template, question, stream)
        case "several-answers":
            return wording.prompt_several(question.integrand), several(template, question, stream)
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
            rubric = guiding.rubric(
                question.integrand, template.variable, question.key, constant, template.policy
            )
            return wording.prompt_free(integral), FreeExpression(
                rubric=rubric, line_marks=line_marks(question.working, template.marks), policy=template.policy
            )
        case "show-that":
            guide = guiding.marking_guide(
                question.key, question.working, line_marks(question.working, template.marks)
            )
            return wording.prompt_show_that(integral, question.key), FreeExpression(rubric=guide)
        case "first-step":
            return prompt_first_step(integral), _task(bank, template, question, form, stream)
        case "find-fault":
            return prompt_fault(integral), _task(bank, template, question, form, stream)
        case "complete-working":
            task = _task(bank, template, question, form, stream)
            return prompt_gaps(integral, task), task


def _task(
    bank: Bank, template: Template, question: Question, form: ResponseForm, stream: Stream
) -> WorkingTask:
    assert question.solution is not None, "the loader asks for a technique"
    solution, constant = question.solution, bank.conventions.constant
    if form == "first-step":
        found = first_step_task(solution, template.options, stream)
    elif form == "find-fault":
        found = fault_task(solution, constant, stream)
    else:
        found = gap_task(solution, bank.conventions, template.fading, template.gaps, template.options, stream)
    if isinstance(found, str):
        raise DrawRefused(found)
    return found


def _matching(bank: Bank, template: Template, draw: Draw, question: Question, stream: Stream) -> Matching:
    plan = template.matching
    named = tuple(bank.template(name) for name in plan.others)
    # one integral of each template for first steps, else four in turn
    beside = named if plan.show == "first-step" else ((*named, template) * _ROWS)[: _ROWS - 1]
    found = matching(
        _solved(question, stream),
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
            yield _solved(question_of(bank, other, candidate), stream)
        except DrawRefused:
            continue


def _solved(question: Question, stream: Stream) -> Solved:
    return Solved(
        integrand=question.integrand,
        key=question.key,
        proof=question.proof,
        working=question.working,
        begins=question.begins,
        candidates=lambda: chain(
            question.own, plain_first(answered(stream.shuffled(question.proposals)), question.key)
        ),
        against=question.against,
    )


def _coefficients(
    bank: Bank, template: Template, draw: Draw, question: Question, stream: Stream
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
        return coefficients(wanted, stream, usable=lambda at: inside(at, question.domain), right=right)
    except FormRefused as refusal:
        raise DrawRefused(str(refusal), accident=refusal.accident) from refusal


def evaluated(bank: Bank, template: Template, question: Question, found: Evaluated) -> Question:
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


def evaluation_of(bank: Bank, template: Template, question: Question, stream: Stream) -> Evaluated:
    """The two places and the given value for which an antiderivative is evaluated.

    Raises:
        DrawRefused: no places tell the slips apart.
    """

    def right(answer: Expression) -> bool:
        return isinstance(question.derivative(answer), Proved)

    def same(first: Expression, second: Expression) -> bool:
        return isinstance(question.apart(first, second), Proved)

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
            wanted, stream, usable=lambda at: inside(at, question.domain), right=right, same=same
        )
    except EvaluationRefused as refusal:
        raise DrawRefused(str(refusal), accident=True) from refusal
