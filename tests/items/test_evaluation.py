"""Evaluations: one number whatever the form of the answer, and every slip a clearly different one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from functools import cache
from itertools import combinations, islice

import mpmath
import pytest
import sympy

from qbank.bank.drawing import Stream, draws
from qbank.bank.loading import parse_bank
from qbank.bank.model import Bank
from qbank.cli.arguments import open_bank
from qbank.items.building import build_item
from qbank.items.checking import check_template
from qbank.items.cloning import ShortageError, clones
from qbank.items.item import Item, Numeric
from qbank.items.places import pairs, places
from qbank.items.refusal import DrawRefused
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.enclosing import enclose
from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Symbol
from qbank.maths.oracle import to_sympy
from qbank.maths.reading import read
from qbank.maths.verdict import Proved
from qbank.techniques.planner import solve_with, technique

X = Symbol("x")
HEAD = 'identifier: trial\ntitle: A trial\nlanguage: en\nlicence: CC0-1.0\nversion: "1.0.0"\ntemplates:\n'


def trial(body: str) -> Bank:
    lines = "".join(f"    {line}\n" for line in body.strip().splitlines())
    head = "  - identifier: one\n    title: One\n    responses: [evaluation]\n"
    return parse_bank((HEAD + head + lines).encode(), "trial.yaml")


@cache
def items() -> tuple[Item, ...]:
    """An evaluation from each indefinite template of the shipped bank that gives one among its first draws."""
    return tuple(_built())


def _built() -> Iterator[Item]:
    bank = open_bank(None)
    for template in bank.templates:
        if template.task == "definite" or template.technique is None:
            continue
        for draw in islice(draws(bank, template, 8), 3):
            try:
                yield build_item(bank, replace(template, responses=("evaluation",)), draw, "evaluation")
            except DrawRefused:
                continue
            break


def test_most_templates_can_be_asked_in_this_way() -> None:
    assert len(items()) >= 18
    assert {item.form for item in items()} == {"evaluation"}
    assert len({item.technique for item in items()}) >= 7


def value(tree: Expression, at: Expression) -> Fraction | None:
    found = enclose(tree.substitute({X: at}), at={}, digits=25)
    return None if found is None else (found.lower + found.upper) / 2


def test_the_number_is_that_of_plain_quadrature() -> None:
    """Beside mpmath's quadrature, which knows of no antiderivative, and rounding of the decimal module."""
    for item in items():
        response, through = item.response, item.through
        assert isinstance(response, Numeric)
        assert through is not None
        ends = [mpmath.mpf(str(float(number(place)))) for place in (through.point, through.at)]
        exact = float(through.value) + mpmath.quad(
            sympy.lambdify(sympy.Symbol("x"), to_sympy(item.integrand), "mpmath"), ends
        )
        assert abs(exact) > 0.009
        rounded = Context(prec=response.figures, rounding=ROUND_HALF_UP).create_decimal(Decimal(str(exact)))
        assert Decimal(response.decimal) == rounded, item.identifier
        assert response.lower < Fraction(Decimal(str(exact))) < response.upper
        assert item.enclosure is not None
        assert (
            item.enclosure[0] - Fraction(1, 10**9)
            < Fraction(Decimal(str(exact)))
            < item.enclosure[1] + Fraction(1, 10**9)
        )


def number(place: Expression) -> Fraction:
    found = enclose(place, at={}, digits=25)
    assert found is not None
    return found.lower


def test_every_slip_gives_a_clearly_different_number_and_is_recognised() -> None:
    for item in items():
        response, through = item.response, item.through
        assert isinstance(response, Numeric)
        assert through is not None
        assert item.technique is not None
        unit = response.upper - response.lower
        solution = solve_with(item.technique, item.integrand, item.variable)
        assert solution is not None
        told = {slip.slip: slip for slip in response.slips}
        recognised = [(slip.lower, slip.upper) for slip in response.slips]
        for wrong in technique(item.technique).wrong_answers(solution):
            if wrong.answer.symbols() - {X}:
                continue
            begin, end = value(wrong.answer, through.point), value(wrong.answer, through.at)
            if begin is None or end is None:
                assert wrong.slip not in told
                continue
            typed = through.value + end - begin
            verdict = decide_antiderivative(wrong.answer, item.integrand, item.variable)
            if isinstance(verdict, Proved):
                assert wrong.slip not in told
                continue
            assert typed < response.lower - unit or typed > response.upper + unit, (item.identifier, wrong)
            # told of this slip, or of the one before it that is the same function
            (own,) = [place for place, (lower, upper) in enumerate(recognised) if lower <= typed <= upper]
            assert wrong.slip not in told or response.slips[own].slip == wrong.slip
            shown = enclose(response.slips[own].value, at={}, digits=20)
            assert shown is not None
            assert response.slips[own].lower <= shown.lower <= response.slips[own].upper
        intervals = [*recognised, (response.lower, response.upper)]
        assert all(a[1] < b[0] or b[1] < a[0] for a, b in combinations(intervals, 2)), item.identifier
        assert {"given-value-not-added", "constant-not-found"} & set(told)


def test_the_question_and_the_working_say_it_all() -> None:
    for item in items():
        through = item.through
        assert through is not None
        shown = [piece for piece in item.prompt if not isinstance(piece, str)]
        assert shown[2:4] == [Equation(item.variable, through.point), Equation(item.variable, through.at)]
        assert item.title == "Evaluate an antiderivative"
        rules = [row.rule for row in item.working]
        assert {"given-value", "constant-found", "value-wanted"} <= set(rules)
        last = item.working[-1].statements[-1]
        assert last == item.key
        words = "".join(piece for piece in item.prompt if isinstance(piece, str))
        circular = any(name in repr(item.integrand) for name in ("'sin'", "'cos'", "'tan'", "'cot'", "'sec'"))
        assert ("radians" in words) is circular


def test_the_same_item_every_time() -> None:
    bank = open_bank(None)
    template = replace(bank.template("number-over-a-root"), responses=("evaluation",))
    assert list(clones(bank, template, 2, 3)) == list(clones(bank, template, 2, 3))


@pytest.mark.parametrize(
    ("body", "reason"),
    [
        ('antiderivative: "e^(40x)"\nintegrand: "40e^(40x)"\ndomain: ["0", "1/10"]', "no places"),
        # asked for on an interval without a friendly number
        ('technique: standard-forms\nintegrand: "1/x"\ndomain: ["1/1000", "1/999"]', "no places"),
        # a distractor that vanishes with the right answer wherever a value may be given
        (
            'antiderivative: "x"\nintegrand: "1"\ndistractors:\n  - {answer: "x + 10^(-6) x^2", feedback: No.}',
            "most often because",
        ),
    ],
)
def test_a_template_without_good_places_says_so(body: str, reason: str) -> None:
    bank = trial(body)
    with pytest.raises(ShortageError, match=f"template 'one' gives 0.*{reason}"):
        next(clones(bank, bank.templates[0], 1, 1))
    report = check_template(bank, bank.templates[0], sample=None)
    assert report.proved == 0
    assert report.problems == (f"none of 1 draws gives an item for evaluation: {report.passed_over[0][0]}",)


def test_the_authors_answer_and_distractors() -> None:
    bank = trial(
        'antiderivative: "x^2 e^x"\nintegrand: "(x^2 + 2x) e^x"\ndomain: ["0", "3"]\ndistractors:\n'
        '  - {answer: "x^2 e^x/2", feedback: Twice as much.}\n'
        # right but for the constant: no slip
        '  - {answer: "x^2 e^x + 4", feedback: Never said.}\n'
        # the same as the first
        '  - {answer: "x^2 e^x/2 + 1", feedback: Not said either.}\n'
        '  - {answer: "ln(0 - x)", feedback: Gives no number.}'
    )
    item = next(clones(bank, bank.templates[0], 1, 1))
    assert isinstance(item.response, Numeric)
    assert item.through is not None
    assert all(0 < number(place) < 3 for place in (item.through.point, item.through.at))
    said = [piece for slip in item.response.slips for piece in slip.feedback]
    assert "Not this one. Twice as much." in said
    assert not any("Never" in str(one) or "either" in str(one) or "no number" in str(one) for one in said)
    assert item.working[0].kind == "start"
    assert item.working[1].rule == "antiderivative"


def test_both_places_lie_in_one_piece() -> None:
    bank = trial(
        'technique: standard-forms\nparameters: {p: {kind: integer, from: 2, to: 9}}\nintegrand: "p/x"'
    )
    for item in clones(bank, bank.templates[0], 8, 1):
        assert item.through is not None
        assert number(item.through.point) * number(item.through.at) > 0


def test_places_are_drawn_from_friendly_ones() -> None:
    angles, numbers = places(read("sin(2x) cos(3x)", variable=X).tree, X)
    (only,) = places(read("sin(2x + 1)", variable=X).tree, X)
    assert only == numbers
    drawn = list(pairs((angles, numbers), Stream("a")))
    assert (
        len(drawn) == len(set(drawn)) == len(angles) * (len(angles) - 1) + len(numbers) * (len(numbers) - 1)
    )
    assert all(one in angles and other in angles for one, other in drawn[: len(angles) * (len(angles) - 1)])
    assert drawn != list(pairs((angles, numbers), Stream("b")))
