"""The planner: the first technique that fits, sums term by term, and no surprise for any input."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.constant_factor import number
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Differential, Expression, Integer, Integral, Root, Sum, Symbol, cos, sin
from qbank.maths.notation import plain
from qbank.maths.verdict import Proved, Refuted
from qbank.techniques import TECHNIQUES, planner, solve, solve_all, solve_with, technique
from qbank.techniques.carrying import carry, multiplied
from qbank.techniques.technique import Technique
from qbank.techniques.working import Line, UnprovedLineError, WorkedSolution, Working
from tests.maths.strategies import expressions
from tests.techniques.solving import X, agrees_with_sympy, board, check_solved, solved, tree, wrong_slips

SUMS, THEN = technique("term-by-term"), technique("substitution-first")

CHOICES = [
    ("3x^2 + sin(2x)", "standard-forms"),
    ("sin(x)/cos(x)", "standard-forms"),
    ("x(x^2 + 1)^2", "standard-forms"),
    ("x(x^2 + 1)^5", "substitution"),
    ("sin(x) cos(x)", "substitution"),
    ("sin(x)^3", "odd-powers"),
    ("sin(x)^2", "even-powers"),
    ("tan(x)^4", "tangent-secant"),
    ("(x + 3)/(x^2 + 2x + 5)", "quadratic-denominator"),
    ("1/sqrt(x^2 + 4x + 13)", "root-of-quadratic"),
    ("sin(2x) cos(3x)", "product-to-sum"),
    ("sec(x)^3", "odd-secants"),
    ("x e^(2x)", "by-parts"),
    ("x sqrt(x + 1)", "algebraic-substitution"),
    ("1/(x^3 - x)", "partial-fractions"),
    ("x sin(x^2)^2", "substitution-first"),
    ("x e^(x^2) + sin(x)^2", "term-by-term"),
    ("(sin(x) + cos(x))^2", "term-by-term"),
]


@pytest.mark.parametrize(("text", "expected"), CHOICES)
def test_the_technique_a_teacher_would_take(text: str, expected: str) -> None:
    solution = solve(tree(text), X)
    assert solution is not None
    assert solution.technique == expected


NONE_FITS = ["ln(sin(x))", "x tan(x)", "e^(x^2)", "x^x", "x e^(x^2 + x) + x", "sin(x)/x", "1/(x^5 + x + 1)"]


@pytest.mark.parametrize("text", NONE_FITS)
def test_no_technique_fits(text: str) -> None:
    assert solve(tree(text), X) is None
    assert solve_all(tree(text), X) == ()


def test_all_that_fit_come_in_teaching_order() -> None:
    found = [solution.technique for solution in solve_all(tree("sin(x) cos(x)"), X)]
    assert found == ["substitution", "odd-powers"]


def test_one_technique_by_name() -> None:
    solution = solve_with("odd-powers", tree("sin(x) cos(x)"), X)
    assert solution is not None
    assert solution.technique == "odd-powers"
    assert solve_with("even-powers", tree("sin(x)"), X) is None
    with pytest.raises(KeyError):
        technique("guessing")


def test_the_catalogue() -> None:
    """Identifiers are unique, all of one shape, and every family has at least four slips."""
    names = [known.identifier for known in TECHNIQUES]
    slips = [slip for known in TECHNIQUES for slip in known.slips]
    assert len(set(names)) == len(names)
    assert len({slip.identifier for slip in slips}) == len(slips)
    for name in (*names, *(slip.identifier for slip in slips)):
        assert name == name.lower().replace(" ", "-").replace("_", "-")
    assert all(len(known.slips) >= 4 for known in TECHNIQUES)
    for slip in slips:
        assert slip.sentence[0].isupper()
        assert slip.sentence.endswith(".")


def test_integrals_and_long_trees_are_declined() -> None:
    assert solve(Integral(X, X), X) is None
    assert solve(X * Differential(X), X) is None
    assert solve(Sum((X,) * 400), X) is None
    assert solve(X ** (Integer(1) / Integer(10**7)), X) is None
    assert solve_with("standard-forms", Integral(X, X), X) is None


def test_an_integrand_that_is_real_nowhere_has_no_solution() -> None:
    assert solve(Root(-1 - X**2) * X, X) is None


def test_a_wrong_line_is_not_hidden(monkeypatch: pytest.MonkeyPatch) -> None:
    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        working = Working("broken", integrand, variable)
        working.step(variable, "rule", "A wrong line.")
        return working.finish()

    broken = Technique(identifier="broken", title="Broken", work=work, slips=())
    monkeypatch.setattr(planner, "TECHNIQUES", (broken,))
    with pytest.raises(UnprovedLineError):
        solve(X**2, X)


@given(expressions(size=7))
@settings(max_examples=60)
def test_no_input_raises_and_every_answer_is_proved(integrand: Expression) -> None:
    solution = solve(integrand, X)
    if solution is not None:
        verdict = decide_antiderivative(solution.antiderivative, integrand, X)
        assert not isinstance(verdict, Refuted)
        for slip in technique(solution.technique).wrong_answers(solution):
            assert isinstance(slip.answer, Expression)


def test_the_lines_of_a_sum_are_those_of_its_terms() -> None:
    assert board(solved(SUMS, "x e^(x^2) + sin(x)^2 + 3x")) == [
        "∫ (x e^(x^2) + sin^2 x + 3x) dx",
        "∫ x e^(x^2) dx + ∫ sin^2 x dx + 3 ∫ x dx",
        "∫ x e^(x^2) dx + ∫ sin^2 x dx + 3/2 x^2",
        "u = x^2; du = 2x dx",
        "1/2 ∫ e^u du + ∫ sin^2 x dx + 3/2 x^2",
        "1/2 e^u + ∫ sin^2 x dx + 3/2 x^2",
        "1/2 e^(x^2) + ∫ sin^2 x dx + 3/2 x^2",
        "1/2 e^(x^2) + ∫ (1 - cos 2x)/2 dx + 3/2 x^2",
        "1/2 e^(x^2) + 1/2 ∫ (1 - cos 2x) dx + 3/2 x^2",
        "1/2 e^(x^2) + 1/2 (x - 1/2 sin 2x) + 3/2 x^2 + C",
        "1/2 e^(x^2) + 1/2 x - 1/4 sin 2x + 3/2 x^2 + C",
    ]


SUMS_TABLE = [
    ("x e^(x^2) - sin(x)^2", "1/2 e^(x^2) - 1/2 x + 1/4 sin 2x"),
    ("a x e^(x^2) + b sin(x)^2", "1/2 a e^(x^2) + 1/2 b x - 1/4 b sin 2x"),
    ("(sin(x) + cos(x))^2", "x + sin^2 x"),
    ("x/(x^2 + 1) + 1/(x^2 - 1)", "1/2 ln(x^2 + 1) + 1/2 ln|(x - 1)/(x + 1)|"),
    ("2(sin(x)^2 + ln(x)/x)", "x - 1/2 sin 2x + (ln x)^2"),
    ("pi tan(x)^3 + x", "1/2 pi tan^2 x + pi ln|cos x| + 1/2 x^2"),
    ("cos(x)^2 (1 + x/cos(x)^2 + sin(x))", "1/2 x + 1/4 sin 2x + 1/2 x^2 - 1/3 cos^3 x"),
    ("x sin(x^2)^2 + x", "3/4 x^2 - 1/8 sin(2x^2)"),
    ("sin(x)^2 + cos(x)^2 - 1 + x e^(x^2)", None),
]


@pytest.mark.parametrize(("text", "expected"), SUMS_TABLE)
def test_sums_term_by_term(text: str, expected: str | None) -> None:
    check_solved(SUMS, text, expected, slips=1)


def test_a_letter_of_the_question_stops_a_sum_that_would_use_it() -> None:
    assert SUMS.work(tree("u sin(x) + x e^(x^2)"), X) is None
    assert board(solved(THEN, "u x sin(x^2)^2"))[1] == "v = x^2; dv = 2x dx"


THEN_TABLE = [
    ("x sin(x^2)^2", "1/4 x^2 - 1/8 sin(2x^2)"),
    ("x/(1 - x^4)", None),
    ("e^x/(e^(2x) - 1)", "1/2 ln|(e^x - 1)/(e^x + 1)|"),
    ("e^x sin(e^x)^3", None),
    ("cos(x)/(sin(x)^2 + 2 sin(x) + 5)", "1/2 arctan((sin x + 1)/2)"),
    ("1/(x sqrt(ln(x)^2 + 1))", None),
    ("tan(x^2)^3 x", None),
]


@pytest.mark.parametrize(("text", "expected"), THEN_TABLE)
def test_a_substitution_before_another_technique(text: str, expected: str | None) -> None:
    solution = solved(THEN, text)
    assert agrees_with_sympy(solution)
    if expected is not None:
        assert plain(solution.antiderivative) == expected
    assert wrong_slips(THEN, solution)


def test_constants_before_lines() -> None:
    line = sin(X) + 2 * Integral(cos(X), X) - Integral(X, X)
    assert plain(multiplied(number(3), Symbol("a") * Integral(X, X))) == "3a ∫ x dx"
    assert plain(multiplied(number(3), line)) == "3 sin x + 6 ∫ cos x dx - 3 ∫ x dx"


def test_a_line_of_an_unknown_shape_is_an_error() -> None:
    solution = solved(technique("standard-forms"), "x")
    line = Line(kind="step", statements=(), rule="none", reason="None.", proof=solution.proof)
    with pytest.raises(AssertionError, match="unknown shape"):
        carry(Working("test", X, X), (line,), lambda step: step)


@given(st.lists(st.sampled_from([row[0] for row in CHOICES[:16]]), min_size=2, max_size=3, unique=True))
@settings(max_examples=8)
def test_sums_of_the_families_are_always_solved(terms: list[str]) -> None:
    solution = solve(tree(" + ".join(terms)), X)
    assert solution is not None
    assert isinstance(decide_antiderivative(solution.antiderivative, solution.integrand, X), Proved)
