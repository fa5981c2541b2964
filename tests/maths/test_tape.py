"""A recorded walk replays to the same balls as a walk at the point itself."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings

from qbank.maths.balls import Balls, Blurred, precision, to_ball
from qbank.maths.expression import PI, Apply, Expression, Root, Symbol, cos, exp, ln, sin, sqrt
from qbank.maths.forward import Undefined, Walk
from qbank.maths.samples import Point
from qbank.maths.tape import Tape
from tests.maths.smooth import smooth_expressions

x = Symbol("x")
POINT = Fraction(5, 7)


def replay(tree: Expression) -> Any:
    tape = Tape()
    step = Walk(tape, x, {}).value(tree)
    with precision(100):
        results = tape.start(Point({"x": POINT}), 100)
        tape.run(results)
    return results[step.place]


@settings(max_examples=60)
@given(smooth_expressions())
def test_replay_is_the_walk(tree: Expression) -> None:
    with precision(100):
        try:
            direct = Walk(Balls({"x": to_ball(POINT)}), x, {}).value(tree)
        except (Undefined, Blurred) as error:
            with pytest.raises(type(error)):
                replay(tree)
            return
    again = replay(tree)
    assert str(again) == str(direct)


def test_equal_steps_are_recorded_once() -> None:
    tape = Tape()
    walk = Walk(tape, x, {})
    first = walk.value(sin(x + 1) * cos(x + 1))
    before = len(tape)
    assert walk.value(sin(x + 1) * cos(x + 1)).place == first.place
    assert len(tape) == before


def test_whole_numbers_mix_with_steps() -> None:
    tape = Tape()
    step = tape.letter("x")
    results = [1 + step, step + 1, 1 - step, step - 1, 3 * step, step * 3, 1 / step, step / 2, -step]
    with precision(64):
        values = tape.start(Point({"x": Fraction(4)}), 64)
        tape.run(values)
    found = [float(values[result.place].mid()) for result in results]
    assert found == [5, 5, -3, 3, 12, 12, 0.25, 2, -4]


def test_constants_are_prepared_once_for_each_precision() -> None:
    tape = Tape()
    tree = exp(sqrt(x)) + ln(x + 3)
    step = Walk(tape, x, {}).value(tree)
    for bits in (64, 256, 64):
        with precision(bits):
            values = tape.start(Point({"x": POINT}), bits)
            tape.run(values)
            assert values[step.place].rel_accuracy_bits() > bits - 10


def test_a_fork_goes_on_where_the_tape_ends_and_leaves_it_as_it_is() -> None:
    tape = Tape()
    first = Walk(tape, x, {}).value(sin(x) * PI / 3)
    steps = len(tape)
    fork = tape.fork()
    second = Walk(fork, x, {}).value(sin(x) * PI / 3 + cos(x) / 7 + PI)
    assert len(tape) == steps
    # the first side and the sine and cosine are known: a quotient and two sums are new
    assert len(fork) == 3
    point = Point({"x": POINT})
    with precision(100):
        earlier = tape.start(point, 100)
        tape.run(earlier)
        results = fork.start(point, 100, earlier)
        fork.run(results)
    assert results[: len(earlier)] == earlier
    assert str(results[first.place]) == str(replay(sin(x) * PI / 3))
    assert results[second.place].overlaps(replay(sin(x) * PI / 3 + cos(x) / 7 + PI))


@pytest.mark.parametrize(
    ("tree", "expected"),
    [
        (x**5 / 3 - cos(x) * exp(2 * x) + ln(Apply("abs", x)), True),
        (Apply("arctan", 1 / x) + x ** (-2), True),
        # not real on half the line, or smooth on pieces only
        (ln(x), False),
        (sqrt(x), False),
        (Root(x, 3), False),
        (Apply("arcsin", x), False),
        (Apply("abs", x), False),
    ],
)
def test_what_is_smooth_and_real_nearly_everywhere_is_known(tree: Expression, expected: bool) -> None:
    tape = Tape()
    Walk(tape, x, {}).value(tree)
    assert tape.is_nearly_total is expected
