"""Lines with other letters: in their mathematics, and in what is said of them, in every language."""

from __future__ import annotations

from qbank.maths.expression import Symbol, cos, sin
from qbank.messages import in_language
from qbank.techniques.carrying import letters_of, renamed
from qbank.techniques.planner import solve

X, U, W = Symbol("x"), Symbol("u"), Symbol("w")


def test_letters_are_renamed_in_lines_and_reasons() -> None:
    solution = solve(sin(X) ** 4 * cos(X), X)
    assert solution is not None
    assert letters_of(solution) == {U}
    lines = renamed(solution.lines, {U: W})
    reasons = [line.reason for line in lines]
    assert reasons[1] == "Write everything in w."
    assert in_language(reasons[1], "de") == "Schreibe alles in w."
    # a u within a word is none
    assert reasons[-1] == "Put the function back for w."
    assert [line.statements == old.statements for line, old in zip(lines, solution.lines, strict=True)] == [
        False, False, False, True,
    ]  # fmt: skip
