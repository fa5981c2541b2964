"""Items from random integrands of each technique: always built, every option decided, always enough wrong ones."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.bank.loading import parse_bank
from qbank.items.cloning import clones
from qbank.items.item import Choice
from qbank.maths.deciding import decide_antiderivative, decide_same_up_to_constant
from qbank.maths.expression import Expression, Sum, sum_of
from qbank.maths.verdict import Proved, Refuted

HEAD = 'identifier: trial\ntitle: A trial\nlanguage: en\nlicence: CC0-1.0\nversion: "1.0.0"\ntemplates:\n'

#: kinds of integrand; the letters p, q, r stand for random numbers, n for a power
KINDS = {
    "standard-forms": (
        "p (q x + r)^n",
        "p e^(q x) - r sin(q x + p)",
        "p/(q x + r)",
        "p sqrt(q x + r) + 1/x",
        "p/(x^2 + q)",
        "p cos(q x)/r - sec(q x)^2",
    ),
    "substitution": (
        "p x (x^2 + q)^n",
        "p x e^(q x^2 - r)",
        "p sin(q x)^n cos(q x)",
        "p ln(x)^n/x",
        "p x^2/(x^3 + q)^n",
        "p e^(q x)/(e^(q x) + r)",
    ),
    "odd-powers": (
        "p sin(q x + r)^3",
        "p cos(x/q)^5",
        "p sin(q x)^n cos(q x)^3",
        "p cos(q - r x)^3",
        "cos(q x)^2 sin(q x)^5/p",
    ),
    "even-powers": (
        "p sin(q x + r)^2",
        "p cos(x/q)^4",
        "p sin(q x)^2 cos(q x)^2",
        "cos(q x)^6/p",
        "sin(q x)^2 cos(q x)^4",
    ),
    "tangent-secant": (
        "p tan(q x + r)^n",
        "p cot(q x)^n",
        "p tan(q x)^n sec(q x)^4",
        "cosec(x/q)^4",
        "p tan(q x)^3 sec(q x)^n",
    ),
    "quadratic-denominator": (
        "p/((x - q)^2 + r^2)",
        "(p x + 12)/(x^2 + 2 x + 1 + q)",
        "(p x + q)/((x - r)(x + q + 4))",
        "(x^2 + p x + q)/(x^2 + r)",
        "p/(q x^2 + 4 q x + 7 q)",
    ),
    "root-of-quadratic": (
        "p/sqrt(q + 2 r x - x^2)",
        "(p x + 11)/sqrt(q - 2 r x - x^2)",
        "p/sqrt(x^2 + 2 q x + q^2 + r)",
        "(p x + 13)/sqrt(x^2 + 2 q x + q^2 + r)",
    ),
}


def without_constant(answer: Expression) -> Expression:
    assert isinstance(answer, Sum)
    return sum_of(*answer.terms[:-1])


@pytest.mark.parametrize("technique", KINDS)
@settings(deadline=None, max_examples=8)
@given(data=st.data())
def test_an_item_of_any_integrand(technique: str, data: st.DataObject) -> None:
    kind = data.draw(st.sampled_from(KINDS[technique]))
    drawn = {name: data.draw(st.integers(2, 9)) for name in "pqr"} | {"n": data.draw(st.integers(2, 6))}
    values = "".join(f"      {name}: {{kind: listed, values: [{value}]}}\n" for name, value in drawn.items())
    body = f"    technique: {technique}\n    parameters:\n{values}    integrand: {kind}\n    marks: 3\n"
    bank = parse_bank((HEAD + "  - identifier: one\n    title: One\n" + body).encode(), "trial.yaml")
    item = next(clones(bank, bank.templates[0], 1, 1))
    assert isinstance(item.response, Choice)
    answers = {option: without_constant(option.answer) for option in item.response.options}
    assert len(answers) == 4
    for option, answer in answers.items():
        verdict = decide_antiderivative(answer, item.integrand, item.variable)
        assert isinstance(verdict, Proved if option.is_key else Refuted)
    for one, other in combinations(answers.values(), 2):
        assert isinstance(decide_same_up_to_constant(one, other, item.variable), Refuted)
