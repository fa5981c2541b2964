"""Substitution: solved, proved, and compared with SymPy and published tables."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.expression import Root, Symbol
from qbank.maths.notation import plain
from qbank.techniques.substituting.substitution import TECHNIQUE
from qbank.techniques.substituting.substitution_search import put_back, substitution
from tests.techniques.solving import (
    X,
    agrees_with_sympy,
    board,
    solved,
    tree,
    wrong_slips,
)

#: integrand, the function substituted, and the answer as a teacher writes it; read by hand
ANSWERS = [
    ("x e^(x^2)", "x^2", "1/2 e^(x^2)"),
    ("x exp(x^2)", "x^2", "1/2 e^(x^2)"),
    ("x e^(-x^2)", "-x^2", "-1/2 e^(-x^2)"),
    ("6x e^(3x^2 + 1)", "3x^2 + 1", "e^(3x^2 + 1)"),
    ("x^3 e^(x^4)", "x^4", "1/4 e^(x^4)"),
    ("e^(sin x) cos(x)", "sin x", "e^(sin x)"),
    ("e^(1/x)/x^2", "1/x", "-e^(1/x)"),
    ("e^(sqrt(x))/sqrt(x)", "sqrt(x)", "2e^(sqrt(x))"),
    ("cos(x) sin(x)^4", "sin x", "1/5 sin^5 x"),
    ("sin(x) cos(x)^3", "cos x", "-1/4 cos^4 x"),
    ("sin(2x)^5 cos(2x)", "sin 2x", "1/12 sin^6 2x"),
    ("sin(x) cos(x)", "sin x", "1/2 sin^2 x"),
    ("cos(x)/sin(x)^3", "sin x", "-1/(2 sin^2 x)"),
    ("cos(x) sqrt(sin(x))", "sin x", "2/3 (sin x)^(3/2)"),
    ("sin(x)/sqrt(cos(x))", "cos x", "-2 sqrt(cos x)"),
    ("cos(x)/(1 + sin(x))", "1 + sin x", "ln|1 + sin x|"),
    ("sin(x)/(2 + cos(x))", "2 + cos x", "-ln(2 + cos x)"),
    ("cos(x)/(1 + sin(x)^2)", "sin x", "arctan(sin x)"),
    ("tan(x)^3 sec(x)^2", "tan x", "1/4 tan^4 x"),
    ("tan(x)^3/cos(x)^2", "tan x", "1/4 tan^4 x"),
    ("sec(x)^3 tan(x)", "sec x", "1/3 sec^3 x"),
    ("sec(x)^2/(1 + tan(x))", "1 + tan x", "ln|1 + tan x|"),
    ("sec(x)^2 sqrt(tan(x))", "tan x", "2/3 (tan x)^(3/2)"),
    ("cot(x)^2 cosec(x)^2", "cot x", "-1/3 cot^3 x"),
    ("sin(x)/cos(x)", "cos x", "-ln|cos x|"),
    ("tan(x) ln(cos(x))", "ln(cos x)", "-1/2 (ln(cos x))^2"),
    ("ln(x)/x", "ln x", "1/2 (ln x)^2"),
    ("ln(x)^3/(2x)", "ln x", "1/8 (ln x)^4"),
    ("ln(3x)/x", "ln 3x", "1/2 (ln 3x)^2"),
    ("1/(x ln(x))", "ln x", "ln|ln x|"),
    ("1/(x ln(x)^2)", "ln x", "-1/(ln x)"),
    ("sqrt(ln(x))/x", "ln x", "2/3 (ln x)^(3/2)"),
    ("cos(ln(x))/x", "ln x", "sin(ln x)"),
    ("1/(x(1 + ln(x)^2))", "ln x", "arctan(ln x)"),
    ("(1 + ln(x))^2/x", "1 + ln x", "1/3 (1 + ln x)^3"),
    ("x^2/(x^3 + 1)", "x^3 + 1", "1/3 ln|x^3 + 1|"),
    ("x/(x^2 + 1)", "x^2 + 1", "1/2 ln(x^2 + 1)"),
    ("x/(x^2 + 1)^3", "x^2 + 1", "-1/(4(x^2 + 1)^2)"),
    ("(2x + 3)/(x^2 + 3x - 1)", "x^2 + 3x - 1", "ln|x^2 + 3x - 1|"),
    ("(x + 1)/(x^2 + 2x + 5)^2", "x^2 + 2x + 5", "-1/(2(x^2 + 2x + 5))"),
    ("x/sqrt(x^2 + 9)", "x^2 + 9", "sqrt(x^2 + 9)"),
    ("x sqrt(x^2 + 1)", "x^2 + 1", "1/3 (x^2 + 1)^(3/2)"),
    ("x (x^2 + 1)^(1/2)", "x^2 + 1", "1/3 (x^2 + 1)^(3/2)"),
    ("x^2 cbrt(x^3 + 1)", "x^3 + 1", "1/4 (x^3 + 1)^(4/3)"),
    ("5x (x^2 - 3)^4", "x^2 - 3", "1/2 (x^2 - 3)^5"),
    ("x^2 (1 - x^3)^5", "1 - x^3", "-1/18 (1 - x^3)^6"),
    ("(x^3 - x)(x^4 - 2x^2 + 3)^3", "x^4 - 2x^2 + 3", "1/16 (x^4 - 2x^2 + 3)^4"),
    ("x cos(x^2)", "x^2", "1/2 sin(x^2)"),
    ("x sin(x^2 + 1)/3", "x^2 + 1", "-1/6 cos(x^2 + 1)"),
    ("x^2 sec(x^3)^2", "x^3", "1/3 tan(x^3)"),
    ("(2x + 2) cos(x^2 + 2x)", "x^2 + 2x", "sin(x^2 + 2x)"),
    ("sin(sqrt(x))/sqrt(x)", "sqrt(x)", "-2 cos(sqrt(x))"),
    ("1/(sqrt(x) (1 + sqrt(x))^2)", "1 + sqrt(x)", "-2/(1 + sqrt(x))"),
    ("1/(sqrt(x) (1 + x))", "sqrt(x)", "2 arctan(sqrt(x))"),
    ("x/(4 + 9x^4)", "x^2", "1/12 arctan((3x^2)/2)"),
    ("x/sqrt(1 - x^4)", "x^2", "1/2 arcsin(x^2)"),
    ("arcsec(x/2)/(abs(x) sqrt(x^2 - 4))", "arcsec(x/2)", "1/4 (arcsec(x/2))^2"),  # OpenStax Calculus 2, 1.7
    ("e^x/(1 + e^x)", "1 + e^x", "ln(1 + e^x)"),
    ("e^x/(1 + e^(2x))", "e^x", "arctan(e^x)"),
    ("e^x sqrt(1 + e^x)", "1 + e^x", "2/3 (1 + e^x)^(3/2)"),
    ("e^(2x)/(e^(2x) + 3)", "e^(2x) + 3", "1/2 ln(e^(2x) + 3)"),
    ("(e^x - e^(-x))/(e^x + e^(-x))", "e^x + e^(-x)", "ln(e^x + e^(-x))"),
    ("e^x cos(e^x)", "e^x", "sin(e^x)"),
    ("2^x/(1 + 2^x)", "1 + 2^x", "(ln(1 + 2^x))/(ln 2)"),
    ("arctan(x)/(1 + x^2)", "arctan x", "1/2 (arctan x)^2"),
    ("arcsin(x)^2/sqrt(1 - x^2)", "arcsin x", "1/3 (arcsin x)^3"),
    ("1/(sqrt(1 - x^2) arcsin(x))", "arcsin x", "ln|arcsin x|"),
    ("(cos(x) - sin(x))/(sin(x) + cos(x))", "sin x + cos x", "ln|sin x + cos x|"),
    ("(x + 1)/(x(x + ln(x)))", "x + ln x", "ln|x + ln x|"),
    ("(1 + 1/x) e^(x + ln(x))", "x + ln x", "e^(x + ln x)"),
    ("sinh(x) cosh(x)^3", "cosh x", "1/4 cosh^4 x"),
    ("x e^(a x^2)", "a x^2", "e^(a x^2)/(2a)"),
    ("x/(a + b x^2)", "a + b x^2", "(ln|a + b x^2|)/(2b)"),
    ("pi x cos(x^2)", "x^2", "1/2 pi sin(x^2)"),
    ("sin(x) (cos(x)^2 + 3 cos(x))", "cos x", "-1/3 cos^3 x - 3/2 cos^2 x"),
    ("u e^(x^2) x", "x^2", "1/2 u e^(x^2)"),
    ("arccos(2x)/sqrt(1 - 4x^2)", "arccos 2x", "-1/4 (arccos 2x)^2"),
    ("arcsin(x/2)/sqrt(4 - x^2)", "arcsin(x/2)", "1/2 (arcsin(x/2))^2"),
    ("arctan(3x)/(1 + 9x^2)", "arctan 3x", "1/6 (arctan 3x)^2"),
    ("arsinh(x/2)/sqrt(x^2 + 4)", "arsinh(x/2)", "1/2 (arsinh(x/2))^2"),
    ("e^(e^x + x)", "e^x", "e^(e^x)"),
    # the derivative with something taken out, and factors in another order
    ("e^x (1 + x)/cos(x e^x)^2", "x e^x", "tan(x e^x)"),
    ("e^x (1 + x)/(2 + x e^x)", "2 + x e^x", "ln|2 + x e^x|"),
    ("(2x + 2^x ln(2))/(x^2 + 2^x)", "x^2 + 2^x", "ln(x^2 + 2^x)"),
    ("(10x^9 + 10^x ln(10))/(x^10 + 10^x)", "x^10 + 10^x", "ln(x^10 + 10^x)"),
    ("sin(x) (1 + 2cos(x))/(cos(x)^2 + cos(x) + 1)", "cos^2 x + cos x + 1", "-ln|cos^2 x + cos x + 1|"),
    ("x^2 (b + 2c x^3)(b x^3 + c x^6)^13", "b x^3 + c x^6", "1/42 (b x^3 + c x^6)^14"),
]


@pytest.mark.parametrize(("text", "inner", "expected"), ANSWERS)
def test_the_answer_as_written(text: str, inner: str, expected: str) -> None:
    solution = solved(TECHNIQUE, text)
    assert plain(solution.antiderivative) == expected
    found = substitution(solution.integrand, X)
    assert found is not None
    assert plain(found.seen.inner) == inner


@pytest.mark.parametrize("text", [row[0] for row in ANSWERS][::3])
def test_sympy_finds_the_same_derivative(text: str) -> None:
    assert agrees_with_sympy(solved(TECHNIQUE, text))


@pytest.mark.parametrize("text", [row[0] for row in ANSWERS][::2])
def test_slips_are_wrong(text: str) -> None:
    assert len(wrong_slips(TECHNIQUE, solved(TECHNIQUE, text))) >= 2


DECLINED = [
    "x^3",
    "e^(2x)",
    "1/(x^2 + 1)",
    "x e^x",
    "sin(x)^3",
    "x^2 sin(x)",
    "ln(x)",
    "sin(x)^2 cos(x)^2",
    "x sqrt(x + 1)",
    "e^(x^2)",
    "0 x e^(x^2)",
    "x/(1 - x^4)",
    "x e^(x^2) + sin(x)^2",
    "x (x^4 + 5)^6",
    "x (x^2 + 1)^1000 (2x^2 + 2)^(-20)",
    " ".join(f"sin({n}x)" for n in range(1, 33)),
    "(x + x^2 + x^3 + x^4)^7 (sin(x) + cos(x))" + " + x ln(x)" * 40,
]


@pytest.mark.parametrize("text", DECLINED)
def test_other_kinds_are_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_lines() -> None:
    assert board(solved(TECHNIQUE, "x/(x^2 + 1)^3")) == [
        "∫ x/(x^2 + 1)^3 dx",
        "u = x^2 + 1; du = 2x dx",
        "1/2 ∫ 1/u^3 du",
        "1/2 ∫ u^(-3) du",
        "1/2 * (u^(-2)/(-2)) + C",
        "-1/(4u^2) + C",
        "-1/(4(x^2 + 1)^2) + C",
    ]


def test_several_terms_in_the_letter_leave_fewer_slips() -> None:
    found = wrong_slips(TECHNIQUE, solved(TECHNIQUE, "sin(x) (cos(x)^2 + 3 cos(x))"))
    assert "substitution-derivative-kept" not in found
    assert "substitution-factors-integrated-separately" not in found
    assert "substitution-not-divided-by-new-power" in found


def test_a_letter_in_use_is_not_taken() -> None:
    assert board(solved(TECHNIQUE, "u e^(x^2) x"))[1] == "v = x^2; dv = 2x dx"


def test_a_product_in_the_letter_is_multiplied_out() -> None:
    lines = board(solved(TECHNIQUE, "sin(x) (cos(x)^2 + 3 cos(x))"))
    assert lines[1] == "u = cos x; du = -sin x dx"
    assert lines[-1] == "-1/3 cos^3 x - 3/2 cos^2 x + C"


#: what each slip leads to; worked by hand
SLIPS = [
    ("x e^(x^2)", "substitution-constant-of-du-forgotten", "e^(x^2)"),
    ("x e^(x^2)", "substitution-constant-of-du-multiplied", "2e^(x^2)"),
    ("x e^(x^2)", "substitution-derivative-kept", "1/2 x e^(x^2)"),
    ("x e^(x^2)", "substitution-factors-integrated-separately", "1/2 x^2 e^(x^2)"),
    ("x e^(x^2)", "substitution-exponent-raised", "e^(x^2 + 1)/(2(x^2 + 1))"),
    ("sin(x) cos(x)^3", "substitution-sign-of-du-lost", "1/4 cos^4 x"),
    ("sin(x) cos(x)^3", "substitution-outer-function-not-integrated", "-cos^3 x"),
    ("sin(x) cos(x)^3", "substitution-not-divided-by-new-power", "-cos^4 x"),
    ("sin(x) cos(x)^3", "substitution-divided-by-old-power", "-1/3 cos^4 x"),
    ("sin(x) cos(x)^3", "substitution-power-not-raised", "-1/4 cos^3 x"),
    ("sin(x) cos(x)^3", "substitution-differentiated-instead", "-3 cos^2 x"),
    ("x/(x^2 + 1)^3", "substitution-logarithm-for-power", "1/2 ln((x^2 + 1)^3)"),
    ("x sin(x^2)", "substitution-sign-of-function", "1/2 cos(x^2)"),
    ("-x sin(x^2)", "substitution-constant-of-du-forgotten", "cos(x^2)"),
    ("x e^(-x^2)", "substitution-constant-of-du-forgotten", "-e^(-x^2)"),
]


@pytest.mark.parametrize(("text", "slip", "expected"), SLIPS)
def test_what_a_slip_leads_to(text: str, slip: str, expected: str) -> None:
    found = {w.slip: plain(w.answer) for w in TECHNIQUE.wrong_answers(solved(TECHNIQUE, text))}
    assert found[slip] == expected


def test_no_slip_of_a_constant_that_is_not_there() -> None:
    found = {w.slip for w in TECHNIQUE.wrong_answers(solved(TECHNIQUE, "cos(x) sin(x)^4"))}
    assert "substitution-constant-of-du-forgotten" not in found
    assert "substitution-sign-of-du-lost" not in found


INNER = (
    "{a} x^2 + {b}",
    "sin({a} x)",
    "e^({a} x) + {b}",
    "x^3 + {a} x",
    "ln(x) + {b}",
    "tan({a} x)",
    "sqrt(x) + {b}",
)
SLOPE = ("2*{a} x", "cos({a} x)", "e^({a} x)", "(3x^2 + {a})", "1/x", "sec({a} x)^2", "1/sqrt(x)")
OUTER = ("({0})^{n}", "1/({0})^{n}", "sqrt({0})", "1/({0})", "e^({0})", "cos({0})", "sec({0})^2", "sin({0})")


@given(
    st.sampled_from(range(len(INNER))),
    st.sampled_from(OUTER),
    st.integers(1, 9),
    st.integers(1, 9),
    st.integers(2, 7),
    st.integers(-9, 9).filter(bool),
)
@settings(max_examples=25)
def test_a_function_times_the_inner_derivative_is_always_solved(
    kind: int, outer: str, a: int, b: int, n: int, number: int
) -> None:
    inner = INNER[kind].format(a=a, b=b)
    text = f"({number}) * {SLOPE[kind].format(a=a)} * {outer.format(inner, n=n)} / 3"
    assert TECHNIQUE.work(tree(text), X) is not None


def test_putting_back_joins_powers() -> None:
    u = Symbol("u")
    assert plain(put_back(u**2, u, Root(X))) == "x"
    assert plain(put_back(u**2, u, 1 / X)) == "1/x^2"
    assert plain(put_back(u**3, u, X**2)) == "x^6"
    assert plain(put_back(u ** Symbol("n"), u, X**2)) == "(x^2)^n"
    assert plain(put_back(u ** Symbol("n"), u, Root(X))) == "(sqrt(x))^n"
