"""The figures of item analysis against SciPy, against other formulas for the same number, and by hand."""

from __future__ import annotations

import random
from statistics import mean, pvariance

import pytest
from scipy import stats

from qbank.analysis.figures import ClassFigures, figures
from qbank.analysis.sheet import Answer, sheet_of


def answers_of(scores: list[list[float | None]]) -> list[Answer]:
    """A class by its scores, students by items."""
    places = [(student, item) for student, row in enumerate(scores) for item in range(len(row))]
    return [
        Answer(
            row=number,
            student=f"s{student}",
            item=f"q{item}",
            response="x",
            verdict="correct" if scores[student][item] else "incorrect",
            score=scores[student][item],
            slip="" if scores[student][item] else "sign",
            message="Mind the sign.",
        )
        for number, (student, item) in enumerate(places, 1)
    ]


def analysed(scores: list[list[float | None]]) -> ClassFigures:
    return figures(sheet_of(answers_of(scores)))


def random_class(students: int, items: int) -> list[list[float]]:
    rng = random.Random(students)
    return [
        [float(rng.random() < (student + 1 + rng.random() * 9) / (students + 10)) for _ in range(items)]
        for student in range(students)
    ]


CLASS = random_class(40, 12)


def test_item_rest_is_the_point_biserial_correlation_of_scipy() -> None:
    found = analysed([[*row] for row in CLASS])
    for at, item in enumerate(found.items):
        here = [row[at] for row in CLASS]
        rest = [mean(row[:at] + row[at + 1 :]) for row in CLASS]
        assert item.item_rest == pytest.approx(stats.pointbiserialr(here, rest).statistic, abs=1e-12)
        assert item.facility == pytest.approx(mean(here))


def test_alpha_is_formula_20_of_kuder_and_richardson_when_all_is_right_or_wrong() -> None:
    """G. F. Kuder and M. W. Richardson, The theory of the estimation of test reliability, 1937, formula 20."""
    count = len(CLASS[0])
    right = [mean(row[at] for row in CLASS) for at in range(count)]
    whole = pvariance([sum(row) for row in CLASS])
    kr20 = count / (count - 1) * (1 - sum(p * (1 - p) for p in right) / whole)
    found = analysed([[*row] for row in CLASS])
    assert found.alpha == pytest.approx(kr20, abs=1e-12)
    assert found.error is not None
    assert found.error == pytest.approx(stats.tstd([mean(row) for row in CLASS]) * (1 - kr20) ** 0.5)


def test_alpha_of_items_that_all_say_the_same_is_one() -> None:
    assert analysed([[float(n % 2)] * 5 for n in range(12)]).alpha == pytest.approx(1.0)
    assert analysed([[1.0] * 5 for _ in range(12)]).alpha is None


def test_discrimination_by_hand() -> None:
    """Ten students; the best and the weakest 27 % are three each. By hand: the best three 3/3, the weakest 1/3."""
    rest = [0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9]
    here = [0, 1, 0, 1, 0, 1, 0, 1, 1, 1]
    found = analysed([[float(a), b] for a, b in zip(here, rest, strict=True)])
    assert found.items[0].discrimination == pytest.approx(1 - 1 / 3)


def test_few_students_are_not_compared() -> None:
    small = analysed([[*row] for row in CLASS[:9]])
    assert small.alpha is None
    assert small.error is None
    assert all(item.item_rest is None and item.discrimination is None for item in small.items)
    assert "too few to compare" in small.warnings[0]
    assert "uncertain" in analysed([[*row] for row in CLASS[:29]]).warnings[0]
    assert not analysed([[*row] for row in CLASS]).warnings


def test_what_has_no_score_is_left_out_and_counted() -> None:
    scores: list[list[float | None]] = [[*row] for row in CLASS]
    scores[3][0] = scores[5][0] = scores[5][1] = None
    found = analysed(scores)
    others = [row[0] for at, row in enumerate(CLASS) if at not in (3, 5)]
    assert found.items[0].facility == pytest.approx(mean(others))
    assert (found.items[0].pending, found.items[0].scored, found.items[0].met) == (2, 38, 40)
    assert [answer.row for answer in found.by_hand] == [37, 61, 62]
    assert found.warnings == ("Answers without a score yet, left out of all figures: 3.",)
    whole = [row for at, row in enumerate(CLASS) if at not in (3, 5)]
    assert found.alpha == pytest.approx(analysed([[*row] for row in whole]).alpha)


def test_notes_say_where_to_look() -> None:
    backwards = [[float(n < 6), *[float(n >= 4)] * 3] for n in range(12)]
    found = analysed([[*row] for row in backwards])
    assert "look at the question and the key" in found.items[0].notes[0]
    easy = analysed([[1.0, 0.0, float(n % 2)] for n in range(12)])
    assert "nearly everybody" in easy.items[0].notes[0]
    assert "hardly anybody" in easy.items[1].notes[0]


def test_the_last_answer_counts_and_not_everybody_meets_everything() -> None:
    answers = answers_of([[0.0, 1.0]] * 11)
    again = [
        Answer(
            row=23,
            student="s0",
            item="q0",
            response=" y  z ",
            verdict="correct",
            score=1.0,
            slip="",
            message="",
        ),
        Answer(
            row=24,
            student="s11",
            item="q0",
            response="",
            verdict="unreadable",
            score=0.0,
            slip="",
            message="",
        ),
    ]
    found = figures(sheet_of([*answers, *again]))
    assert found.items[0].facility == pytest.approx(1 / 12)
    assert found.items[0].blank == 1
    assert [given.response for given in found.items[0].responses] == ["x", "", "y z"]
    assert found.slips == (("sign", 10, "Mind the sign."),)
    assert len(found.warnings) == 3


def test_nobody() -> None:
    found = analysed([])
    assert (found.mean, found.alpha, found.totals) == (None, None, ())
