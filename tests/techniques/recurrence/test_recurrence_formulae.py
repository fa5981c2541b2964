"""Recurrence formulae, against the printed ones, published tables (`test_published`), SymPy, and every slip refuted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.constant_factor import in_front
from qbank.maths.deciding import decide_equal
from qbank.maths.expression import Expression, Integral, Symbol, rational, sin, sum_of
from qbank.maths.notation import plain
from qbank.maths.verdict import Proved, Refuted
from qbank.techniques import solve, solve_all
from qbank.techniques.following import follow
from qbank.techniques.indexed_integral import IndexedIntegral
from qbank.techniques.recurrence.circular_recurrences import circular_recurrence
from qbank.techniques.recurrence.product_recurrences import product_recurrence
from qbank.techniques.recurrence.recurrence_formulae import TECHNIQUE
from qbank.techniques.working import UnprovedLineError, Working
from tests.techniques.solving import (
    X,
    board,
    check_carried,
    check_every_slip_occurs,
    check_solved,
    solved,
    tree,
    wrong_slips,
)

#: answers as the printed recurrences give them, worked by hand
TABLE = [
    ("sin(x)^4", "-1/4 sin^3 x cos x - 3/8 sin x cos x + 3/8 x"),
    ("3cos(2x + 1)^3", "1/2 cos^2(2x + 1) sin(2x + 1) + sin(2x + 1)"),
    ("sec(x)^4", "1/3 sec^2 x tan x + 2/3 tan x"),
    ("1/sin(x)^3", "-1/2 cosec x cot x - 1/2 ln|cosec x + cot x|"),
    ("tan(x)^5", "1/4 tan^4 x - 1/2 tan^2 x + ln|sec x|"),
    ("3/tan(2x)^4", "-1/2 cot^3 2x + 3/2 cot 2x + 3x"),
    ("x^3 e^(2x)", "1/2 x^3 e^(2x) - 3/4 x^2 e^(2x) + 3/4 x e^(2x) - 3/8 e^(2x)"),
    ("x^2/e^x", "-x^2 e^(-x) - 2x e^(-x) - 2e^(-x)"),
    ("(2x + 1)^2 e^x", "(2x + 1)^2 e^x - 4(2x + 1) e^x + 8e^x"),
    ("x^4 sin(x)", "-x^4 cos x + 4x^3 sin x + 12x^2 cos x - 24x sin x - 24 cos x"),
    ("x^3 cos(2x)", "1/2 x^3 sin 2x + 3/4 x^2 cos 2x - 3/4 x sin 2x - 3/8 cos 2x"),
    ("ln(x)^3", "x (ln x)^3 - 3x (ln x)^2 + 6x ln x - 6x"),
    ("x^2 ln(x)^2", "1/3 x^3 (ln x)^2 - 2/9 x^3 ln x + 2/27 x^3"),
    ("ln(2x + 1)^2", "1/2 (2x + 1) (ln(2x + 1))^2 - (2x + 1) ln(2x + 1) + 2x"),
    ("sqrt(x) ln(3x)^2", None),
    ("ln(x)^2/x^3", "-(ln x)^2/(2x^2) - (ln x)/(2x^2) - 1/(4x^2)"),
    ("cosec(1 - 2x)^6", None),
    ("5cot(pi x)^3", None),
    ("x^7 e^(-x/2)", None),
    ("-2/3 (3 - x)^5 cos(pi x)", None),
]

DECLINED = [
    "sin(x)^2",
    "sin(x)",
    "x e^x",
    "ln(x)",
    "sin(x)^21",
    "x^11 e^x",
    "sin(x)^3 cos(x)^2",
    "x^2 e^(x^2)",
]
DECLINED_TOO = [
    "ln(x)^3/x",
    "x ln(x + 1)^2",
    "x^2 tan(x)",
    "x^3 + e^x",
    "tan(x)^(5/2)",
    "x^2 sin(x)^2",
    "ln(x^2)^2",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=4)


@pytest.mark.parametrize("text", [*DECLINED, *DECLINED_TOO])
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


#: the integral with a power n, the terms of the printed formula at n = k, and the number before the lower integral; Abramowitz
#: & Stegun, NBS AMS 55 (1964): 4.3.119, 123, 127, 129, 130; 4.1.52, 4.2.55 and 4.3.128 from memory
PRINTED: dict[str, tuple[str, Callable[[int], str], Callable[[int], Fraction]]] = {
    "4.3.127 n = 0": ("sin(x)^10", lambda k: f"-(sin(x)^{k - 1} cos(x))/{k}", lambda k: Fraction(k - 1, k)),
    "4.3.127 m = 0": ("cos(x)^10", lambda k: f"(sin(x) cos(x)^{k - 1})/{k}", lambda k: Fraction(k - 1, k)),
    "4.3.128 m = 0": (
        "sec(x)^10",
        lambda k: f"sin(x)/({k - 1} cos(x)^{k - 1})",
        lambda k: Fraction(k - 2, k - 1),
    ),
    "4.3.128 n = 0": (
        "cosec(x)^10",
        lambda k: f"-cos(x)/({k - 1} sin(x)^{k - 1})",
        lambda k: Fraction(k - 2, k - 1),
    ),
    "4.3.129": ("tan(x)^10", lambda k: f"(tan(x)^{k - 1})/{k - 1}", lambda _: Fraction(-1)),
    "4.3.130": ("cot(x)^10", lambda k: f"-(cot(x)^{k - 1})/{k - 1}", lambda _: Fraction(-1)),
    "4.2.55 a = 3": ("x^10 e^(3x)", lambda k: f"x^{k} e^(3x)/3", lambda k: Fraction(-k, 3)),
    "4.1.52 n = 4": ("x^4 ln(x)^10", lambda k: f"(x^5 ln(x)^{k})/5", lambda k: Fraction(-k, 5)),
    # these two hand the integral to each other; used twice they are one formula
    "4.3.119, 123": (
        "x^10 sin(x)",
        lambda k: f"-x^{k} cos(x) + {k} x^{k - 1} sin(x)",
        lambda k: Fraction(-k * (k - 1)),
    ),
    "4.3.123, 119": (
        "x^10 cos(x)",
        lambda k: f"x^{k} sin(x) + {k} x^{k - 1} cos(x)",
        lambda k: Fraction(-k * (k - 1)),
    ),
}


@pytest.mark.parametrize("number", PRINTED)
def test_the_printed_formulae(number: str) -> None:
    text, terms, lower = PRINTED[number]
    plan = circular_recurrence(tree(text), X) or product_recurrence(tree(text), X)
    assert plan is not None
    for k in range(2, 9):
        rung = plan.rung(k)
        found = sum_of(*(in_front(size, body) for size, body in rung.terms)) / rational(rung.share)
        assert isinstance(decide_equal(found, tree(terms(k)), X), Proved), k
        assert rung.lower.coefficient / rung.share == lower(k)


def test_the_board_of_a_sine() -> None:
    assert board(solved(TECHNIQUE, "2sin(3x)^4")) == [
        "∫ 2 sin^4 3x dx",
        "2 ∫ sin^4 3x dx",
        "I_n = ∫ sin^n 3x dx",
        "u = sin^(n - 1) 3x; du = 3(n - 1) sin^(n - 2) 3x cos 3x dx",
        "v = -1/3 cos 3x; dv = sin 3x dx",
        "I_n = -1/3 sin^(n - 1) 3x cos 3x + (n - 1) ∫ sin^(n - 2) 3x cos^2 3x dx",
        "I_n = -1/3 sin^(n - 1) 3x cos 3x + (n - 1) ∫ (1 - sin^2 3x) sin^(n - 2) 3x dx",
        "I_n = -1/3 sin^(n - 1) 3x cos 3x + (n - 1) I_(n-2) - (n - 1) I_n",
        "n I_n = -1/3 sin^(n - 1) 3x cos 3x + (n - 1) I_(n-2)",
        "2(-1/12 sin^3 3x cos 3x + 3/4 I_2)",
        "-1/6 sin^3 3x cos 3x + 3/2 (-1/6 sin 3x cos 3x + 1/2 I_0)",
        "I_0 = x",
        "-1/6 sin^3 3x cos 3x - 1/4 sin 3x cos 3x + 3/4 x + C",
    ]


def test_the_board_of_a_logarithm() -> None:
    assert board(solved(TECHNIQUE, "ln(x)^2"))[1:] == [
        "I_n = ∫ (ln x)^n dx",
        "u = (ln x)^n; du = ((n (ln x)^(n - 1))/x) dx",
        "v = x; dv = dx",
        "I_n = x (ln x)^n - n ∫ (ln x)^(n - 1) dx",
        "I_n = x (ln x)^n - n I_(n-1)",
        "x (ln x)^2 - 2I_1",
        "x (ln x)^2 - 2(x ln x - I_0)",
        "I_0 = x",
        "x (ln x)^2 - 2x ln x + 2x + C",
    ]


def test_letters_of_the_question_are_not_used_again() -> None:
    rows = board(solved(TECHNIQUE, "n I u sin(x)^3"))
    assert rows[2] == "J_m = ∫ sin^m x dx"
    assert rows[3].startswith("v = sin^(m - 1) x")


ORDER = [
    ("sin(x)^8", "even-powers"),
    ("sin(x)^10", "recurrence-formulae"),
    ("cos(3x)^11", "odd-powers"),
    ("tan(x)^7", "tangent-secant"),
    ("tan(x)^9", "recurrence-formulae"),
    ("sec(x)^9", "odd-secants"),
    ("sec(x)^11", "recurrence-formulae"),
    ("sec(x)^12", "tangent-secant"),
    ("x^4 e^x", "by-parts"),
    ("x^6 e^x", "recurrence-formulae"),
    ("ln(x)^4", "by-parts"),
    ("ln(x)^5", "recurrence-formulae"),
    ("x^9 cos(2x)", "recurrence-formulae"),
]


@pytest.mark.parametrize(("text", "first"), ORDER)
def test_it_comes_first_where_the_usual_way_repeats_itself(text: str, first: str) -> None:
    solution = solve(tree(text), X)
    assert solution is not None
    assert solution.technique == first


def test_below_it_is_another_way() -> None:
    for text, first in (("sin(x)^4", "even-powers"), ("x^2 e^x", "by-parts")):
        ways = [one.technique for one in solve_all(tree(text), X)]
        assert ways[0] == first
        assert "recurrence-formulae" in ways


def test_the_lines_are_carried_into_others() -> None:
    check_carried("x sin(x^2)^10", "substitution-first")
    check_carried("tan(x)^8 + x^5 e^x", "term-by-term")


def test_two_formulae_in_one_sum_have_two_letters() -> None:
    solution = solve(tree("tan(x)^8 + x^5 e^x"), X)
    assert solution is not None
    defined = [row for row in board(solution) if row.split(" = ")[0] in ("I_n", "J_n")]
    assert defined[0] == "I_n = ∫ tan^n x dx"
    assert "J_n = ∫ x^n e^x dx" in defined
    assert all(isinstance(one, Proved) for one in follow(solution.lines, Integral(solution.integrand, X)))


def test_a_wrong_formula_is_not_written() -> None:
    n, f = Symbol("n"), sin(X)
    called = IndexedIntegral("I", n, Integral(f**n, X))
    working = Working("test", f**4, X)
    working.call(called, "Write n for the power.")
    for wrong in (n * called.lower(2), (n - 1) * called.lower(1), (n + 1) * called.lower(2)):
        with pytest.raises(UnprovedLineError):
            working.balance(n * called.symbol, wrong, rule="recurrence", reason="This is wrong.")
    with pytest.raises(UnprovedLineError):
        working.step(called.at(5), "recurrence", "This is another integral.")
    working.step(called.at(4), "recurrence", "This is the integral itself.")
    with pytest.raises(ValueError, match="not finished"):
        working.finish()


def test_each_line_follows_and_a_wrong_one_does_not() -> None:
    solution = solved(TECHNIQUE, "sin(x)^6")
    integral = Integral(solution.integrand, X)
    lines = list(solution.lines)
    assert all(isinstance(verdict, Proved) for verdict in follow(lines, integral))
    place = next(j for j, line in enumerate(lines) if line.kind == "step")
    assert lines[place].statements == (tree("-1/6 sin(x)^5 cos(x) + 5/6 I_4"),)
    lines[place] = replace(lines[place], statements=(tree("-1/6 sin(x)^5 cos(x) + 5/6 I_3"),))
    assert [isinstance(verdict, Refuted) for verdict in follow(lines, integral)].index(True) == place


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))


#: each worked by hand with the one number changed; common practice, not from a published table
SLIPS = [
    ("sin(x)^4", "recurrence-sign", "-1/4 sin^3 x cos x + 3/8 sin x cos x + 3/8 x"),
    ("sin(x)^4", "recurrence-not-divided", "-sin^3 x cos x - 3 sin x cos x + 3x"),
    ("sin(x)^4", "recurrence-number-in-front", "-1/4 sin^3 x cos x - 1/2 sin x cos x + x"),
    ("sin(x)^4", "recurrence-base-case-lost", "-1/4 sin^3 x cos x - 3/8 sin x cos x"),
    ("sin(x)^4", "recurrence-power-not-reduced", "-1/4 sin^4 x cos x - 3/8 sin^2 x cos x + 3/8 x"),
    ("sin(x)^4", "recurrence-bracket-not-multiplied-out", "-1/4 sin^3 x cos x - 3/8 sin x cos x + 1/2 x"),
    ("x^2 e^(2x)", "recurrence-inner-coefficient-forgotten", "x^2 e^(2x) - 2x e^(2x) + 2e^(2x)"),
    ("x^2 e^(2x)", "recurrence-power-reduced-too-soon", "1/2 x e^(2x) - 1/4 e^(2x)"),
    ("x^2 ln(x)^2", "recurrence-new-power-not-divided", "x^3 (ln x)^2 - 2x^3 ln x + 2/3 x^3"),
]


@pytest.mark.parametrize(("text", "slip", "expected"), SLIPS)
def test_what_a_slip_leads_to(text: str, slip: str, expected: str) -> None:
    assert plain(wrong_slips(TECHNIQUE, solved(TECHNIQUE, text))[slip]) == expected


KINDS = (
    "sin(L)^n",
    "cos(L)^n",
    "tan(L)^n",
    "cot(L)^n",
    "sec(L)^n",
    "cosec(L)^n",
    "x^n e^(L)",
    "ln(L)^n",
    "x^n sin(L)",
)


@settings(max_examples=20)
@given(
    kind=st.sampled_from((*KINDS, "(L)^n cos(3x)", "x^2 ln(3x)^n")),
    n=st.integers(3, 8),
    a=st.sampled_from((1, 2, 5, -1, -3)),
    b=st.integers(-2, 2),
)
def test_any_power_and_any_linear_inside(kind: str, n: int, a: int, b: int) -> None:
    solution = solved(TECHNIQUE, kind.replace("^n", f"^{n}").replace("L", f"{a}x + ({b})"))
    wrong: dict[str, Expression] = wrong_slips(TECHNIQUE, solution)
    assert len(wrong) >= 4
