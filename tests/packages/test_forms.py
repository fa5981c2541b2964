"""Coefficients of a form: sound packages in every generation, and scoring that differentiation contradicts."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from qbank.maths.expression import Integral, Symbol, cos, sin, sqrt
from qbank.packages.forms import asked_by_form, prove_form
from qbank.packages.question import Form, QuestionError, Tried
from qbank.packages.verifying import UNREAD, Report, verify
from tests.packages.sample import FORMS, members, written, zipped

X, A, B = Symbol("x"), Symbol("A"), Symbol("B")


@pytest.mark.parametrize("form", ["qti3", "qti22", "qti21", "json"])
def test_sound(form: str, tmp_path: Path) -> None:
    report = verify(written(tmp_path, form, bank=FORMS, count=1))
    assert report.problems == []
    (row,) = report.rows.values()
    assert (row.items, row.proved, row.faulty) == (3, 3, 0)
    assert row.refuted > 10


def spoilt(folder: Path, template: str, change: Callable[[str], str]) -> Report:
    parts = members(written(folder, "qti3", bank=FORMS, count=1))
    name = next(name for name in parts if f"items/{template}/" in name)
    before = parts[name].decode()
    after = change(before)
    assert after != before
    parts[name] = after.encode()
    return verify(zipped(folder / "spoilt.zip", parts))


def replaced(old: str, new: str) -> Callable[[str], str]:
    return lambda text: re.sub(old, new, text, count=1)


FAULTS: list[tuple[str, Callable[[str], str], str]] = [
    # the integrand shown is another one, so that the key is wrong
    ("exact", replaced("<mi>sin</mi><mn>2", "<mi>cos</mi><mn>2"), "is wrong, but scores full marks"),
    (
        "exact",
        replaced("<qti-value>-1</qti-value>", "<qti-value>-2</qti-value>"),
        "keyed answer does not score",
    ),
    ("exact", replaced(r"(?s)<qti-correct-response>.*?</qti-correct-response>", ""), "no keyed value"),
    ("exact", replaced("<qti-gte>", "<qti-lte>"), "well formed"),
    ("exact", lambda text: text.replace("0.0000000001", "1000000"), "is wrong, but scores full marks"),
    ("exact", lambda text: text.replace("A_NUMERATOR", "A_TOP"), "neither for fractions nor for decimals"),
    ("exact", lambda text: text.replace("A_NUMERATOR", "Z_NUMERATOR"), "not one for each part"),
    ("exact", replaced("(<qti-item-body>)<p>.*?</p>", r"\1<p/>"), "shows no form"),
    ("exact", replaced("(<qti-item-body>).*</qti-item-body>", r"\1</qti-item-body>"), "0 interactions"),
    ("exact", replaced("<mi>x</mi>", "<mi>y</mi>"), "one variable"),
    # a denominator may be 0 once nothing forbids it
    (
        "exact",
        lambda text: re.sub(r'(</qti-product>\s*<qti-base-value base-type="float">)1<', r"\1-1<", text),
        "is empty or 0",
    ),
    ("dependent", replaced("<mi>cos</mi>", "<mi>tan</mi>"), "full marks"),
    ("decimals", replaced("<mi>sin</mi><mn>2", "<mi>cos</mi><mn>2"), "is not among the numbers that score"),
    ("decimals", replaced("<mi>sin</mi><mn>2", "<mi>tan</mi><mn>2"), "no coefficients could be proved"),
    ("decimals", lambda text: text.replace("-0.437<", "99<"), "far from the keyed ones"),
    ("decimals", lambda text: text.replace("-0.437<", "-1<"), "have no bounds"),
    ("decimals", replaced("<qti-value>-0.4.*?<", "<qti-value>x<"), "'x' is not a number"),
]


@pytest.mark.parametrize(("template", "change", "why"), FAULTS)
def test_a_fault_is_found(template: str, change: Callable[[str], str], why: str, tmp_path: Path) -> None:
    report = spoilt(tmp_path, template, change)
    assert not report.sound
    assert why in "\n".join(map(str, report.problems))


def test_what_is_not_read_is_said(tmp_path: Path) -> None:
    report = spoilt(tmp_path, "exact", replaced("<mi>sin</mi>", "<mi>sine</mi>"))
    assert report.rows[UNREAD].items == 1


def test_the_question() -> None:
    form = A * sin(X) + B * X
    assert asked_by_form([A, B, form, cos(X)]) == (form, Integral(cos(X), X))
    for shown in (
        [form, cos(X)],
        [A, form, cos(X)],
        [A, B, form, Symbol("t")],
        [A, Symbol("Q"), B, form, cos(X)],
    ):
        with pytest.raises(QuestionError):
            asked_by_form(list(shown))


def test_scoring_against_differentiation() -> None:
    """A sin x is an antiderivative of cos x for A = 1 alone."""
    one, two = (Fraction(1),), (Fraction(2),)

    def problems(*tried: tuple[tuple[Fraction, ...], bool]) -> tuple[str, ...]:
        answers = tuple(Tried(values=values, full=full) for values, full in tried)
        return prove_form(Form(letters=(A,), form=A * sin(X), tried=answers), Integral(cos(X), X)).problems

    assert problems((one, True), (two, False)) == ()
    assert problems((one, True), (two, True)) == ("A = 2 is wrong, but scores full marks",)
    assert "A = 1 is right, but does not score full marks" in problems((one, False))
    nothing = Form(letters=(A,), form=A * sqrt(-1 - X**2), tried=(Tried(values=one, full=True),))
    assert "neither proved nor refuted" in prove_form(nothing, Integral(cos(X), X)).problems[0]
    assert problems((two, False)) == ("the keyed answer does not score full marks",)


def test_decimals_whose_scoring_is_not_between_the_bounds() -> None:
    half = (Fraction(1, 2), Fraction(3, 2))
    tried = (Tried(values=(Fraction(1),), full=True), Tried(values=(Fraction(5),), full=True))
    found = prove_form(
        Form(letters=(A,), form=A * sin(X), tried=tried, accepted=(half,)), Integral(cos(X), X)
    )
    assert found.problems == ("the numbers that score are not those between the bounds",)


def test_coefficients_that_are_not_determined() -> None:
    """Of functions that depend on each other there are no one coefficients to compare decimals with."""
    tried = (Tried(values=(Fraction(1), Fraction(0)), full=True),)
    wide = (Fraction(-9), Fraction(9))
    form = Form(letters=(A, B), form=A * sin(X) + B * sin(X), tried=tried, accepted=(wide, wide))
    assert prove_form(form, Integral(cos(X), X)).problems == ("no coefficients could be proved to be right",)
    nowhere = Form(letters=(A,), form=A * sin(X), tried=tried[:1], accepted=(wide,))
    undefined = Integral(sqrt(-1 - X**2), X)
    assert prove_form(nowhere, undefined).problems == ("no coefficients could be proved to be right",)
