"""Answers that come near: what is said of them is true by construction of the answer."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from qbank.marking import AntiderivativeMarker
from qbank.maths.expression import Symbol
from qbank.maths.reading import read
from qbank.techniques.general_slips import GENERAL_SLIPS

X = Symbol("x")

#: integrands with an antiderivative, from the first pages of any textbook; the derivative of each is taken by hand
KEYS = {
    "cos 3x": ("1/3 sin 3x",),
    "x e^x": ("x e^x", "-e^x"),
    "ln x": ("x ln x", "-x"),
    "x^2 + sin x": ("1/3 x^3", "-cos x"),
    "sec^2 x + 1/x": ("tan x", "ln|x|"),
}
NEARLY = {
    "rounded-number",
    "off-by-a-factor",
    "a-term-too-many",
    "a-term-with-another-factor",
    "a-term-missing",
}


def test_a_policy_may_name_them() -> None:
    assert set(GENERAL_SLIPS) > NEARLY


def slip(integrand: str, answer: str) -> tuple[str | None, str]:
    mark = AntiderivativeMarker(read(integrand).tree, X).mark(answer)
    assert mark.outcome == "incorrect"
    assert mark.score == 0.0
    return mark.slip, mark.message


@pytest.mark.parametrize(
    ("integrand", "answer", "name", "said"),
    [
        ("cos 3x", "7 sin 3x + C", "off-by-a-factor", "is 21 times the integrand"),
        ("cos 3x", "-sin(3x)/9", "off-by-a-factor", "is -1/3 times the integrand"),
        ("x^2", "0.333x^3 + C", "rounded-number", "Keep it exact"),
        ("x^2 + sin x", "0.33 x^3 - cos x", "rounded-number", "Keep it exact"),
        ("sqrt(x)", "0.66x^1.5", "rounded-number", "Keep it exact"),
        ("cos x", "sin x + 3x^2", "a-term-too-many", "but for 3x^2,"),
        ("x e^x", "x e^x - 3 e^x", "a-term-with-another-factor", "in -3e^x"),
        ("x^2 + sin x + e^x", "x^3/3 - cos x - 4e^x", "a-term-with-another-factor", "in -4e^x"),
        ("(ln x)^2", "x (ln x)^2 + 2x", "a-term-missing", "one term is missing"),
    ],
)
def test_what_is_said(integrand: str, answer: str, name: str, said: str) -> None:
    found, message = slip(integrand, answer)
    assert found == name
    assert said in message


@pytest.mark.parametrize(
    ("integrand", "answer"),
    [("cos x", "tan x"), ("2x", "5"), ("2x", "y x^2"), ("2x", "1000 x^2"), ("cos x", "x^9 + e^x")],
)
def test_nothing_is_guessed(integrand: str, answer: str) -> None:
    assert slip(integrand, answer)[0] not in NEARLY


@pytest.mark.parametrize(
    ("integrand", "answer"),
    [("x^2", "0.3x^3"), ("x^2", "0.34x^3"), ("2x", "1.02x^2"), ("cos x", "0.33 sin x")],
)
def test_a_wrong_decimal_is_not_a_rounded_number(integrand: str, answer: str) -> None:
    assert slip(integrand, answer)[0] != "rounded-number"


@given(st.sampled_from(sorted(KEYS)), st.fractions(-9, 9, max_denominator=12))
def test_any_factor_is_found_and_said(integrand: str, factor: Fraction) -> None:
    assume(factor not in {0, 1})
    found, message = slip(integrand, f"({factor}) ({' + '.join(KEYS[integrand])})")
    # where a slip of the technique gives the same answer, it is named instead
    assert found is not None
    if found == "off-by-a-factor":
        assert f"is {factor} times" in message


@given(
    st.sampled_from([name for name, terms in KEYS.items() if len(terms) > 1]),
    st.integers(2, 60),
    st.booleans(),
)
def test_one_term_with_another_number(integrand: str, number: int, last: bool) -> None:
    terms = list(KEYS[integrand])
    terms[-1 if last else 0] = f"{number} ({terms[-1 if last else 0]})"
    found, _ = slip(integrand, " + ".join(terms))
    assert found is not None
    # where a slip of the technique gives the same answer, it is named instead
    assert found == "a-term-with-another-factor" or found not in NEARLY
