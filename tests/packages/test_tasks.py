"""Packages with tasks about working: sound as they are, and found out with one thing changed."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from qbank.packages.question import AskedTask, Question, TaskChoice
from qbank.packages.results import questions_of
from qbank.packages.tasks import mark_task
from qbank.packages.verifying import verify
from tests.items.task_items import BANK, TEMPLATES, task_of
from tests.packages.sample import problems_of_changed_item, problems_of_changed_json, written

QUESTIONS = [question for name in TEMPLATES for question in task_of(name).choices]


@pytest.mark.parametrize("form", ["qti3", "qti22", "qti21", "json", "qti12", "cc"])
def test_a_package_of_ours_is_sound(form: str, tmp_path: Path) -> None:
    report = verify(written(tmp_path, form, bank=BANK, count=1))
    assert report.problems == []
    assert sum(row.proved for row in report.rows.values()) == len(QUESTIONS)
    assert sum(row.refuted for row in report.rows.values()) == sum(len(q.options) - 1 for q in QUESTIONS)
    assert set(report.rows) == {"first step", "find fault", "complete working"}


def another_key(text: str) -> str:
    """Another option is declared as right: the worst fault."""
    key = re.search(r"<qti-value>(Q1[A-D])</qti-value>", text)
    assert key is not None
    return text.replace(key[0], key[0].replace(key[1], "Q1A" if key[1] != "Q1A" else "Q1B"))


def _right_working(found: re.Match[str]) -> str:
    """The lines of the worked solution, cut down to as many, in the place of those with the fault."""
    solution = re.search(r"<ol>.*?</ol>", found.string[found.end() :], re.DOTALL)
    assert solution is not None
    return solution[0]


FAULTS: list[tuple[str, str, Callable[[str], str], str]] = [
    ("another key", "parts", another_key, "is wrong, but scores"),
    (
        "another integral",
        "parts",
        lambda text: text.replace("<mi>ln</mi>", "<mi>sin</mi>"),
        "is wrong, but scores",
    ),
    (
        "a step that is none",
        "circular",
        lambda text: text.replace(">The power of the sine is odd", ">The power of the sine is even"),
        "is wrong, but scores",
    ),
    (
        "a name twice",
        "parts",
        lambda text: text.replace('qti-simple-choice identifier="Q1B"', 'qti-simple-choice identifier="Q1A"'),
        "identifiers of their own",
    ),
    ("another line", "fault", another_key, "is wrong, but scores"),
    (
        "a line mended",
        "fault-by-parts",
        lambda text: re.sub(r"<ol>.*?</ol>", _right_working, text, count=1, flags=re.DOTALL),
        "is wrong, but scores",
    ),
    ("another line belongs there", "blank-one", another_key, "is wrong, but scores"),
    (
        "a blank line without its integral",
        "blank-most",
        lambda text: text.replace("<mi>ln</mi>", "<mi>sin</mi>", 2),
        "is wrong, but scores",
    ),
    (
        "a share that is none",
        "blank-some",
        lambda text: re.sub(r'float">[0-9]\.[0-9]+<', 'float">1<', text, count=1),
        "does not score its share",
    ),
    (
        "half the marks",
        "circular",
        lambda text: text.replace('base-type="float">2<', 'base-type="float">1<'),
        "does not score its share",
    ),
]


@pytest.mark.parametrize(
    ("name", "change", "said"), [row[1:] for row in FAULTS], ids=[row[0] for row in FAULTS]
)
def test_one_thing_changed(name: str, change: Callable[[str], str], said: str, tmp_path: Path) -> None:
    problems = problems_of_changed_item(tmp_path, BANK, name, change)
    assert any(re.search(said, problem) for problem in problems), problems


def test_one_thing_changed_in_json(tmp_path: Path) -> None:
    def crossed(entry: dict[str, object]) -> None:
        response = entry["response"]
        assert isinstance(response, dict)
        one, two, *_ = response["questions"][0]["options"]
        right = next(o for o in response["questions"][0]["options"] if o["key"])
        other = two if right is one else one
        right["key"], other["key"] = False, True

    problems = problems_of_changed_json(tmp_path, BANK, crossed)
    assert any("is wrong, but scores" in one for one in problems)
    assert any("is right, but scores nothing" in one for one in problems)


def test_options_chosen_elsewhere_are_marked(tmp_path: Path) -> None:
    questions = questions_of(written(tmp_path, "qti3", bank=BANK, count=1))
    met = set()
    for question in questions.values():
        assert isinstance(question, Question)
        asked = question.answers
        assert isinstance(asked, AskedTask)
        met.add(asked.task)
        choices = [one for one in asked.questions if isinstance(one, TaskChoice)]
        keys = {one.identifier: one.key for one in choices}
        full = mark_task(asked, question.integral, keys)
        assert (full.verdict, full.score) == ("correct", 1)
        first, *others = choices
        wrong = next(one.identifier for one in first.options if one.identifier != first.key)
        mark = mark_task(asked, question.integral, {**keys, first.identifier: wrong})
        assert (mark.verdict, mark.score) == ("incorrect", len(others) / len(keys))
        for nothing in ({}, dict.fromkeys(keys, "")):
            assert mark_task(asked, question.integral, nothing).verdict == "unreadable"
    assert met == {"first-step", "find-fault", "complete-working"}
