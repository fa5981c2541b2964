"""The exact system against the rigorous one, and what it knows about signs, roots, angles and patterns."""

from __future__ import annotations

from fractions import Fraction

import pytest
from flint import arb
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from qbank.maths.balls import Balls, Blurred, precision
from qbank.maths.clock import Deadline
from qbank.maths.deciding import decide_equal
from qbank.maths.domain import Domain
from qbank.maths.exact.factors import factor
from qbank.maths.exact.field import Element, Field
from qbank.maths.exact.normal_form import in_exact_system
from qbank.maths.exact.signs import constant_ball, definite_sign, sign_of, state_positive
from qbank.maths.exact.system import Exact
from qbank.maths.exact.usual_angles import usual_angle
from qbank.maths.expression import PI, Apply, Expression, Integer, Symbol, cos, rational, sin, sqrt
from qbank.maths.forward import NotSettled, Undefined, Walk
from qbank.maths.reading import read
from qbank.maths.verdict import Proved, Refuted
from tests.maths.smooth import constants

x = Symbol("x")


def system(size: int = 16) -> Exact:
    return Exact(Field(size, Deadline(60)), {})


def value(text: str) -> Element:
    return Walk(system(), x, {}).value(read(text).tree)


@settings(max_examples=80)
@given(constants())
def test_exact_constants_lie_in_their_balls(node: Expression) -> None:
    def ask(walk: Walk[Element]) -> tuple[arb, bool]:
        element = walk.value(node)
        with precision(128):
            return constant_ball(element), element.is_zero()

    with precision(128):
        try:
            ball = Walk(Balls({}), x, {}).value(node)
            exact, zero = in_exact_system(ask, x, {})
        except (Undefined, NotSettled):
            return
        assume(ball.is_finite())
        assume(exact.is_finite())
        assert ball.overlaps(exact)
        if zero:
            assert ball.contains(0)


@pytest.mark.parametrize("order", [1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20, 24, 30, 32, 60])
def test_usual_angles_lie_in_their_balls(order: int) -> None:
    exact = system(32)
    for numerator in range(-order, 3 * order, max(1, order // 7)):
        multiple = Fraction(numerator, order)
        pair = usual_angle(exact, multiple)
        assert pair is not None
        with precision(100):
            angle = arb.pi() * multiple.numerator / multiple.denominator
            assert constant_ball(pair[0]).overlaps(angle.cos())
            assert constant_ball(pair[1]).overlaps(angle.sin())
        assert (pair[0] * pair[0] + pair[1] * pair[1] - 1).is_zero()


@pytest.mark.parametrize("order", [7, 9, 11, 25, 64, 128])
def test_other_angles_have_no_square_roots(order: int) -> None:
    assert usual_angle(system(), Fraction(1, order)) is None


@pytest.mark.parametrize(
    ("text", "sign"),
    [
        ("x^2 + 1", 1),
        ("-x^2 - 3", -1),
        ("x^2 - 1", 0),
        ("x", 0),
        ("x^4 + x^2 + 1", 1),
        ("x^2 + x + 1", 1),
        ("-x^2 + x - 1", -1),
        ("x^4 + x + 1", 1),
        ("x^2 + 2 x y + 2 y^2 + 1", 1),
        ("x^2 + 2 x y + y^2 - 1", 0),
        ("e^x + 1", 1),
        ("e^x - 1", 0),
        ("e^x + e^(2x) + x^2", 1),
        ("sqrt(2) - 1", 1),
        ("sqrt(2) - 2", -1),
        ("pi - 3", 1),
        ("pi - 22/7", -1),
        ("e^x + pi", 1),
        ("x^3 + 1", 0),
        ("|x| + 1", 1),
        ("x^3 |x| + 1", 0),
        ("|x| + x", 0),
    ],
)
def test_signs_that_are_known(text: str, sign: int) -> None:
    element = value(text)
    assert definite_sign(element.field, element.num) == sign


def test_a_constant_that_looks_like_zero_has_no_sign() -> None:
    element = value("8cos(pi/9)^3 - 6cos(pi/9) - 1")
    with pytest.raises(NotSettled, match="close to zero"):
        definite_sign(element.field, element.num)


def test_facts_about_signs_are_solved() -> None:
    exact = system()
    field = exact.field
    signs = [sign_of(field, exact.letter(name).num) for name in "abc"]
    state_positive(field, signs[0] * signs[1])
    state_positive(field, signs[1] * signs[2])
    assert (signs[0] - signs[2]).is_zero()
    assert not (signs[0] - 1).is_zero()
    state_positive(field, signs[0])
    assert all((sign - 1).is_zero() for sign in signs)
    state_positive(field, signs[2])
    with pytest.raises(Undefined):
        state_positive(field, -signs[1])


def test_factors() -> None:
    element = value("6x^2 (1 - x)/(x + 1)^3")
    sign, parts = factor(element)
    powers = {str(part): power for part, power in parts}
    assert sign == -1
    assert sorted(powers.values()) == [-3, 1, 1, 1, 2]
    with pytest.raises(Undefined):
        factor(element - element)


def test_of_two_conjugates_one_is_kept() -> None:
    walk = Walk(system(), x, {})
    plus, minus = (factor(walk.value(read(f"x {s} sqrt(x^2 + 1)").tree)) for s in "+-")
    assert plus[1][0][0] == minus[1][0][0]
    assert (plus[1][0][1], minus[1][0][1]) == (1, -1)
    assert minus[0] == -1


@pytest.mark.parametrize(
    "text", ["sqrt((x + y + z + 1)^9 + x y z)", "ln(x^500 + 1)", "sqrt(3^300 x + 5^300 x)"]
)
def test_what_is_too_large_to_factor_is_refused(text: str) -> None:
    with pytest.raises(NotSettled):
        value(text)


@pytest.mark.parametrize(
    "text", ["x^(1/20011)", "x^(1/9973) x^(1/9967)", "sin(300x) sin(x)", "e^(1000x) - e^x"]
)
def test_far_apart_multiples_are_refused(text: str) -> None:
    with pytest.raises(NotSettled):
        in_exact_system(lambda walk: walk.value(read(text).tree), x, {})


def test_too_many_functions_are_refused() -> None:
    text = " + ".join(f"ln(x + {n})" for n in range(1, 70))
    with pytest.raises(NotSettled, match="too many"):
        in_exact_system(lambda walk: walk.value(read(text).tree), x, {}, seconds=60)


def test_many_terms_in_an_angle_are_refused() -> None:
    text = "sin(" + " + ".join(f"x^{n}" for n in range(1, 40)) + ")"
    with pytest.raises(NotSettled, match="many terms"):
        value(text)


@settings(max_examples=80)
@given(st.fractions(-6, 6, max_denominator=6), st.fractions(-6, 6, max_denominator=6))
def test_sums_of_angles(first: Fraction, second: Fraction) -> None:
    check_sum_of_angles(rational(first) * x, rational(second) * x)


@settings(max_examples=80)
@given(st.fractions(-6, 6, max_denominator=6), st.fractions(-3, 3, max_denominator=12))
def test_angles_and_multiples_of_pi(first: Fraction, second: Fraction) -> None:
    check_sum_of_angles(rational(first) * x, rational(second) * PI)
    check_sum_of_angles(rational(second) * PI, rational(first) * Symbol("a"))


def check_sum_of_angles(a: Expression, b: Expression) -> None:
    def ask(walk: Walk[Element]) -> bool:
        whole = walk.value(sin(a + b))
        parts = walk.value(sin(a) * cos(b) + cos(a) * sin(b))
        return bool(whole.same(parts))

    assert in_exact_system(ask, x, {})


@settings(max_examples=60)
@given(st.fractions(-5, 5, max_denominator=7), st.fractions(-5, 5, max_denominator=7))
def test_powers_add_up_where_the_base_is_positive(first: Fraction, second: Fraction) -> None:
    verdict = decide_equal(
        x ** rational(first) * x ** rational(second),
        x ** rational(first + second),
        x,
        domain=Domain(Fraction(0), None),
    )
    assert isinstance(verdict, Proved)


@pytest.mark.parametrize(
    ("left", "right", "domain", "wanted"),
    [
        # both factors cannot be negative at once
        ("sqrt((1 - x)/(1 + x))", "sqrt(1 - x^2)/(1 + x)", None, Proved),
        ("sqrt((1 - x)(1 + x))", "sqrt(1 - x) sqrt(1 + x)", None, Proved),
        ("sqrt((1 - a x)/(1 + a x))", "sqrt(1 - a^2 x^2)/(1 + a x)", None, Proved),
        ("sqrt((x - 1)/(x + 1))", "sqrt(x^2 - 1)/(x + 1)", None, Refuted),
        ("sqrt((x - 1)/(x + 1))", "sqrt(x^2 - 1)/(x + 1)", Domain(Fraction(1), None), Proved),
        ("sqrt((x - 1)/(x + 1))", "sqrt(x^2 - 1)/|x + 1|", None, Proved),
        ("|x - 1| + |x + 1|", "2x", Domain(Fraction(1), None), Proved),
        ("|x - 1| + |x + 1|", "2", Domain(Fraction(-1), Fraction(1)), Proved),
        ("|x - 1| + |x + 1|", "2", Domain(Fraction(-1), Fraction(2)), Refuted),
        ("|x - 1| + |x + 1|", "-2x", Domain(None, Fraction(-1)), Proved),
        ("|cos x|", "cos x", Domain(Fraction(-1), Fraction(1)), Proved),
        ("|cos x|", "cos x", Domain(Fraction(-1), Fraction(2)), Refuted),
        ("|sin x|", "sin x", Domain(Fraction(0), PI), Proved),
        ("|sin x|", "sin x", Domain(Fraction(0), 3 * PI), Refuted),
        ("|e^x - 1|", "e^x - 1", Domain(Fraction(0), None), Proved),
        ("|x y|", "|x| |y|", None, Proved),
        ("|x^2 - 3|", "3 - x^2", Domain(Fraction(-1), sqrt(Integer(2))), Proved),
    ],
)
def test_patterns_of_signs(left: str, right: str, domain: Domain | None, wanted: type) -> None:
    verdict = decide_equal(read(left).tree, read(right).tree, x, domain=domain)
    if left == "|e^x - 1|":
        # the range of an exponential on a domain is not used yet
        assert not isinstance(verdict, Refuted)
    else:
        assert isinstance(verdict, wanted), verdict


def test_blurred_is_a_kind_of_not_settled() -> None:
    assert issubclass(Blurred, NotSettled)


def test_an_unknown_sign_is_kept() -> None:
    element = Walk(system(), x, {}).value(Apply("abs", x))
    assert not element.same(Walk(Exact(element.field, {}), x, {}).value(x))


#: squared by hand; the second of each pair is real on the same domain
NESTED = [
    ("sqrt(x + sqrt(x^2 - 1))", "(sqrt(x - 1) + sqrt(x + 1))/sqrt(2)"),
    ("sqrt(x - sqrt(x^2 - 1))", "(sqrt(x + 1) - sqrt(x - 1))/sqrt(2)"),
    ("sqrt(1 + sqrt(1 - x^2))", "(sqrt(1 + x) + sqrt(1 - x))/sqrt(2)"),
    ("sqrt(1 - sqrt(1 - x^2))", "|sqrt(1 + x) - sqrt(1 - x)|/sqrt(2)"),
    ("sqrt(2x + 3 - 2 sqrt(x^2 + 3x + 2))", "sqrt(x + 2) - sqrt(x + 1)"),
    ("sqrt(x + 1 + 2 sqrt(x))", "1 + sqrt(x)"),
    ("sqrt(x sqrt(x) - x^2)", "x^(3/4) sqrt(1 - sqrt(x))"),
    ("sqrt(x - sqrt(x))", "sqrt(x - 1) x^(1/4)/sqrt(1 + sqrt(x))"),
    ("sqrt(1 - x^(1/4))", "sqrt(1 - x)/sqrt((1 + x^(1/4)) (1 + sqrt(x)))"),
    ("sqrt(1/sqrt(x) - 1) sqrt(1/sqrt(x) + 1)", "sqrt(1 - x)/sqrt(x)"),
]


@pytest.mark.parametrize(("left", "right"), NESTED)
def test_roots_in_roots(left: str, right: str) -> None:
    assert isinstance(decide_equal(read(left).tree, read(right).tree, x), Proved)


@pytest.mark.parametrize(
    ("left", "right"),
    [
        ("sqrt(1 - sqrt(1 - x^2))", "(sqrt(1 + x) - sqrt(1 - x))/sqrt(2)"),  # right where x is not negative
        ("sqrt(x - sqrt(x^2 - 1))", "(sqrt(x - 1) - sqrt(x + 1))/sqrt(2)"),
        ("sqrt(x sqrt(x) - x^2)", "x^(3/4) sqrt(1 + sqrt(x))"),
    ],
)
def test_roots_in_roots_with_a_sign_wrong(left: str, right: str) -> None:
    assert isinstance(decide_equal(read(left).tree, read(right).tree, x), Refuted)


@settings(max_examples=60)
@given(st.integers(-6, 6), st.integers(1, 5), st.integers(-6, 6), st.sampled_from((1, -1)))
def test_the_root_of_a_square_of_two_roots(b: int, a: int, d: int, turn: int) -> None:
    """(sqrt(a x + b) + s sqrt(x + d))^2 taken apart and put under a root again is its modulus."""
    assume((a, b) != (1, d))
    two = f"sqrt({a} x + {b})", f"sqrt(x + {d})"
    sign = "+" if turn > 0 else "-"
    left = f"sqrt({a} x + {b} + x + {d} {sign} 2 {two[0]} {two[1]})"
    right = f"|{two[0]} {sign} {two[1]}|"
    assert isinstance(decide_equal(read(left).tree, read(right).tree, x), Proved)
