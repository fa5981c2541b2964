"""Marking values of definite integrals."""

from __future__ import annotations

import pytest

from qbank.marking import DefiniteMarker, NoValueError
from qbank.maths.expression import Symbol
from qbank.maths.reading import read

x = Symbol("x")


def marker(integrand: str, lower: str, upper: str) -> DefiniteMarker:
    return DefiniteMarker(read(integrand, variable=x).tree, x, read(lower).tree, read(upper).tree)


@pytest.mark.parametrize(
    ("integrand", "lower", "upper", "response", "outcome"),
    [
        # DLMF 4.26.11: the integral of sin^2 nt from 0 to pi is pi/2
        ("sin(3x)^2", "0", "pi", "pi/2", "correct"),
        ("sin(3x)^2", "0", "pi", "arcsin(1)", "correct"),
        ("sin(3x)^2", "0", "pi", "1.571", "correct"),
        ("sin(3x)^2", "0", "pi", "1.57", "correct"),
        # to three figures, as in a package, which cannot see how many were typed
        ("sin(3x)^2", "0", "pi", "1.570", "correct"),
        ("sin(3x)^2", "0", "pi", "1.56", "incorrect"),
        ("2x", "0", "2", "4.0", "correct"),
        ("2x", "0", "1/2", "0.25", "correct"),
        ("sin(3x)^2", "0", "pi", "1.6", "incorrect"),
        ("sin(3x)^2", "0", "pi", "pi", "incorrect"),
        ("sin(3x)^2", "0", "pi", "pi/2 + C", "incorrect"),
        ("sin(3x)^2", "0", "pi", "sqrt(-1)", "incorrect"),
        ("sin(3x)^2", "0", "pi", "pi/2 + 10^(-30)", "incorrect"),
        ("sin(3x)^2", "0", "pi", "(", "unreadable"),
        ("1/x", "1", "8", "ln 8", "correct"),
        ("1/x", "1", "8", "3 ln 2", "correct"),
        ("1/x", "8", "1", "-ln 8", "correct"),
        ("sin x", "0", "2pi", "0", "correct"),
        ("sin x", "0", "2pi", "0.00", "correct"),
        ("sin x", "0", "2pi", "2", "incorrect"),
        ("sin x", "0", "pi", "-2", "incorrect"),
        ("sin x", "0", "pi", "2", "correct"),
        ("1/(1 + x^2)", "0", "sqrt(3)", "pi/3", "correct"),
        # the bounds of what is accepted lie inside, as in packages
        ("2x", "0", "1/2", "0.2495", "correct"),
        ("2x", "0", "1/2", "0.2505", "correct"),
        ("2x", "0", "1/2", "0.24949", "incorrect"),
        # 4913/3 = 1637.7 has no point when it is rounded to three figures
        ("x^2", "0", "17", "1640", "correct"),
        ("x^2", "17", "0", "-1638", "correct"),
        ("x^2", "0", "17", "1645", "correct"),
        ("x^2", "0", "17", "1650", "incorrect"),
        ("x^2", "0", "4", "21", "incorrect"),
    ],
)
def test_value(integrand: str, lower: str, upper: str, response: str, outcome: str) -> None:
    mark = marker(integrand, lower, upper).mark(response)
    assert mark.outcome == outcome, mark
    assert mark.score == {"correct": 1.0, "incorrect": 0.0}.get(outcome)


def test_remarks() -> None:
    half_turn = marker("sin(3x)^2", "0", "pi")
    assert [r.identifier for r in half_turn.mark("1.571").remarks] == ["decimal-value"]
    assert [r.identifier for r in half_turn.mark("1.6").remarks] == ["too-few-figures"]
    assert [r.identifier for r in half_turn.mark("pi/2 + C").remarks] == ["constant-in-value"]


def test_no_value_no_mark() -> None:
    with pytest.raises(NoValueError):
        marker("1/x", "-1", "1")


def test_without_a_technique_an_exact_form_goes_to_a_person() -> None:
    # no elementary antiderivative; 0.4306061 by mpmath quadrature
    unknown = marker("sin(sin x)", "0", "1")
    assert unknown.mark("1/3").outcome == "incorrect"
    assert unknown.mark("0.431").outcome == "correct"


def test_right_in_the_other_reading() -> None:
    # the integral of 1/x^2 from pi to 2 pi is 1/(2 pi); the usual reading of 1/2pi is pi/2
    mark = marker("1/x^2", "pi", "2pi").mark("1/2pi")
    assert mark.outcome == "correct"
    assert mark.read_as == r"\frac{1}{2\pi}"
    assert [remark.identifier for remark in mark.remarks] == ["ambiguous-notation"]
    assert marker("1/x^2", "pi", "2pi").mark("1/3pi").outcome == "incorrect"
