"""Other forms of an answer: equal to it up to the constant stated, and told apart from it by a reader.

Each form and its constant are held against floating point, which knows nothing of the identities used.
"""

from __future__ import annotations

import math
from itertools import islice

import pytest

from qbank.items.equivalents import rewritings, shifted
from qbank.maths.conventions import DEFAULT
from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import plain
from qbank.maths.reading import read
from tests.marking.float_oracle import value

X = Symbol("x")
POINTS = (0.31, 0.57, 0.83)

#: an antiderivative -> forms of it that have to be found
FORMS = {
    "sin(x)^2/2": ("-1/2 cos^2 x", "-1/4 cos 2x"),
    "3 cos(2x)^2": ("-3 sin^2 2x", "3/2 cos 4x"),
    "tan(3x)^2/6": ("1/6 sec^2 3x",),
    "sec(x)^2/2 + x": ("1/2 tan^2 x + x",),
    "cot(x)^4": ("(cosec^2 x - 1)^2",),
    "sin(4x)^4": ("(1 - cos^2 4x)^2", "((1 - cos 8x)/2)^2"),
    "cos(x)^5": ("cos x * (1 - sin^2 x)^2",),
    "x - sin(6x + 2)/6": ("x - 1/3 sin(3x + 1) cos(3x + 1)",),
    "cos(2x)": ("2 cos^2 x", "-2 sin^2 x"),
    "sin(5x) cos(5x)": ("1/2 sin 10x",),
    "-2 ln|cos(x)|": ("2 ln|sec x|", "-ln(cos^2 x)"),
    "3 ln|2x + 1|": ("ln|(2x + 1)^3|", "3 ln|4x + 2|"),
    "ln(x^2 + 4)/2": ("ln(sqrt(x^2 + 4))", "1/2 ln(2x^2 + 8)"),
    "4 arcsin((x + 3)/7)": ("-4 arccos((x + 3)/7)",),
    "arctan((x - 3)/5)/5": ("-1/5 arctan((3 - x)/5)",),
    "(2x + 3)^3/6": ("4/3 x^3 + 6x^2 + 9x",),
    "e^(2x^2 + 1)/4": ("1/4 e e^(2x^2)",),
    "e^(4x)/4": ("1/4 (e^(2x))^2",),
    "sin(x) - sin(x)^3/3": ("1/3 sin x * (3 - sin^2 x)", "(3 sin x - sin^3 x)/3"),
    "3x/8 + sin(2x + 1)/4": ("(3x + 2 sin(2x + 1))/8",),
}


def tree(text: str) -> Expression:
    return read(text, variable=X).tree


@pytest.mark.parametrize("text", FORMS)
def test_forms_are_the_same_up_to_their_constant(text: str) -> None:
    old = tree(text)
    found = list(rewritings(old, X))
    texts = [plain(form.answer, DEFAULT) for form in found]
    assert set(FORMS[text]) <= set(texts)
    assert len(set(texts)) == len(texts)
    assert plain(old, DEFAULT) not in texts
    for form in found:
        assert form.reason
        for at in POINTS:
            difference = value(old, at) - value(form.answer, at) - value(form.constant, at)
            assert math.isclose(difference, 0, abs_tol=1e-9), plain(form.answer, DEFAULT)


@pytest.mark.parametrize(
    "text",
    ["x", "3x^2 + 2x", "arctan(x)", "x e^x", "(x + 1)^40/40", "(97x + 8)^4", "sqrt(1 - x^2)", "e^(3x)"],
)
def test_what_has_no_other_form(text: str) -> None:
    assert not list(islice(rewritings(tree(text), X), 1))


def test_forms_that_look_much_like_the_old_one_come_last() -> None:
    slight = [form.slight for form in rewritings(tree("-4cos(3x)/3 + 4cos(3x)^3/9"), X)]
    assert slight == sorted(slight)
    assert slight == [False, True, True]


def test_a_number_added() -> None:
    form = shifted(tree("sin(x)"), 3)
    assert plain(form.answer, DEFAULT) == "sin x + 3"
    assert plain(form.constant, DEFAULT) == "-3"
    assert form.slight
