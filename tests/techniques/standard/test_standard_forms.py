"""Standard forms with a linear function inside: solved, proved, and compared with SymPy and published tables."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.expression import Symbol
from qbank.maths.notation import plain
from qbank.techniques.standard.linear_inner import as_inner, is_zero
from qbank.techniques.standard.standard_forms import TECHNIQUE
from qbank.techniques.substituting import substitution
from tests.techniques.solving import (
    X,
    agrees_with_sympy,
    board,
    solved,
    tree,
    wrong_slips,
)

#: integrand and the answer as a teacher writes it; read by hand
ANSWERS = [
    ("x^5", "1/6 x^6"),
    ("7", "7x"),
    ("pi", "pi x"),
    ("3x^2 - 2x + 7", "x^3 - x^2 + 7x"),
    ("1 - x^2", "x - 1/3 x^3"),
    ("1/x^3", "-1/(2x^2)"),
    ("x^(-3)", "-1/2 x^(-2)"),
    ("2/x^2", "-2/x"),
    ("1/x", "ln|x|"),
    ("5/(2x)", "5/2 ln|x|"),
    ("x/x^2", "ln|x|"),
    ("sqrt(x)", "2/3 x^(3/2)"),
    ("x^(1/2)", "2/3 x^(3/2)"),
    ("1/sqrt(x)", "2 sqrt(x)"),
    ("x^(-1/2)", "2x^(1/2)"),
    ("cbrt(x)", "3/4 x^(4/3)"),
    ("1/cbrt(x)", "3/2 x^(2/3)"),
    ("x sqrt(x)", "2/5 x^(5/2)"),
    ("sqrt(2x)/sqrt(x)", "sqrt(2) x"),
    ("x sqrt(2x)", "2/5 sqrt(2) x^(5/2)"),
    ("(2x + 1)^5", "1/12 (2x + 1)^6"),
    ("(1 - x)^4", "-1/5 (1 - x)^5"),
    ("4/(3 - 2x)^3", "1/(3 - 2x)^2"),
    ("sqrt(2x + 1)", "1/3 (2x + 1)^(3/2)"),
    ("1/sqrt(5 - 3x)", "-2/3 sqrt(5 - 3x)"),
    ("1/(3x + 1)", "1/3 ln|3x + 1|"),
    ("1/(5 - x)", "-ln|5 - x|"),
    ("e^(2x)", "1/2 e^(2x)"),
    ("exp(x)", "exp(x)"),
    ("e^(-x)/4", "-1/4 e^(-x)"),
    ("1/e^x", "-e^(-x)"),
    ("e^x e^(2x)", "1/3 e^(3x)"),
    ("e^(3 - x)", "-e^(3 - x)"),
    ("2^x", "2^x/(ln 2)"),
    ("2^(3x)", "2^(3x)/(3 ln 2)"),
    ("a^x", "a^x/(ln a)"),
    ("1/(a^2 - x^2)", "(ln|(a + x)/(a - x)|)/(2a)"),
    ("1/(9x^2 - 4b^2)", "(ln|(3x - 2b)/(3x + 2b)|)/(12b)"),
    ("3/sqrt(4x^2 - a^2)", "3/2 ln|2x + sqrt(4x^2 - a^2)|"),
    ("1/sqrt(a^2 + x^2)", "ln|x + sqrt(a^2 + x^2)|"),
    ("sin(3x)", "-1/3 cos 3x"),
    ("cos(x/2)", "2 sin(x/2)"),
    ("3 sin(2x) - cos(x)", "-3/2 cos 2x - sin x"),
    ("cos(pi x)", "(sin pi x)/pi"),
    ("cos(a x)", "(sin a x)/a"),
    ("a x^2 + b x + c", "1/3 a x^3 + 1/2 b x^2 + c x"),
    ("sqrt(2) x^3", "1/4 sqrt(2) x^4"),
    ("sin(x)/pi", "-(cos x)/pi"),
    ("sec(3x)^2", "1/3 tan 3x"),
    ("1/cos(x)^2", "tan x"),
    ("cosec(x)^2", "-cot x"),
    ("1/sin(2x)^2", "-1/2 cot 2x"),
    ("sec(x) tan(x)", "sec x"),
    ("3 sec(2x) tan(2x)", "3/2 sec 2x"),
    ("sin(x)/cos(x)^2", "sec x"),
    ("cosec(x) cot(x)", "-cosec x"),
    ("tan(2x)", "1/2 ln|sec 2x|"),
    ("sin(x)/cos(x)", "ln|sec x|"),
    ("cot(x)", "ln|sin x|"),
    ("sec(x)", "ln|sec x + tan x|"),
    ("1/sin(x)", "-ln|cosec x + cot x|"),
    ("sinh(3x)", "1/3 cosh 3x"),
    ("cosh(x)", "sinh x"),
    ("tanh(x)", "ln(cosh x)"),
    ("coth(x)", "ln|sinh x|"),
    ("sech(x)", "arctan(sinh x)"),
    ("cosech(2x)", "1/2 ln|tanh x|"),
    ("sech(x)^2", "tanh x"),
    ("1/sinh(x)^2", "-coth x"),
    ("sech(x) tanh(x)", "-sech x"),
    ("cosech(x) coth(x)", "-cosech x"),
    ("1/(x^2 + 4)", "1/2 arctan(x/2)"),
    ("3/(4x^2 + 9)", "1/2 arctan(2x/3)"),
    ("1/(3 + x^2)", "(1/sqrt(3)) arctan(x/sqrt(3))"),
    ("1/((x + 1)^2 + 4)", "1/2 arctan((x + 1)/2)"),
    ("1/((x + 1)^2 + 1/4)", "2 arctan(2x + 2)"),
    ("1/(x^2 + a^2)", "(arctan(x/a))/a"),
    ("1/(a^2 + 4b^2 x^2)", "(arctan(2b x/a))/(2b a)"),
    ("1/sqrt(9 - 4x^2)", "1/2 arcsin(2x/3)"),
    ("1/sqrt(5 - x^2)", "arcsin(x/sqrt(5))"),
    ("1/(abs(x) sqrt(x^2 - 9))", "1/3 arcsec(x/3)"),  # OpenStax Calculus 2, section 1.7
    ("5/(abs(2x) sqrt(4x^2 - 9))", "5/6 arcsec(2x/3)"),
    ("1/(abs(2x + 1) sqrt((2x + 1)^2 - 4))", "1/4 arcsec((2x + 1)/2)"),
    ("(x + 1)(x - 2)", "1/3 x^3 - 1/2 x^2 - 2x"),
    ("3(2x + 1)", "3x^2 + 3x"),
    ("-(x + sin(x))/2", "-1/4 x^2 + 1/2 cos x"),
    ("(x^2 + 1)/x", "1/2 x^2 + ln|x|"),
    ("(x^2 + 1)/sqrt(x)", "2/5 x^(5/2) + 2 sqrt(x)"),
    ("(sqrt(x) + 1)^2", "1/2 x^2 + 4/3 x^(3/2) + x"),
    ("x(x^2 + 1)^2", "1/6 x^6 + 1/2 x^4 + 1/2 x^2"),
    ("(e^x + 1)^2", "1/2 e^(2x) + 2e^x + x"),
    ("(e^(2x) + 1)/e^x", "e^x - e^(-x)"),
    ("(1 + sin(x))/cos(x)^2", "tan x + sec x"),
]


@pytest.mark.parametrize(("text", "expected"), ANSWERS)
def test_the_answer_as_written(text: str, expected: str) -> None:
    assert plain(solved(TECHNIQUE, text).antiderivative) == expected


@pytest.mark.parametrize("text", [text for text, _ in ANSWERS][::3])
def test_sympy_finds_the_same_derivative(text: str) -> None:
    assert agrees_with_sympy(solved(TECHNIQUE, text))


@pytest.mark.parametrize("text", [text for text, _ in ANSWERS][::2])
def test_slips_are_wrong(text: str) -> None:
    wrong_slips(TECHNIQUE, solved(TECHNIQUE, text))


DECLINED = [
    "ln(x)",
    "x sin(x)",
    "sin(x)^2",
    "x^x",
    "1/(x^2 - 4)",
    "1/(x^2 + x + 1)",
    "1/sqrt(x^2 + 1)",
    "1/(pi + x^2)",
    "sqrt(1 - x^2)",
    "sin(x^2)",
    "x^(a x)",
    "(-2)^x",
    "1^x",
    "x^2 e^x",
    "sin(x) sinh(x)",
    "sin(x) cos(2x)",
    "e^(x^2)",
    "2^x * x^2",
    "x/(a - a)",
    "x(x^2 + 1)^5",
    "(x + 1)^9 (x + 2)",
    "(x + x^2 + x^3 + sin(x) + e^x)^8",
    "0 x",
    "ln(x + 1) (x + 1)^2",
    "x/(x + 1)",
    "x^(1/1001)",
    "1/(x^2 + 10000000000001)",
    "(1 + x)^8 sin(x) + (1 + x)^8 cos(x) + (1 + x)^8 e^x",
]


@pytest.mark.parametrize("text", DECLINED)
def test_other_kinds_are_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_lines_of_a_power() -> None:
    assert board(solved(TECHNIQUE, "4/(3 - 2x)^3")) == [
        "∫ 4/(3 - 2x)^3 dx",
        "4 ∫ (3 - 2x)^(-3) dx",
        "4 * ((3 - 2x)^(-2)/((-2) (-2))) + C",
        "1/(3 - 2x)^2 + C",
    ]


def test_the_lines_of_a_sum() -> None:
    assert board(solved(TECHNIQUE, "2e^(3x) - 5/(x + 1)")) == [
        "∫ (2e^(3x) - 5/(x + 1)) dx",
        "2 ∫ e^(3x) dx - 5 ∫ 1/(x + 1) dx",
        "2/3 e^(3x) - 5 ln|x + 1| + C",
    ]


def test_the_lines_of_a_division() -> None:
    solution = solved(TECHNIQUE, "(x^2 + 1)/sqrt(x)")
    assert board(solution)[1:] == [
        "∫ (x^(3/2) + x^(-1/2)) dx",
        "x^(5/2)/(5/2) + x^(1/2)/(1/2) + C",
        "2/5 x^(5/2) + 2 sqrt(x) + C",
    ]
    assert [line.rule for line in solution.lines] == ["expand", "standard-integral", "standard-integral"]


def test_many_different_terms_have_one_reason() -> None:
    solution = solved(TECHNIQUE, "x + sin(x) + e^x + 1/x")
    assert solution.lines[-1].reason == "Integrate each term by its standard form."


#: what each habit leads to; worked by hand
SLIPS = [
    ("cos(3x)", "standard-inner-coefficient-forgotten", "sin 3x"),
    ("cos(3x)", "standard-inner-coefficient-multiplied", "3 sin 3x"),
    ("cos(3x)", "standard-sign-of-function", "-1/3 sin 3x"),
    ("cos(3x)", "standard-differentiated-instead", "-3 sin 3x"),
    ("(2x + 1)^5", "standard-not-divided-by-new-power", "1/2 (2x + 1)^6"),
    ("(2x + 1)^5", "standard-divided-by-old-power", "1/10 (2x + 1)^6"),
    ("(2x + 1)^5", "standard-power-not-raised", "1/12 (2x + 1)^5"),
    ("1/(2x + 1)^3", "standard-logarithm-for-power", "1/2 ln|(2x + 1)^3|"),
    ("1/(2x + 1)", "standard-denominator-integrated", "4/(2x + 1)^2"),
    ("1/(2x + 1)", "standard-differentiated-instead", "-2/(2x + 1)^2"),
    ("1/x^2", "standard-denominator-integrated", "3/x^3"),
    ("e^(2x)", "standard-exponent-raised", "e^(2x + 1)/(2x + 1)"),
    ("2^x", "standard-logarithm-of-base-forgotten", "2^x"),
    ("2^x", "standard-logarithm-of-base-multiplied", "(ln 2) * 2^x"),
    ("sec(x)^2", "standard-function-raised-like-a-variable", "1/3 sec^3 x"),
    ("1/(x^2 + 4)", "standard-logarithm-for-inverse-tangent", "ln(x^2 + 4)"),
    ("1/(x^2 + 4)", "standard-front-factor-forgotten", "arctan(x/2)"),
    ("1/(x^2 + 4)", "standard-number-inside-forgotten", "1/2 arctan x"),
    ("1/(x^2 + 4)", "standard-differentiated-instead", "-2x/(x^2 + 4)^2"),
    ("1/(x^2 + a^2)", "standard-front-factor-forgotten", "arctan(x/a)"),
    ("1/(x^2 + a^2)", "standard-number-inside-forgotten", "(arctan x)/a"),
    ("1/(x^2 + a^2)", "standard-logarithm-for-inverse-tangent", "ln(x^2 + a^2)"),
    ("1/sqrt(4 - x^2)", "standard-front-factor-of-inverse-tangent", "1/2 arcsin(x/2)"),
    ("1/sqrt(4 - x^2)", "standard-root-integrated-as-a-power", "2 sqrt(4 - x^2)"),
    ("x^2 - 1/x", "standard-sign-of-a-term-lost", "1/3 x^3 + ln|x|"),
    ("x^2 + 1/x", "standard-sign-of-a-term-lost", "1/3 x^3 - ln|x|"),
    ("x^2 - 1/x", "standard-term-lost", "1/3 x^3"),
]


@pytest.mark.parametrize(("text", "slip", "expected"), SLIPS)
def test_what_a_slip_leads_to(text: str, slip: str, expected: str) -> None:
    found = {w.slip: plain(w.answer) for w in TECHNIQUE.wrong_answers(solved(TECHNIQUE, text))}
    assert found[slip] == expected


@pytest.mark.parametrize(
    "text", ["cos(3x)", "(2x + 1)^5", "1/(2x + 3)", "sec(2x)^2", "4/(x^2 + 9)", "2^(3x)"]
)
def test_at_least_three_slips_for_every_kind(text: str) -> None:
    assert len(wrong_slips(TECHNIQUE, solved(TECHNIQUE, text))) >= 3


#: with a positive slope, so that a sum of roots is real somewhere
LINEAR = st.tuples(st.integers(1, 9), st.integers(-9, 9)).map(lambda p: f"({p[0]} x + {p[1]})")
OF_LINEAR = (
    "{0}^{n}",
    "1/{0}^{n}",
    "sqrt({0})",
    "1/sqrt({0})",
    "1/{0}",
    "e^{0}",
    "3^{0}",
    *(f"{name}{{0}}" for name in ("sin", "cos", "tan", "cot", "sec", "cosec", "sinh", "cosh", "tanh")),
    "sec{0}^2",
    "cosec{0}^2",
    "sec{0} tan{0}",
    "1/({0}^2 + {n})",
)


TERM = st.tuples(st.sampled_from(OF_LINEAR), LINEAR, st.integers(2, 9), st.integers(-9, 9).filter(bool))


@given(TERM)
@settings(max_examples=30)
def test_every_standard_form_is_always_solved(term: tuple[str, str, int, int]) -> None:
    form, inner, n, c = term
    solved(TECHNIQUE, f"({c}) * {form.format(inner, n=n)} / 4")


@given(st.lists(TERM, min_size=2, max_size=3))
@settings(max_examples=20)
def test_sums_of_standard_forms_are_always_solved(terms: list[tuple[str, str, int, int]]) -> None:
    # one inner function: reciprocals of functions of several shifted angles exceed the bounds of deciding
    inner = terms[0][1]
    text = " + ".join(f"({c}) * {form.format(inner, n=n)} / 4" for form, _, n, c in terms)
    integrand = tree(text)
    solution = TECHNIQUE.work(integrand, X)
    assert solution is not None
    assert solution.integrand == integrand


@given(st.lists(st.integers(-9, 9), min_size=2, max_size=5).filter(any), st.integers(1, 6))
@settings(max_examples=20)
def test_polynomials_over_powers_are_always_solved(coefficients: list[int], power: int) -> None:
    top = " + ".join(f"{c} x^{n}" for n, c in enumerate(coefficients))
    assert TECHNIQUE.work(tree(f"({top})/x^{power}"), X) is not None
    assert TECHNIQUE.work(tree(f"({top})/sqrt(x)"), X) is not None


def test_a_slip_of_another_kind_of_integral_does_not_occur() -> None:
    other = substitution.TECHNIQUE.work(tree("x e^(x^2)"), X)
    assert other is not None
    assert TECHNIQUE.slips[0].answer(other) is None


def test_what_is_not_linear() -> None:
    assert as_inner(X - X, X) is None
    assert as_inner(tree("3"), X) is None
    assert as_inner(tree("(a - a) x"), X) is None
    assert is_zero(tree("0"), X)
    assert not is_zero(tree("pi"), X)


def test_another_variable() -> None:
    t = Symbol("t")
    assert plain(solved(TECHNIQUE, "x cos(2t)", t).antiderivative) == "1/2 x sin 2t"
