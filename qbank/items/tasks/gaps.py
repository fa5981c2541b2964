"""Completing a working: lines of a proved solution left blank, or pieces of them.

How much is left blank is the fading: one line, every second line, or every line but the first. For a whole line there is a
choice (see `blank_lines`), a piece is typed (see `typed_gaps`).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from qbank.bank.drawing import Stream
from qbank.bank.model import GapKind
from qbank.items.options import Prose
from qbank.items.tasks.asked import Asked, TaskGap, TaskLine, WorkingTask
from qbank.items.tasks.blank_lines import WrongLines, line_question, wrong_lines
from qbank.items.tasks.faults import written_out
from qbank.items.tasks.typed_gaps import blanks_of, gap_of
from qbank.maths.conventions import Conventions
from qbank.maths.expression import Integral
from qbank.messages import prose
from qbank.techniques.blanking import Blank
from qbank.techniques.indexed_integral import all_defined
from qbank.techniques.pieces import PieceKind
from qbank.techniques.presenting import Row
from qbank.techniques.working import WorkedSolution

__all__ = ["Fading", "gap_task", "prompt_gaps"]

Fading: TypeAlias = Literal[1, 2, 3]

_FEWEST_LINES, _MOST_LINES, _FEWEST_OPTIONS = 3, 10, 3
#: the fading that leaves nothing but the first line
_ALL = 3


@dataclass(frozen=True, slots=True)
class _Place:
    """What may be left blank in a line: wrong lines beside the whole of it, and pieces, one of each kind at most."""

    wrong: WrongLines
    pieces: tuple[Blank, ...]

    @property
    def kinds(self) -> tuple[GapKind, ...]:
        """The kinds of gap that it can have, in a fixed order."""
        found = {one.piece.kind for one in self.pieces}
        line: tuple[GapKind, ...] = ("line",) if len(self.wrong) >= _FEWEST_OPTIONS - 1 else ()
        typed: tuple[PieceKind, ...] = ("number", "expression")
        return (*line, *(kind for kind in typed if kind in found))


def prompt_gaps(integral: Integral, task: WorkingTask) -> Prose:
    """The question.

    Args:
        integral: what the working starts from.
        task: what is left blank in it.
    """
    kinds = {one.kind if isinstance(one, TaskGap) else "line" for one in task.questions}
    if kinds == {"line"}:
        return prose(
            "Complete this working of {integral}: choose what belongs in each line left blank.",
            integral=integral,
        )
    if kinds == {"number"}:
        return prose(
            "Complete this working of {integral}: type the number that is missing in each gap.",
            integral=integral,
        )
    if kinds == {"expression"}:
        return prose(
            "Complete this working of {integral}: type the expression that is missing in each gap.",
            integral=integral,
        )
    return prose("Complete this working of {integral}: fill in what is missing.", integral=integral)


def gap_task(
    solution: WorkedSolution,
    conventions: Conventions,
    fading: Fading,
    kinds: tuple[GapKind, ...],
    options: int,
    stream: Stream,
) -> WorkingTask | str:
    """Draw what is left blank, and the options of whole lines.

    Args:
        solution: the proved solution.
        conventions: how the mathematics is written, with the letter of the constant of integration.
        fading: how much is left blank.
        kinds: what may be left blank.
        options: how many a choice has at most.
        stream: draws the lines, the pieces, and the wrong lines.

    Returns:
        The task, or why there is none.
    """
    count = len(solution.lines)
    if not _FEWEST_LINES <= count <= _MOST_LINES:
        return "a working to be completed has three to ten lines"
    places = {
        place: _place(solution, place, kinds, options - 1, conventions, stream)
        for place in range(count)
        if place or (kinds != ("line",) and fading < _ALL)
    }
    possible = tuple(place for place, found in places.items() if found.kinds)
    if len(possible) < min(fading, 2 if kinds != ("line",) else fading) or (
        fading == _ALL and "line" in kinds and len(possible) < count - 1
    ):
        if kinds == ("line",):
            return "too few wrong lines could be found for the lines that are to be left blank"
        return "too few lines have a piece that the lines before it determine"
    blanks = _blanks(possible, fading, stream)
    rows = [
        Row(kind=line.kind, statements=line.statements, reason=line.reason, rule=line.rule)
        for line in solution.lines
    ]
    called, constant = all_defined(rows), conventions.constant
    lines: list[TaskLine] = []
    questions: list[Asked] = []
    for at, row in enumerate(rows):
        line = TaskLine(number=at + 1, row=written_out(row, constant, called))
        if at in blanks:
            name = f"Q{len(questions) + 1}"
            found, line = _asked(name, at, solution, places[at], constant, stream)
            questions.append(found)
        lines.append(line)
    return WorkingTask(task="complete-working", lines=tuple(lines), questions=tuple(questions))


def _place(
    solution: WorkedSolution,
    place: int,
    kinds: tuple[GapKind, ...],
    wanted: int,
    conventions: Conventions,
    stream: Stream,
) -> _Place:
    typed: frozenset[PieceKind] = frozenset(kind for kind in kinds if kind != "line")
    return _Place(
        wrong_lines(solution, place, wanted, stream) if "line" in kinds and place else (),
        blanks_of(solution, place, typed, conventions, stream) if typed else (),
    )


def _asked(
    name: str, at: int, solution: WorkedSolution, found: _Place, constant: str, stream: Stream
) -> tuple[Asked, TaskLine]:
    """What is asked of a line, and the line as it is shown."""
    line, called = solution.lines[at], all_defined(solution.lines)
    row = Row(kind=line.kind, statements=line.statements, reason=line.reason, rule=line.rule)
    kind = found.kinds[0] if len(found.kinds) == 1 else stream.shuffled(found.kinds)[0]
    if kind == "line":
        shown = TaskLine(number=at + 1, row=written_out(row, constant, called), question=name)
        return line_question(name, at, solution, found.wrong, constant, stream), shown
    (piece,) = (one for one in found.pieces if one.piece.kind == kind)
    return gap_of(piece, row, at + 1, name, constant, called)


def _blanks(possible: tuple[int, ...], fading: Fading, stream: Stream) -> tuple[int, ...]:
    match fading:
        case 1:
            return (stream.shuffled(possible)[0],)
        case 2:
            return possible[stream.below(2) :: 2]
        case _:
            return possible
