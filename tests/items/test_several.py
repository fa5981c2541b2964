"""Several answers: every right option is one and every wrong one is not, by differences in high precision."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations

import pytest

from qbank.bank.drawing import Stream, draws
from qbank.bank.model import Bank
from qbank.bank.problem import BankError
from qbank.cli.arguments import open_bank
from qbank.cli.board import item_text
from qbank.items.building import build_item
from qbank.items.cloning import clones
from qbank.items.distractors import Candidate
from qbank.items.item import Item, SeveralAnswers
from qbank.items.options import Option
from qbank.items.refusal import DrawRefused
from qbank.items.several import SeveralQuestion, several_answers
from qbank.maths.deciding import decide_antiderivative, decide_same_up_to_constant
from qbank.maths.expression import Expression, Symbol, cos, sin
from qbank.maths.notation import plain
from qbank.maths.verdict import Proof, Proved, Refuted, Unsettled, Verdict, Witness
from tests.items.several_items import TEMPLATES, several_item, several_of
from tests.items.test_building import trial
from tests.marking.float_oracle import is_right

X = Symbol("x")
SHIPPED: Bank = open_bank(None)
INDEFINITE = [template for template in SHIPPED.templates if template.task == "antiderivative"]


def response_of(item: Item) -> SeveralAnswers:
    assert isinstance(item.response, SeveralAnswers)
    return item.response


@pytest.mark.parametrize("template", INDEFINITE, ids=lambda one: one.identifier)
def test_every_template_can_be_asked_so(template: object) -> None:
    asked = replace(template, responses=("several-answers",))  # type: ignore[type-var]
    for item in clones(SHIPPED, asked, 2, 5):  # type: ignore[arg-type]
        check(item)


@pytest.mark.parametrize("name", TEMPLATES)
def test_samples(name: str) -> None:
    check(several_item(name))


def check(item: Item) -> None:
    response = response_of(item)
    assert [option.identifier for option in response.options] == list("ABCDEF")[: len(response.options)]
    assert len(response.keys) in (2, 3)
    assert len(response.options) - len(response.keys) >= 3
    assert item.key in [option.answer for option in response.keys]
    texts = [plain(option.answer, item.conventions) for option in response.options]
    assert len(set(texts)) == len(texts)
    for option in response.options:
        check_option(item, option)
    wrong = [option.answer for option in response.options if not option.is_key]
    for one, other in combinations(wrong, 2):
        assert isinstance(decide_same_up_to_constant(one, other, item.variable), Refuted)


def check_option(item: Item, option: Option) -> None:
    assert isinstance(option.evidence, Proof if option.is_key else Witness)
    assert (option.slip is None) == option.is_key
    assert option.feedback
    assert is_right(option.answer, item.integrand) is option.is_key, plain(option.answer, item.conventions)


def test_two_or_three_are_right_and_choosing_all_wins_nothing() -> None:
    (template,) = (one for one in SHIPPED.templates if one.identifier == "sine-times-cosine")
    sizes = set()
    for item in clones(SHIPPED, template, 12, 2):
        response = response_of(item)
        sizes.add(len(response.keys))
        assert response.score([option.identifier for option in response.options], item.marks) == 0
    assert sizes == {2, 3}


def test_some_wrong_options_stand_in_other_forms_too() -> None:
    (template,) = (one for one in SHIPPED.templates if one.identifier == "tangent-times-secant-squared")
    met = 0
    for item in clones(SHIPPED, template, 6, 2):
        for option in response_of(item).options:
            text = plain(option.answer, item.conventions)
            met += not option.is_key and (("sec^2" in text and "tan" not in text) or " + " in text)
    assert met >= 2


def test_what_is_said_of_another_form() -> None:
    text = "\n".join(item_text(several_item("three-right")))
    assert text.startswith("Which of these are antiderivatives of 6 sin 3x cos 3x?")
    assert text.count("[key]") == len(several_of("three-right").keys)
    told = {
        "".join(piece if isinstance(piece, str) else plain(piece) for piece in option.feedback)
        for name in TEMPLATES
        for option in several_of(name).keys
    }
    assert (
        "Right. This differs from sin^2 3x only by the constant 1. The Pythagorean identity leads from the one to the other."
        in told
    )
    assert any(text.startswith("Right. This is the same as ") for text in told)
    assert any(re.search(r" only by the constant \d+\.$", text) for text in told)


def question(**changes: object) -> SeveralQuestion:
    """Which are antiderivatives of sin x cos x? Slips by hand, decided by differentiation."""
    integrand = sin(X) * cos(X)
    verdict = decide_antiderivative(sin(X) ** 2 / 2, integrand, X)
    assert isinstance(verdict, Proved)
    wrong = (sin(X) ** 2, 2 * cos(X) ** 2, sin(2 * X), 5 * sin(X) ** 2 / 2)
    values: dict[str, object] = {
        "key": sin(X) ** 2 / 2,
        "proof": verdict.proof,
        "integrand": integrand,
        "variable": X,
        "candidates": [Candidate(slip=f"s{n}", sentence="No.", answer=one) for n, one in enumerate(wrong)],
        "against_question": lambda answer: decide_antiderivative(answer, integrand, X),
        "against_option": lambda one, other: decide_same_up_to_constant(one, other, X),
    }
    return SeveralQuestion(**(values | changes))  # type: ignore[arg-type]  # the changes are named by the caller


def test_a_slip_is_rewritten_only_to_what_is_proved_to_be_the_same() -> None:
    def doubtful(one: Expression, other: Expression) -> Verdict:
        verdict = decide_same_up_to_constant(one, other, X)
        return Unsettled(reason="in doubt") if isinstance(verdict, Proved) else verdict

    for number in range(8):
        asked = question(against_option=doubtful)
        response = several_answers(asked, Stream("trial", number))
        assert response is not None
        shown = {option.answer for option in response.options if not option.is_key}
        assert shown <= {candidate.answer for candidate in asked.candidates}


def test_forms_in_doubt_are_not_shown_as_right_and_constants_in_doubt_not_named(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("qbank.items.several.decide_equal", lambda *_: Unsettled(reason="in doubt"))

    def doubtful(answer: Expression) -> Verdict:
        """Forms in twice the angle are in doubt."""
        verdict = decide_antiderivative(answer, sin(X) * cos(X), X)
        return Unsettled(reason="in doubt") if answer.has(2 * X) and isinstance(verdict, Proved) else verdict

    for number in range(8):
        response = several_answers(question(against_question=doubtful), Stream("trial", number))
        assert response is not None
        assert not any(option.answer.has(2 * X) for option in response.keys)
        told = {piece for option in response.keys for piece in option.feedback if isinstance(piece, str)}
        assert any("by a constant at most" in piece for piece in told)


def test_too_few_wrong_answers_are_refused() -> None:
    bank = trial("antiderivative: x^2\nintegrand: 2x\nresponses: [several-answers]")
    (template,) = bank.templates
    with pytest.raises(DrawRefused, match="too few different wrong answers"):
        build_item(bank, template, next(draws(bank, template, 1)), "several-answers")


def test_a_definite_integral_has_one_value() -> None:
    with pytest.raises(BankError, match="a definite integral is answered by"):
        trial(
            'technique: even-powers\ntask: definite\nlimits: ["0", "1"]\nintegrand: sin(x)^2\nresponses: [several-answers]'
        )


def test_a_response_without_evidence_cannot_be_built() -> None:
    options = several_of("three-right").options
    right = [option for option in options if option.is_key]
    wrong = [option for option in options if not option.is_key]
    for bad in (right[:1] + wrong, right + wrong[:1], [*right[:2], *wrong[:2], wrong[0]]):
        with pytest.raises(ValueError, match=r"several answers|different identifiers"):
            SeveralAnswers(options=tuple(bad))
