"""Pictures are true to the curves: what is drawn lies on them, to a part of a pixel. SymPy says where they are."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import mpmath
import pytest
import sympy

from qbank.items.applications.frame import Frame, dense
from qbank.items.applications.labelling import Room, readable
from qbank.items.applications.outline import Outline
from qbank.items.applications.plotting import figure_of
from qbank.items.applications.sampling import Node, bends, sampled
from qbank.maths.conventions import DEFAULT
from qbank.maths.expression import Symbol
from qbank.maths.oracle import to_sympy
from qbank.techniques.applications.asked import Asked, Kind
from qbank.techniques.applications.working import set_up
from qbank.writers.figures import svg
from tests.techniques.solving import X, tree


def test_a_level_tangent_is_no_vertical_one() -> None:
    nodes = sampled(tree("4 - x^2"), X, Fraction(-2), Fraction(2), 4)
    assert [node.slope for node in nodes if not node.x] == [0]
    steep = sampled(tree("sqrt(x)"), X, tree("0"), tree("4"), 4)
    assert [node.slope for node in steep if node.slope is None] == [None]
    assert [node.y for node in (steep[0], steep[-1])] == [0, 2]


@pytest.mark.parametrize(
    ("text", "lower", "upper"),
    [
        ("6x - x^2", "0", "6"),
        ("sin(3x)", "0", "2pi"),
        ("e^x - 2", "0", "2"),
        ("1/x", "1/2", "5"),
        ("x e^(-x)", "0", "6"),
        ("sqrt(9 - x^2)", "-3", "3"),
        ("sqrt(x)", "0", "4"),
    ],
)
def test_what_is_drawn_lies_on_the_curve(text: str, lower: str, upper: str) -> None:
    """Midway through each Bezier curve the height is that of the function, to half a pixel of about 220."""
    kind = "volume" if text.startswith("sqrt") else "area"
    plan = set_up(
        Asked(kind=kind, curves=(tree(text),), variable=X, limits=(tree(lower), tree(upper)))  # type: ignore[arg-type]
    )
    outline = Outline(plan)
    function = sympy.lambdify(to_sympy(X), to_sympy(tree(text)), "mpmath")
    size = float(outline.frame.top - outline.frame.bottom)
    nodes = outline.curves[0]
    for one, (first, second, end) in zip(nodes, bends(nodes), strict=False):
        across, height = (
            (start + 3 * a + 3 * b + last) / 8
            for start, a, b, last in zip((one.x, one.y), first, second, end, strict=True)
        )
        away = abs(float(function(mpmath.mpf(float(across)))) - float(height))
        # beside a vertical tangent the height says little: there it is the place across that counts
        steep = one.slope is None or abs(one.slope) > 50
        assert away < size / 480 or (steep and away < size / 40), (float(across), away / size)
    assert all(one.x < other.x for one, other in pairwise(nodes))


def test_places_are_rounded_to_hundredths_of_a_pixel() -> None:
    frame = Frame(Fraction(0), Fraction(3), Fraction(0), Fraction(1))
    # 26 pixels aside, 328 of 380 between; a third of it is 109.333...
    assert frame.across(Fraction(1)) == 2600 + 10933
    assert frame.across(Fraction(2)) == 2600 + 21867
    assert frame.down(Fraction(1)) == 2200
    assert Node(Fraction(1), Fraction(2), Fraction(3)).mirrored() == Node(
        Fraction(1), Fraction(-2), Fraction(-3)
    )
    assert list(dense([(0, 0), (0, 250)])) == [(0, 0), (0, 250)]


def test_a_text_goes_where_there_is_room() -> None:
    room = Room((0, 0, 10000, 10000))
    room.take([(1000, 1000)])
    wished = [((800, 1200), "start"), ((5000, 5000), "start")]
    assert room.put("y", wished).at == (5000, 5000)  # type: ignore[arg-type]
    # that is taken now, so that the next one goes elsewhere
    assert room.put("x", [wished[1], ((8000, 5000), "start")]).at == (8000, 5000)  # type: ignore[list-item]


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("x^2 - 3x", "x² − 3x"),
        ("sqrt(3x)", "√(3x)"),
        ("sqrt(x)", "√x"),
        ("e^(-x)", "e⁻ˣ"),
        ("e^(x/2)", "e^(x/2)"),
        ("3pi/4", "3π/4"),
        ("(x^2 + 3x + 1)/(x^2 + 5x + 4)", None),
    ],
)
def test_formulas_in_one_line(text: str, shown: str | None) -> None:
    assert readable(tree(text), DEFAULT) == shown
    assert readable(Symbol("t"), DEFAULT) == "t"


@pytest.mark.parametrize(
    ("name", "kind", "curves", "limits"),
    [
        ("region", "area", ("6x - x^2", "2x"), None),
        ("solid", "volume", ("sqrt(x + 1)",), ("0", "3")),
        ("length", "arc-length", ("cosh(x)",), ("-1", "2")),
    ],
)
def test_golden(
    name: str, kind: Kind, curves: tuple[str, ...], limits: tuple[str, str] | None, update_goldens: bool
) -> None:
    """The bytes are the same on every machine: values are rounded correctly, and no floating point is written."""
    ends = None if limits is None else (tree(limits[0]), tree(limits[1]))
    plan = set_up(Asked(kind=kind, curves=tuple(map(tree, curves)), variable=X, limits=ends))
    text = svg(figure_of(plan, DEFAULT))
    golden = Path(__file__).parents[1] / "golden" / "figures" / f"{name}.svg"
    if update_goldens:
        golden.parent.mkdir(exist_ok=True)
        golden.write_text(text, encoding="utf-8")
    assert text == golden.read_text(encoding="utf-8"), "run pytest --update-goldens, and look at what it drew"
