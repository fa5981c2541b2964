"""Statements with a gap: the pieces are those of the whole line, in every notation, and only where a box can stand."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from qbank.maths.conventions import Conventions
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import (
    Differential,
    Expression,
    Integral,
    Negate,
    Symbol,
    cos,
    ln,
    rational,
    sin,
    sum_of,
)
from qbank.maths.notation import latex, plain, speech
from qbank.maths.notation.gapped import GAP, has_gap, pieces
from qbank.maths.notation.mathml import MATHML
from qbank.packages.gapped import merged

X, U, C = Symbol("x"), Symbol("u"), Symbol("C")

#: the statement, what is typed before the gap and after it, and whether it is raised
SHOWN: list[tuple[Statement, str, str, bool]] = [
    (GAP * Integral(U**3, U), "", "∫ u^3 du", False),
    (rational(1, 2) * Integral(GAP, U), "1/2 ∫", "du", False),
    (rational(1, 4) * sin(X) ** GAP + C, "1/4 sin", "x + C", True),
    (Integral(U**GAP, U), "∫ u", "du", True),
    (Equation(Differential(U), GAP * Differential(X)), "du =", "dx", False),
    (Equation(Symbol("A"), GAP), "A =", "", False),
    (Negate(GAP * cos(X)), "-", "cos x", False),
    (rational(1, 2) * Integral((1 - GAP * cos(2 * X)), X), "1/2 ∫ (1 -", "cos 2x) dx", False),
]


@pytest.mark.parametrize(("statement", "before", "after", "raised"), SHOWN)
def test_pieces(statement: Statement, before: str, after: str, raised: bool) -> None:
    found = pieces(statement)
    assert found is not None
    assert has_gap(statement)
    assert (found.before.plain, found.after.plain if found.after else "", found.raised) == (
        before,
        after,
        raised,
    )


@pytest.mark.parametrize(
    "statement",
    [
        X / GAP,
        GAP / 2 * X,
        sin(X) ** 2 / GAP,
        ln(1 + GAP * X) / 3,
        2 * (rational(1, 2) * X + GAP),
        GAP**2,
        X,
        GAP + GAP * X,
    ],
    ids=str,
)
def test_no_box_can_stand_there(statement: Statement) -> None:
    """Below or above a bar, inside brackets that grow, as a base; and there is one gap, no less and no more."""
    assert pieces(statement) is None


TERMS = st.sampled_from([X**2, sin(3 * X), ln(X) * X, rational(2, 3) * cos(X), Integral(X**2 + 1, X)])


@settings(deadline=None, max_examples=60)
@given(st.lists(TERMS, max_size=3), st.lists(TERMS, max_size=3), st.sampled_from([GAP, GAP * X, X**GAP]))
def test_pieces_are_those_of_the_whole_line(
    first: list[Expression], last: list[Expression], gap: Expression
) -> None:
    statement = sum_of(*first, gap, *last)
    for conventions in (Conventions(), Conventions(decimal=",", language="de")):
        found = pieces(statement, conventions)
        assert found is not None
        before, after = found.before, found.after
        raised = "^" if found.raised else " "
        for text, left, right, between in (
            (plain(statement, conventions), before.plain, after and after.plain, raised),
            (speech(statement, conventions), before.speech, after and after.speech, " "),
        ):
            assert _letters(text) == _letters(f"{left}{between}gap {right or ''}")
        tex = latex(statement, conventions).replace(r"\mathit{gap}", "gap")
        raising = "^{gap}" if found.raised else " gap "
        assert _letters(tex) == _letters(f"{before.latex}{raising}{after.latex if after else ''}")
        one, two = (
            None if piece is None else etree.fromstring(f'<math xmlns="{MATHML}">{piece.mathml}</math>')
            for piece in (before, after)
        )
        assert one is not None
        assert merged(one, two, raised=found.raised) == statement


def _letters(text: str) -> str:
    return "".join(text.replace(",", "").split())
