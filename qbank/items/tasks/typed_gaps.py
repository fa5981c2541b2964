"""Pieces of a working left blank and typed: a number or an expression, in one gap of a line.

Which pieces a line has, and which of them are determined by what is shown, is said in `techniques.pieces` and
`techniques.blanking`; here they become questions.
"""

from __future__ import annotations

from collections.abc import Iterator

from qbank.bank.drawing import Stream
from qbank.items.tasks.asked import TaskGap, TaskLine
from qbank.items.tasks.faults import written_out
from qbank.maths.conventions import Conventions
from qbank.maths.expression import Expression, Integral, as_fraction
from qbank.maths.notation.gapped import pieces
from qbank.messages import prose, say
from qbank.techniques.blanking import Blank, blank, is_given_away
from qbank.techniques.following import numbers_named
from qbank.techniques.indexed_integral import IndexedIntegral
from qbank.techniques.pieces import PieceKind, pieces_of
from qbank.techniques.presenting import Row
from qbank.techniques.working import WorkedSolution

__all__ = ["blanks_of", "gap_of"]

#: numbers that are typed with a sign and so many digits at most above and below the line
_LONGEST = 4


def blanks_of(
    solution: WorkedSolution,
    place: int,
    kinds: frozenset[PieceKind],
    conventions: Conventions,
    stream: Stream,
) -> tuple[Blank, ...]:
    """A piece of a line that may be left blank, one of each kind that there is.

    It is one that the next line does not show, where there is any.

    Args:
        solution: the proved solution.
        place: of the line, counted from 0.
        kinds: what may be typed.
        conventions: how the mathematics is written, since a box can stand in some places only.
        stream: draws it.
    """
    after = solution.lines[place + 1 :]
    found: list[Blank] = []
    for kind in sorted(kinds, reverse=True):
        shown: Blank | None = None
        for one in _blanks(solution, place, kind, conventions, stream):
            if not is_given_away(one, after):
                found.append(one)
                break
            shown = shown or one
        else:
            found += () if shown is None else (shown,)
    return tuple(found)


def _blanks(
    solution: WorkedSolution, place: int, kind: PieceKind, conventions: Conventions, stream: Stream
) -> Iterator[Blank]:
    """The pieces of one kind that may be left blank, in a drawn order."""
    line, before = solution.lines[place], solution.lines[:place]
    named = numbers_named(solution.lines)
    integral = Integral(solution.integrand, solution.variable)
    possible = tuple(
        (at, piece)
        for at, statement in enumerate(line.statements)
        for piece in pieces_of(statement)
        if piece.kind == kind
        and not _is_long(piece.value)
        and pieces(piece.statement, conventions) is not None
    )
    for at, piece in stream.shuffled(possible):
        found = blank(line, at, piece, before, integral, named)
        if isinstance(found, Blank):
            yield found


def _is_long(value: Expression) -> bool:
    number = as_fraction(value)
    return number is not None and max(abs(number.numerator), number.denominator) >= 10**_LONGEST


def gap_of(
    found: Blank, row: Row, number: int, name: str, constant: str, called: tuple[IndexedIntegral, ...]
) -> tuple[TaskGap, TaskLine]:
    """The question for a blank, and the line that it is missing from.

    Args:
        found: the blank.
        row: the whole row, as it is to be shown in the end.
        number: of the line, counted from 1.
        name: identifier of the question.
        constant: the letter of the constant of integration.
        called: the integrals that the working calls by a letter.
    """
    statements = list(row.statements)
    statements[found.place] = found.piece.statement
    gapped = Row(kind=row.kind, statements=tuple(statements), reason=row.reason, rule=row.rule)
    wanted = prose("It should be {right}.", right=found.piece.value)
    if found.letter is not None:
        wanted = prose("It should be {right}, or an equivalent expression.", right=found.piece.value)
    gap = TaskGap(
        identifier=name,
        line=number,
        kind=found.piece.kind,
        value=found.piece.value,
        letter=found.letter,
        meaning=found.meaning,
        up_to_constant=found.up_to_constant,
        raised=found.piece.raised,
        right=(say("Right."),),
        wrong=wanted,
        evidence=(found.proof, found.witness),
    )
    return gap, TaskLine(
        number=number,
        row=written_out(row, constant, called),
        question=name,
        gapped=written_out(gapped, constant, called),
    )
