"""Finding the fault: a working in which one line is wrong, and every other line follows from the line before it."""

from __future__ import annotations

from qbank.bank.drawing import Stream
from qbank.items.options import Prose
from qbank.items.tasks.asked import TaskLine, TaskOption, TaskQuestion, WorkingTask
from qbank.maths.expression import Expression, Integral
from qbank.maths.verdict import Witness
from qbank.messages import prose, say
from qbank.techniques.faulty_working import FaultyWorking, faulty_places, faulty_working, wrong_versions
from qbank.techniques.indexed_integral import IndexedIntegral, all_defined, is_open
from qbank.techniques.presenting import Row, with_constant
from qbank.techniques.working import WorkedSolution

__all__ = ["fault_task", "prompt_fault", "written_out"]

_LETTERS = "ABCDEFGHIJ"
#: with fewer lines there is nothing to look for, with more nobody reads on
_FEWEST, _MOST = 3, len(_LETTERS)
#: workings that are tried before the draw is given up
_TRIED = 60


def prompt_fault(integral: Integral) -> Prose:
    """The question."""
    return prose(
        "This working of {integral} has a fault in one line; every other line follows from the line before it.",
        integral=integral,
    )


def fault_task(solution: WorkedSolution, constant: str, stream: Stream) -> WorkingTask | str:
    """Draw a line and a slip.

    Args:
        solution: the proved solution.
        constant: the letter of the constant of integration.
        stream: draws them.

    Returns:
        The task, or why there is none.
    """
    tried = 0
    for place in stream.shuffled(faulty_places(solution)):
        for wrong in stream.shuffled(tuple(wrong_versions(solution, place))):
            tried += 1
            if tried > _TRIED:
                break
            found = faulty_working(solution, place, wrong)
            if found is not None and _FEWEST <= len(found.rows) <= _MOST:
                return _task(found, constant)
    return "no slip could be found from which a working of three to ten lines follows"


def written_out(row: Row, constant: str, called: tuple[IndexedIntegral, ...]) -> Row:
    """A row as it is shown: with the constant of integration once no integral is left.

    Args:
        row: the row.
        constant: the letter of the constant.
        called: the integrals that the working calls by a letter.
    """
    match row.kind, row.statements:
        case "step", (Expression() as step,) if not is_open(step, called):
            return Row(
                kind=row.kind,
                statements=(with_constant(step, constant),),
                reason=row.reason,
                rule=row.rule,
            )
        case _:
            return row


def _task(found: FaultyWorking, constant: str) -> WorkingTask:
    called = all_defined(found.rows)
    lines = tuple(
        TaskLine(number=number, row=written_out(row, constant, called))
        for number, row in enumerate(found.rows, 1)
    )
    options = tuple(_option(at, found, constant) for at in range(len(lines)))
    return WorkingTask(
        task="find-fault",
        lines=lines,
        questions=(TaskQuestion(identifier="Q1", line=None, options=options, ordered=True),),
    )


def _option(at: int, found: FaultyWorking, constant: str) -> TaskOption:
    evidence = found.evidence[at]
    wrong = isinstance(evidence, Witness)
    (right,) = written_out(found.right, constant, all_defined(found.rows)).statements
    if wrong:
        told: Prose = prose(
            "Right, this line does not follow. {why} It should be {right}.",
            why=found.wrong.sentence,
            right=right,
        )
    elif at < found.place:
        told = (say("This line follows from the line before. The fault comes later."),)
    else:
        told = (say("This line follows from the line before. The fault comes earlier."),)
    return TaskOption(
        identifier=f"Q1{_LETTERS[at]}",
        shown=(say("Line {number}", number=str(at + 1)),),
        right=wrong,
        judgement="refuted" if wrong else "follows",
        slip=found.wrong.slip if wrong else None,
        feedback=told,
        evidence=evidence,
    )
