"""Tasks about working in a JSON document of items: the lines, the options of choices, and the gaps."""

from __future__ import annotations

from fractions import Fraction

from qbank.maths.equation import Statement
from qbank.maths.notation import plain
from qbank.packages.document_parts import Json, expression, fraction, statement
from qbank.packages.gapped import merged
from qbank.packages.parsing import parse
from qbank.packages.question import AskedTask, QuestionError, TaskLine, TaskShown
from qbank.packages.task_reading import Typed, read_asked
from qbank.techniques.blanking import filled

__all__ = ["read_task"]


def read_task(entry: Json) -> AskedTask:
    """The task of an item.

    Args:
        entry: the item, whose shape is that of the schema.

    Raises:
        QuestionError: it contradicts itself.
        FormulaError: a formula in it cannot be read.
    """
    response = entry["response"]
    shown: list[tuple[str, list[TaskShown] | Typed]] = []
    keys: dict[str, str] = {}
    gaps: dict[str, Json] = {}
    for one in response["questions"]:
        name = one["identifier"]
        if "gap" in one:
            gaps[name] = one["gap"]
            number = one["gap"]["number"]
            keys[name] = one["gap"]["key"]["plain"] if number is None else number["exact"]
            value = expression(one["gap"]["key"])
            texts = () if number is None else (keys[name],)
            shown.append((name, Typed(keys[name], value, number is not None, texts)))
            continue
        options = []
        for option in one["options"]:
            pieces = option["shown"]
            options.append(
                TaskShown(
                    identifier=option["identifier"],
                    statements=tuple(statement(p["mathematics"]) for p in pieces if "mathematics" in p),
                    text=" ".join(piece["text"] for piece in pieces if "text" in piece),
                )
            )
        shown.append((name, options))
        keys[name] = " ".join(option["identifier"] for option in one["options"] if option["key"])
    share = fraction(response["share"]["exact"])
    by_person = any(gap["number"] is None for gap in gaps.values())
    questions = read_asked(
        shown,
        keys,
        Fraction(entry["marks"]),
        # a document says how answers are scored, and has nothing to be carried out
        lambda given: None if by_person else share * sum(1 for name in keys if given.get(name) == keys[name]),
    )
    lines = tuple(_task_line(line, gaps.get(line["question"])) for line in response["lines"])
    return AskedTask(task=entry["form"], questions=questions, lines=lines)


def _task_line(line: Json, gap: Json | None) -> TaskLine:
    """A line; where it has a gap, that of its statements is put together from the pieces around the gap."""
    statements = [statement(one) for one in line["mathematics"]]
    if gap is None:
        return TaskLine(statements=tuple(statements), question=line["question"])
    place = gap["statement"]
    if place >= len(statements):
        raise QuestionError("a gap is in a statement that its line has not")
    before, after = (
        None if gap[side] is None else parse(gap[side]["mathml"].encode("utf-8", "replace"))
        for side in ("before", "after")
    )
    assert before is not None, "the schema asks for it"
    gapped = merged(before, after, raised=gap["raised"])
    if _text(filled(gapped, expression(gap["key"]))) != _text(statements[place]):
        raise QuestionError("a line is not what its gap leaves with the key in it")
    statements[place] = gapped
    return TaskLine(statements=tuple(statements), question=line["question"], place=place)


def _text(one: Statement) -> str:
    """A statement as text: a minus sign is written alike, whether it belongs to a number or stands before it."""
    return plain(one)
