"""Two slips in one answer, and options that do not stand out: the key is not to be found by its looks."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from qbank.authoring.linting import gives_away
from qbank.cli.arguments import open_bank
from qbank.items import pairing
from qbank.items.cloning import clones
from qbank.items.distractors import Candidate, is_plain, plain_first
from qbank.items.item import Choice, Item
from qbank.items.pairing import apart, both, paired
from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import plain
from qbank.maths.reading import read
from qbank.techniques.planner import TECHNIQUES

X = Symbol("x")


def tree(text: str) -> Expression:
    return read(text, variable=X).tree


def candidate(name: str, text: str) -> Candidate:
    return Candidate(slip=name, sentence=f"{name}.", answer=tree(text))


@pytest.mark.parametrize(
    ("key", "one", "two", "together"),
    [
        ("3/2 sin 2x", "-3/2 sin 2x", "3 sin 2x", "-3 sin 2x"),
        ("x/2 - 1/4 sin 2x", "x/2 + 1/4 sin 2x", "x/2 - 1/2 sin 2x", "1/2 x + 1/2 sin 2x"),
        ("x/2 - 1/4 sin 2x", "x/2", "x - 1/2 sin 2x", "x"),
        ("1/3 tan x - x", "tan x - x", "1/3 tan x", "tan x"),
        # one changes the numbers, the other the functions
        ("3/4 arctan((x+4)/4)", "3 arctan((x+4)/4)", "3/4 arctan((x-4)/4)", "3arctan((x-4)/4)"),
        ("3/4 arctan((x+4)/4)", "3/4 arctan((x-4)/4)", "3 arctan((x+4)/4)", "3arctan((x-4)/4)"),
        # not certain what a student would write who makes both
        ("sin x - 1/3 sin^3 x", "sin x - sin^3 x", "1/2 sin x - 1/3 sin^3 x", None),
        ("1/3 x^3", "x^2", "2x", None),
        # both have the same effect, or one leaves nothing of the other
        ("3/2 sin 2x", "3 sin 2x", "3 sin 2x", "6sin 2x"),
        ("x - sin x", "x", "x", None),
        ("x - sin x", "x", "-sin x", None),
        ("3/2 sin 2x", "-3/2 sin 2x", "-3/2 sin 2x", None),
    ],
)
def test_both(key: str, one: str, two: str, together: str | None) -> None:
    found = both(candidate("one", one), candidate("two", two), tree(key))
    if together is None:
        assert found is None
        return
    assert found is not None
    assert plain(found.answer).replace(" ", "") == together.replace(" ", "")
    assert found.slip == "one + two"
    assert found.sentence == "Two slips have come together. one. two."


def test_a_pair_comes_first_with_both_together() -> None:
    single = [
        candidate("a", "3x^9"),
        candidate("b", "2sin x"),
        candidate("c", "-sin x"),
        candidate("d", "cos x"),
    ]
    names = [found.slip for found in paired(single, tree("sin x"))]
    assert names == ["b", "c", "b + c", "a", "d"]
    lonely = [candidate(name, f"x^{power}") for power, name in enumerate("abcdefgh", 2)]
    assert [found.slip for found in paired(lonely, tree("sin x"))] == list("abcdefgh")


def test_nobody_does_one_thing_wrong_in_two_ways() -> None:
    key = tree("1/4 e^(2x^2)")
    forgotten = candidate("substitution-constant-of-du-forgotten", "e^(2x^2)")
    multiplied = candidate("substitution-constant-of-du-multiplied", "4e^(2x^2)")
    assert both(forgotten, multiplied, key) is None
    assert both(forgotten, candidate("derivative-kept", "1/4 x e^(2x^2)"), key) is not None


def test_every_part_of_a_name_is_found_in_the_catalogue() -> None:
    catalogue = {slip.identifier for known in TECHNIQUES for slip in known.slips}
    for words in pairing._ONE_OR_THE_OTHER:
        for part in words:
            assert any(part in name for name in catalogue), part


def test_both_together_come_last_when_slips_are_few() -> None:
    single = [candidate("a", "2sin x"), candidate("b", "-sin x")]
    assert [found.slip for found in apart(single, tree("sin x"))] == ["a", "b", "a + b"]


def test_clumsy_answers_come_last() -> None:
    key = tree("3/7 arctan((x-2)/7)")
    clumsy = candidate("surd", "3/sqrt(53) arctan((x-2)/sqrt(53))")
    large = candidate("large", "441 arctan((x-2)/7)")
    fine = candidate("fine", "3arctan((x-2)/7)")
    assert [found.slip for found in plain_first([clumsy, large, fine], key)] == ["fine", "surd", "large"]
    assert is_plain(tree("3/sqrt(5) x"), tree("1/sqrt(5) x^2"))


def choices() -> Iterator[tuple[Item, Choice]]:
    bank = open_bank(None)
    for template in bank.templates:
        if template.responses[0] == "choice":
            for item in clones(bank, template, 5, 17):
                if isinstance(item.response, Choice):
                    yield item, item.response


def test_the_key_is_not_the_option_in_the_middle() -> None:
    """Whoever always takes the option most like the others must not do much better than by guessing (one in four)."""
    hits = total = 0
    for _, choice in choices():
        hits += gives_away(choice)
        total += 1
    assert total > 50
    assert hits / total < 0.5
