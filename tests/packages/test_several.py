"""Packages with several answers: sound as they are, and found out with one thing changed."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from qbank.maths.expression import Integral, Symbol, cos, sin
from qbank.packages.question import QuestionError
from qbank.packages.several import asked_of_several, mark_several, read_several
from qbank.packages.verifying import verify
from tests.packages.sample import members, problems_of_changed_json, written, zipped

BANK = """
identifier: small
title: Small
language: en-GB
licence: CC0-1.0
version: "1.0.0"
templates:
  - identifier: several
    title: Several
    technique: substitution
    parameters: {p: {kind: integer, from: 2, to: 4}, a: {kind: integer, from: 2, to: 4}}
    integrand: p sin(a x) cos(a x)
    responses: [several-answers]
    marks: 5
"""


@pytest.mark.parametrize("form", ["qti3", "qti22", "qti21", "qti12", "cc", "json"])
def test_a_package_of_ours_is_sound(form: str, tmp_path: Path) -> None:
    report = verify(written(tmp_path, form, bank=BANK, count=3))
    assert report.problems == []
    (row,) = report.rows.items()
    assert row[0] == "several answers, antiderivative"
    assert row[1].items == 3
    assert row[1].proved >= 6
    assert row[1].refuted >= 9


def swap(old: str, new: str) -> Callable[[str], str]:
    return lambda text: re.sub(old, new, text, count=1)


def other_keys(text: str) -> str:
    """A wrong option is declared and scored as right in the place of a right one: the worst fault."""
    key = re.search(r"<qti-value>([A-F])</qti-value>", text)
    wrong = re.search(r'map-key="([A-F])" mapped-value="-', text)
    assert key is not None
    assert wrong is not None
    one, other = key[1], wrong[1]
    text = text.replace(f"<qti-value>{one}</qti-value>", f"<qti-value>{other}</qti-value>")
    return (
        text.replace(f'map-key="{one}"', 'map-key="?"')
        .replace(f'map-key="{other}"', f'map-key="{one}"')
        .replace('map-key="?"', f'map-key="{other}"')
    )


FAULTS: list[tuple[str, Callable[[str], str], str]] = [
    ("wrong key", other_keys, "option [A-F] is wrong: at x = .*"),
    ("right option unscored", other_keys, "option [A-F] is right, but scores nothing"),
    ("key against mapping", swap(r"<qti-value>[A-F]</qti-value>", ""), "do(es)? not score|at least two"),
    ("no floor", swap('lower-bound="0" ', ""), "do not score their shares"),
    ("a gift", swap('default-value="0"', 'default-value="0"'), ""),
    ("generous", swap(r'mapped-value="-[0-9.]+"', 'mapped-value="0"'), "do not score their shares"),
    ("an entry twice", swap(r"(<qti-map-entry [^>]*>)", r"\1\1"), "one key and one value"),
    ("no mapping", swap(r"(?s)<qti-mapping.*?</qti-mapping>", ""), "has no mapping"),
    (
        "an option twice",
        swap('<qti-simple-choice identifier="B"', '<qti-simple-choice identifier="A"'),
        "two options",
    ),
    ("another question", swap("<mi>sin</mi>", "<mi>cos</mi>"), "is wrong|not read"),
    ("an integral", swap("<mi>x</mi>", "<mi>y</mi>"), "no integrand in one letter"),
]


@pytest.mark.parametrize(
    ("change", "said"), [(c, s) for _, c, s in FAULTS if s], ids=[n for n, _, s in FAULTS if s]
)
def test_one_thing_changed(change: Callable[[str], str], said: str, tmp_path: Path) -> None:
    path = written(tmp_path, "qti3", bank=BANK, count=1)
    parts = members(path)
    name = next(one for one in parts if one.endswith("-several-answers.xml"))
    before = parts[name].decode()
    parts[name] = change(before).encode()
    assert parts[name].decode() != before
    problems = [str(problem) for problem in verify(zipped(path, parts)).problems]
    assert any(re.search(said, problem) for problem in problems), problems


def swapped_keys(entry: dict[str, Any]) -> None:
    for option in entry["response"]["options"]:
        option["key"] = not option["key"]


def another_share(entry: dict[str, Any]) -> None:
    entry["response"]["share"] = {"exact": "1", "decimal": "1"}


def twice(entry: dict[str, Any]) -> None:
    entry["response"]["options"][1]["identifier"] = entry["response"]["options"][0]["identifier"]


def without_the_key(entry: dict[str, Any]) -> None:
    keys = [one for one in entry["response"]["options"] if one["key"]]
    others = [one for one in keys if one["answer"]["plain"] + " + C" != entry["key"]["plain"]]
    for one in keys:
        one["answer"] = others[0]["answer"]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (swapped_keys, "at least two|shares|key stated"),
        (another_share, "do not add up to the marks"),
        (twice, "the same identifier"),
        (without_the_key, "the key stated is not among"),
    ],
)
def test_one_thing_changed_in_json(
    change: Callable[[dict[str, Any]], None], said: str, tmp_path: Path
) -> None:
    problems = problems_of_changed_json(tmp_path, BANK, change)
    assert any(re.search(said, problem) for problem in problems), problems


def test_scores_that_contradict_the_keys() -> None:
    x = Symbol("x")
    shown = {"A": sin(x), "B": cos(x), "C": x, "D": 2 * x}

    def fair(chosen: frozenset[str] | None) -> Fraction:
        names = chosen or frozenset()
        return Fraction(max(0, 2 * len(names & {"A", "B"}) - len(names)))

    assert sum(one.right for one in read_several(shown, ("A", "B"), Fraction(2), fair).offered) == 2
    for keys in (("A",), ("A", "Z"), ("A", "A"), ("A", "B", "C")):
        with pytest.raises(QuestionError):
            read_several(shown, keys, Fraction(2), fair)
    with pytest.raises(QuestionError, match="no answer at all"):
        read_several(shown, ("A", "B"), Fraction(2), lambda chosen: fair(chosen) if chosen else Fraction(1))
    options = read_several(shown, ("A", "B"), Fraction(2), fair)
    integral = Integral(cos(x), x)
    for chosen, verdict, score in (
        (("A",), "incorrect", 0.5),
        (("A", "C"), "incorrect", 0.0),
        (("C", "D"), "incorrect", 0.0),
        (("A", "Z"), "unreadable", None),
        ((), "unreadable", None),
        # the package says that B is right, which it is not
        (("A", "B"), "incorrect", 0.0),
    ):
        marked = mark_several(options, integral, chosen)
        assert (marked.verdict, marked.score) == (verdict, score)
    near = Fraction(1, 10**12)
    with pytest.raises(QuestionError, match="full marks"):
        read_several(shown, ("A", "B"), Fraction(2), lambda chosen: min(fair(chosen), 2 - near))
    for statements in ((), (x, x), (Symbol("a") * x,)):
        with pytest.raises(QuestionError, match="no integrand"):
            asked_of_several(statements)
