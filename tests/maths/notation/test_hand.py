"""The rules of a teacher's hand that every target shares."""

from __future__ import annotations

import sys

import pytest
from hypothesis import given, settings

from qbank.maths import expression
from qbank.maths.conventions import Conventions
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Apply, Expression, Integer, Negate, Power, Product, Symbol, rational, sin
from qbank.maths.notation import hand, latex, lay_out, layout, mathml_text, plain, speech, typst
from qbank.maths.notation.layout import Bars, Digits, Fraction, Layout, Named, Raised, Round
from tests.maths.notation.cases import CASES
from tests.maths.strategies import statements

x = Symbol("x")
WRITERS = {"latex": latex, "mathml": mathml_text, "plain": plain, "speech": speech, "typst": typst}


def subclasses(module: object, base: type) -> set[type]:
    return {kind for kind in vars(module).values() if isinstance(kind, type) and issubclass(kind, base)} - {
        base
    }


def test_the_table_shows_every_kind_of_node_and_of_box() -> None:
    nodes: set[type] = set()
    boxes: set[type] = set()
    for tree in CASES.values():
        sides = (tree.left, tree.right) if isinstance(tree, Equation) else (tree,)
        nodes |= {type(node) for side in sides for node in side.walk()}
        boxes |= {type(box) for box in lay_out(tree).walk()}
    assert nodes == subclasses(expression, Expression)
    assert boxes == subclasses(layout, Layout)


@pytest.mark.parametrize("write", WRITERS.values(), ids=WRITERS)
def test_what_is_not_a_statement_is_refused(write: object) -> None:
    assert callable(write)
    with pytest.raises(TypeError, match="no layout for Expression"):
        write(Expression())


@settings(max_examples=60)
@given(tree=statements())
def test_same_tree_same_layout(tree: Statement) -> None:
    assert lay_out(tree) == lay_out(tree)


@pytest.mark.parametrize("exponent", [rational(-1), rational(1, 2), 2 * Symbol("n"), rational(-2)])
def test_only_whole_powers_go_on_the_name(exponent: Expression) -> None:
    box = lay_out(Power(sin(x), exponent))
    assert isinstance(box, Raised)
    assert isinstance(box.base, Round)


@pytest.mark.parametrize("name", ["ln", "exp", "arctan", "arsinh"])
def test_powers_of_other_functions_have_brackets(name: str) -> None:
    for habit in (Conventions(), Conventions(inverse="power")):
        box = lay_out(Power(Apply(name, x), Integer(2)), habit)
        assert isinstance(box, Raised)
        assert isinstance(box.base, Round)


def test_a_sign_inside_a_product_has_brackets() -> None:
    box = lay_out(Product((x, Negate(x))))
    assert isinstance(box.bodies[1], Round)  # type: ignore[attr-defined]


def test_an_argument_that_draws_its_own_borders_has_no_brackets() -> None:
    for argument, kind in ((Apply("abs", x), Bars), (x / 2, Fraction)):
        box = lay_out(sin(argument))
        assert isinstance(box, Named)
        assert isinstance(box.argument, kind)


def test_a_fraction_over_or_under_a_bar_has_a_slash() -> None:
    box = lay_out(rational(1, 2) / x)
    assert box == Fraction(Fraction(Digits("1"), Digits("2"), slashed=True), lay_out(x))


@pytest.mark.parametrize("name", ["latex", "mathml", "plain", "typst"])
def test_every_box_has_a_rule_in_every_writer(name: str) -> None:
    writer = sys.modules[f"qbank.maths.notation.{name}"]
    assert set(writer._rules) == subclasses(layout, Layout)
    with pytest.raises(TypeError, match="for Layout"):
        writer._write(Layout())


def test_every_box_is_spoken() -> None:
    rules = sys.modules["qbank.maths.notation.speech"]
    assert set(rules._RULES) == subclasses(layout, Layout)
    with pytest.raises(TypeError, match="no speech for Layout"):
        speech(Layout())


def test_a_box_is_spoken_in_each_language_for_itself() -> None:
    box = lay_out(sin(x) / 2 + 1)
    english, german = Conventions(), Conventions(language="de")
    said = speech(box, english), speech(box, german)
    assert said[0] != said[1]
    assert (speech(box, english), speech(box, german)) == said
    assert speech(lay_out(sin(x) / 2 + 1, german), english) == said[0]


def test_every_node_has_a_rule() -> None:
    assert set(hand._LAYS) == {Equation, *subclasses(expression, Expression)}


def test_equal_parts_are_one_box_until_there_are_too_many(monkeypatch: pytest.MonkeyPatch) -> None:
    own = hand.Hand(Conventions())
    assert own[sin(x) + 1] is own[sin(Symbol("x")) + 1]
    monkeypatch.setattr(hand, "_MOST_KNOWN", 10)
    for number in range(200):
        tree = sin(number * x) ** 2
        assert own[tree] == lay_out(tree)
    assert len(own) <= 10


@settings(max_examples=40)
@given(tree=statements())
def test_what_is_noted_on_a_box_is_what_would_be_written(tree: Statement) -> None:
    """Parts written before, for another formula, change nothing; nor does the order of the notations."""
    known = lay_out(tree)
    for write in WRITERS.values():
        write(tree)
    hand.hand_of.cache_clear()
    for name in reversed(WRITERS):
        assert WRITERS[name](known) == WRITERS[name](tree)
