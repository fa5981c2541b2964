"""Marking values of antiderivatives: the value is known by hand, in every form of it."""

from __future__ import annotations

import pytest

from qbank.marking import Entry, EvaluationMarker, NoValueError, mark_entry
from qbank.maths.expression import Integer, Symbol, rational
from qbank.maths.reading import read

X = Symbol("x")


def marker(figures: int = 3) -> EvaluationMarker:
    """3/(2x + 1) with F(1) = 4; by hand F(3) = 4 + 3/2 ln(7/3) = 5.2709..."""
    return EvaluationMarker(read("3/(2x + 1)").tree, X, Integer(1), Integer(4), Integer(3), figures=figures)


@pytest.mark.parametrize(
    ("response", "outcome"),
    [
        ("5.27", "correct"),
        ("5.271", "correct"),
        ("4 + 3/2 ln(7/3)", "correct"),
        ("4 + 3/2 ln 7 - 1.5 ln 3", "correct"),
        ("4 + ln(7/3)*3/2", "correct"),
        ("5.28", "incorrect"),
        ("1.27", "incorrect"),
        ("3/2 ln(7/3)", "incorrect"),
        # an antiderivative is no value
        ("3/2 ln|2x + 1| + C", "incorrect"),
        ("3/2 ln|2x + 1|", "incorrect"),
        ("(", "unreadable"),
    ],
)
def test_outcomes(response: str, outcome: str) -> None:
    assert marker().mark(response).outcome == outcome


def test_slips_of_the_technique_are_named_and_none_with_limits() -> None:
    mark = marker().mark("4 + 3 ln(7/3)")
    assert (mark.outcome, mark.slip) == ("incorrect", "standard-inner-coefficient-forgotten")
    # what would be limits exchanged in a definite integral
    assert marker().mark("-3/2 ln(7/3)").slip is None
    assert marker().mark("17").slip is None


def test_where_no_technique_fits() -> None:
    unknown = EvaluationMarker(read("e^(sin x)").tree, X, Integer(0), Integer(1), Integer(1))
    assert unknown.mark("2.63").outcome == "correct"
    assert unknown.mark("2 + 1").outcome == "incorrect"
    assert unknown.mark("2 + 1").slip is None


@pytest.mark.parametrize(
    ("integrand", "point", "given", "at"),
    [
        ("1/x", "-1", "4", "3"),
        # the integral exists, but the constant may change at 0
        ("1/x^(1/3)", "-1", "4", "3"),
        ("x", "0", "ln(0 - 1)", "3"),
        ("x", "0", "a", "3"),
    ],
)
def test_what_cannot_be_marked(integrand: str, point: str, given: str, at: str) -> None:
    with pytest.raises(NoValueError):
        EvaluationMarker(
            read(integrand).tree, X, read(point).tree, read(given, names=frozenset({"a"})).tree, read(at).tree
        )


def test_entries() -> None:
    entry = Entry(integrand="2x", response="13", lower="1", upper="3", given="5")
    assert mark_entry(entry).verdict == "correct"
    assert (
        mark_entry(Entry(integrand="2x", response="8", lower="1", upper="3", given="5")).verdict
        == "incorrect"
    )
    assert mark_entry(Entry(integrand="1/x", response="8", lower="-1", upper="3", given="5")).usable is False
    negative = EvaluationMarker(2 * X, X, rational(1), rational(-5), rational(-2))
    assert negative.mark("-2").outcome == "correct"
