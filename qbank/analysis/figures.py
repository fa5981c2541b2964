"""The usual figures of item analysis.

Scores are parts of full marks, from 0 to 1. What a person has yet to decide is left out and counted; no answer is 0.

- facility: the mean score of those who met the item.
- discrimination: facility among the best 27 % less that among the weakest 27 % by their other answers (T. L. Kelley,
  The selection of upper and lower groups for the validation of test items, 1939).
- item-rest correlation: Pearson's, of the item with the mean of the student's other answers; for items that are right
  or wrong this is the point-biserial correlation.
- alpha: L. J. Cronbach, Coefficient alpha and the internal structure of tests, 1951; for items that are right or wrong
  it is formula 20 of Kuder and Richardson. Of the students who have a score in every item.

Few students make all of these uncertain: below `FEW` they come with a warning, below `TOO_FEW` those that compare
students are not given at all (common practice).
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from math import sqrt
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from qbank.analysis.sheet import Answer, Sheet
from qbank.messages import say, say_count

__all__ = ["FEW", "TOO_FEW", "ClassFigures", "Given", "ItemFigures", "figures"]

#: with fewer students figures come with a warning
FEW = 30
#: with fewer students nothing is said that compares them
TOO_FEW = 10
#: the part of a class that is taken as its best, and as its weakest
_TAIL = 0.27
#: different responses to an item that are listed
_LISTED = 8
_LONGEST = 120


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """A response to an item, and how many gave it.

    Attributes:
        response: as typed, shortened.
        count: how many students.
        verdict: of its mark.
        slip: the slip, or empty.
    """

    response: str
    count: int
    verdict: str
    slip: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ItemFigures:
    """What the marks say of one item.

    Attributes:
        item: its name.
        met: how many students met it.
        scored: how many of their answers have a score.
        blank: how many gave no answer.
        pending: how many answers a person has yet to decide.
        facility: the mean score, or None.
        discrimination: of the best and the weakest, or None.
        item_rest: the correlation with the other answers, or None.
        responses: the most frequent ones, most frequent first.
        slips: how often each slip was made, most frequent first.
        notes: what a teacher should look at.
    """

    item: str
    met: int
    scored: int
    blank: int
    pending: int
    facility: float | None
    discrimination: float | None
    item_rest: float | None
    responses: tuple[Given, ...]
    slips: tuple[tuple[str, int], ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassFigures:
    """What the marks say of a class and its test.

    Attributes:
        students: how many.
        items: one entry for each.
        totals: each student's mean score, in ascending order.
        mean: of these; None without students.
        deviation: their standard deviation (of a sample), or None.
        alpha: reliability, or None.
        error: standard error of measurement of a mean score, or None.
        slips: how often each slip was made, with what was said of it, most frequent first.
        by_hand: answers that a person has to decide.
        warnings: what to keep in mind.
    """

    students: int
    items: tuple[ItemFigures, ...]
    totals: tuple[float, ...]
    mean: float | None
    deviation: float | None
    alpha: float | None
    error: float | None
    slips: tuple[tuple[str, int, str], ...]
    by_hand: tuple[Answer, ...]
    warnings: tuple[str, ...]


Scores = NDArray[np.float64]
_Counted = TypeVar("_Counted", str, tuple[str, str, str])


def figures(sheet: Sheet) -> ClassFigures:
    """The figures of a sheet."""
    scores = _scores(sheet)
    known = ~np.isnan(scores)
    totals = np.array([row[seen].mean() for row, seen in zip(scores, known, strict=True) if seen.any()])
    alpha = _alpha(scores)
    by_item: dict[str, list[Answer]] = {item: [] for item in sheet.items}
    for (_, item), answer in sheet.answers.items():
        by_item[item].append(answer)
    deviation = float(totals.std(ddof=1)) if len(totals) > 1 else None
    return ClassFigures(
        students=len(sheet.students),
        items=tuple(
            _item(sheet.items[at], answers, scores, at) for at, answers in enumerate(by_item.values())
        ),
        totals=tuple(sorted(map(float, totals))),
        mean=float(totals.mean()) if len(totals) else None,
        deviation=deviation,
        alpha=alpha,
        error=None if alpha is None or deviation is None else deviation * sqrt(max(0.0, 1 - alpha)),
        slips=_slips(sheet),
        by_hand=tuple(one for one in sheet.answers.values() if one.score is None),
        warnings=tuple(_warnings(sheet, scores)),
    )


def _scores(sheet: Sheet) -> Scores:
    """Students by items; not a number where there is no score."""
    scores = np.full((len(sheet.students), len(sheet.items)), np.nan)
    places = {name: at for at, name in enumerate(sheet.students)}
    columns = {name: at for at, name in enumerate(sheet.items)}
    for (student, item), answer in sheet.answers.items():
        if answer.score is not None:
            scores[places[student], columns[item]] = answer.score
    return scores


def _alpha(scores: Scores) -> float | None:
    scores = scores[~np.isnan(scores).any(axis=1)]
    students, items = scores.shape
    if students < TOO_FEW or items < 2:
        return None
    whole = scores.sum(axis=1).var(ddof=1)
    if whole == 0:
        return None
    return float(items / (items - 1) * (1 - scores.var(axis=0, ddof=1).sum() / whole))


def _item(item: str, answers: list[Answer], scores: Scores, at: int) -> ItemFigures:
    column = scores[:, at]
    scored = column[~np.isnan(column)]
    facility = float(scored.mean()) if len(scored) else None
    discrimination, item_rest = _against_rest(scores, at)
    blank = sum(1 for answer in answers if not answer.response.strip())
    pending = sum(1 for answer in answers if answer.score is None)
    slips = Counter(answer.slip for answer in answers if answer.slip)
    return ItemFigures(
        item=item,
        met=len(answers),
        scored=len(scored),
        blank=blank,
        pending=pending,
        facility=facility,
        discrimination=discrimination,
        item_rest=item_rest,
        responses=_given(answers),
        slips=tuple(_ranked(slips)),
        notes=tuple(_notes(facility, item_rest, pending, len(scored))),
    )


def _against_rest(scores: Scores, at: int) -> tuple[float | None, float | None]:
    """Discrimination and item-rest correlation, of those who have a score here and elsewhere."""
    column, others = scores[:, at], np.delete(scores, at, axis=1)
    seen = ~np.isnan(column) & ~np.isnan(others).all(axis=1)
    if seen.sum() < TOO_FEW:
        return None, None
    here, rest = column[seen], np.nanmean(others[seen], axis=1)
    tail = max(1, round(_TAIL * len(here)))
    # equal students stay in their order, so that the same table gives the same figures
    order = np.argsort(rest, kind="stable")
    discrimination = float(here[order[-tail:]].mean() - here[order[:tail]].mean())
    if here.std() == 0 or rest.std() == 0:
        return discrimination, None
    return discrimination, float(np.corrcoef(here, rest)[0, 1])


def _given(answers: list[Answer]) -> tuple[Given, ...]:
    counts: Counter[tuple[str, str, str]] = Counter()
    for answer in answers:
        text = " ".join(answer.response.split())
        shown = text if len(text) <= _LONGEST else text[: _LONGEST - 1] + "…"
        counts[shown, answer.verdict, answer.slip] += 1
    return tuple(
        Given(response=response, count=count, verdict=verdict, slip=slip)
        for (response, verdict, slip), count in _ranked(counts)[:_LISTED]
    )


def _ranked(counts: Counter[_Counted]) -> list[tuple[_Counted, int]]:
    return sorted(counts.items(), key=lambda pair: (-pair[1], pair[0]))


def _notes(facility: float | None, item_rest: float | None, pending: int, scored: int) -> list[str]:
    notes: list[str] = []
    if pending:
        notes.append(say("{count} to decide by hand", count=str(pending)))
    if facility is not None and scored >= TOO_FEW:
        if facility > 0.9:
            notes.append(say("nearly everybody is right"))
        if facility < 0.2:
            notes.append(say("hardly anybody is right: look at the question and its teaching"))
    if item_rest is not None and item_rest < 0:
        notes.append(say("students who do well elsewhere do worse here: look at the question and the key"))
    return notes


def _slips(sheet: Sheet) -> tuple[tuple[str, int, str], ...]:
    counts = Counter(answer.slip for answer in sheet.answers.values() if answer.slip)
    said: dict[str, str] = {}
    for answer in sheet.answers.values():
        said.setdefault(answer.slip, answer.message)
    return tuple((slip, count, said[slip]) for slip, count in _ranked(counts))


def _warnings(sheet: Sheet, scores: Scores) -> list[str]:
    warnings: list[str] = []
    count = len(sheet.students)
    if count < TOO_FEW:
        warnings.append(
            say_count(
                "{count} student is too few to compare: discrimination, correlation and reliability are not given.",
                "{count} students are too few to compare: discrimination, correlation and reliability are not given.",
                count,
            )
        )
    elif count < FEW:
        warnings.append(
            say(
                "With {count} students every figure is uncertain; take them as a hint where to look, not as a result.",
                count=str(count),
            )
        )
    if len(sheet.answers) < scores.size:
        warnings.append(
            say("Not every student met every item; the reliability is of those who did, if they are enough.")
        )
    if sheet.repeated:
        warnings.append(
            say_count(
                "Some students answered an item again: {count} earlier answer is left out, the last one counts.",
                "Some students answered an item again: {count} earlier answers are left out, the last one counts.",
                sheet.repeated,
            )
        )
    pending = sum(1 for answer in sheet.answers.values() if answer.score is None)
    if pending:
        warnings.append(
            say("Answers without a score yet, left out of all figures: {count}.", count=str(pending))
        )
    return warnings
