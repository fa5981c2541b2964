"""Items: every key proved, every distractor wrong everywhere, no two options the same."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import combinations, pairwise

import pytest

from qbank.bank.loading import parse_bank
from qbank.bank.model import Bank
from qbank.cli.arguments import open_bank
from qbank.items.building import build_item
from qbank.items.checking import check_template
from qbank.items.cloning import ShortageError, clones
from qbank.items.decking import deal
from qbank.items.item import Choice, FreeExpression, Item, Numeric
from qbank.items.refusal import DrawRefused
from qbank.maths.deciding import decide_antiderivative, decide_equal, decide_same_up_to_constant
from qbank.maths.enclosing import enclose
from qbank.maths.expression import PI, Expression, Integer, Sum, Symbol
from qbank.maths.verdict import Proof, Proved, Refuted, Witness

SHIPPED = open_bank(None)
HEAD = 'identifier: trial\ntitle: A trial\nlanguage: en\nlicence: CC0-1.0\nversion: "1.0.0"\ntemplates:\n'


def trial(body: str) -> Bank:
    lines = "".join(f"    {line}\n" for line in body.strip().splitlines())
    return parse_bank((HEAD + "  - identifier: one\n    title: One\n" + lines).encode(), "trial.yaml")


def first(body: str) -> Item:
    bank = trial(body)
    return next(clones(bank, bank.templates[0], 1, 1))


def without_constant(answer: Expression) -> Expression:
    assert isinstance(answer, Sum)
    assert answer.terms[-1] == Symbol("C")
    return Sum(answer.terms[:-1]) if len(answer.terms) > 2 else answer.terms[0]


@pytest.mark.parametrize("template", SHIPPED.templates, ids=lambda t: t.identifier)
def test_shipped_items_hold_what_they_promise(template: object) -> None:
    for item in clones(SHIPPED, template, 4, 99):  # type: ignore[arg-type]
        assert isinstance(item.proof, Proof)
        assert len(item.checks) == 5
        match item.response:
            case Choice() as choice:
                check_choice(item, choice)
            case Numeric() as numeric:
                check_numeric(item, numeric)
            case FreeExpression(rubric=rubric):
                assert any(piece == item.integrand for piece in rubric)


def check_choice(item: Item, choice: Choice) -> None:
    x = item.variable
    assert [option.identifier for option in choice.options] == list("ABCDE")[: len(choice.options)]
    if item.limits is not None:
        assert isinstance(decide_equal(choice.key.answer, item.key, x), Proved)
        for option in choice.options:
            assert option.is_key or isinstance(decide_equal(option.answer, item.key, x), Refuted)
        return
    answers = {option.identifier: without_constant(option.answer) for option in choice.options}
    for option in choice.options:
        verdict = decide_antiderivative(answers[option.identifier], item.integrand, x)
        assert isinstance(verdict, Proved if option.is_key else Refuted)
        assert isinstance(option.evidence, Proof if option.is_key else Witness)
        assert option.slip is None or option.feedback
    for one, other in combinations(answers.values(), 2):
        assert isinstance(decide_same_up_to_constant(one, other, x), Refuted)


def check_numeric(item: Item, numeric: Numeric) -> None:
    bounds = enclose(numeric.value, at={}, digits=20)
    assert bounds is not None
    assert item.enclosure is not None
    assert item.enclosure[0] <= bounds.upper
    assert bounds.lower <= item.enclosure[1]
    assert numeric.lower <= bounds.lower
    assert bounds.upper <= numeric.upper
    assert numeric.lower <= Fraction(numeric.decimal) <= numeric.upper
    ranges = sorted([(numeric.lower, numeric.upper), *((s.lower, s.upper) for s in numeric.slips)])
    assert all(a[1] < b[0] for a, b in pairwise(ranges))


def test_the_key_stands_everywhere_equally() -> None:
    template = SHIPPED.template("sine-squared")
    keys = [
        item.response.key.identifier
        for item in clones(SHIPPED, template, 80, 5)
        if isinstance(item.response, Choice)
    ]
    counts = {letter: keys.count(letter) for letter in "ABCD"}
    # 80 keys over 4 places: mean 20, standard deviation below 4
    assert all(6 < count < 34 for count in counts.values()), counts


def test_five_options_when_asked_for() -> None:
    item = first('technique: odd-powers\noptions: 5\nintegrand: "sin(2x)^3"')
    assert isinstance(item.response, Choice)
    assert len(item.response.options) == 5


def test_the_authors_own_answer_and_distractors() -> None:
    item = first(
        'integrand: "2x cos(x^2)"\nantiderivative: "sin(x^2)"\ndistractors:\n'
        '  - {answer: "-sin(x^2)", feedback: Mind the sign.}\n'
        '  - {answer: "x^2 sin(x^2)", feedback: Use the substitution.}\n'
        '  - {answer: "cos(x^2)", feedback: That is no antiderivative.}\n'
        # right in another form, and twice the same: neither may be used
        '  - {answer: "cos(pi/2 - x^2)", feedback: This one is right.}\n'
        '  - {answer: "-sin(x^2) + 3", feedback: The first again.}'
    )
    assert item.working == ()
    assert isinstance(item.response, Choice)
    assert {option.slip for option in item.response.options} == {None, "author"}


@pytest.mark.parametrize(
    ("body", "reason"),
    [
        ('technique: odd-powers\nintegrand: "x^2"', "does not fit"),
        ('integrand: "2x"\nantiderivative: "x^3"', "not proved"),
        ('integrand: "2x"\nantiderivative: "x^2"', "0 of 3 different wrong answers"),
        ('task: definite\ntechnique: standard-forms\nlimits: ["-1", "1"]\nintegrand: "1/x"', "."),
        ('task: definite\nantiderivative: "x^2"\nlimits: ["0", "1"]\nintegrand: "2x"', "needs a technique"),
        ('task: definite\ntechnique: standard-forms\nlimits: ["0", "2pi"]\nintegrand: "sin x"', "zero"),
    ],
)
def test_a_draw_is_refused_with_its_reason(body: str, reason: str) -> None:
    bank = trial(body)
    template = bank.templates[0]
    with pytest.raises(ShortageError, match=reason) as caught:
        next(clones(bank, template, 1, 1))
    assert caught.value.found == 0
    report = check_template(bank, template, sample=None)
    assert report.proved == 0
    assert re.search(reason, " ".join(report.problems))
    assert report.passed_over in ((), (("the value is zero, which has no significant figures", 1),))


def test_a_distractor_that_is_right_on_half_of_the_line_is_not_used() -> None:
    # |x| is an antiderivative of sign(x) = |x|/x; x is one for positive x only
    bank = trial(
        'integrand: "|x|/x"\nantiderivative: "|x|"\ndistractors:\n'
        '  - {answer: "x", feedback: Half right.}\n  - {answer: "2x", feedback: No.}\n'
        '  - {answer: "x^2", feedback: No.}\n  - {answer: "x^3", feedback: No.}'
    )
    item = next(clones(bank, bank.templates[0], 1, 1))
    assert isinstance(item.response, Choice)
    shown = [option.answer for option in item.response.options]
    assert Sum((Symbol("x"), Symbol("C"))) not in shown


def test_a_domain_is_kept() -> None:
    item = first(
        'integrand: "1/x"\nantiderivative: "ln x"\ndomain: ["0", "pi"]\nresponses: [free-expression]'
    )
    assert all(0 < check.at < 4 for check in item.checks)
    # a student must know it: without the interval the modulus signs would be missing
    assert item.prompt[-6:] == (" Take ", Symbol("x"), " between ", Integer(0), " and ", PI, ".")[-6:]


def test_clones_differ_and_repeat_for_a_seed() -> None:
    template = SHIPPED.template("linear-power")
    once, again = (list(clones(SHIPPED, template, 12, 3)) for _ in range(2))
    assert once == again
    assert len({item.integrand for item in once}) == 12
    assert len({item.identifier for item in once}) == 12


def test_the_same_question_in_another_dress_is_one_clone() -> None:
    # (a x)^2 b^2 depends on the product a b only
    bank = trial(
        "technique: standard-forms\nparameters:\n  a: {kind: integer, from: 1, to: 4}\n"
        '  b: {kind: integer, from: 1, to: 4}\nintegrand: "cos(a b x) + x"\nresponses: [free-expression]'
    )
    with pytest.raises(ShortageError) as caught:
        list(clones(bank, bank.templates[0], 16, 1))
    assert caught.value.found == len({a * b for a in range(1, 5) for b in range(1, 5)})


def test_a_deck_can_be_read_twice() -> None:
    seen: list[int] = []
    deck = deal(SHIPPED, count=2, seed=1, templates=SHIPPED.templates[:2], watch=lambda: seen.append(1))
    first_time = [item for section in deck.sections for item in section.items]
    assert first_time == [item for section in deck.sections for item in section.items]
    assert len(seen) == 8


def test_check_template_on_a_large_box() -> None:
    bank = trial(
        "technique: standard-forms\nparameters:\n  a: {kind: integer, from: 1, to: 1000}\n"
        '  b: {kind: integer, from: 1, to: 1000}\nintegrand: "a cos(b x)"'
    )
    report = check_template(bank, bank.templates[0], sample=3)
    assert (report.possible, report.exact, report.tried) == (1_000_000, False, 3)
    none = trial('technique: standard-forms\nconditions: ["1 = 2"]\nintegrand: "x"')
    assert check_template(none, none.templates[0], sample=3).problems == ("no draw meets the conditions",)


def test_refusal_is_typed() -> None:
    bank = trial('technique: odd-powers\nintegrand: "x"')
    from qbank.bank.drawing import every_draw

    with pytest.raises(DrawRefused) as caught:
        build_item(bank, bank.templates[0], next(every_draw(bank.templates[0])), "choice")
    assert not caught.value.accident


def test_titles_for_students_give_no_hint() -> None:
    """The title of an item is the same for every technique; the template's own title stays in the section."""
    titles = set()
    for template in SHIPPED.templates:
        item = next(clones(SHIPPED, template, 1, 3))
        titles.add((item.limits is not None, item.title))
        assert item.title != template.title
    assert titles == {(False, "Find the integral"), (True, "Evaluate the integral")}
    assert [s.title for s in deal(SHIPPED, count=1, seed=3).sections] == [t.title for t in SHIPPED.templates]


def test_a_person_who_marks_is_told_the_policy() -> None:
    body = 'integrand: "cos(2x)"\ntechnique: standard-forms\nresponses: [free-expression]\n'
    plain_item = first(body)
    half = first(
        body + "policy: {constant: 1/2, simplified: require, slips: {standard-sign-of-function: 1/3}}"
    )
    assert isinstance(plain_item.response, FreeExpression)
    assert isinstance(half.response, FreeExpression)
    assert half.response.policy.constant == Fraction(1, 2)
    before, after = (
        " ".join(piece for piece in response.rubric if isinstance(piece, str))
        for response in (plain_item.response, half.response)
    )
    assert "of the marks" not in before
    for said in (
        "constant of integration: 1/2 of",
        "simplified: 0 of",
        "standard-sign-of-function alone: 1/3 of",
    ):
        assert said in after
