"""What students write around a value (common practice): taken off, and never so that a wrong value becomes right."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qbank.marking.definite import DefiniteMarker
from qbank.marking.value_parts import value_parts
from qbank.maths.expression import Symbol
from qbank.maths.reading import read

X = Symbol("x")


@pytest.fixture(scope="module")
def logarithm() -> DefiniteMarker:
    """The integral of 1/x from 1 to 3, which is ln 3 = 1.0986..."""
    return DefiniteMarker(read("1/x").tree, X, read("1").tree, read("3").tree)


@pytest.mark.parametrize(
    "text",
    [
        "ln 3 square units",
        "ln 3 units^2",
        "ln(3) sq. units",
        "ln 3 u²",
        "ln 3 cm^2",
        "ln 3 FE",
        "1.10 m",
        "1.0986 m/s",
        "1.099 (3 d.p.)",
        "1.10 to 3 sig figs",
        "1.0986...",
        "≈ 1.10",
        "ln 3 ≈ 1.0986",
        "ln 3 = 1.10",
        r"\ln 3 \approx 1.10",
        "I = ln 3 - ln 1 = ln 3 ≈ 1.099 (4 s.f.)",
        "[ln x]_1^3 = ln 3",
        "∫ 1/x dx = ln 3 - 0 = ln 3 units²",
    ],
)
def test_a_right_value_stays_right(logarithm: DefiniteMarker, text: str) -> None:
    assert logarithm.mark(text).outcome == "correct"


@pytest.mark.parametrize(
    "text", ["ln 4 square units", "1.2 m", "1.20 (3 s.f.)", "≈ 1.2", "3 u^2", "[ln x]_1^3 = ln 2"]
)
def test_a_wrong_value_stays_wrong(logarithm: DefiniteMarker, text: str) -> None:
    assert logarithm.mark(text).outcome == "incorrect"


@pytest.mark.parametrize("text", ["ln 3 = 1.2", "ln 2 = ln 3", "1.10 = 1.20 = ln 3"])
def test_forms_that_disagree_go_to_a_person(logarithm: DefiniteMarker, text: str) -> None:
    assert logarithm.mark(text).outcome == "unsettled"


@pytest.mark.parametrize("text", ["ln 3 + C", "ln 3 + c units", "two", "x ln 3"])
def test_letters_that_are_no_units_are_letters(logarithm: DefiniteMarker, text: str) -> None:
    mark = logarithm.mark(text)
    assert mark.outcome in {"incorrect", "unreadable"}


def test_a_unit_is_remarked_on(logarithm: DefiniteMarker) -> None:
    assert [remark.identifier for remark in logarithm.mark("ln 3 cm²").remarks] == ["unit"]
    assert logarithm.mark("ln 3").remarks == ()


@given(st.text(alphabet="0123456789+-*/^()π√ ", max_size=20))
def test_a_value_alone_is_left_as_it_is(text: str) -> None:
    assert value_parts(text).forms == ((text.strip(),) if text.strip() else ())
