from __future__ import annotations

import pytest

from qbank.maths.conventions import Conventions
from qbank.maths.expression import Symbol
from qbank.maths.reading import ReadingError, read_response
from tests.maths.reading.outline import outline

X = Symbol("x")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("x^2 + C", "(+ (^ x 2) C)"),
        ("x^2 + C.", "(+ (^ x 2) C)"),
        ("$x^2 + C$.", "(+ (^ x 2) C)"),
        ("$x^2 + C.$", "(+ (^ x 2) C)"),
        (r"\(x^2\)", "(^ x 2)"),
        ("y = x^2", "(^ x 2)"),
        ("y=x^2", "(^ x 2)"),
        ("I = x^2", "(^ x 2)"),
        ("F(x) = x^2", "(^ x 2)"),
        ("F = x^2", "(^ x 2)"),
        ("y(x) = x^2", "(^ x 2)"),
        ("= x^2", "(^ x 2)"),
        ("∫ 2x dx = x^2", "(^ x 2)"),
        ("∫2xdx = x^2", "(^ x 2)"),
        ("∫ f(x) dx = x^2", "(^ x 2)"),
        ("int 2x dx = x^2", "(^ x 2)"),
        (r"\int 2x\,dx = x^{2}", "(^ x 2)"),
        (r"\int 2x\,\mathrm{d}x=x^{2}", "(^ x 2)"),
        (r"$\int_0^1 2x\,dx = 1$", "1"),
        ("2x dx = x^2", "(^ x 2)"),
        ("f(x) dx = x^2", "(^ x 2)"),
        ("I = ∫ 2x dx = x^2 + C", "(+ (^ x 2) C)"),
        ("Answer = x^2", "(^ x 2)"),
        ("x + c", "(+ x c)"),
        ("x + k", "(+ x k)"),
        ("x + C_1", "(+ x C_1)"),
        ("x + C1", "(+ x C_1)"),
        ("x + C/2", "(+ x (/ C 2))"),
        ("ln x + ln k", "(+ (ln x) (ln k))"),
        ("ln(kx)", "(ln (* k x))"),
        ("x + const", "(+ x C)"),
        ("x + constant.", "(+ x C)"),
        ("x + Const.", "(+ x C)"),
        ("x + constant of integration", "(+ x C)"),
        ("x + any constant", "(+ x C)"),
        ("x + eine Konstante", "(+ x C)"),
        ("х + С", "(+ x C)"),
        ("5.", "5"),
    ],
)
def test_what_stands_around_an_answer_is_left_out(text: str, expected: str) -> None:
    reading = read_response(text, variable=X)
    assert outline(reading.tree) == expected
    assert reading.source == text


def test_without_a_stated_variable_other_letters_may_stand_on_the_left() -> None:
    assert outline(read_response("y = x").tree) == "x"
    for text, variable in (("x = 2", None), ("t = 2", None), ("y = 2", Symbol("y"))):
        with pytest.raises(ReadingError):
            read_response(text, variable=variable)


@pytest.mark.parametrize(
    "text",
    [
        "x = 2",
        "2x = x + x",
        "y' = x",
        "sin x = cos x",
        "x^2 = y",
        "F(2) = x",
        "y = x = 2x",
        "dy/dx = 2x",
        "C = 2",
    ],
)
def test_other_left_sides_are_refused(text: str) -> None:
    with pytest.raises(ReadingError) as caught:
        read_response(text, variable=X)
    assert caught.value.code in {"equals-sign", "unsupported-sign"}


def test_the_left_side_is_remarked_on_in_the_source() -> None:
    (remark,) = read_response(" F(x) = x", variable=X).remarks
    assert (remark.identifier, remark.start, remark.end) == ("left-side", 0, 7)
    assert "F(x)" in remark.sentence
    assert read_response("= x", variable=X).remarks == ()


def test_the_constant_in_words_takes_the_letter_of_the_school() -> None:
    reading = read_response("x + const", variable=X, conventions=Conventions(constant="k"))
    assert outline(reading.tree) == "(+ x k)"
    (remark,) = reading.remarks
    assert (remark.identifier, remark.start, remark.end) == ("named-constant", 4, 9)


def test_errors_have_their_place_in_the_whole_response() -> None:
    with pytest.raises(ReadingError) as caught:
        read_response("y = 2 + sine x", variable=X)
    assert caught.value.position == (8, 12)
    assert caught.value.source == "y = 2 + sine x"
    with pytest.raises(ReadingError) as caught:
        read_response("y =", variable=X)
    assert caught.value.code == "empty"


def test_alternatives_are_kept() -> None:
    assert len(read_response("y = 1/2x", variable=X).alternatives) == 1
