"""The comparison with SymPy's step-by-step integrator finds its rows, and stops what takes too long."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from qbank.maths.expression import Symbol
from qbank.maths.reading import read
from tests.reference.stepwise import Programs, Worked, best
from tests.reference.stepwise_programs import _AGAIN, _timed, by_sympy, by_us
from tests.reference.stepwise_rows import KINDS, Row, rows_of

X = Symbol("x")


def row(text: str) -> Row:
    return read(text, variable=X).tree, X


def test_both_work_what_both_can() -> None:
    with Programs() as programs:
        both, neither = programs.compare([row("x e^x"), row("x^x")], 60)
    assert (both.ours, both.theirs, both.technique) == (True, True, "by-parts")
    assert both.seconds > 0 < both.their_seconds
    assert (neither.ours, neither.theirs, neither.technique) == (False, False, "")


def test_the_best_time_of_each_row_counts() -> None:
    first = Worked(False, 3.0, True, 1.0, "", X)
    second = Worked(True, 2.0, False, 5.0, "by-parts", X)
    assert best([[first], [second]]) == [Worked(True, 2.0, False, 1.0, "by-parts", X)]


def test_a_row_is_stopped() -> None:
    (stopped,) = by_sympy([row("1/(x^8 + x + 1)^9")], 0.001)
    assert not stopped.worked


def test_a_row_is_stopped_though_it_goes_on_at_first() -> None:
    def work() -> str:
        for _ in range(2):
            try:
                while True:
                    pass
            except BaseException:  # noqa: BLE001 - as what is raised in a comparison may be lost
                continue
        return "all the same"

    found, seconds = _timed(work, 0.01)
    assert found == "all the same"
    assert seconds > _AGAIN


def test_a_wrong_answer_does_not_count(monkeypatch: pytest.MonkeyPatch) -> None:
    import sympy

    module = "tests.reference.stepwise_programs._manually"
    letter = sympy.Symbol("x", real=True)
    for answer, counts in ((letter**2, True), (letter**3, False)):
        monkeypatch.setattr(module, lambda *_, answer=answer: answer)
        (effort,) = by_sympy([row("2 x")], 60)
        assert effort.worked is counts


def test_our_rows_are_worked_without_sympy() -> None:
    script = "import sys; from tests.reference.stepwise_programs import by_us; from tests.reference.test_stepwise import row"
    script += "; by_us([row('x e^x')], 60); sys.exit('sympy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", script], check=False).returncode == 0
    assert by_us([row("x e^x")], 60)[0].worked


@pytest.mark.reference
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_each_kind_has_rows(kind: object, shared: Path) -> None:
    assert any(rows_of(kind, shared / "reference", 40))  # type: ignore[arg-type]
