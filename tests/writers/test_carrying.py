"""The table of what formats can carry."""

from __future__ import annotations

from typing import get_args

import pytest

from qbank.bank.model import ResponseForm
from qbank.bank.task_loading import TASKS
from qbank.writers import USUAL, WRITERS, what_formats_carry
from qbank.writers.carrying import FEATURES, OF_TESTS
from tests.writers.digest import files


def test_every_response_form_is_a_feature() -> None:
    assert set(get_args(ResponseForm)) <= set(FEATURES)


def test_the_usual_formats_exist_and_carry_every_form() -> None:
    for name in USUAL:
        assert set(get_args(ResponseForm)) <= WRITERS[name].carries


def test_the_table_has_a_row_for_each_feature_and_a_cell_for_each_format() -> None:
    head, *rows = what_formats_carry()
    assert head.split() == list(WRITERS)
    assert len(rows) == len(FEATURES)
    for row, (feature, title) in zip(rows, FEATURES.items(), strict=True):
        assert row.startswith(title)
        cells = row.removeprefix(title).split()
        assert cells == [
            "yes" if feature in writer.carries | {*writer.maths} else "-" for writer in WRITERS.values()
        ]


@pytest.mark.parametrize("name", ["qti3", "qti22", "qti21"])
def test_what_a_qti_package_is_said_to_carry_is_in_it(name: str) -> None:
    """Each feature by the sign it leaves in a file; none of the signs is there without its feature."""
    data = b"".join(files(name).values()).replace(b"-", b"").lower()
    signs = {
        "choice": b"choiceinteraction ",
        "numeric": b"textentryinteraction ",
        "free-expression": b"extendedtextinteraction ",
        "rubric": b"rubricblock ",
        "feedback": b"feedbackblock ",
        "worked-solution": b"modalfeedback ",
        "pools": b"selection select=",
        "shuffling": b'shuffle="true"',
        "mathml": b"<math ",
        "spoken": b"arialabel=",
    }
    assert WRITERS[name].carries - {
        "coefficients",
        "several-answers",
        "matching",
        "evaluation",
        "figure",  # of no item of the shipped bank; see tests/packages/test_applications.py
        "show-that",
        *TASKS,
        "number-gaps",
        "expression-gaps",
        *OF_TESTS,
    } == {feature for feature, sign in signs.items() if sign in data}
