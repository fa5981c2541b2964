"""From a draw to a proved item.

    template + draw -> question (integrand, limits) -> worked solution -> key + distractors -> Item

A draw that cannot make a good item is refused with a reason (`DrawRefused`): the technique does not fit, too few
distinct wrong answers, a value on the border of rounding. Another draw is then taken; nothing is mended by guessing.
"""

from __future__ import annotations

from qbank.bank.drawing import Draw, Stream, fill
from qbank.bank.model import Bank, ResponseForm, Template
from qbank.items import wording
from qbank.items.answering import evaluated, evaluation_of, response_to
from qbank.items.asking import question_of
from qbank.items.item import Item, Matching, Response
from qbank.items.question import Question
from qbank.items.tasks.asked import WorkingTask
from qbank.items.translated import translated
from qbank.maths.expression import Integer, Integral
from qbank.techniques.presenting import Row

__all__ = ["build_item"]


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
    question = question_of(bank, template, draw)
    integral = Integral(question.integrand, template.variable, *(question.limits or ()))
    stream = Stream(bank.identifier, template.identifier, draw.point, "options")
    if form == "evaluation":
        question = evaluated(bank, template, question, evaluation_of(bank, template, question, stream))
    prompt, response = response_to(bank, template, draw, question, integral, form, stream)
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


def _title(template: Template, question: Question, response: Response) -> str:
    if isinstance(response, WorkingTask):
        return wording.task_title(response.task)
    if question.applied is not None:
        return question.applied.title
    return wording.title(definite=template.task == "definite", evaluated=question.evaluated is not None)


def _working(question: Question, response: Response) -> tuple[Row, ...]:
    """The working of the question, of a matching that of all its integrals."""
    if isinstance(response, Matching):
        return tuple(row for one in response.rows for row in one.working)
    return question.working


def _digits(question: Question) -> int:
    """Digits of all whole numbers in the key above 9: what makes a calculation long."""
    numbers = (node.value for node in question.key.walk() if isinstance(node, Integer))
    return sum(len(str(number)) - 1 for number in numbers)
