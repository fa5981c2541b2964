"""Applications against classical values, and against mpmath, which integrates the definitions themselves."""

from __future__ import annotations

import mpmath
import pytest
import sympy

from qbank.maths.enclosing import enclose
from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import plain
from qbank.maths.oracle import to_sympy
from qbank.techniques.applications.asked import ApplicationRefused, Asked, Kind
from qbank.techniques.applications.working import WorkedApplication, application_slips, work_application
from tests.techniques.solving import X, tree


def worked(kind: Kind, curves: tuple[str, ...], limits: tuple[str, str] | None) -> WorkedApplication:
    ends = None if limits is None else (tree(limits[0]), tree(limits[1]))
    return work_application(Asked(kind=kind, curves=tuple(map(tree, curves)), variable=X, limits=ends))


#: values that every course knows, from memory; the numbers chosen so that they show
CLASSICAL: tuple[tuple[Kind, tuple[str, ...], tuple[str, str] | None, str], ...] = (
    # a quarter of an ellipse with the axes 3 and 2: pi a b / 4
    ("area", ("2/3 sqrt(9 - x^2)",), ("0", "3"), "3pi/2"),
    # a segment of a parabola is 2/3 of the rectangle around it (Archimedes)
    ("area", ("4 - x^2",), None, "32/3"),
    ("area", ("x^2", "sqrt(x)"), None, "1/3"),
    ("area", ("sin(x)",), ("0", "2pi"), "4"),
    # sphere 4/3 pi r^3, cone 1/3 pi r^2 h, spheroid 4/3 pi a b^2, paraboloid half of its cylinder
    ("volume", ("sqrt(9 - x^2)",), ("-3", "3"), "36pi"),
    ("volume", ("2x/5",), ("0", "5"), "20pi/3"),
    ("volume", ("2/3 sqrt(9 - x^2)",), ("-3", "3"), "16pi"),
    ("volume", ("3 sqrt(x/2)",), ("0", "2"), "9pi"),
    # a hollow cylinder, and a ring that a region below the axis makes: the same as above it
    ("volume", ("3", "2"), ("0", "4"), "20pi"),
    ("volume", ("-3", "-2"), ("0", "4"), "20pi"),
    # arcs: semicubical parabola (Neil), catenary sinh a, and a straight line
    ("arc-length", ("x sqrt(x)",), ("0", "4"), "(80 sqrt(10) - 8)/27"),
    ("arc-length", ("cosh(x)",), ("0", "1"), "sinh(1)"),
    ("arc-length", ("(e^x + e^(-x))/2",), ("0", "ln 2"), "3/4"),
    ("arc-length", ("3x/4 + 1",), ("0", "4"), "5"),
    ("arc-length", ("x^3/6 + 1/(2x)",), ("1", "3"), "14/3"),
    ("arc-length", ("ln(cos(x))",), ("0", "pi/4"), "ln(1 + sqrt(2))"),
    ("arc-length", ("sqrt(4 - x^2)",), ("-1", "1"), "2pi/3"),
    # the mean of a half wave is 2/pi, that of its square a half
    ("mean-value", ("sin(x)",), ("0", "pi"), "2/pi"),
    ("mean-value", ("sin(x)^2",), ("0", "pi"), "1/2"),
    ("displacement", ("sin(x)",), ("0", "2pi"), "0"),
    ("distance", ("sin(x)",), ("0", "2pi"), "4"),
)


@pytest.mark.parametrize(("kind", "curves", "limits", "value"), CLASSICAL)
def test_classical_values(
    kind: Kind, curves: tuple[str, ...], limits: tuple[str, str] | None, value: str
) -> None:
    found = to_sympy(worked(kind, curves, limits).value)
    assert sympy.simplify((found - to_sympy(tree(value))).rewrite(sympy.exp)) == 0


#: what is asked, to be held against the definition
ASKED: tuple[tuple[Kind, tuple[str, ...], tuple[str, str] | None], ...] = (
    *((kind, curves, limits) for kind, curves, limits, _ in CLASSICAL),
    ("area", ("x^3 - 4x",), ("-1", "3")),
    ("area", ("x^3", "4x"), None),
    ("area", ("x^2 - 3x - 1", "x + 1"), None),
    ("area", ("sin(x)", "cos(x)"), ("pi/4", "2pi")),
    ("area", ("e^x - 2",), ("0", "2")),
    ("area", ("4/x", "5 - x"), ("1", "4")),
    ("area", ("1 + cos(x)",), ("0", "pi")),
    ("area", ("x e^(-x)", "x/2"), ("0", "2")),
    ("volume", ("6x - x^2",), None),
    ("volume", ("4x - x^2", "x"), None),
    ("volume", ("sqrt(x)", "x/2"), ("0", "6")),
    # the curves change places at 0, and the outer one stays the outer one: the sides of the axis change too
    ("volume", ("x", "2x"), ("-1", "1")),
    ("volume", ("x - 2", "x^2 - 4"), None),
    ("volume", ("2 + sin(x)",), ("0", "pi")),
    ("volume", ("e^x + 1", "1"), ("0", "1")),
    ("arc-length", ("x^2/4 - ln(x)/2",), ("1", "2")),
    ("arc-length", ("2/3 (x - 1)^(3/2)",), ("1", "4")),
    ("mean-value", ("6x - x^2",), ("1", "4")),
    ("mean-value", ("1/x",), ("1", "4")),
    ("displacement", ("3x^2 - 12x + 9",), ("0", "4")),
    ("distance", ("3x^2 - 12x + 9",), ("0", "4")),
    ("distance", ("6 - 4 sqrt(x)",), ("0", "9")),
)  # fmt: skip


def by_definition(asked: Asked, limits: tuple[Expression, Expression]) -> mpmath.mpf:
    """The answer as its definition says, by quadrature; meeting places are only where quadrature is split."""
    x = to_sympy(X)
    curves = [to_sympy(curve) for curve in asked.curves]
    functions = [sympy.lambdify(x, curve, "mpmath") for curve in curves]
    first = functions[0]
    second = functions[1] if len(functions) > 1 else lambda _: 0
    slope = sympy.lambdify(x, sympy.diff(curves[0], x), "mpmath")
    integrands = {
        "area": lambda t: abs(first(t) - second(t)),
        "distance": lambda t: abs(first(t)),
        "volume": lambda t: mpmath.pi * abs(first(t) ** 2 - second(t) ** 2),
        "arc-length": lambda t: mpmath.sqrt(1 + slope(t) ** 2),
        "displacement": first,
        "mean-value": first,
    }
    lower, upper = (mpmath.mpf(sympy.N(to_sympy(limit), 30)) for limit in limits)
    steps = [lower + (upper - lower) * k / 24 for k in range(25)]
    value = mpmath.quad(integrands[asked.kind], steps, maxdegree=8)
    return value / (upper - lower) if asked.kind == "mean-value" else value


@pytest.mark.parametrize(("kind", "curves", "limits"), ASKED)
def test_values_are_those_of_the_definition(
    kind: Kind, curves: tuple[str, ...], limits: tuple[str, str] | None
) -> None:
    found = worked(kind, curves, limits)
    plan = found.set_up
    if limits is None:
        gap = to_sympy(plan.asked.curves[0])
        gap -= to_sympy(plan.asked.curves[1]) if len(curves) > 1 else 0
        roots = sorted(sympy.solveset(gap, to_sympy(X), sympy.Reals), key=sympy.N)
        ends = (to_sympy(plan.limits[0]), to_sympy(plan.limits[1]))
        assert [
            sympy.simplify(one - other) for one, other in zip(ends, (roots[0], roots[-1]), strict=True)
        ] == [0, 0]
    value = by_definition(plan.asked, plan.limits)
    exact = enclose(found.value, at={})
    assert exact is not None
    # quadrature of a modulus with a kink is good to some digits
    assert float(exact.lower) == pytest.approx(float(value), rel=2e-5, abs=2e-5)
    lower, upper = found.enclosure
    assert lower <= exact.upper
    assert exact.lower <= upper


@pytest.mark.parametrize(("kind", "curves", "limits"), ASKED)
def test_slips_are_wrong_and_enough(
    kind: Kind, curves: tuple[str, ...], limits: tuple[str, str] | None
) -> None:
    found = worked(kind, curves, limits)
    right = enclose(found.value, at={})
    assert right is not None
    values = {}
    for slip in application_slips(found):
        value = slip.value()
        if value is not None:
            wrong = enclose(value, at={})
            assert wrong is not None
            assert wrong.upper < right.lower or right.upper < wrong.lower, (slip.slip, plain(value))
            values[slip.slip] = wrong.decimal
    assert len(set(values.values())) >= 3, values


def test_each_kind_has_slips_of_its_own() -> None:
    own: dict[str, set[str]] = {}
    for kind, curves, limits in ASKED:
        for slip in worked(kind, curves, limits).set_up.wrong:
            own.setdefault(kind, set()).add(slip.slip)
    assert {kind for kind, slips in own.items() if len(slips) >= 4} == set(own)
    assert len(own) == 6


@pytest.mark.parametrize(
    ("kind", "curves", "limits", "reason"),
    [
        ("area", ("1/x",), ("-1", "2"), "not certain to be defined"),
        ("area", ("sqrt(x)",), ("-1", "2"), "not certain to be defined"),
        ("area", ("x^2", "x^2 + 1"), None, "nothing is enclosed"),
        ("area", ("x^2", "x^2"), ("0", "1"), "the same"),
        ("area", ("x^2",), ("2", "1"), "the smaller first"),
        ("area", ("sin(x)",), None, "not certain that the curves meet nowhere else"),
        ("area", ("x^3", "2"), ("0", "2"), "no closed form"),
        ("volume", ("x", "x - 1"), ("0", "1"), "the axis runs through"),
        ("volume", ("x^2 - 1", "1 - x^2"), None, "the axis runs through"),
        ("arc-length", ("sqrt(x)",), ("0", "1"), "not certain to be defined"),
        ("arc-length", ("x^3",), ("0", "1"), "no technique"),
        ("mean-value", ("x",), None, "two limits are wanted"),
    ],
)
def test_refusals(kind: Kind, curves: tuple[str, ...], limits: tuple[str, str] | None, reason: str) -> None:
    with pytest.raises(ApplicationRefused, match=reason):
        worked(kind, curves, limits)


def test_the_working_of_a_region_in_two_parts() -> None:
    found = worked("area", ("x^3 - 4x",), ("-1", "2"))
    rows = [
        (row.kind, [plain(one) for one in row.statements], row.rule)
        for row in found.rows("C")
        if row.rule in ("curves-meet", "factorise", "places-found", "sign-between", "set-up", "together")
    ]
    assert [rule for _, _, rule in rows] == [
        "curves-meet", "factorise", "places-found", "sign-between", "sign-between", "set-up", "together",
    ]  # fmt: skip
    assert rows[1][1] == ["x (x - 2) (x + 2) = 0"]
    assert rows[2][1] == ["x = 0"]
    assert rows[3][1] == ["(-1/2)^3 - 4(-1/2) = 15/8"]
    assert rows[5][1] == ["A = ∫_(-1)^0 (x^3 - 4x) dx - ∫_0^2 (x^3 - 4x) dx"]
    assert plain(found.value) == "23/4"
    # the antiderivative is found once
    assert sum(row.kind == "start" for row in found.rows("C")) == 3


def test_every_line_of_a_set_up_is_proved() -> None:
    for kind, curves, limits in ASKED:
        found = worked(kind, curves, limits)
        for line in (*found.set_up.lines, *found.lines):
            assert line.proof.method, line
            assert line.reason.endswith(".")
        last = found.set_up.lines[-1]
        assert any(isinstance(one, Equation) for one in last.statements) or last.kind == "step"


def test_a_letter_of_its_own() -> None:
    t = Symbol("t")
    asked = Asked(kind="distance", curves=(4 - 2 * t,), variable=t, limits=(tree("0"), tree("3")))
    assert plain(work_application(asked).value) == "5"
