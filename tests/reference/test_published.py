"""Published antiderivatives: never refuted where they are right, never proved when a coefficient is off by a millionth.

The files in `data` are the project's own, with their sources; the large ones lie beside the checkout (marker
`reference`), and of them a spread is taken. `python -m tests.reference.report` takes all rows and prints the counts.
"""

from __future__ import annotations

import subprocess
import sys
from functools import cache
from itertools import islice
from pathlib import Path

import pytest

from qbank.maths.expression import Symbol, rational, sin
from tests.reference.rows import DATA, rows
from tests.reference.verdicts import (
    PERTURBATION,
    SHARES,
    Outcome,
    outcomes,
    perturbed,
    share_proved,
    wrongly_proved,
    wrongly_refuted,
)

OWN = ("dlmf", "abramowitz_stegun", "thompson", "rubi")
#: file -> of so many of its rows one is taken here; `python -m tests.reference.report` takes them all
LARGE = {"tables": 5, "openstax": 5, "rubi": 8}

#: rows that are wrong as published (the files say where)
MISPRINTS = ("SPT-0082", "SPT-0107")


@cache
def found_in(path: Path) -> tuple[Outcome, ...]:
    return tuple(outcomes(rows(path)))


@pytest.mark.parametrize("name", OWN)
def test_own_rows_are_read(name: str) -> None:
    assert not [outcome.row.name for outcome in found_in(DATA / f"{name}.csv") if outcome.word == "outside"]


@pytest.mark.parametrize("name", OWN)
def test_no_right_answer_is_refuted(name: str) -> None:
    assert wrongly_refuted(found_in(DATA / f"{name}.csv")) == []


@pytest.mark.parametrize("name", OWN)
def test_no_wrong_answer_is_proved(name: str) -> None:
    assert wrongly_proved(found_in(DATA / f"{name}.csv")) == []


@pytest.mark.parametrize("name", OWN)
def test_most_right_answers_are_proved(name: str) -> None:
    assert share_proved(found_in(DATA / f"{name}.csv")) >= SHARES[f"own {name}"]


def test_misprints_are_refuted() -> None:
    found = {outcome.row.name: outcome.word for outcome in found_in(DATA / "thompson.csv")}
    assert {name: found[name] for name in MISPRINTS} == dict.fromkeys(MISPRINTS, "refuted")


@pytest.mark.reference
@pytest.mark.parametrize("name", LARGE)
def test_a_spread_of_the_large_files(shared: Path, name: str) -> None:
    taken = islice(rows(shared / "reference" / f"{name}.csv"), 0, None, LARGE[name])
    found = tuple(outcomes(taken))
    assert len(found) > 30
    assert wrongly_refuted(found) == []
    assert wrongly_proved(found) == []
    assert share_proved(found) >= SHARES[f"all {name}"] - 1 / len(found)


def test_a_witness_of_millions_of_digits_does_not_hang() -> None:
    """A tower of exponentials whose value at a sample point fills the memory when it is written out."""
    question = (
        "from qbank.maths.deciding import decide_antiderivative as decide\n"
        "from qbank.maths.reading import read\n"
        "from qbank.maths.expression import Symbol\n"
        "wrong = read('1.000001*(e^(4032x) - 2e^(2016x) + 2)*exp(e^(2016x))/2016').tree\n"
        "print(decide(wrong, read('exp(e^(2016x) + 6048x)').tree, Symbol('x')))"
    )
    done = subprocess.run(
        [sys.executable, "-c", question],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
        cwd=DATA.parents[2],
    )
    assert "Refuted" in done.stdout


def test_the_perturbation_changes_one_coefficient() -> None:
    x = Symbol("x")
    factor = rational(PERTURBATION)
    assert perturbed(sin(x), x) == factor * sin(x)
    assert perturbed(-sin(x) / 3, x) == -(factor * sin(x)) / 3
    assert perturbed(1 + x + sin(x), x) == 1 + factor * x + sin(x)
    assert perturbed(rational(0), x) == rational(0) + x * rational(1, 1_000_000)
