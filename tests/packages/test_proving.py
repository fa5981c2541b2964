"""Questions proved again, without any package: what each kind of wrong answer is told."""

from __future__ import annotations

from fractions import Fraction

import pytest

from qbank.maths.expression import PI, Expression, Integer, Integral, Symbol, cos, rational, sin, sqrt
from qbank.packages.proving import prove
from qbank.packages.question import (
    Accepted,
    Answers,
    Form,
    ModelAnswer,
    Offered,
    Options,
    Question,
    Stated,
    Tried,
)

X = Symbol("x")
HALF_TURN = Integral(sin(X), X, Integer(0), PI)


def problems(answers: Answers, integral: Integral = HALF_TURN, *stated: Stated) -> str:
    question = Question(identifier="q", integral=integral, answers=answers, stated=stated)
    return "; ".join(prove(question).problems)


def options(*offered: tuple[Expression, bool]) -> Options:
    return Options(
        offered=tuple(
            Offered(identifier=letter, answer=answer, right=right)
            for letter, (answer, right) in zip("ABCD", offered, strict=False)
        )
    )


def test_values_of_definite_integrals() -> None:
    assert problems(options((Integer(2), True), (Integer(1), False))) == ""
    assert problems(ModelAnswer(answer=Integer(2))) == ""
    assert (
        problems(ModelAnswer(answer=Integer(3)))
        == "the answer given is wrong: the integral is 2.000000000..."
    )
    assert problems(options((Integer(2), False))) == "option A is right, but scores nothing"
    assert "option A is not a number" in problems(options((X, True)))
    assert "option A is not a number" in problems(options((sqrt(rational(-1)), True)))


def test_the_wrong_kind_of_answer() -> None:
    accepted = Accepted(lower=Fraction(1), upper=Fraction(3), keyed="2")
    assert problems(accepted) == ""
    assert "cannot be answered by a number" in problems(accepted, Integral(sin(X), X))
    form = Form(letters=(), form=X, tried=(Tried(values=(), full=True),))
    assert "has no coefficients" in problems(form)


@pytest.mark.parametrize(
    ("decimal", "slope", "right"),
    [
        ("0.5", False, True),
        ("0.50", False, True),
        ("0.51", False, False),
        ("1", True, True),
        ("0.9", True, False),
    ],
)
def test_stated_values(decimal: str, slope: bool, right: bool) -> None:
    stated = Stated(of=X, slope=slope, at=Fraction(1, 2), decimal=decimal)
    assert (problems(options((Integer(2), True)), HALF_TURN, stated) == "") == right


def test_what_cannot_be_decided_is_a_problem() -> None:
    """Of an answer with no real value anywhere near the integrand nothing can be said."""
    found = problems(ModelAnswer(answer=sqrt(-1 - X**2)), Integral(cos(X), X))
    assert "could be neither proved nor refuted" in found


@pytest.mark.parametrize("keyed", ["much", "NaN", "1e500", "2" * 50])
def test_keyed_values_that_are_no_decimals(keyed: str) -> None:
    assert "not a decimal" in problems(Accepted(lower=Fraction(1), upper=Fraction(3), keyed=keyed))
