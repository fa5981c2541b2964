"""Scores and feedback of QTI 1.2 items, through an interpreter of their response processing, against the item's own facts.

A choice scores by its key; a number that scores lies within the item's bounds, and the spellings a student is asked for do
score. What lies within the bounds in another spelling does not score: that is the loss the export speaks of.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from qbank.items.deck import Section
from qbank.items.item import Choice, Coefficients, FreeExpression, Item, Matching, Numeric, SeveralAnswers
from qbank.items.rounding import round_to_figures
from qbank.maths.conventions import Conventions
from qbank.writers import WRITERS, Options
from tests.items.forms import TEMPLATES, item_of
from tests.items.shipped import shipped_items
from tests.writers.qti12.processor import Outcome, items, run
from tests.writers.qti12.reading import Seen, members, texts
from tests.writers.sample_items import cosine_power, deck, definite_power, free_cosine

BLANK = (None, "")
MALFORMED = (
    "1/8",
    "ln 2",
    "pi",
    "0.1.2",
    "--1",
    "1e400",
    "nan",
    "inf",
    "  ",
    "0x10",
    "<b>",
    "x" * 5000,
    "A",
    "٣",
)


def written(item: Item, name: str = "cc", purpose: Any = "assessment") -> Any:
    sample = deck(Section(template=item.template, title="t", items=(item,)))
    files = members(WRITERS[name].write(sample, Options(purpose=purpose)))
    (element,) = [one for path, data in files.items() if "manifest" not in path for one in items(data)]
    return element


@pytest.mark.parametrize(("name", "purpose"), [("cc", "assessment"), ("cc", "bank"), ("qti12", "assessment")])
def test_the_shipped_bank_scores_as_its_items_say(name: str, purpose: Any) -> None:
    forms, shipped = set(), shipped_items(4, 3)
    for item in shipped:
        forms.add(item.form)
        if isinstance(item.response, Matching):
            continue  # it becomes several questions in a cartridge: see `test_matching`
        check(item, written(item, name, purpose))
    assert {"choice", "numeric", "free-expression"} <= forms
    assert len(shipped) >= 80


@pytest.mark.parametrize("scale", [1, 3, -7, Fraction(1, 300), Fraction(-22, 7), 12345, -98765])
def test_numbers_of_all_sizes(scale: Any) -> None:
    for exponent in (2, 3):
        item = definite_power(exponent, scale)
        assert isinstance(item.response, Numeric)
        rounded = round_to_figures(Fraction(scale) / (exponent + 1), 3)
        assert rounded is not None
        response = replace(item.response, decimal=rounded.text, lower=rounded.lower, upper=rounded.upper)
        for conventions in (Conventions(decimal="."), Conventions(decimal=",")):
            changed = replace(item, response=response, conventions=conventions)
            check(changed, written(changed))


def check(item: Item, element: Any) -> None:
    match item.response:
        case Choice():
            check_choice(item, item.response, element)
        case Numeric():
            check_number(item, item.response, element)
        case SeveralAnswers():
            check_several(item.response, element)
        case _:
            assert run(element, "any words") == Outcome(0, ("solution",))


def check_choice(item: Item, response: Choice, element: Any) -> None:
    for option in response.options:
        outcome = run(element, option.identifier)
        assert outcome.score == (1 if option.is_key else 0), item.identifier
        assert outcome.shown == (f"feedback_{option.identifier}", "solution")
    for other in (*BLANK, *MALFORMED[:-2], "Z"):
        assert run(element, other) == Outcome(0, ())


def check_several(response: SeveralAnswers, element: Any) -> None:
    """Exactly the right options; all sets of them are in `test_several`."""
    right = frozenset(option.identifier for option in response.keys)
    assert run(element, right).score == 1
    assert run(element, right | {one.identifier for one in response.options}).score == 0


def check_number(item: Item, response: Numeric, element: Any) -> None:
    for text in typed(response.decimal, item.conventions.decimal):
        assert run(element, text) == Outcome(1, ("feedback_right", "solution")), (item.identifier, text)
    for none in (*BLANK, *MALFORMED):
        assert run(element, none) == Outcome(0, ("feedback_other", "solution"))
    for bound, away in ((response.lower, -1), (response.upper, 1)):
        outside = bound + away * abs(response.upper - response.lower) / 1000
        assert run(element, f"{float(outside):.12g}").score == 0
    for text in every_spelling(element):
        outcome = run(element, text)
        value = Fraction(text.replace("\u2212", "-").replace(",", "."))
        if outcome.score:
            assert response.lower <= value <= response.upper, (item.identifier, text)
        else:
            number = int(outcome.shown[0].removeprefix("feedback_slip"))
            slip = response.slips[number - 1]
            assert slip.lower <= value <= slip.upper, (item.identifier, text)


def typed(decimal: str, sign: str) -> Iterator[str]:
    """How a student types the number that is asked for."""
    for point in {".", sign}:
        yield decimal.replace(".", point)
        if "." in decimal:
            yield decimal.replace(".", point) + "0"
        if decimal.lstrip("-").startswith("0."):
            yield decimal.replace("0.", point, 1)
        yield decimal.replace("-", "\u2212").replace(".", point)


def every_spelling(element: Any) -> list[str]:
    return [one.text for one in element.iter("{*}varequal")]


def test_a_comma_is_no_decimal_sign_where_the_school_writes_a_point() -> None:
    element = written(definite_power(3))
    assert run(element, "0.25").score == 1
    assert run(element, "0,25").score == 0


def test_a_slip_is_told_by_its_number() -> None:
    item = definite_power(2, 3)
    element = written(item)
    assert run(element, "1.5") == Outcome(0, ("feedback_slip1", "solution"))
    assert run(element, "1.51").shown == ("feedback_other", "solution")


def test_a_slip_without_a_number_of_its_own_is_left_out() -> None:
    item = definite_power(2, 3)
    assert isinstance(item.response, Numeric)
    (slip,) = item.response.slips
    response = replace(item.response, slips=(replace(slip, upper=slip.lower),))
    element = written(replace(item, response=response))
    assert run(element, "1.5").shown == ("feedback_other", "solution")
    idents = [one.get("ident") for one in element.iter("{*}itemfeedback")]
    assert idents == ["feedback_right", "feedback_other", "solution"]


def test_the_full_score_is_a_hundred_in_a_cartridge_and_the_marks_outside() -> None:
    for name, full in (("cc", "100"), ("qti12", "2")):
        element = written(cosine_power(2), name)
        assert [one.text for one in element.iter("{*}setvar")] == [full]
        (declared,) = element.iter("{*}decvar")
        assert declared.get("maxvalue") == full
    weights = dict(fields(written(cosine_power(2))))
    assert weights["cc_weighting"] == "2"
    assert "cc_weighting" not in dict(fields(written(cosine_power(2), "qti12")))


def fields(element: Any) -> Iterator[tuple[str, str]]:
    for field in element.iter("{*}qtimetadatafield"):
        label, entry = field
        yield label.text, entry.text


def test_more_marks_than_a_cartridge_can_say() -> None:
    item = replace(cosine_power(2), marks=100)
    with pytest.raises(ValueError, match="at most 99 marks"):
        written(item)
    assert run(written(item, "qti12"), "B").score == 1


@pytest.mark.parametrize("form", TEMPLATES)
def test_coefficients_are_an_essay_whose_solution_names_them(form: str) -> None:
    item = item_of(form)
    assert isinstance(item.response, Coefficients)
    element = written(item)
    assert dict(fields(element))["qmd_computerscored"] == "No"
    assert run(element, "1") == run(element, None) == Outcome(0, ("solution",))
    (solution,) = (one for one in element.iter("{*}itemfeedback") if one.get("ident") == "solution")
    text = "".join(Seen(html).text for html in texts(solution))
    for letter in item.response.letters:
        assert f"{letter.name}=" in "".join(text.split())


@pytest.mark.parametrize("name", ["cc", "qti12"])
def test_nothing_of_the_key_is_shown_with_the_question(name: str) -> None:
    """The rubric, the marks and the worked solution stand in the solution alone, which only a response shows."""
    item = free_cosine(2)
    assert isinstance(item.response, FreeExpression)
    element = written(item, name)
    (presentation,) = element.iter("{*}presentation")
    shown = "".join(presentation.itertext())
    solution = next(one for one in element.iter("{*}itemfeedback") if one.get("ident") == "solution")
    told = "".join(solution.itertext())
    for words in ("Differentiate the response", "Marks for a full answer: 2", "Worked solution"):
        assert words not in shown
        assert words in told
    assert not list(element.iter("{*}rubric"))
    assert run(element, "sin x").shown == ("solution",)
