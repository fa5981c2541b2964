"""The door to SymPy: trees go out and come back, proposals are bounded in time, and nothing foreign gets in."""

from __future__ import annotations

import json
import sys
from typing import Any

import pytest
import sympy
from flint import acb, arb
from hypothesis import given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st

from qbank.maths import oracle
from qbank.maths.complex_balls import ball_function
from qbank.maths.expression import (
    INFINITY,
    PI,
    Apply,
    Constant,
    Decimal,
    Differential,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Root,
    Symbol,
    cos,
    exp,
    ln,
    rational,
    sin,
    sqrt,
)
from qbank.maths.functions import FUNCTIONS
from qbank.maths.oracle import (
    answer,
    exact_definite,
    from_sympy,
    propose_antiderivative,
    to_sympy,
    tree_from_json,
    tree_to_json,
)

X = Symbol("x")
XS = sympy.Symbol("x", real=True)


def number(tree: Expression, point: float) -> complex:
    return complex(ball_function(tree, X)(acb(arb(point)), False))


#: a point where each function has a real value, 0.5 if not said
POINTS = {"arcosh": 1.5, "arcsec": 1.5, "arccosec": 1.5, "arcoth": 1.5}


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_every_function_keeps_its_meaning(name: str) -> None:
    tree, point = Apply(name, X), POINTS.get(name, 0.5)
    theirs = to_sympy(tree)
    back = from_sympy(theirs)
    assert back is not None
    value = complex(theirs.subs(XS, sympy.Rational(point)).evalf())
    assert abs(value - number(tree, point)) < 1e-12
    assert abs(value - number(back, point)) < 1e-12


def trees() -> st.SearchStrategy[Expression]:
    leaves = st.one_of(
        st.integers(0, 9).map(Integer),
        st.sampled_from([X, PI, E, Decimal("0.25")]),
        st.fractions(-3, 3, max_denominator=5).map(rational),
    )

    def grow(inner: st.SearchStrategy[Expression]) -> st.SearchStrategy[Expression]:
        pairs = st.tuples(inner, inner)
        return st.one_of(
            pairs.map(lambda p: p[0] + p[1]),
            pairs.map(lambda p: p[0] * p[1]),
            pairs.map(lambda p: p[0] / p[1]),
            inner.map(Negate),
            inner.map(sin),
            inner.map(lambda t: sqrt(t * t + 1)),
            inner.map(lambda t: Root(t * t + 1, 3)),
            inner.map(lambda t: t ** Integer(2)),
            inner.map(lambda t: exp(sin(t))),
            inner.map(lambda t: ln(t * t + 2)),
        )

    return st.recursive(leaves, grow, max_leaves=6)


@hypothesis_settings(max_examples=60)
@given(tree=trees())
def test_values_survive_the_round_trip(tree: Expression) -> None:
    here = ball_function(tree, X)(acb(arb(0.7)), False)
    theirs = to_sympy(tree)
    if not here.is_finite() or theirs.has(sympy.zoo, sympy.nan):
        return
    back = from_sympy(theirs)
    assert back is not None
    assert ball_function(back, X)(acb(arb(0.7)), False).overlaps(here)


@given(tree=trees())
def test_json_keeps_the_tree(tree: Expression) -> None:
    assert tree_from_json(json.loads(json.dumps(tree_to_json(tree)))) == tree


@pytest.mark.parametrize(
    ("found", "text"),
    [
        (-sympy.cos(2 * XS) / 2, Negate(cos(2 * X) / 2)),
        (sympy.sqrt(XS), sqrt(X)),
        (1 / sympy.sqrt(XS), 1 / sqrt(X)),
        (XS ** sympy.Rational(2, 3), Power(X, rational(2, 3))),
        (sympy.exp(XS), exp(X)),
        (-sympy.oo, Negate(INFINITY)),
        (sympy.acot(XS), Apply("arctan", 1 / X)),
        (sympy.Rational(-3, 4), rational(-3, 4)),
    ],
)
def test_answers_are_written_as_a_teacher_would(found: Any, text: Expression) -> None:
    assert from_sympy(found) == text


@pytest.mark.parametrize(
    "found",
    [
        sympy.erf(XS),
        sympy.Si(XS),
        sympy.I * XS,
        sympy.Piecewise((XS, XS > 0), (0, True)),
        sympy.Integral(sympy.sin(XS**XS), XS),
        sympy.atan2(XS, XS + 1),
        sympy.zoo,
        sympy.nan,
    ],
)
def test_what_the_language_cannot_say_is_nothing(found: Any) -> None:
    assert from_sympy(found) is None


def test_signs_of_calculus_are_refused() -> None:
    with pytest.raises(ValueError, match="Differential"):
        to_sympy(Differential(X))


@pytest.mark.parametrize(
    "data",
    [None, 3, "x", [], ["System", "x"], ["Sum", [["Nope"]]], [["Symbol", "x"]], ["Integral", ["Integer", 1]]],
)
def test_only_expressions_are_read_from_json(data: Any) -> None:
    with pytest.raises(ValueError, match="not an expression"):
        tree_from_json(data)


def ask(integrand: Expression, *limits: Expression) -> Expression | None:
    question = {"integrand": tree_to_json(integrand), "variable": "x"}
    if limits:
        question["limits"] = [tree_to_json(limit) for limit in limits]
    found = answer(question)
    return None if found is None else tree_from_json(found)


@pytest.mark.parametrize(
    "integrand",
    [X * cos(X), 1 / (1 + X**2), sin(X) ** 3, Power(X, Integer(4)), ln(X), X * exp(-X), 1 / sqrt(1 - X**2)],
)
def test_a_proposal_has_the_right_derivative(integrand: Expression) -> None:
    """Checked by SymPy's own differentiation and by numbers: deciding does its own proof elsewhere."""
    proposal = ask(integrand)
    assert proposal is not None
    slope = sympy.diff(to_sympy(proposal), XS)
    for point in (sympy.Rational(1, 3), sympy.Rational(2, 3)):
        assert abs(complex((slope - to_sympy(integrand)).subs(XS, point).evalf())) < 1e-12


def test_a_piecewise_answer_gives_its_general_branch() -> None:
    found = ask(Power(X, Symbol("n")))
    assert found is not None
    assert Symbol("n") in found.symbols()


@pytest.mark.parametrize(
    ("integrand", "lower", "upper", "value"),
    [
        (cos(X), Integer(0), PI / 2, Integer(1)),
        (exp(-X), Integer(0), INFINITY, Integer(1)),
        (1 / (1 + X**2), Integer(0), Integer(1), PI / 4),
        (1 / X, Integer(0), Integer(1), None),
        (sin(X) / X, Integer(1), Integer(2), None),
    ],
)
def test_exact_values(
    integrand: Expression, lower: Expression, upper: Expression, value: Expression | None
) -> None:
    assert ask(integrand, lower, upper) == value


def test_no_antiderivative_in_the_language_is_nothing() -> None:
    assert ask(exp(-(X**2))) is None


def test_the_child_process_answers() -> None:
    assert propose_antiderivative(cos(X), X, seconds=60) == sin(X)
    assert exact_definite(cos(X), X, Integer(0), PI / 2, seconds=60) == Integer(1)


def test_no_time_no_proposal() -> None:
    assert propose_antiderivative(cos(X), X, seconds=0.01) is None


def test_a_child_that_fails_has_no_proposal() -> None:
    assert propose_antiderivative(Differential(X), X, seconds=60) is None


def test_a_letter_is_never_evaluated() -> None:
    name = "__import__('os')"
    found = ask(Symbol(name) * cos(X))
    assert found is not None
    assert Symbol(name) in found.symbols()


def test_the_main_function_speaks_json(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    import io

    question = {"integrand": tree_to_json(cos(X)), "variable": "x"}
    monkeypatch.setattr(sys, "stdin", io.StringIO(json.dumps(question)))
    oracle.main()
    assert tree_from_json(json.loads(capsys.readouterr().out)) == sin(X)


def test_constants_have_their_meaning() -> None:
    assert [to_sympy(Constant(name)) for name in ("pi", "e", "infinity")] == [sympy.pi, sympy.E, sympy.oo]
