"""The planner of ways: what is taught first, all ways agreeing with each other, and what is evaluated by none."""

from __future__ import annotations

import pytest

from qbank.maths.deciding import decide_equal
from qbank.maths.notation import plain
from qbank.maths.verdict import Proved
from qbank.techniques.definites.choosing import value_all, value_with, way
from tests.techniques.definites.evaluating import X, first, integral, wrong_values

#: integrals, and the way of each, with several more that fit
FIRST = (
    ("x^3 + x", "-1", "1", "odd-symmetry"),
    ("x^2 + x", "-1", "1", "odd-terms"),
    ("abs(x)", "-2", "2", "even-symmetry"),
    ("abs(sin(x))", "0", "2pi", "periods"),
    ("abs(x - 1)", "0", "3", "absolute-value"),
    ("1/(1 + e^x)", "-1", "1", "reflection"),
    ("x e^(-x^2)", "0", "infinity", "improper"),
    ("x/(x^2 + 1)", "0", "1", "limits-changed"),
    ("x^2", "0", "1", "antiderivative"),
    ("1/(x^2 + 1)", "-infinity", "infinity", "even-symmetry"),
)


@pytest.mark.parametrize(("integrand", "lower", "upper", "wanted"), FIRST)
def test_the_way_taught_first_and_all_others_agree(
    integrand: str, lower: str, upper: str, wanted: str
) -> None:
    found = value_all(integral(integrand, lower, upper))
    assert found[0].way == wanted
    for other in found[1:]:
        assert isinstance(decide_equal(other.value, found[0].value, X), Proved), (
            other.way,
            plain(other.value),
        )
    for one in found:
        wrong_values(one)


@pytest.mark.parametrize(
    ("integrand", "lower", "upper"),
    [
        ("e^(-x^2)", "0", "1"),
        ("1/x", "-1", "1"),
        ("sqrt(x)", "-1", "1"),
        ("a x", "0", "1"),
        ("tan(x)", "0", "pi"),
    ],
)
def test_no_way(integrand: str, lower: str, upper: str) -> None:
    assert first(integrand, lower, upper) is None


def test_an_unknown_way() -> None:
    with pytest.raises(KeyError):
        value_with("by-magic", integral("x", "0", "1"))
    assert way("reflection").title == "The integral reflected and added to itself"
