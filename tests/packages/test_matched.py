"""Packages with matchings: sound as they are, and found out with one thing changed."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from qbank.maths.equation import Equation
from qbank.maths.expression import Integral, Symbol, cos, sin
from qbank.maths.verdict import Unsettled
from qbank.packages.matched import mark_matched, partner_shown, prove_matched, read_matched
from qbank.packages.question import Offered, QuestionError, Several
from qbank.packages.several import mark_several
from qbank.packages.verifying import verify
from tests.items.matching_items import BANK
from tests.packages.sample import members, problems_of_changed_item, problems_of_changed_json, written, zipped

X = Symbol("x")


@pytest.mark.parametrize("form", ["qti3", "qti22", "qti21", "json"])
def test_a_package_of_ours_is_sound(form: str, tmp_path: Path) -> None:
    report = verify(written(tmp_path, form, bank=BANK, count=2))
    assert report.problems == []
    (row,) = report.rows.items()
    assert row[0] == "matching, antiderivative"
    assert (row[1].items, row[1].proved) == (6, 2 * (4 + 3 + 4))
    assert row[1].refuted >= 2 * (16 + 6 + 16)


def test_plain_qti_1_2_is_sound(tmp_path: Path) -> None:
    report = verify(written(tmp_path, "qti12", bank=BANK, count=2))
    assert report.problems == []
    (row,) = report.rows.values()
    assert (row.items, row.proved) == (6, 2 * (4 + 3 + 4))


def test_a_cartridge_is_sound(tmp_path: Path) -> None:
    """Antiderivatives are choices there, first steps a matching of one integral."""
    report = verify(written(tmp_path, "cc", bank=BANK, count=2))
    assert report.problems == []
    assert {name: row.proved for name, row in report.rows.items()} == {
        "choice, antiderivative": 2 * (4 + 4),
        "matching, antiderivative": 2 * 3,
    }


@pytest.mark.parametrize(
    ("form", "change", "said"),
    [
        ("qti12", lambda text: text.replace('respident="Q1"', 'respident="Q2"'), "exactly one partner"),
        (
            "qti12",
            lambda text: text.replace('action="Add"', 'action="Subtract"'),
            "exactly one partner|0|score",
        ),
        (
            "cc",
            lambda text: text.replace("&lt;mi&gt;u&lt;/mi&gt;", "&lt;mi&gt;v&lt;/mi&gt;"),
            "does not belong",
        ),
        (
            "qti12",
            lambda text: re.sub(
                r"(?s)(<presentation>(?:(?!</presentation>).)*?)Double angle", r"\1Angle", text, count=1
            ),
            "same options",
        ),
    ],
)
def test_one_thing_changed_in_qti_1_2(
    form: str, change: Callable[[str], str], said: str, tmp_path: Path
) -> None:
    path = written(tmp_path, form, bank=BANK, count=1)
    parts = members(path)
    name = next(one for one in parts if one.endswith(".xml") and "manifest" not in one)
    before = parts[name].decode()
    parts[name] = change(before).encode()
    assert parts[name].decode() != before
    problems = [str(problem) for problem in verify(zipped(path, parts)).problems]
    assert any(re.search(said, problem) for problem in problems), problems


def swap(old: str, new: str) -> Callable[[str], str]:
    return lambda text: re.sub(old, new, text, count=1)


def crossed(text: str) -> str:
    """Two partners are exchanged, in the key and in the scoring: the worst fault."""
    found = re.findall(r"<qti-value>Q[12] ([A-E])</qti-value>", text)
    one, other = found[0], found[1]
    for old, new in ((f"Q1 {one}", "Q1 ?"), (f"Q2 {other}", f"Q2 {one}"), ("Q1 ?", f"Q1 {other}")):
        text = text.replace(old, new)
    return text


FAULTS: list[tuple[str, str, Callable[[str], str], str]] = [
    ("crossed", "alone", crossed, "does not belong to Q1, but scores"),
    ("crossed steps", "steps", crossed, "does not belong to Q1, but scores"),
    ("a right pair unscored", "alone", crossed, "belongs to Q[12] too, but scores nothing"),
    (
        "another first step",
        "steps",
        lambda text: text.replace("<mi>u</mi>", "<mi>v</mi>"),
        "does not belong to Q[123], but scores",
    ),
    ("a key less", "alone", swap(r"<qti-value>Q1 [A-E]</qti-value>", ""), "exactly one partner"),
    (
        "a pair for nothing",
        "alone",
        swap(r'map-key="Q1 [A-E]"', 'map-key="Q1 Z"'),
        "does not score its share",
    ),
    ("another question", "alone", swap("<mi>sin</mi>", "<mi>cos</mi>"), "does not belong to Q1"),
    ("a name twice", "alone", swap('identifier="Q2"', 'identifier="Q1"'), "identifiers of their own"),
    ("no integral", "alone", swap("<mo[^>]*>∫</mo>", ""), "shows no integral|not read|no formula|one"),
]


@pytest.mark.parametrize(
    ("name", "change", "said"), [row[1:] for row in FAULTS], ids=[row[0] for row in FAULTS]
)
def test_one_thing_changed(name: str, change: Callable[[str], str], said: str, tmp_path: Path) -> None:
    problems = problems_of_changed_item(tmp_path, BANK, name, change)
    assert any(re.search(said, problem) for problem in problems), problems


def crossed_rows(entry: dict[str, Any]) -> None:
    one, two, *_ = entry["response"]["rows"]
    one["partner"], two["partner"] = two["partner"], one["partner"]


def another_key(entry: dict[str, Any]) -> None:
    one, two, *_ = entry["response"]["rows"]
    one["key"] = two["key"]


def another_share(entry: dict[str, Any]) -> None:
    entry["response"]["share"] = {"exact": "2", "decimal": "2"}


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (crossed_rows, "is not what is matched to it"),
        (another_key, "is not what is matched to it"),
        (another_share, "does not score its share"),
    ],
)
def test_one_thing_changed_in_json(
    change: Callable[[dict[str, Any]], None], said: str, tmp_path: Path
) -> None:
    problems = problems_of_changed_json(tmp_path, BANK, change)
    assert any(re.search(said, problem) for problem in problems), problems


def test_what_cannot_be_decided_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    integrals = [("Q1", [Integral(cos(X), X)]), ("Q2", [Integral(sin(X), X)])]
    keys = ["Q1 A", "Q2 B"]
    answers = read_matched(
        integrals,
        [("A", sin(X)), ("B", -cos(X))],
        keys,
        Fraction(2),
        lambda pairs: Fraction(len((pairs or frozenset()) & set(keys))),
    )
    monkeypatch.setattr(
        "qbank.packages.matched.decide_antiderivative", lambda *_: Unsettled(reason="too hard")
    )
    found = prove_matched(answers)
    assert (found.proved, found.refuted, len(found.problems)) == (0, 0, 4)
    assert mark_matched(answers, ["Q1 A"]).verdict == "unsettled"
    several = Several(offered=(Offered(identifier="A", answer=sin(X), right=True),))
    monkeypatch.setattr(
        "qbank.packages.several.decide_antiderivative", lambda *_: Unsettled(reason="too hard")
    )
    assert mark_several(several, integrals[0][1][0], ["A"]).verdict == "unsettled"


def test_scores_that_contradict_the_keys() -> None:
    integrals = [("Q1", [Integral(cos(X), X)]), ("Q2", [Integral(sin(X), X)])]
    partners = [("A", sin(X)), ("B", -cos(X)), ("C", cos(X))]
    keys = ["Q1 A", "Q2 B"]

    def fair(pairs: frozenset[str] | None) -> Fraction:
        return Fraction(len((pairs or frozenset()) & set(keys)))

    answers = read_matched(integrals, partners, keys, Fraction(2), fair)
    found = prove_matched(answers)
    assert (found.proved, found.refuted, found.problems) == (2, 4, ())
    for bad in (["Q1 A"], ["Q1 A", "Q2 A"], ["Q1 A", "Q2 Z"], ["Q1", "Q2 B"], ["Q2 B", "Q1 A"]):
        with pytest.raises(QuestionError):
            read_matched(integrals, partners, bad, Fraction(2), fair)
    mixed = [*partners[:2], ("C", partner_shown([], "Let it be."))]
    with pytest.raises(QuestionError, match="side by side"):
        read_matched(integrals, mixed, keys, Fraction(2), fair)
    with pytest.raises(QuestionError, match="full marks"):
        read_matched(integrals, partners, keys, Fraction(2), lambda pairs: fair(pairs) + (pairs is None))
    with pytest.raises(QuestionError, match="no integral"):
        read_matched([("Q1", [cos(X)]), integrals[1]], partners, keys, Fraction(2), fair)
    with pytest.raises(QuestionError, match="more than one formula"):
        partner_shown([sin(X), cos(X)], "")
    assert partner_shown([Equation(Symbol("u"), sin(X))], "Let .") != partner_shown([], "Let u.")
    for given, verdict, score in (
        (keys, "correct", 1.0),
        (["Q1 A", "Q2 C"], "incorrect", 0.5),
        (["Q1 Z"], "incorrect", 0.0),
        ([], "unreadable", None),
    ):
        marked = mark_matched(answers, given)
        assert (marked.verdict, marked.score) == (verdict, score)
    wrong = read_matched(integrals, [("A", X), ("B", -cos(X))], keys, Fraction(2), fair)
    assert mark_matched(wrong, keys).verdict == "unsettled"
