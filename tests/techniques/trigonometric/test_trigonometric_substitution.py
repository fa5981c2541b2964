"""Trigonometric substitution: published antiderivatives, SymPy's derivative, the board, and every slip refuted."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from qbank.maths.deciding import decide_antiderivative, decide_same_up_to_constant
from qbank.maths.domain import Domain
from qbank.maths.expression import Integral, Symbol
from qbank.maths.notation import plain
from qbank.maths.verdict import Proved
from qbank.techniques import solve, technique
from qbank.techniques.definites.choosing import value_of
from tests.techniques.solving import (
    X,
    agrees_with_sympy,
    board,
    check_carried,
    check_every_slip_occurs,
    solved,
    tree,
    wrong_slips,
)

TECHNIQUE = technique("trigonometric-substitution")

#: source and number, integrand, published antiderivative; letters stand for the numbers given
PUBLISHED = [
    ("Thompson 1914, Ex. XIX.1", "sqrt(a^2 - x^2)", "x sqrt(a^2 - x^2)/2 + a^2/2 arcsin(x/a)", {"a": "3"}),
    ("Thompson 1914, Ex. XIX.1", "sqrt(a - x^2)", "x sqrt(a - x^2)/2 + a/2 arcsin(x/sqrt(a))", {"a": "5"}),
    ("Thompson 1914, standard forms, misc. 4", "a^2/(a^2 + x^2)^(3/2)", "x/sqrt(a^2 + x^2)", {"a": "2/3"}),
    ("Thompson 1914, Ex. XIX.14", "1/(x sqrt(a - b x^2))",
     "ln|(sqrt(a) - sqrt(a - b x^2))/(x sqrt(a))|/sqrt(a)", {"a": "7", "b": "3"}),
    ("Peirce 1899, no. 41", "1/(a + b x^2)^2",
     "x/(2a(a + b x^2)) + arctan(x sqrt(b/a))/(2a sqrt(a b))", {"a": "5", "b": "4"}),
    ("OpenStax 3.3, fs-id1165041757010", "1/sqrt(x^2 - 4)", "ln|x/2 + sqrt(x^2 - 4)/2|", {}),
    ("OpenStax 3.3, fs-id1165042311909", "1/sqrt(1 + 9x^2)", "1/3 ln|sqrt(9x^2 + 1) + 3x|", {}),
    ("OpenStax 3.3, fs-id1165040646186", "1/(x^2 sqrt(1 - x^2))", "-sqrt(1 - x^2)/x", {}),
    ("OpenStax 3.3, fs-id1165041826993", "sqrt(x^2 + 9)",
     "9(x sqrt(x^2 + 9)/18 + 1/2 ln|sqrt(x^2 + 9)/3 + x/3|)", {}),
    ("OpenStax 3.3, fs-id1165040775694", "x^3/sqrt(9 - x^2)", "-1/3 sqrt(9 - x^2) (18 + x^2)", {}),
    ("OpenStax 3.3, fs-id1165041962860", "1/(x^2 - 9)^(3/2)", "-x/(9 sqrt(x^2 - 9))", {}),
    ("OpenStax 3.3, fs-id1165041932696", "x^2/sqrt(x^2 - 1)", "1/2 (ln|x + sqrt(x^2 - 1)| + x sqrt(x^2 - 1))", {}),
    ("OpenStax 3.3, fs-id1165042247082", "1/(x^2 sqrt(x^2 + 1))", "-sqrt(1 + x^2)/x", {}),
    ("OpenStax 3.3, fs-id1165040669735", "(1 - x^2)^(3/2)", "1/8 (x (5 - 2x^2) sqrt(1 - x^2) + 3 arcsin x)", {}),
    ("OpenStax 3.3, fs-id1165040762399", "sqrt(x^2 - 1)/x^2", "-sqrt(x^2 - 1)/x + ln|x + sqrt(x^2 - 1)|", {}),
    ("OpenStax 3.3, fs-id1165042033113", "sqrt(1 + x^2)/x^2", "-sqrt(1 + x^2)/x + arsinh x", {}),
    ("OpenStax 3.3, fs-id1165040730904", "1/sqrt(10x - x^2)", "arcsin((x - 5)/5)", {}),
    ("MIT Integration Bee 2018, qualifier 17", "1/(1 + x^2)^(3/2)", "x/sqrt(1 + x^2)", {}),
]  # fmt: skip

#: as they are written at the end; worked by hand, common practice
TABLE = [
    ("sqrt(4 - x^2)", "2 arcsin(x/2) + 1/2 x sqrt(4 - x^2)"),
    ("x^2 sqrt(9 - x^2)", "81/8 arcsin(x/3) + 1/8 x (2x^2 - 9) sqrt(9 - x^2)"),
    ("x^2/(9 - 4x^2)^(3/2)", "x/(4 sqrt(9 - 4x^2)) - 1/8 arcsin(2x/3)"),
    ("sqrt(5 - x^2)/x", "-sqrt(5) ln|(sqrt(5) + sqrt(5 - x^2))/x| + sqrt(5 - x^2)"),
    ("sqrt(x^2 - 9)/x", "sqrt(x^2 - 9) - 3 arccos(3/(abs(x)))"),
    ("(x^2 - 4)^(3/2)", "1/4 x (x^2 - 10) sqrt(x^2 - 4) + 6 ln|x + sqrt(x^2 - 4)|"),
    ("x^2 sqrt(x^2 + 4)", "1/4 x (x^2 + 4)^(3/2) - 1/2 x sqrt(x^2 + 4) - 2 ln(x + sqrt(x^2 + 4))"),
    ("1/(x^2 + 4)^2", "1/16 arctan(x/2) + x/(8(x^2 + 4))"),
    ("1/(x^2 + 1)^3", "3/8 arctan x + 3x/(8(x^2 + 1)) + x/(4(x^2 + 1)^2)"),
    ("(x + 3)/(x^2 + 2x + 5)^2", "(x - 1)/(4(x^2 + 2x + 5)) + 1/8 arctan((x + 1)/2)"),
    ("sqrt(x^2 + x + 1)", "1/4 (2x + 1) sqrt(x^2 + x + 1) + 3/8 ln(2x + 1 + 2 sqrt(x^2 + x + 1))"),
    ("sqrt(x^2 + 6x)", "1/2 (x + 3) sqrt(x^2 + 6x) - 9/2 ln|x + 3 + sqrt(x^2 + 6x)|"),
    ("a sqrt(2x - x^2)", "1/2 a arcsin(x - 1) + 1/2 a (x - 1) sqrt(2x - x^2)"),
    ("(x^2 + 1) sqrt(4 - x^2)", "4 arcsin(x/2) + 1/4 x^3 sqrt(4 - x^2)"),
    ("5 x^2/(3x^2 + 5)^(5/2)", "x^3/(3(3x^2 + 5)^(3/2))"),
    ("(4 - x^2)^(3/2)/x^2", "-4 sqrt(4 - x^2)/x - 6 arcsin(x/2) - 1/2 x sqrt(4 - x^2)"),
    ("sqrt((4 - x^2)^3)", "6 arcsin(x/2) + 1/4 x (10 - x^2) sqrt(4 - x^2)"),
    ("(2x + 1)^2/sqrt(4x^2 + 4x + 10)", None),
    ("1/((x - 1)^2 sqrt(2x - x^2))", None),
    ("1/(x^3 sqrt(x^2 - 9/4))", None),
    ("x^4 sqrt(4 - x^2)", None),
]

DECLINED = [
    "x^2 (4 - x^2)^2",  # no root
    "1/(x^2 - 4)^2",  # partial fractions; the secant would say nothing between -2 and 2
    "1/(x sqrt(2x - x^2))",  # the bracket squared is not x
    "(x + 3) sqrt(4 - x^2)",  # shorter term by term
    "sqrt(x^2 + 2x + 1)",
    "sqrt(4 - x^4)",
    "sqrt(4 - x^2) sin(x)",
    "x sqrt(2 + x)",
    "sqrt(-4 - x^2)",
]


@pytest.mark.parametrize(("source", "integrand", "answer", "letters"), PUBLISHED)
def test_published_antiderivatives(source: str, integrand: str, answer: str, letters: dict[str, str]) -> None:
    values = {Symbol(name): tree(value) for name, value in letters.items()}
    solution = TECHNIQUE.work(tree(integrand).substitute(values), X)
    assert solution is not None, source
    verdict = decide_antiderivative(solution.antiderivative, solution.integrand, X)
    assert isinstance(verdict, Proved)
    assert verdict.undefined_at == ()
    same = decide_same_up_to_constant(tree(answer).substitute(values), solution.antiderivative, X)
    assert isinstance(same, Proved), (source, plain(solution.antiderivative), same)


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_as_they_are_written(text: str, expected: str | None) -> None:
    solution = solved(TECHNIQUE, text)
    assert agrees_with_sympy(solution)
    assert expected in (None, plain(solution.antiderivative))
    assert len(wrong_slips(TECHNIQUE, solution)) >= 3


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


def test_the_board() -> None:
    assert board(solved(TECHNIQUE, "sqrt(4 - x^2)"))[1:] == [
        "t = arcsin(x/2); x = 2 sin t; dx = 2 cos t dt; sqrt(4 - x^2) = 2 cos t",
        "∫ (2 cos t) (2 cos t) dt",
        "4 ∫ cos^2 t dt",
        "4 ∫ (1 + cos 2t)/2 dt",
        "2 ∫ (1 + cos 2t) dt",
        "2(t + 1/2 sin 2t) + C",
        "2t + sin 2t + C",
        "sin 2t = 2 sin t cos t",
        "2t + 2 sin t cos t + C",
        "sin t = x/2; cos t = sqrt(4 - x^2)/2",
        "2 arcsin(x/2) + 2 * (x/2) * (sqrt(4 - x^2)/2) + C",
        "2 arcsin(x/2) + 1/2 x sqrt(4 - x^2) + C",
    ]


def test_no_line_is_written_twice() -> None:
    # sec^3 t stands alone after the split, so that "take the constant out" has nothing left to do
    for text in ("x sqrt(x^2 + 2x + 5)", "(x^2 + 1) sqrt(4 - x^2)"):
        steps = [line.statements for line in solved(TECHNIQUE, text).lines if line.kind == "step"]
        assert all(one != other for one, other in pairwise(steps))


def test_the_secant_is_written_for_one_side_and_the_answer_proved_for_both() -> None:
    solution = solved(TECHNIQUE, "1/(x sqrt(4x^2 - 9))")
    let, last = solution.lines[1], solution.lines[-1]
    assert board(solution)[2].startswith("t = arccos(3/(2x)); x = 3/2 sec t; ")
    assert "x > 3/2" in let.reason
    assert (let.domain, last.domain) == (Domain(lower=Fraction(3, 2)), None)
    assert plain(solution.antiderivative) == "1/3 arccos(3/(abs(2x)))"


def test_limits_go_with_the_secant_only_where_it_is_written() -> None:
    for lower, upper, way in (("4", "5", "limits-changed"), ("-5", "-4", "antiderivative")):
        found = value_of(Integral(tree("1/(x^2 sqrt(x^2 - 9))"), X, tree(lower), tree(upper)))
        assert found is not None
        assert (found.way, plain(found.value)) == (way, "4/45 - sqrt(7)/36")


def test_with_limits_the_triangle_is_not_needed() -> None:
    found = value_of(Integral(tree("sqrt(4 - x^2)"), X, tree("0"), tree("2")))
    assert found is not None
    assert (found.way, plain(found.value)) == ("limits-changed", "pi")
    assert "triangle" not in {line.rule for line in found.lines}


def test_shorter_ways_are_taken_first() -> None:
    for text, by in (
        ("x sqrt(4 - x^2)", "substitution"),
        ("1/sqrt(4 - x^2)", "standard-forms"),
        ("x^3/sqrt(x^2 + 4)", "algebraic-substitution"),
        ("(x + 3)/sqrt(5 + 4x - x^2)", "root-of-quadratic"),
        ("(x + 3) sqrt(4 - x^2)", "term-by-term"),
        ("x^2 sqrt(4 - x^2)", "trigonometric-substitution"),
    ):
        solution = solve(tree(text), X)
        assert solution is not None
        assert solution.technique == by, text


def test_the_lines_are_carried_into_others() -> None:
    for text, by in (
        ("x arcsin(x)", "by-parts"),
        ("e^x sqrt(4 - e^(2x))", "substitution-first"),
        ("x sqrt(4 - x^2) + sqrt(4 - x^2)", "term-by-term"),
    ):
        check_carried(text, by)


def test_a_substitution_before_it_wants_it_everywhere() -> None:
    # x = 3 sec t holds for x > 3 only, and e^x > 3 is no interval that the lines could be proved on
    solution = solve(tree("e^x sqrt(e^(2x) - 9)"), X)
    assert solution is None or all(line.domain is None for line in solution.lines)


def test_letters_of_the_question_are_left_out() -> None:
    lines = board(solved(TECHNIQUE, "t u sqrt(x^2 - 4)"))
    assert lines[1].startswith("w = arccos(2/x)")
    assert any(line.startswith("u_1 = sec w") for line in lines)


def test_every_slip_occurs_somewhere() -> None:
    check_every_slip_occurs(TECHNIQUE, (text for text, _ in TABLE))


@settings(max_examples=12)
@given(
    n=st.integers(-2, 3),
    power=st.sampled_from((-3, -1, 1, 3)),
    slope=st.integers(1, 3),
    number=st.integers(2, 12),
    shift=st.integers(-1, 1),
    kind=st.sampled_from(("{k} - {u}^2", "{u}^2 + {k}", "{u}^2 - {k}")),
)
def test_a_power_times_a_power_of_the_root(
    n: int, power: int, slope: int, number: int, shift: int, kind: str
) -> None:
    u = f"({slope}*x + ({shift}))"
    integrand = tree(f"{u}^({n}) ({kind.format(k=number, u=u)})^({power}/2)")
    solution = TECHNIQUE.work(integrand, X)
    assume(solution is not None)
    assert solution is not None
    verdict = decide_antiderivative(solution.antiderivative, integrand, X)
    assert isinstance(verdict, Proved)
    assert verdict.undefined_at == ()
    wrong_slips(TECHNIQUE, solution)
