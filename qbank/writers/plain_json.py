"""Generic JSON after `schemas/items.schema.json`: everything known of each item, for readers without algebra.

One document, written piece by piece: the head, then one line for each item, then the closing brackets.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from typing import Any, TypeAlias, assert_never

from qbank.bank.policy import PARTS, Policy
from qbank.items.deck import Deck, Paper
from qbank.items.item import (
    Choice,
    Coefficients,
    FractionEntry,
    FreeExpression,
    Item,
    Matching,
    Numeric,
    NumericSlip,
    Option,
    Prose,
    SeveralAnswers,
    WorkingTask,
)
from qbank.items.tasks.asked import TaskGap, TaskOption, TaskQuestion
from qbank.maths.conventions import Conventions
from qbank.maths.equation import Statement
from qbank.maths.expression import as_fraction
from qbank.maths.notation import plain
from qbank.maths.notation.gapped import has_gap, pieces
from qbank.maths.verdict import Witness
from qbank.techniques.presenting import Row, with_constant
from qbank.writers.artifact import GENERATOR, OWN_JSON, Artifact
from qbank.writers.characters import clean
from qbank.writers.figures import svg
from qbank.writers.json_notations import Notations
from qbank.writers.numbers import Side, decimal_text, exact_text
from qbank.writers.origin import source_member

__all__ = ["FORMAT", "TOLERANCE", "document", "item_value", "paper_value"]

#: the version of the layout that the schema describes
FORMAT = 1

#: how near a numerical derivative must come to the integrand, relative to max(1, |integrand|)
TOLERANCE = "0.000001"

Json: TypeAlias = dict[str, Any]


def document(deck: Deck) -> Iterator[Artifact]:
    """The document of a deck, in pieces.

    Args:
        deck: what to write.

    Yields:
        The head, a line for each item, the end; all of one path.
    """
    path = f"{deck.bank}.json"
    head = _dump(_head(deck))
    assert head.startswith(OWN_JSON.decode())
    if deck.source is not None:
        head = f'{head[:-1]},"source":{source_member(deck.source)}}}'
    yield Artifact(path, (head[:-1] + ',"items":[').encode())
    before = b"\n"
    known: dict[Conventions, Notations] = {}
    for section in deck.sections:
        for item in section.items:
            notations = known.get(item.conventions)
            if notations is None:
                notations = known[item.conventions] = Notations(item.conventions)
            yield Artifact(path, before + _line(item, notations))
            before = b",\n"
    yield Artifact(path, b"\n]}\n")


_dump = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), allow_nan=False).encode


def _head(deck: Deck) -> Json:
    tests = {"tests": [paper_value(paper) for paper in deck.papers]} if deck.papers else {}
    return {
        "generator": GENERATOR,
        "$schema": "urn:qbank:schema:items",
        "format": FORMAT,
        "bank": {
            "identifier": deck.bank,
            "title": clean(deck.title),
            "language": deck.language,
            "licence": clean(deck.licence),
            "authors": [clean(author) for author in deck.authors],
            "version": clean(deck.version),
        },
        "seed": clean(deck.seed),
        "sections": [
            {"template": section.template, "title": clean(section.title), "pick": section.pick}
            for section in deck.sections
        ],
        **tests,
    }


def paper_value(paper: Paper) -> Json:
    """A declared test, or one form of it, as it stands in the document."""
    return {
        "identifier": paper.identifier,
        "form": paper.form or None,
        "title": clean(paper.title),
        "instructions": clean(paper.instructions),
        "minutes": paper.minutes,
        "marks": paper.marks,
        "sections": [
            {
                "title": clean(part.title),
                "marks": part.marks,
                "rising": part.rising,
                "shuffle": part.shuffle,
                "pools": [
                    {"pick": section.pick, "items": [item.identifier for item in section.items]}
                    for section in part.sections
                ],
            }
            for part in paper.parts
        ],
    }


def item_value(item: Item) -> Json:
    """One item as it stands in the document."""
    value: Json = json.loads(_line(item, Notations(item.conventions)))
    return value


def _line(item: Item, notations: Notations) -> bytes:
    """One item as it stands in the document, dumped."""
    return notations.filled(_dump(_marked(item, notations)).encode())


def _marked(item: Item, notations: Notations) -> Json:
    """One item, with a mark in the place of each statement."""
    return {
        "identifier": item.identifier,
        "bank": item.bank,
        "template": item.template,
        "title": clean(item.title),
        "technique": item.technique,
        "tags": [clean(tag) for tag in item.tags],
        "language": item.language,
        "form": item.form,
        "marks": item.marks,
        "difficulty": item.difficulty,
        "parameters": [{"name": name, "value": _number(value)} for name, value in item.parameters],
        "prompt": _prose(item.prompt, notations),
        "integrand": notations.mark(item.integrand),
        "variable": item.variable.name,
        "limits": None if item.limits is None else _limits(item.limits, notations),
        "key": notations.mark(_answer(item)),
        "proof": {"claim": clean(item.proof.claim), "method": clean(item.proof.method)},
        "enclosure": None if item.enclosure is None else _interval(*item.enclosure, outwards=True),
        "working": [_row(row, notations) for row in item.working],
        "check": _check(item),
        "response": _response(item, notations),
        **_figure(item),
    }


def _figure(item: Item) -> Json:
    """The picture of the question, as a document of SVG and in words; nothing where there is none."""
    if item.figure is None:
        return {}
    figure = item.figure
    return {
        "figure": {"svg": svg(figure), "title": clean(figure.title), "description": clean(figure.description)}
    }


def _answer(item: Item) -> Statement:
    """The key as it is handed in, with the constant of integration where there is one."""
    return item.key if item.asks_for_value else with_constant(item.key, item.conventions.constant)


def _prose(prose: Prose, notations: Notations) -> list[Json]:
    return [
        {"text": clean(piece)} if isinstance(piece, str) else {"mathematics": notations.mark(piece)}
        for piece in prose
    ]


def _number(value: Fraction, side: Side = "nearest") -> Json:
    return _known_number(value.numerator, value.denominator, side)


@lru_cache(maxsize=256)
def _known_number(numerator: int, denominator: int, side: Side) -> Json:
    """A number; those of parameters and of the points of witnesses stand in many items."""
    value = Fraction(numerator, denominator)
    return {"exact": exact_text(value), "decimal": decimal_text(value, side)}


def _interval(lower: Fraction, upper: Fraction, *, outwards: bool) -> Json:
    """Decimals are rounded so that the interval is not smaller (`outwards`) or not larger than the exact one."""
    down, up = ("down", "up") if outwards else ("up", "down")
    return {"lower": _number(lower, down), "upper": _number(upper, up)}  # type: ignore[arg-type]  # both are a Side


def _limits(limits: tuple[Statement, Statement], notations: Notations) -> Json:
    lower, upper = limits
    return {"lower": notations.mark(lower), "upper": notations.mark(upper)}


def _row(row: Row, notations: Notations) -> Json:
    return {
        "kind": row.kind,
        "mathematics": [notations.mark(statement) for statement in row.statements],
        "reason": clean(row.reason),
        "rule": row.rule,
    }


def _check(item: Item) -> Json:
    return {
        "integrand": plain(item.integrand, item.conventions),
        "variable": item.variable.name,
        "tolerance": TOLERANCE,
        "points": [{"at": _number(check.at), "value": check.value} for check in item.checks],
    }


def _response(item: Item, notations: Notations) -> Json:
    match item.response:
        case Choice(options=options):
            return {"options": [_option(option, notations) for option in options]}
        case SeveralAnswers(options=options):
            return {
                "options": [_option(option, notations) for option in options],
                "share": _number(item.response.share(item.marks)),
            }
        case Matching():
            return _matching(item.response, item, notations)
        case Numeric():
            return {**_through(item, notations), **_numeric(item.response, notations)}
        case Coefficients():
            return _coefficients(item.response, notations)
        case FreeExpression(rubric=rubric, policy=policy, line_marks=line_marks):
            return {
                "rubric": _prose(rubric, notations),
                "lineMarks": list(line_marks),
                "policy": _policy(policy),
            }
        case WorkingTask():
            return _task(item.response, item.marks, notations)
        case _:
            assert_never(item.response)


def _policy(policy: Policy) -> Json:
    return {
        **{part: _number(policy.left((part,))) for part in PARTS},
        "slips": [{"slip": clean(slip), "share": _number(share)} for slip, share in policy.slips],
    }


def _option(option: Option, notations: Notations) -> Json:
    witness = option.evidence if isinstance(option.evidence, Witness) else None
    return {
        "identifier": option.identifier,
        "answer": notations.mark(option.answer),
        "key": option.is_key,
        "slip": option.slip,
        "feedback": _prose(option.feedback, notations),
        "witness": None if witness is None else _witness(witness),
    }


def _witness(witness: Witness) -> Json:
    return {
        "at": _number(witness.point),
        "left": witness.left,
        "right": witness.right,
        "others": [{"name": name, "value": _number(value)} for name, value in witness.others],
    }


def _matching(response: Matching, item: Item, notations: Notations) -> Json:
    constant = item.conventions.constant
    return {
        "shows": response.shows,
        "rows": [
            {
                "identifier": row.identifier,
                "integrand": notations.mark(row.integrand),
                "key": notations.mark(with_constant(row.key, constant)),
                "partner": row.partner,
            }
            for row in response.rows
        ],
        "partners": [
            {
                "identifier": one.identifier,
                "shown": _prose(one.shown, notations),
                "slip": one.slip,
                "misled": one.misled,
                "feedback": _prose(one.feedback, notations),
            }
            for one in response.partners
        ],
        "share": _number(response.share(item.marks)),
        "mismatches": [
            {"row": one.row, "partner": one.partner, "witness": _witness(one.witness)}
            for one in response.mismatches
        ],
    }


def _task(response: WorkingTask, marks: int, notations: Notations) -> Json:
    return {
        "lines": [
            {"number": line.number, "question": line.question, **_row(line.row, notations)}
            for line in response.lines
        ],
        "questions": [
            {
                "identifier": one.identifier,
                "line": one.line,
                "ordered": one.ordered,
                "options": [_task_option(option, notations) for option in one.options],
            }
            if isinstance(one, TaskQuestion)
            else _gap(one, response, notations)
            for one in response.questions
        ],
        "share": _number(response.share(marks)),
    }


def _gap(gap: TaskGap, response: WorkingTask, notations: Notations) -> Json:
    row = next(line.gapped for line in response.lines if line.question == gap.identifier)
    assert row is not None, "a gap stands in a line"
    place = next(at for at, statement in enumerate(row.statements) if has_gap(statement))
    found = pieces(row.statements[place], notations.conventions)
    assert found is not None, "a gap is left where a box can stand"
    proof, witness = gap.evidence
    return {
        "identifier": gap.identifier,
        "line": gap.line,
        "gap": {
            "kind": gap.kind,
            "statement": place,
            "raised": found.raised,
            "before": notations.mark_piece(found.before),
            "after": None if found.after is None else notations.mark_piece(found.after),
            "letter": None if gap.letter is None else gap.letter.name,
            "meaning": None if gap.meaning is None else notations.mark(gap.meaning),
            "upToConstant": gap.up_to_constant,
            "key": notations.mark(gap.value),
            "number": None if gap.letter is not None else _number(as_fraction(gap.value) or Fraction(0)),
            "right": _prose(gap.right, notations),
            "wrong": _prose(gap.wrong, notations),
            "proof": {"claim": proof.claim, "method": proof.method},
            "witness": _witness(witness),
        },
    }


def _task_option(option: TaskOption, notations: Notations) -> Json:
    evidence = option.evidence
    return {
        "identifier": option.identifier,
        "shown": _prose(option.shown, notations),
        "key": option.right,
        "judgement": option.judgement,
        "slip": option.slip,
        "feedback": _prose(option.feedback, notations),
        "witness": _witness(evidence) if isinstance(evidence, Witness) else None,
    }


def _coefficients(response: Coefficients, notations: Notations) -> Json:
    entry = response.entry
    terms = zip(response.letters, response.functions, strict=True)
    return {
        "terms": [
            {"letter": letter.name, "function": notations.mark(function)} for letter, function in terms
        ],
        "values": [_number(value) for value in response.values],
        "relations": [[_number(one) for one in r.coefficients] for r in response.relations],
        "entry": {"kind": "fractions", "bound": entry.bound}
        if isinstance(entry, FractionEntry)
        else {"kind": "decimals", "places": entry.places},
        "points": [
            {"at": _number(point.at), "slopes": list(point.slopes), "value": point.value}
            for point in response.points
        ],
        "tolerance": decimal_text(response.tolerance, "up"),
        "condition": decimal_text(response.condition),
        "partMarks": list(response.part_marks),
        "slips": [
            {
                "slip": slip.slip,
                "values": [_number(value) for value in slip.values],
                "marks": response.part(slip.values),
                "feedback": _prose(slip.feedback, notations),
            }
            for slip in response.slips
        ],
    }


def _through(item: Item, notations: Notations) -> Json:
    """Which antiderivative is evaluated, and where; nothing for a definite integral."""
    if item.through is None:
        return {}
    return {
        "point": notations.mark(item.through.point),
        "given": _number(item.through.value),
        "at": notations.mark(item.through.at),
    }


def _numeric(response: Numeric, notations: Notations) -> Json:
    return {
        "value": notations.mark(response.value),
        "decimal": response.decimal,
        "figures": response.figures,
        "accepted": _interval(response.lower, response.upper, outwards=False),
        "slips": [_numeric_slip(slip, notations) for slip in response.slips],
    }


def _numeric_slip(slip: NumericSlip, notations: Notations) -> Json:
    return {
        "slip": slip.slip,
        "value": notations.mark(slip.value),
        "recognised": _interval(slip.lower, slip.upper, outwards=False),
        "feedback": _prose(slip.feedback, notations),
    }
