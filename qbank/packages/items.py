"""An item of QTI 2 or 3 read back from its XML: the question students see, and what its processing scores."""

from __future__ import annotations

from itertools import pairwise

from qbank.maths.expression import Expression
from qbank.packages.applications import asked_application, told_before_answering
from qbank.packages.evaluations import asked_integral, condition_of
from qbank.packages.forms import asked_by_form, read_form
from qbank.packages.formulas import FormulaError
from qbank.packages.matched import partner_shown, read_matched
from qbank.packages.parsing import Element, attribute, children, inside, kind, line_of, text_of
from qbank.packages.processing import (
    ProcessingError,
    Value,
    correct_response,
    outcomes,
    thresholds,
)
from qbank.packages.question import (
    Accepted,
    Answers,
    ModelAnswer,
    Offered,
    Options,
    Question,
    QuestionError,
)
from qbank.packages.several import asked_of_several, read_several
from qbank.packages.shown import FEEDBACK, RUBRIC, formulas_below, full_marks, shown_before_answering
from qbank.packages.task_items import in_a_line, offers_words, read_task

__all__ = ["read_item"]


def read_item(item: Element) -> Question:
    """The question of an item.

    Args:
        item: the root of its document.

    Raises:
        QuestionError: it is none of the kinds that are written here, or its scoring contradicts itself.
    """
    try:
        interactions = _interactions(item)
        if any(in_a_line(one) for one in interactions):
            return read_task(item, interactions)
        if {kind(one) for one in interactions} == {"textentryinteraction"} and len(interactions) > 1:
            return _coefficients(item, interactions)
        if len(interactions) != 1:
            raise QuestionError(f"it has {len(interactions)} interactions, and one is read here")
        if kind(interactions[0]) == "matchinteraction":
            return _matched(item, interactions[0])
        if kind(interactions[0]) == "choiceinteraction" and attribute(interactions[0], "maxchoices") != "1":
            return _several(item, interactions[0])
        if kind(interactions[0]) == "choiceinteraction" and offers_words(interactions[0]):
            return read_task(item, interactions)
        shown = shown_before_answering(item)
        applied = asked_application(told_before_answering(item), shown)
        integral = applied or asked_integral(shown)
        return Question(
            identifier=attribute(item, "identifier") or "",
            integral=integral,
            answers=_answers(item, interactions[0]),
            condition=None if applied else condition_of(integral, shown),
        )
    except (FormulaError, ProcessingError) as problem:
        raise QuestionError(str(problem)) from problem


def _interactions(item: Element) -> list[Element]:
    return [element for element in item.iterdescendants() if kind(element).endswith("interaction")]


def _coefficients(item: Element, interactions: list[Element]) -> Question:
    """Several boxes for numbers: the coefficients of a form that the first paragraph shows, with the integrand."""
    body = next(children(item, "itembody"))
    form, integral = asked_by_form(list(formulas_below(body[0], hidden=FEEDBACK)) if len(body) else [])
    boxes = [attribute(one, "responseidentifier") or "" for one in interactions]
    return Question(
        identifier=attribute(item, "identifier") or "",
        integral=integral,
        answers=read_form(item, form, boxes, full_marks(item)),
    )


def _answers(item: Element, interaction: Element) -> Answers:
    response = attribute(interaction, "responseidentifier") or ""
    match kind(interaction):
        case "choiceinteraction":
            return _options(item, interaction, response)
        case "textentryinteraction":
            return _accepted(item, response)
        case "extendedtextinteraction":
            return _model_answer(item)
        case other:
            raise QuestionError(f"items with {other} are not read back")


def _matched(item: Element, interaction: Element) -> Question:
    """Two sets of choices: integrals, and what may belong to them."""
    response = attribute(interaction, "responseidentifier") or ""
    sets = [list(children(one, "simpleassociablechoice")) for one in children(interaction, "simplematchset")]
    if len(sets) != 2:
        raise QuestionError("a matching has two sets of choices")
    integrals, partners = (
        [
            (
                attribute(choice, "identifier") or "",
                list(formulas_below(choice, hidden=FEEDBACK)),
                text_of(choice),
            )
            for choice in one
        ]
        for one in sets
    )
    answers = read_matched(
        [(name, shown) for name, shown, _ in integrals],
        [(name, partner_shown(shown, text)) for name, shown, text in partners],
        correct_response(item, response),
        full_marks(item),
        lambda pairs: _score(item, response, pairs),
    )
    return Question(
        identifier=attribute(item, "identifier") or "",
        integral=answers.rows[0].integral,
        answers=answers,
    )


def _several(item: Element, interaction: Element) -> Question:
    """A choice of all options that are right; each set of options has a score."""
    response = attribute(interaction, "responseidentifier") or ""
    shown: dict[str, Expression] = {}
    for choice in children(interaction, "simplechoice"):
        name = attribute(choice, "identifier") or ""
        if name in shown:
            raise QuestionError("two options have the same identifier")
        shown[name] = _shown(choice)
    return Question(
        identifier=attribute(item, "identifier") or "",
        integral=asked_of_several(shown_before_answering(item)),
        answers=read_several(
            shown,
            correct_response(item, response),
            full_marks(item),
            lambda chosen: _score(item, response, chosen),
        ),
    )


def _options(item: Element, interaction: Element, response: str) -> Options:
    marks = full_marks(item)
    keys = correct_response(item, response)
    offered: list[Offered] = []
    for choice in children(interaction, "simplechoice"):
        name = attribute(choice, "identifier") or ""
        score = _score(item, response, name)
        if score not in (0, marks):
            raise QuestionError(f"option {name} scores neither full marks nor nothing")
        if (score == marks) != (name in keys):
            raise QuestionError(f"option {name}: the declared key and the scoring do not agree")
        offered.append(Offered(identifier=name, answer=_shown(choice), right=score == marks))
    if len({one.identifier for one in offered}) != len(offered):
        raise QuestionError("two options have the same identifier")
    if sum(one.right for one in offered) != 1:
        raise QuestionError("there is not exactly one option that scores")
    if _score(item, response, None) != 0:
        raise QuestionError("no answer at all does not score 0")
    return Options(offered=tuple(offered))


def _shown(choice: Element) -> Expression:
    found = list(formulas_below(choice, hidden=FEEDBACK))
    if len(found) != 1 or not isinstance(found[0], Expression):
        raise QuestionError(f"line {line_of(choice)}: an option shows one expression")
    return found[0]


def _accepted(item: Element, response: str) -> Accepted:
    """The numbers that score, found by trying one in every stretch between the numbers compared with."""
    keys = correct_response(item, response)
    if len(keys) != 1:
        raise QuestionError("a number has one keyed value")
    marks, edges = full_marks(item), thresholds(item, response)
    if not edges:
        raise QuestionError("the response is compared with nothing")
    tried = [edges[0] - 1]
    for lower, upper in pairwise(edges):
        tried += [lower, (lower + upper) / 2]
    tried += [edges[-1], edges[-1] + 1]
    scores = [_score(item, response, value) for value in tried]
    if any(score not in (0, marks) for score in scores) or _score(item, response, None) != 0:
        raise QuestionError("a number scores neither full marks nor nothing")
    right = [at for at, score in enumerate(scores) if score == marks]
    if not right or right[-1] - right[0] != len(right) - 1:
        raise QuestionError("the numbers that score are not one stretch")
    if right[0] == 0 or right[-1] == len(tried) - 1:
        raise QuestionError("the numbers that score have no bound")
    return Accepted(lower=tried[right[0]], upper=tried[right[-1]], keyed=keys[0])


def _model_answer(item: Element) -> ModelAnswer:
    """The first formula of the rubric, which no rule of the processing may score."""
    for rubric in inside(item, RUBRIC):
        for statement in formulas_below(rubric, hidden=FEEDBACK):
            if isinstance(statement, Expression):
                return ModelAnswer(answer=statement)
    raise QuestionError("the marker is shown no answer")


def _score(item: Element, response: str, given: Value) -> Value:
    return outcomes(item, {response: given}).get("SCORE")
