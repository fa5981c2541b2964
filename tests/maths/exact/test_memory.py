"""A memory answers each question as it is answered alone: only what the integrand says about signs is carried on."""

from __future__ import annotations

from collections.abc import Callable

from qbank.maths.clock import Deadline
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.exact.field import Element
from qbank.maths.exact.normal_form import Memory
from qbank.maths.expression import Expression, Integral, Symbol, product, rational
from qbank.maths.forward import Walk
from qbank.maths.points import value_side
from qbank.maths.reading import read
from qbank.maths.verdict import Proved

X, U = Symbol("x"), Symbol("u")


def tree(text: str, variable: Symbol = X) -> Expression:
    return read(text, variable=variable).tree


def is_zero(text: str) -> Callable[[Walk[Element]], bool]:
    return lambda walk: walk.value(tree(text)).is_zero()


def asked(memory: Memory, text: str) -> bool:
    return memory.ask(is_zero(text), {}, Deadline(20))


def test_what_one_question_says_about_signs_does_not_hold_for_the_next() -> None:
    memory = Memory(X, tree("cos x"))
    assert asked(memory, "ln x + sqrt(x^2) - x - ln x"), "a logarithm of x is real for positive x only"
    assert not asked(memory, "sqrt(x^2) - x")


def test_what_the_integrand_says_about_signs_holds_for_all_questions() -> None:
    memory = Memory(X, tree("sqrt(x^2) ln x"))
    for _ in range(2):
        assert asked(memory, "sqrt(x^2) - x")
        assert not asked(memory, "sqrt((x - 1)^2) - x + 1")


def test_a_letter_may_get_another_meaning() -> None:
    memory = Memory(X, tree("x"))

    def is_meant(walk: Walk[Element]) -> bool:
        return walk.value(tree("u^2", U)).same(walk.value(tree("x^4")))

    deadline = Deadline(20)
    assert not memory.ask(is_meant, {}, deadline)
    assert memory.ask(is_meant, {U: tree("x^2")}, deadline)
    assert not memory.ask(is_meant, {U: tree("x^3")}, deadline)
    assert not memory.ask(is_meant, {}, deadline)
    assert memory.ask(is_meant, {U: tree("-x^2")}, deadline)


def test_a_letter_may_get_another_meaning_in_the_quick_system_too() -> None:
    memory, side, goal = Memory(X, tree("x")), value_side(tree("u^2", U)), value_side(tree("x^4"))
    assert not memory.shows_equal(side, goal, {})
    assert memory.shows_equal(side, goal, {U: tree("x^2")})
    assert not memory.shows_equal(side, goal, {U: tree("x^3")})
    assert memory.shows_equal(side, goal, {U: tree("-x^2")})
    many = tree(" + ".join(f"sin^2(x sqrt({n})) + cos^2(x sqrt({n}))" for n in (2, 3, 5, 7, 11, 13)))
    assert not memory.shows_equal(value_side(many), value_side(tree("6")), {}), "there is no room for so many"
    assert memory.shows_equal(side, goal, {U: tree("x^2")})


def test_finer_units_and_more_functions_are_learnt_on_the_way() -> None:
    memory = Memory(X, tree("cos(2x)"))
    lines = ("1/2 sin(2x)", "sin x cos x", "sin^2(x + pi/4)", "1/2 sin(2x) + sin^2(x/3) + cos^2(x/3)")
    many = " + ".join(f"sin^2(x sqrt({n})) + cos^2(x sqrt({n}))" for n in (2, 3, 5, 7, 11, 13))
    for line in (*lines, f"1/2 sin(2x) + {many}", *lines):
        verdict = decide_antiderivative(tree(line), tree("cos(2x)"), X, memory=memory)
        assert isinstance(verdict, Proved), line
    assert not isinstance(decide_antiderivative(tree("sin(2x)"), tree("cos(2x)"), X, memory=memory), Proved)


def test_an_answer_is_looked_at_all_over_the_domain_and_a_line_on_the_way_is_not() -> None:
    integrand, bindings = tree("1/x"), {U: tree("x^2")}
    memory = Memory(X, integrand)
    way = decide_antiderivative(
        product(rational(1, 2), Integral(1 / U, U)), integrand, X, bindings=bindings, memory=memory
    )
    answer = decide_antiderivative(tree("ln x"), integrand, X, bindings=bindings, memory=memory)
    assert isinstance(way, Proved)
    assert way.points == 1
    assert isinstance(answer, Proved)
    assert answer.undefined_at, "no logarithm of a negative number"
