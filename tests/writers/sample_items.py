"""Items for the tests of writers, built by hand from proofs and witnesses that were really decided."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction

from qbank.items.deck import Deck, Section
from qbank.items.item import Check, Choice, FreeExpression, Item, Numeric, NumericSlip, Option, Response
from qbank.maths.conventions import DEFAULT
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    PI,
    Differential,
    Expression,
    Integer,
    Integral,
    Number,
    Symbol,
    as_tree,
    cos,
    rational,
    sin,
)
from qbank.maths.verdict import Proof, Proved, Refuted, Witness
from qbank.techniques.presenting import Row, with_constant

X = Symbol("x")


def proof(answer: Expression, integrand: Expression) -> Proof:
    verdict = decide_antiderivative(answer, integrand, X)
    assert isinstance(verdict, Proved)
    return verdict.proof


def witness(answer: Expression, integrand: Expression) -> Witness:
    verdict = decide_antiderivative(answer, integrand, X)
    assert isinstance(verdict, Refuted)
    return verdict.witness


def checks(values: Callable[[float], float]) -> tuple[Check, ...]:
    """Values in floating point, of which twelve digits are certainly right for the functions used here."""
    points = (Fraction(1, 5), Fraction(-2, 3), Fraction(5, 4))
    return tuple(Check(at=at, value=f"{values(float(at)):.12g}") for at in points)


def option(identifier: str, answer: Expression, integrand: Expression, slip: str | None, told: str) -> Option:
    evidence = proof(answer, integrand) if slip is None else witness(answer, integrand)
    return Option(
        identifier=identifier,
        answer=with_constant(answer, "C"),
        slip=slip,
        feedback=(told,),
        evidence=evidence,
    )


def cosine_power(number: int, response: Response | None = None, **changes: object) -> Item:
    """The integral of cos^3 x of n x, with its working and four options."""
    n, u = as_tree(number), Symbol("u")
    inner = n * X if number > 1 else X
    integrand = cos(inner) ** 3
    key = sin(inner) / n - sin(inner) ** 3 / (3 * number)
    wrong = {
        "sign-lost": sin(inner) / n + sin(inner) ** 3 / (3 * number),
        "inner-factor-multiplied": n * sin(inner) - n * sin(inner) ** 3 / 3 if number > 1 else sin(inner),
        "power-rule-on-function": cos(inner) ** 4 / (4 * number),
    }
    told = {
        "sign-lost": "The identity is cos² = 1 − sin², with a minus sign.",
        "inner-factor-multiplied": "Divide by the factor of x inside; do not multiply.",
        "power-rule-on-function": "The power rule needs the derivative of the cosine beside it.",
    }
    options = [option("B", key, integrand, None, "Correct.")]
    for identifier, (slip, answer) in zip("ACD", wrong.items(), strict=True):
        options.append(option(identifier, answer, integrand, slip, told[slip]))
    choice = Choice(options=tuple(sorted(options, key=lambda one: one.identifier)))
    integral = Integral(integrand, X)
    working = (
        Row(kind="start", statements=(integral,)),
        Row(
            kind="step",
            statements=(Integral((1 - sin(inner) ** 2) * cos(inner), X),),
            reason="Split off one cosine and use the Pythagorean identity.",
            rule="pythagorean-identity",
        ),
        Row(
            kind="let",
            statements=(
                Equation(u, sin(inner)),
                Equation(
                    Differential(u),
                    n * cos(inner) * Differential(X) if number > 1 else cos(inner) * Differential(X),
                ),
            ),
            reason="The other factor is the derivative of the sine.",
            rule="substitution",
        ),
        Row(
            kind="step",
            statements=(rational(1, number) * Integral(1 - u**2, u),),
            reason="Everything is now in u.",
            rule="substitution",
        ),
        Row(
            kind="step",
            statements=(with_constant(key, "C"),),
            reason="Integrate and put the sine back.",
            rule="power-rule",
        ),
    )
    values: dict[str, object] = {
        "identifier": f"powers-cosine-{number}",
        "bank": "powers",
        "template": "cosine-cubed",
        "title": "An odd power of cosine",
        "technique": "odd-powers",
        "tags": ("trigonometric", "odd power"),
        "language": "en",
        "conventions": DEFAULT,
        "parameters": (("n", Fraction(number)),),
        "prompt": ("Find ", integral, "."),
        "integrand": integrand,
        "variable": X,
        "limits": None,
        "key": key,
        "proof": proof(key, integrand),
        "enclosure": None,
        "working": working,
        "checks": checks(lambda at: math.cos(number * at) ** 3),
        "response": response or choice,
        "marks": 2,
        "difficulty": 5,
    }
    return Item(**(values | changes))  # type: ignore[arg-type]  # the changes are named by the caller


def free_cosine(number: int) -> Item:
    """The same question, to be answered by any expression."""
    base = cosine_power(number)
    rubric = (
        "Differentiate the response. Give 2 marks if the result is equal to ",
        base.integrand,
        ". The constant may be any letter.",
    )
    return cosine_power(
        number,
        FreeExpression(rubric=rubric),
        identifier=f"powers-free-{number}",
        template="cosine-cubed-free",
    )


def definite_power(exponent: int, scale: Number = 1) -> Item:
    """The integral of scale * x^n from 0 to 1 as a number, with one slip."""
    integrand = as_tree(scale) * X**exponent if scale != 1 else X**exponent
    value = Fraction(scale) / (exponent + 1)
    slip = Fraction(scale) / exponent
    key = rational(value)
    near = Fraction(1, 2000)
    return _definite(
        f"powers-value-{exponent}-{str(scale).replace('/', 'over').replace('-', 'minus')}",
        integrand,
        (Integer(0), Integer(1)),
        key,
        value,
        near,
        (
            NumericSlip(
                slip="divided-by-old-exponent",
                value=rational(slip),
                lower=slip - near,
                upper=slip + near,
                feedback=("Divide by the new exponent, ", as_tree(exponent + 1), "."),
            ),
        )
        if exponent > 1
        else (),
        rational(value) * X ** (exponent + 1),
        lambda at: float(scale) * at**exponent,
    )


def definite_zero() -> Item:
    """An integral whose value is 0: what a reader makes of a malformed number must not come near it."""
    return _definite(
        "powers-value-zero",
        cos(X),
        (Integer(0), PI),
        Integer(0),
        Fraction(0),
        Fraction(1, 2000),
        (),
        sin(X),
        math.cos,
    )


def _definite(  # noqa: PLR0917 - a table of test data
    identifier: str,
    integrand: Expression,
    limits: tuple[Expression, Expression],
    key: Expression,
    value: Fraction,
    near: Fraction,
    slips: tuple[NumericSlip, ...],
    antiderivative: Expression,
    values: Callable[[float], float],
) -> Item:
    response = Numeric(
        value=key,
        decimal=f"{float(value):.3g}",
        figures=3,
        lower=value - near,
        upper=value + near,
        slips=slips,
    )
    integral = Integral(integrand, X, *limits)
    return Item(
        identifier=identifier,
        bank="powers",
        template="definite-power",
        title="A definite integral of a power",
        technique=None,
        tags=("definite",),
        language="en",
        conventions=DEFAULT,
        parameters=(),
        prompt=("Evaluate ", integral, " to 3 significant figures."),
        integrand=integrand,
        variable=X,
        limits=limits,
        key=key,
        proof=proof(antiderivative, integrand),
        enclosure=(value - Fraction(1, 10**20), value + Fraction(1, 10**20)),
        working=(
            Row(kind="start", statements=(integral,)),
            Row(kind="step", statements=(antiderivative,), reason="An antiderivative.", rule="power-rule"),
        ),
        checks=checks(values),
        response=response,
        marks=1,
        difficulty=2,
    )


def deck(*sections: Section, **changes: object) -> Deck:
    values: dict[str, object] = {
        "bank": "powers",
        "title": "Powers & products",
        "language": "en",
        "licence": "CC-BY-4.0",
        "authors": ("Ada Example", "Smith, J."),
        "version": "1.0",
        "seed": "7",
        "sections": sections or every_section(),
    }
    return Deck(**(values | changes))  # type: ignore[arg-type]  # the changes are named by the caller


def every_section() -> tuple[Section, ...]:
    return (
        Section(
            template="cosine-cubed", title="An odd power of cosine", items=(cosine_power(2), cosine_power(3))
        ),
        Section(template="definite-power", title="Definite", items=(definite_power(3), definite_power(2, 3))),
        Section(template="cosine-cubed-free", title="Free", items=(free_cosine(2),), pick=None),
    )
