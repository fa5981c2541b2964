"""Options of definite integrals: the place of the key among them tells nothing, and two slips are two."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import cache
from itertools import islice

import pytest

from qbank.bank.drawing import Stream, draws
from qbank.cli.arguments import open_bank
from qbank.items.building import build_item
from qbank.items.distractors import Candidate
from qbank.items.item import Choice
from qbank.items.values import double_values, likeness, placed
from qbank.maths.enclosing import enclose
from qbank.maths.expression import Expression, Integer, Symbol, rational
from qbank.maths.reading import read
from qbank.techniques.definite import DefiniteSolution, definite_slips, limit_slips, work_definite
from qbank.techniques.planner import solve_with

#: clones of each template, with a seed of their own
COUNT = 24
TEMPLATES = ("definite-sine-squared", "definite-power-of-a-quadratic")


@cache
def choices(template: str) -> tuple[Choice, ...]:
    return tuple(_choices(template))


def _choices(name: str) -> Iterator[Choice]:
    bank = open_bank(None)
    template = bank.template(name)
    for draw in islice(draws(bank, template, 21), COUNT):
        response = build_item(bank, template, draw, "choice").response
        assert isinstance(response, Choice)
        yield response


def size(tree: Expression) -> float:
    found = enclose(tree, at={}, digits=17)
    assert found is not None
    return float(found.lower)


@pytest.mark.parametrize("template", TEMPLATES)
def test_each_place_among_the_sorted_values_is_as_likely(template: str) -> None:
    """Of 24 keys over 4 places the mean is 6, the standard deviation above 2."""
    places: Counter[int] = Counter()
    for choice in choices(template):
        values = sorted(size(option.answer) for option in choice.options)
        places[values.index(size(choice.key.answer))] += 1
    assert all(2 <= places[place] <= 11 for place in range(4)), places


@pytest.mark.parametrize("template", TEMPLATES)
def test_neither_sizes_nor_looks_nor_the_sign_give_the_key_away(template: str) -> None:
    smallest = most_alike = alone = 0.0
    for choice in choices(template):
        answers = [option.answer for option in choice.options]
        key = answers.index(choice.key.answer)
        sizes = [abs(size(answer)) for answer in answers]
        smallest += sizes[key] == min(sizes)
        looks = [sum(row) for row in likeness(answers)]
        best = [place for place, look in enumerate(looks) if look == max(looks)]
        most_alike += (key in best) / len(best)
        alone += sum((size(answer) > 0) == (size(answers[key]) > 0) for answer in answers) == 1
    assert smallest / COUNT < 0.6
    assert most_alike / COUNT < 0.45
    assert alone / COUNT < 0.15


def worked(technique: str, text: str, lower: Expression, upper: Expression) -> DefiniteSolution:
    x = Symbol("x")
    integrand = read(text, variable=x).tree
    return work_definite(integrand, x, lower, upper, solution=solve_with(technique, integrand, x))


def test_a_value_with_two_slips_is_that_of_neither() -> None:
    solution = worked("substitution", "6 x (x^2 + 1)^2", Integer(1), Integer(2))
    singles = {size(slip.answer) for slip in definite_slips(solution)}
    doubles = list(double_values(solution, Stream("a")))
    assert doubles
    by_name = {candidate.slip: candidate for candidate in doubles}
    for candidate in doubles:
        assert size(candidate.answer) not in singles or candidate.slip.count("+") == 1
        assert candidate.sentence.startswith("Two slips have come together.")
        assert abs(size(candidate.answer) - size(solution.value)) > 1e-9
    # by hand: u = x^2 + 1, 3 u^2 du gives u^3; without dividing by 2x the integral is 2 u^3, and swapped 2(8 - 125)
    forgotten = by_name["substitution-constant-of-du-forgotten + limits-swapped"]
    assert forgotten.answer == rational(-234)


def test_two_slips_with_the_effect_of_one_are_that_one() -> None:
    # nothing is subtracted at 0, so that to ignore the lower limit changes nothing
    solution = worked("standard-forms", "x^2", Integer(0), Integer(3))
    assert not [one for one in double_values(solution, Stream("a")) if "lower-limit" in one.slip]
    assert {slip.slip for slip in limit_slips(solution, Symbol("x"))} == {
        "lower-limit-ignored", "limits-swapped", "value-at-lower-limit-added",
    }  # fmt: skip


def test_the_place_is_taken_as_nearly_as_can_be() -> None:
    key = Integer(10)
    values = [Candidate(slip=f"slip-{n}", sentence=".", answer=rational(n)) for n in (11, 12, 13, 10, 14, 12)]
    for seed in range(8):
        found = list(placed(values, (), key, 3, Stream(str(seed))))
        # all candidates are larger; the right value and one that is there already are no options
        assert {size(candidate.answer) for candidate in found} == {11, 12, 13, 14}
    few = list(placed(values[:2], (), key, 3, Stream("a")))
    assert len(few) == 2
    mixed = [*values, *(Candidate(slip=f"low-{n}", sentence=".", answer=Integer(n)) for n in (3, 4, 5))]
    places = set()
    for seed in range(40):
        chosen = list(placed(mixed, (), key, 3, Stream(str(seed))))[:3]
        places.add(sum(size(candidate.answer) < 10 for candidate in chosen))
    assert places == {0, 1, 2, 3}
