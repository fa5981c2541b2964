"""What students write around an answer is left out, and only that (common practice: habits of classrooms and worksheets)."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qbank.maths.expression import Symbol
from qbank.maths.reading import ReadingError, read_response
from tests.maths.reading.outline import outline

X = Symbol("x")
ANSWER = "(+ (^ x 2) C)"


def said(text: str) -> list[str]:
    return [remark.identifier for remark in read_response(text, variable=X).remarks]


@pytest.mark.parametrize(
    "text",
    [
        "Answer: x^2 + C",
        "Ans. x^2 + C",
        "Solution x^2 + C",
        "Lösung: x^2 + C",
        "∴ x^2 + C",
        "=> x^2 + C",
        "→ x^2 + C",
        r"\therefore x^2 + C",
        "x^2 + C, C ∈ ℝ",
        "x^2 + C, C∈R.",
        r"x^2 + C, C \in \mathbb{R}",
        r"$x^2 + C$, $C \in \mathbb{R}$",
        r"x^{2}+C\,,\; C\in\mathbb R",
        "x^2 + C where C is a constant",
        "x^2 + C, where c is any real constant of integration.",
        "x^2 + C (C constant)",
        "x^2 + C [C = const.]",
        "x^2 + C, (C∈R)",
        "x^2 + C, C beliebige Konstante",
        "x^2 + C mit C ∈ ℝ",
        "x^2 + C, x ≠ 0",
        r"x^2 + C, x \neq \pi/2 + n\pi",
        "x^2 + C for all x",
        "x^2 + C ∀x",
        "x^2 + C, x ∈ ℝ, C ∈ ℝ",
    ],
)
def test_words_that_say_nothing_of_the_answer(text: str) -> None:
    assert outline(read_response(text, variable=X).tree) == ANSWER
    assert set(said(text)) == {"aside"}


@pytest.mark.parametrize(
    "text",
    [
        "x^2 + C, x > 0",
        "x^2 + C (x>=0)",
        "x^2 + C for x < -1",
        "x^2 + C, |x| < 1",
        "x^2 + C, 0 < x < π/2",
        "x^2 + C if 0 ≤ x ≤ 1",
        "x^2 + C, x ∈ (0, ∞)",
        r"x^2 + C, x \geq 1, C \in \mathbb{R}",
    ],
)
def test_conditions_are_told_from_them(text: str) -> None:
    assert outline(read_response(text, variable=X).tree) == ANSWER
    assert "condition" in said(text)


@pytest.mark.parametrize("text", ["x^2 + C;", "x^2 + C!", '"x^2 + C"', "„x^2 + C“.", "'x^2 + C', "])
def test_punctuation_is_left_out_without_a_word(text: str) -> None:
    assert outline(read_response(text, variable=X).tree) == ANSWER
    assert said(text) == []


def test_the_place_and_the_words_are_in_the_remark() -> None:
    (remark,) = read_response("x^2 + C, where C is a constant", variable=X).remarks
    assert (remark.start, remark.end) == (7, 30)
    assert '"where C is a constant"' in remark.sentence


@pytest.mark.parametrize(
    "text",
    [
        "x^2 for x ≥ 0, -x^2 for x < 0",
        "x^2 (x>=0), -x^2 (x<0)",
        "x^2, x^3",
        "x^2 + C, t > 0",
        "x > 0",
        ", C constant",
        "Answer:",
        "x^2 + C for now",
        "idk",
        "if x then x^2",
    ],
)
def test_other_words_and_answers_in_cases_are_not_guessed_at(text: str) -> None:
    with pytest.raises(ReadingError):
        read_response(text, variable=X)


def test_a_letter_that_is_allowed_is_no_word() -> None:
    allowed = frozenset("for")
    assert outline(read_response("for x", variable=X, names=allowed).tree) == "(* f o r x)"


@given(st.text(alphabet="xC0127+-*/^() ", max_size=30))
def test_an_answer_without_words_is_left_as_it_is(text: str) -> None:
    with suppress(ReadingError):
        assert not {"aside", "condition"} & set(said(text))


def test_signs_and_colons() -> None:
    assert outline(read_response("x^2 sgn(x)", variable=X).tree) == "(* (^ x 2) (/ (abs x) x))"
    assert outline(read_response("sign x", variable=X).tree) == outline(
        read_response("|x|/x", variable=X).tree
    )
    assert outline(read_response("x^3:3", variable=X).tree) == "(/ (^ x 3) 3)"
    assert said("x^3:3") == ["division-sign"]


def test_a_capital_e_below_a_power_is_the_number() -> None:
    assert read_response("E^(2x)", variable=X).tree == read_response("e^(2x)", variable=X).tree
    assert said("E^x") == ["look-alike"]
    assert outline(read_response("E^2", variable=X, names=frozenset("E")).tree) == "(^ E 2)"
