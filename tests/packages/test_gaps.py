"""Packages with gaps in workings: sound as they are, and found out with one thing changed."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from qbank.maths.notation import plain
from qbank.packages.question import AskedTask, Question, TaskTyped
from qbank.packages.results import questions_of
from qbank.packages.tasks import mark_task
from qbank.packages.verifying import verify
from tests.items.gap_items import BANK, TEMPLATES, gaps_of
from tests.packages.sample import problems_of_changed_item, problems_of_changed_json, written

ASKED = [question for name in TEMPLATES for question in gaps_of(name).questions]


@pytest.mark.parametrize("form", ["qti3", "qti22", "qti21", "json", "qti12", "cc"])
def test_a_package_of_ours_is_sound(form: str, tmp_path: Path) -> None:
    report = verify(written(tmp_path, form, bank=BANK, count=1))
    assert report.problems == []
    assert sum(row.proved for row in report.rows.values()) == len(ASKED)
    assert set(report.rows) == {"complete working"}


def another_number(text: str) -> str:
    """The whole list is that of another number."""
    return re.sub(r'(map-key=" ?|<qti-value>)([0-9]+)', lambda one: f"{one[1]}9{one[2]}", text)


FAULTS: list[tuple[str, str, Callable[[str], str], str]] = [
    ("another number", "gap-one", another_number, "not proved to be the only one|another number than"),
    (
        "a number on the list that is another",
        "gap-numbers",
        lambda text: re.sub(r'map-key="[^"]*"', 'map-key="77"', text, count=1),
        "another number than the keyed one",
    ),
    (
        "a spelling that scores nothing",
        "gap-numbers",
        lambda text: text.replace('mapped-value="1"', 'mapped-value="0"', 1),
        "does not score its share",
    ),
    (
        "any number scores",
        "gap-one",
        lambda text: text.replace('default-value="0"', 'default-value="1"', 1),
        "does not score its share|do not score|does not score",
    ),
    (
        "another line",
        "gap-numbers",
        lambda text: text.replace("<mo>∫</mo>", "<mo>∫</mo><mn>2</mn><mo>\u2062</mo>", 2),
        "not proved to be the only one|more than one meaning",
    ),
    (
        "another expression",
        "gap-expressions",
        lambda text: re.sub(
            r"<qti-value>([^<]*)</qti-value>", r"<qti-value>2(\1)</qti-value>", text, count=1
        ),
        "not proved to be the only one",
    ),
    (
        "a score for an expression",
        "gap-expressions",
        lambda text: text.replace(
            "<qti-response-processing>",
            '<qti-response-processing><qti-set-outcome-value identifier="SCORE">'
            '<qti-base-value base-type="float">4</qti-base-value></qti-set-outcome-value>',
        ),
        "scored by a person, and by nothing else",
    ),
    (
        "a piece that does not say where it was cut",
        "gap-one",
        lambda text: text.replace('<mspace width="0.125em"/>', ""),
        "does not say where it was cut",
    ),
]


@pytest.mark.parametrize(
    ("name", "change", "said"), [row[1:] for row in FAULTS], ids=[row[0] for row in FAULTS]
)
def test_one_thing_changed(name: str, change: Callable[[str], str], said: str, tmp_path: Path) -> None:
    problems = problems_of_changed_item(tmp_path, BANK, name, change)
    assert any(re.search(said, problem) for problem in problems), problems


def _gap(entry: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = entry["response"]["questions"][0]["gap"]
    return found


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda gap: gap["number"].update(exact="7/3"), "another number than the keyed one"),
        (lambda gap: gap.update(key=gap["key"] | {"mathml": _seven()}), "another number than the keyed one"),
        (
            lambda gap: gap.update(raised=not gap["raised"]),
            "not what its gap leaves|not fit|nothing stands below",
        ),
        (lambda gap: gap.update(statement=7), "which its line has not|has not"),
        (lambda gap: gap.update(after=None), "not what its gap leaves|row|sign"),
    ],
)
def test_one_thing_changed_in_json(
    change: Callable[[dict[str, Any]], object], said: str, tmp_path: Path
) -> None:
    problems = problems_of_changed_json(tmp_path, BANK, lambda entry: change(_gap(entry)))
    assert any(re.search(said, problem) for problem in problems), problems


def _seven() -> str:
    return '<math xmlns="http://www.w3.org/1998/Math/MathML"><mn>7</mn></math>'


def test_what_was_typed_elsewhere_is_marked(tmp_path: Path) -> None:
    questions = questions_of(written(tmp_path, "qti3", bank=BANK, count=1))
    for question in questions.values():
        assert isinstance(question, Question)
        asked = question.answers
        assert isinstance(asked, AskedTask)
        keys = {
            one.identifier: _again(one) if isinstance(one, TaskTyped) else one.key for one in asked.questions
        }
        full = mark_task(asked, question.integral, keys)
        assert (full.verdict, full.score) == ("correct", 1), (keys, full)
        for one in asked.questions:
            if isinstance(one, TaskTyped):
                for text in ("123", "x", ""):
                    mark = mark_task(asked, question.integral, {**keys, one.identifier: text})
                    assert mark.verdict in ("incorrect", "unreadable")
                    assert (mark.score or 0) == pytest.approx(1 - 1 / len(keys)) or len(keys) == 1
        assert mark_task(asked, question.integral, {}).verdict == "unreadable"


def _again(one: TaskTyped) -> str:
    """What belongs in a gap, written in another way."""
    return f"2({plain(one.key)})/2"
