"""The antiderivative through a point: its values beside mpmath's quadrature, and what is refused."""

from __future__ import annotations

from fractions import Fraction

import mpmath
import pytest

from qbank.maths.enclosing import enclose
from qbank.maths.equation import Equation
from qbank.maths.expression import PI, Expression, Integer, Quotient, Symbol, rational
from qbank.maths.notation import plain
from qbank.maths.reading import read
from qbank.maths.verdict import Proof
from qbank.techniques.particular import ParticularRefused, changed_by, work_particular, worked_out
from qbank.techniques.planner import solve

X, C = Symbol("x"), Symbol("C")
HALF = rational(Fraction(1, 2))


def tree(text: str) -> Expression:
    return read(text, variable=X).tree


@pytest.mark.parametrize(
    ("integrand", "function", "point", "at", "given", "constant", "value"),
    [
        # by hand: F = 3/2 ln|2x + 1| + C
        ("3/(2x + 1)", lambda x: 3 / (2 * x + 1), Integer(0), HALF, 2, "2", "3/2 ln 2 + 2"),
        # by hand: F = x/2 - 1/4 sin 2x + C, sin(pi/2) = 1
        ("sin(x)^2", lambda x: mpmath.sin(x) ** 2, Integer(0), PI / 4, 1, "1", "pi/8 + 3/4"),
        # circular functions of whole numbers are left alone
        (
            "sin(3x + 1)^3",
            lambda x: mpmath.sin(3 * x + 1) ** 3,
            Integer(0),
            Integer(1),
            4,
            "4 + 1/3 cos 1 - 1/9 cos^3 1",
            "-1/3 cos 4 + 1/9 cos^3 4 + 4 + 1/3 cos 1 - 1/9 cos^3 1",
        ),
        ("1/sqrt(9 - x^2)", lambda x: 1 / mpmath.sqrt(9 - x**2), HALF, rational(-1), -1, None, None),
        ("cot(3x + 4)^3", lambda x: mpmath.cot(3 * x + 4) ** 3, Integer(0), HALF, 2, None, None),
        (
            "e^(2x) + cos(x)",
            lambda x: mpmath.exp(2 * x) + mpmath.cos(x),
            Integer(1),
            rational(-1),
            3,
            None,
            None,
        ),
    ],
)
def test_values(
    integrand: str,
    function: object,
    point: Expression,
    at: Expression,
    given: int,
    constant: str | None,
    value: str | None,
) -> None:
    asked = tree(integrand)
    solution = solve(asked, X)
    assert solution is not None
    worked = work_particular(solution.antiderivative, asked, X, C, point=point, given=Fraction(given), at=at)
    ends = [mpmath.mpf(float(enclose(place, at={}).lower)) for place in (point, at)]  # type: ignore[union-attr]
    expected = given + mpmath.quad(function, ends)
    bounds = enclose(worked.value, at={}, digits=20)
    assert bounds is not None
    assert bounds.upper >= worked.enclosure[0]
    assert bounds.lower <= worked.enclosure[1]
    assert abs(float(bounds.lower) - expected) < 1e-9
    assert all(isinstance(line.proof, Proof) for line in worked.lines)
    condition, found, *rest = (line.statements[0] for line in worked.lines)
    assert isinstance(condition, Equation)
    assert condition.right == rational(given)
    assert found == Equation(C, worked.constant)
    assert rest[-1] == worked.value
    if constant is not None:
        assert plain(worked.constant).replace(" ", "") == plain(tree(constant)).replace(" ", "")
    if value is not None:
        assert plain(worked.value).replace(" ", "") in (
            value.replace(" ", ""),
            plain(tree(value)).replace(" ", ""),
        )


@pytest.mark.parametrize(
    ("antiderivative", "integrand", "point", "at", "reason"),
    [
        ("ln|x|", "1/x", -1, 2, "no one piece"),
        # the integral exists, but the constant may change at 0
        ("3/2 x^(2/3)", "1/x^(1/3)", -1, 1, "no one piece"),
        # an antiderivative on two pieces that meet: it jumps where the tangent has its pole
        ("arctan(2 tan(x)/2)", "1 + 0 x", 1, 2, "no one piece"),
        # no antiderivative at all
        ("x^2", "3 x^2", 0, 2, "disagree"),
        ("ln x", "1/x", -2, -1, "no one piece"),
    ],
)
def test_what_is_refused(antiderivative: str, integrand: str, point: int, at: int, reason: str) -> None:
    places = {"point": rational(point), "at": rational(at)}
    with pytest.raises(ParticularRefused, match=reason):
        work_particular(tree(antiderivative), tree(integrand), X, C, given=Fraction(1), **places)


def test_a_place_has_to_be_a_number() -> None:
    with pytest.raises(ParticularRefused, match="not a number"):
        work_particular(X, Integer(1), X, C, point=tree("ln(0 - 1)"), given=Fraction(1), at=Integer(1))


@pytest.mark.parametrize(
    ("constant", "shown"),
    [
        ("sqrt(12) + sin(pi/3)", "5 sqrt(3)/2"),
        ("e^(3*0) + sin(5*0) + cos 2", "1 + cos 2"),
        ("(pi - 2)^8/8", "(pi - 2)^8/8"),
        ("arctan 1", "pi/4"),
        # there is no value at 0, and so nothing is put in
        ("ln 0", "ln 0"),
    ],
)
def test_numbers_worked_out(constant: str, shown: str) -> None:
    assert plain(worked_out(tree(constant))) == shown


def test_a_wrong_antiderivative_through_the_same_point() -> None:
    # x^3 made to be 4 at 1 is 11 at 2
    assert changed_by(X**3, X, Integer(1), Fraction(4), Integer(2)) == Integer(11)
    assert changed_by(Quotient(X, Integer(2)), X, Integer(1), Fraction(0), Integer(3)) == Integer(1)
