"""Answers that are right by the conventions of books.

The forms with a letter stand in every table of standard integrals, where a > 0 is understood (common practice); the derivative
1/(x sqrt(x^2 - 1)) of sec^-1 is that of textbooks that take [0, pi/2) and [pi, 3 pi/2) for its values (common practice).
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from qbank.bank.policy import Policy
from qbank.marking.antiderivative import AntiderivativeMarker
from qbank.maths.expression import Symbol
from qbank.maths.reading import read

X = Symbol("x")


def marker(integrand: str, policy: Policy | None = None) -> AntiderivativeMarker:
    return AntiderivativeMarker(read(integrand, variable=X).tree, X, policy=policy)


@pytest.mark.parametrize(
    ("integrand", "response", "remarks"),
    [
        ("1/sqrt(a^2 - x^2)", "arcsin(x/a) + C", {"positive-letters"}),
        ("1/sqrt(x^2 + a^2)", "arsinh(x/a) + C", {"positive-letters"}),
        ("1/sqrt(x^2 - a^2)", "arcosh(x/a) + C", {"positive-letters", "smaller-domain"}),
        ("sqrt(a^2 - x^2)", "x/2 sqrt(a^2 - x^2) + a^2/2 arcsin(x/a) + C", {"positive-letters"}),
        ("1/(x sqrt(x^2 - 1))", "arcsec x + C", {"other-branch"}),
        ("1/(x sqrt(x^2 - 1))", "-arccosec x + C", {"other-branch"}),
        ("1/(x sqrt(x^2 - a^2))", "(1/a) arcsec(x/a) + C", {"positive-letters", "other-branch"}),
        ("1/(x^2 + a^2)", "(1/a) arctan(x/a) + C", set()),
        ("1/sqrt(a^2 - x^2)", "arcsin(x/abs(a)) + C", set()),
        ("1/(abs(x) sqrt(x^2 - 1))", "arcsec x + C", set()),
    ],
)
def test_right_with_what_is_granted(integrand: str, response: str, remarks: set[str]) -> None:
    mark = marker(integrand).mark(response)
    assert mark.outcome == "correct", mark
    assert {remark.identifier for remark in mark.remarks} == remarks


@pytest.mark.parametrize(
    ("integrand", "response"),
    [
        ("1/sqrt(a^2 - x^2)", "-arcsin(x/a) + C"),
        ("1/sqrt(a^2 - x^2)", "(1/a) arcsin(x/a) + C"),
        ("1/(x^2 + a^2)", "arctan(x/a) + C"),
        ("1/(x sqrt(x^2 - 1))", "2 arcsec x + C"),
        ("1/(x sqrt(x^2 - 1))", "-arcsec x + C"),
        ("1/(x sqrt(x^2 - 1))", "arccos(1/x) + C"),  # right on one half of the line
    ],
)
def test_wrong_all_the_same(integrand: str, response: str) -> None:
    assert marker(integrand).mark(response).outcome == "incorrect"


def test_what_it_is_worth_is_the_choice_of_the_bank() -> None:
    half = Policy(domain=Fraction(1, 2))
    mark = marker("1/sqrt(a^2 - x^2)", half).mark("arcsin(x/a) + C")
    assert (mark.outcome, mark.score) == ("correct", 0.5)
    assert "positive" in mark.message
    both = marker("1/sqrt(x^2 - a^2)", half).mark("arcosh(x/a) + C")
    assert both.score == 0.5  # it is one thing that is lacking
