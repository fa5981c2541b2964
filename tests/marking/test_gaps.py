"""What is typed into gaps: any form of a number, any equivalent expression in the right letter; shares for each."""

from __future__ import annotations

import pytest

from qbank.items.tasks.asked import TaskGap
from qbank.marking import TaskMarker
from qbank.marking.gaps import fill
from qbank.maths.conventions import Conventions
from qbank.maths.expression import Apply, Expression, Symbol, cos, ln, rational, sin, sqrt
from qbank.maths.notation import plain
from tests.items.gap_items import TEMPLATES, gap_item, gaps_of

X, U = Symbol("x"), Symbol("u")


class Gap:
    """A gap by what belongs there."""

    def __init__(
        self,
        value: Expression,
        letter: Symbol | None = None,
        meaning: Expression | None = None,
        *,
        up_to_constant: bool = False,
    ) -> None:
        self.value, self.letter, self.meaning = value, letter, meaning
        self.up_to_constant = up_to_constant


NUMBER, RATE, SUBSTITUTED = Gap(rational(-3, 8)), Gap(6 * X, X), Gap(U**2, U, sqrt(2 * X + 5))
ANSWER, IDENTITY = Gap(ln(Apply("abs", X)) / 2, X, up_to_constant=True), Gap(1 - cos(X) ** 2, X)
FILLINGS = [
    (NUMBER, "right", ["-3/8", "-0.375", "\u22123/8", "-6/16", "3/-8", "-(3/8)", " -3 / 8 ", "2^-3 * -3"]),
    (NUMBER, "wrong", ["3/8", "-0.38", "-8/3", "x", "-3/8 x", "-3/8 + C", "1/0"]),
    (NUMBER, "unread", ["", "  ", "(", "-3/", "=", "-3/8)", "-0,375"]),
    (RATE, "right", ["6x", "3x + 3x", "6*x", "12x/2", "x*6"]),
    (RATE, "wrong", ["6", "6u", "6x + 1", "6x^2", "6x + C"]),
    (SUBSTITUTED, "right", ["u^2", "u u", "abs(u)^2"]),
    (SUBSTITUTED, "wrong", ["2x + 5", "x", "u^2 + 1", "u"]),
    (ANSWER, "right", ["1/2 ln|x|", "ln|x|/2 + 7", "ln(x^2)/4", "1/2 ln|3x|", "1/2 ln|x| + C"]),
    (ANSWER, "wrong", ["ln|x|", "1/(2x)", "1/2 ln|x| + u"]),
    (IDENTITY, "right", ["sin(x)^2", "1 - cos^2 x", "(1 - cos x)(1 + cos x)", "1/2 - 1/2 cos 2x"]),
    (IDENTITY, "wrong", ["1 + cos^2 x", "sin x", "sin^2 x + C"]),
]


@pytest.mark.parametrize(
    ("gap", "outcome", "text"), [(gap, out, text) for gap, out, texts in FILLINGS for text in texts]
)
def test_a_filling(gap: Gap, outcome: str, text: str) -> None:
    assert fill(gap, text).outcome == outcome


def test_the_decimal_sign_of_the_school() -> None:
    assert fill(NUMBER, "-0,375", Conventions(decimal=",")).outcome == "right"


def keys(name: str) -> dict[str, str]:
    return {
        one.identifier: plain(one.value) if isinstance(one, TaskGap) else one.key.identifier
        for one in gaps_of(name).questions
    }


@pytest.mark.parametrize("name", TEMPLATES)
def test_each_gap_has_its_share(name: str) -> None:
    response, right = gaps_of(name), keys(name)
    marker = TaskMarker(response, conventions=gap_item(name).conventions)
    assert (marker.mark(right).outcome, marker.mark(right).score) == ("correct", 1)
    for one in response.gaps:
        alone = marker.mark({one.identifier: right[one.identifier]})
        assert alone.score == pytest.approx(1 / len(right))
        spoilt = marker.mark({**right, one.identifier: "999"})
        assert spoilt.score == pytest.approx(1 - 1 / len(right))
        assert spoilt.message.startswith(f"Line {one.line}: ")
        assert plain(one.value) in spoilt.message
        missing = marker.mark({**right, one.identifier: " "})
        assert missing.score == pytest.approx(1 - 1 / len(right)) or missing.outcome == "unreadable"


def test_nothing_and_what_cannot_be_read() -> None:
    response = gaps_of("gap-numbers")
    marker = TaskMarker(response)
    for given in ({}, {"Q1": ""}, {"Q1": "("}, {"Q9": "4"}):
        mark = marker.mark(given)
        assert (mark.outcome, mark.score) == ("unreadable", None)
    assert "cannot be read" in marker.mark({"Q1": "("}).message


def test_another_letter_is_told() -> None:
    assert fill(RATE, "6u").why == "An expression in x is wanted here, without other letters."
    assert fill(NUMBER, "3x").why == "A number is wanted here, without letters."


def test_sines_are_no_numbers_but_may_be_one() -> None:
    assert fill(Gap(rational(1, 2)), "sin(pi/6)").outcome == "right"
    assert fill(Gap(sin(X), X), "sin(pi/6)").outcome == "wrong"
