"""Coefficients of a given form: every right combination, no wrong one, and points that tell them apart."""

from __future__ import annotations

from fractions import Fraction
from itertools import islice, pairwise

import pytest
import sympy
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.bank.drawing import draws
from qbank.bank.loading import parse_bank
from qbank.bank.problem import BankError
from qbank.cli.arguments import open_bank
from qbank.cli.board import item_text
from qbank.items.building import build_item
from qbank.items.coefficients import split_terms
from qbank.items.item import Coefficients, DecimalEntry, FractionEntry
from qbank.items.prose_text import prose_text
from qbank.items.refusal import DrawRefused
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Symbol, cos, product, rational, sin, sum_of
from qbank.maths.reading import read
from qbank.maths.verdict import Proved
from tests.items.forms import HEAD, TEMPLATES, form_of, item_of, trial

X = Symbol("x")
FRACTIONS = [name for name in TEMPLATES if "decimals" not in name]

#: the same integrands and functions for SymPy, which is the oracle here
ORACLE = {
    "fourth-power": ("cos(2*x)**4", "x", "sin(4*x)", "sin(8*x)"),
    "fifth-power": ("5*cos(2*x + 1)**5", "sin(2*x + 1)", "sin(2*x + 1)**3", "sin(2*x + 1)**5"),
    "one-number": ("(7*x + 5)**3", "(7*x + 5)**4"),
    "two-squares": ("sin(x)*cos(x)", "cos(2*x)", "cos(x)**2", "sin(x)**2"),
    "tangent-or-secant": ("tan(x)/cos(x)**2 + 3", "1/cos(x)**2", "x", "tan(x)**2"),
    "not-needed": ("x*exp(x)", "x**2*exp(x)", "exp(x)", "x*exp(x)"),
    "with-domain": ("1/x + 3/(2*x**2)", "log(x)", "1/x"),
}


def remainder(name: str, values: tuple[Fraction, ...], at: Fraction) -> sympy.Expr:
    """The derivative of the form less the integrand, by SymPy, to 40 digits."""
    x = sympy.Symbol("x")
    integrand, *functions = (sympy.sympify(text) for text in ORACLE[name])
    form = sum(sympy.Rational(v.numerator, v.denominator) * g for v, g in zip(values, functions, strict=True))
    return (sympy.diff(form, x) - integrand).subs(x, sympy.Rational(at.numerator, at.denominator)).evalf(40)


def test_every_form_has_an_oracle() -> None:
    assert set(ORACLE) == set(FRACTIONS)


@pytest.mark.parametrize("name", FRACTIONS)
def test_the_values_are_right_and_slips_wrong_by_sympy(name: str) -> None:
    form = form_of(name)
    places = (Fraction(3, 7), Fraction(5, 9), Fraction(8, 7))
    assert all(abs(remainder(name, form.values, at)) < 1e-30 for at in places)
    for slip in form.slips:
        assert any(abs(remainder(name, slip.values, at)) > 1e-6 for at in places)
        assert not form.is_right(slip.values)


@pytest.mark.parametrize("name", FRACTIONS)
def test_points_hold_the_derivatives_by_sympy(name: str) -> None:
    form = form_of(name)
    nothing = (Fraction(0),) * len(form.values)
    for point in form.points:
        assert abs(remainder(name, nothing, point.at) + sympy.Float(point.value, 40)) < 1e-13 * 1000
        for place, slope in enumerate(point.slopes):
            unit = tuple(Fraction(int(place == other)) for other in range(len(form.values)))
            derivative = remainder(name, unit, point.at) - remainder(name, nothing, point.at)
            assert abs(derivative - sympy.Float(slope, 40)) <= abs(derivative) * 1e-16


@pytest.mark.parametrize("name", ["two-squares", "tangent-or-secant"])
@settings(deadline=None, max_examples=40)
@given(data=st.data())
def test_every_right_combination_and_no_other(name: str, data: st.DataObject) -> None:
    """Against the verdict by differentiation, which knows nothing of relations."""
    form = form_of(name)
    assert form.relations
    small = st.fractions(-3, 3, max_denominator=4)
    values = list(form.values)
    for relation in form.relations:
        many = data.draw(small)
        values = [v + many * one for v, one in zip(values, relation.coefficients, strict=True)]
    assert form.is_right(tuple(values))
    off = data.draw(
        st.tuples(*(st.sampled_from([Fraction(0), Fraction(1, 1000), Fraction(-1)]) for _ in values))
    )
    moved = tuple(v + d for v, d in zip(values, off, strict=True))
    answer = sum_of(*(product(rational(c), g) for c, g in zip(moved, form.functions, strict=True)))
    verdict = decide_antiderivative(answer, item_of(name).integrand, X)
    assert form.is_right(moved) == isinstance(verdict, Proved)


@pytest.mark.parametrize("name", FRACTIONS)
@settings(deadline=None, max_examples=60)
@given(data=st.data())
def test_no_wrong_fractions_within_the_bound_pass(name: str, data: st.DataObject) -> None:
    """In exact arithmetic with the literals: right within the tolerance everywhere, wrong beyond it somewhere."""
    form = form_of(name)
    assert isinstance(form.entry, FractionEntry)
    bound = form.entry.bound
    # as near to the right numbers as fractions within the bound come, and anything
    near = tuple(
        data.draw(
            st.sampled_from(
                [v, Fraction(round(v * bound) + 1, bound), Fraction(round(v * (bound - 1)), bound - 1)]
            )
        )
        for v in form.values
    )
    anything = data.draw(
        st.tuples(*(st.fractions(-bound, bound, max_denominator=bound) for _ in form.values))
    )
    for values in (form.values, near, anything):
        rest = [
            abs(sum(c * Fraction(s) for c, s in zip(values, p.slopes, strict=True)) - Fraction(p.value))
            for p in form.points
        ]
        if form.is_right(values):
            assert max(rest) < form.tolerance / 8
        else:
            assert max(rest) > 2 * form.tolerance


@pytest.mark.parametrize("name", TEMPLATES)
def test_the_form_says_what_it_is(name: str) -> None:
    item, form = item_of(name), form_of(name)
    assert item.form == "coefficients"
    assert len({letter.name for letter in form.letters} | {"x", "C"}) == len(form.letters) + 2
    assert 1 <= form.condition < 10_000
    assert len(form.points) == len(form.functions) - len(form.relations)
    assert all(a <= b for a, b in pairwise(form.part_marks))
    shown = "\n".join(item_text(item))
    assert "condition number" in shown
    assert all(slip.slip in shown for slip in form.slips)
    assert prose_text(item.prompt, item.conventions).startswith("Find the number")


def test_part_marks_are_for_numbers_determined_alone() -> None:
    assert form_of("fourth-power").part_marks == (0, 2, 4, 6)
    assert form_of("fifth-power").part_marks == (0, 1, 2, 3)
    assert form_of("one-number").part_marks == (0,)
    assert form_of("two-squares").part_marks == (0,)
    # the third coefficient is 0: leaving the boxes at 0 earns nothing
    assert form_of("not-needed").part_marks == (0, 1, 2)
    assert form_of("fourth-power").part((Fraction(3, 8), None, Fraction(1))) == 2
    assert form_of("two-squares").part((Fraction(0), Fraction(0), Fraction(1))) == 0


def test_known_coefficients() -> None:
    """cos^4 u = 3/8 + 1/2 cos 2u + 1/8 cos 4u (DLMF 4.21.28 twice), with u = 2x."""
    assert form_of("fourth-power").values == (Fraction(3, 8), Fraction(1, 8), Fraction(1, 64))
    assert [slip.slip for slip in form_of("not-needed").slips] == ["author"]


def test_decimals() -> None:
    form = form_of("decimals")
    assert form.entry == DecimalEntry(places=4)
    assert form.is_alone_right(2, Fraction("0.0703"))
    assert form.is_alone_right(2, Fraction("0.07035"))
    assert not form.is_alone_right(2, Fraction("0.0702"))
    assert form_of("large-decimals").entry == DecimalEntry(places=0)
    assert "nearest whole number" in prose_text(
        item_of("large-decimals").prompt, item_of("decimals").conventions
    )


@pytest.mark.parametrize(
    ("body", "reason"),
    [
        (
            "antiderivative: sin(x)^2/2\nintegrand: sin(x) cos(x)\noffer: [cos(x)^2]\nentry: decimals",
            "fractions",
        ),
        ("antiderivative: sin(x)\nintegrand: cos(x)\noffer: [x]\nentry: decimals", "that is 0"),
        (
            "antiderivative: x + x^2 + x^3 + x^4 + x^5 + x^6\nintegrand: 1 + 2x + 3x^2 + 4x^3 + 5x^4 + 6x^5",
            "more than",
        ),
        ("antiderivative: 7001x/13\nintegrand: 7001/13", "too large"),
        (
            "antiderivative: 401sin(x)^2/2\nintegrand: 401sin(x) cos(x)\noffer: [cos(x)^2, cos(2x), 3 - sin(x)^2/7]",
            "too near",
        ),
        ("antiderivative: x/10^13\nintegrand: 1/10^13\nentry: decimals", "too small"),
        ("antiderivative: ln|x|\nintegrand: 1/x\noffer: [ln(x)]", "part of the domain"),
        ("antiderivative: sin(x)\nintegrand: cos(x)\noffer: [arcsin(x + 50)]", "no values"),
        ("antiderivative: sin(x)\nintegrand: cos(x)\noffer: [sin(10001x/10000)]", "alike"),
    ],
)
def test_bad_forms_are_refused(body: str, reason: str) -> None:
    bank = trial(body)
    template = bank.templates[0]
    with pytest.raises(DrawRefused, match=reason):
        build_item(bank, template, next(iter(draws(bank, template, 1))), "coefficients")


def test_letters_keep_clear_of_those_in_use() -> None:
    bank = trial("variable: P\nantiderivative: sin(P) + P^2 + 1/P\nintegrand: cos(P) + 2P - 1/P^2")
    item = build_item(bank, bank.templates[0], next(iter(draws(bank, bank.templates[0], 1))), "coefficients")
    assert isinstance(item.response, Coefficients)
    # C is the constant of integration, P the variable
    assert [letter.name for letter in item.response.letters] == ["K", "L", "M"]
    assert [letter.name for letter in form_of("fourth-power").letters] == ["P", "Q", "R"]
    assert [letter.name for letter in form_of("with-domain").letters] == ["A", "B"]


def test_splitting() -> None:
    tree = read("3 sqrt(2) sin(x)/4 - (x + 2sin(2x) - 5)/6 + 7 - x", variable=X).tree
    parts = split_terms(tree, X)
    assert list(parts.values()) == [Fraction(3, 4), Fraction(-7, 6), Fraction(-1, 3)]
    assert split_terms(sin(X) - sin(X), X) == {}
    assert split_terms(cos(X) ** 2 * 0 + X, X) == {X: Fraction(1)}


def test_options_belong_to_the_form() -> None:
    with pytest.raises(BankError) as caught:
        parse_bank(
            (
                HEAD
                + "  - {identifier: one, title: One, integrand: cos(x), antiderivative: sin(x), entry: decimals,"
                " offer: [x]}\n"
                "  - {identifier: two, title: Two, integrand: x, technique: standard-forms, task: definite,"
                ' limits: ["0", "1"], responses: [coefficients]}\n'
                "  - {identifier: three, title: Three, integrand: x, technique: standard-forms,"
                ' responses: [coefficients], offer: ["7", "y"]}\n'
            ).encode(),
            "bad.yaml",
        )
    codes = [problem.code for problem in caught.value.problems]
    assert codes == ["needless", "needless", "unfit-response", "constant", "unknown-letter"]


def test_most_templates_of_the_shipped_bank_could_be_asked_so() -> None:
    bank = open_bank(None)
    built = 0
    for template in bank.templates:
        if template.task == "definite":
            continue
        for draw in islice(draws(bank, template, 3), 1):
            try:
                item = build_item(bank, template, draw, "coefficients")
            except DrawRefused as refusal:
                assert refusal.accident, (template.identifier, refusal)  # noqa: PT017 - the others are built
            else:
                assert isinstance(item.response, Coefficients)
                assert item.response.is_right(item.response.values)
                built += 1
    assert built >= 15
