"""A JSON document of items read back: its shape against the schema, and each of its items as a question."""

from __future__ import annotations

import json
from collections.abc import Iterator
from fractions import Fraction
from itertools import islice
from typing import Any

from qbank.bank.schema import document_faults
from qbank.maths.expression import Expression, Integral, Sum, Symbol, rational, sum_of
from qbank.packages.applications import MARK, asked_application
from qbank.packages.document_parts import Json, decimal, expression, fraction, statement
from qbank.packages.document_tasks import read_task
from qbank.packages.evaluations import asked_integral, condition_of
from qbank.packages.forms import asked_by_form
from qbank.packages.formulas import FormulaError
from qbank.packages.matched import partner_shown, read_matched
from qbank.packages.opening import PackageError
from qbank.packages.parsing import XmlError
from qbank.packages.problem import Problem
from qbank.packages.question import (
    Accepted,
    Answers,
    Condition,
    Form,
    Matched,
    ModelAnswer,
    Offered,
    Options,
    Question,
    QuestionError,
    Several,
    SoughtLimit,
    Stated,
    Tried,
)
from qbank.packages.several import asked_of_several
from qbank.techniques.first_step import FirstStep

__all__ = ["document_problems", "read_entry", "read_json"]

#: differences from the schema that are listed
_MOST = 20


def read_json(data: bytes) -> Json:
    """The document as a value.

    Args:
        data: the bytes of the file.

    Raises:
        PackageError: it is not JSON, names a member twice, or is not an object.
    """
    try:
        value = json.loads(data.decode("utf-8"), object_pairs_hook=_once, parse_constant=_refused)
    except RecursionError as problem:
        raise PackageError("it is nested too deeply") from problem
    except ValueError as problem:
        raise PackageError(f"it is not JSON: {problem}") from problem
    if not isinstance(value, dict):
        raise PackageError("it is not a JSON object")
    return value


def _once(pairs: list[tuple[str, Any]]) -> Json:
    value = dict(pairs)
    if len(value) != len(pairs):
        raise ValueError("an object has two members of one name")
    return value


def _refused(name: str) -> Any:
    raise ValueError(f"{name} is not a number")


def document_problems(value: Json) -> Iterator[Problem]:
    """Where a document differs from its schema, and identifiers that occur twice."""
    faults = [Problem(pointer or "/", message) for pointer, message in islice(document_faults(value), _MOST)]
    if faults:
        yield from faults
        return
    seen: set[str] = set()
    for item in value["items"]:
        if item["identifier"] in seen:
            yield Problem(item["identifier"], "the identifier occurs twice")
        seen.add(item["identifier"])
    dealt: set[str] = set()
    for name in _named_by_tests(value):
        if name not in seen:
            yield Problem(name, "a test names this item, which is not there")
        if name in dealt:
            yield Problem(name, "tests name this item twice")
        dealt.add(name)


def _named_by_tests(value: Json) -> Iterator[str]:
    for test in value.get("tests", ()):
        for section in test["sections"]:
            for pool in section["pools"]:
                yield from pool["items"]


def read_entry(entry: Json) -> Question:
    """The question of one item of a document that its schema allows.

    Args:
        entry: the item.

    Raises:
        QuestionError: it is none of the kinds that are written here, or contradicts itself.
    """
    try:
        integral, condition = _asked(entry)
        return Question(
            identifier=entry["identifier"],
            integral=integral,
            answers=_answers(entry),
            stated=tuple(_stated(entry, integral)),
            condition=condition,
        )
    except (FormulaError, XmlError) as problem:
        raise QuestionError(str(problem)) from problem
    except (KeyError, TypeError) as problem:
        raise QuestionError("items of this form are not read back") from problem


def _stated(entry: Json, integral: Integral) -> Iterator[Stated]:
    response = entry["response"]
    for point in (*entry["check"]["points"], *response.get("points", ())):
        at = fraction(point["at"]["exact"])
        yield Stated(of=integral.integrand, at=at, decimal=point["value"])
        for term, slope in zip(response.get("terms", ()), point.get("slopes", ()), strict=False):
            yield Stated(of=expression(term["function"]), slope=True, at=at, decimal=slope)


def _asked(entry: Json) -> tuple[Integral, Condition | SoughtLimit | None]:
    """The integral of the question, and which of its antiderivatives is evaluated where, if one is."""
    shown = [statement(piece["mathematics"]) for piece in entry["prompt"] if "mathematics" in piece]
    if entry["form"] == "coefficients":
        shown = [asked_by_form(shown)[1]]
    if entry["form"] == "matching":
        shown = [_matched(entry).rows[0].integral]
    if entry["form"] == "several-answers":
        shown = [asked_of_several(shown)]
    words = "".join(piece.get("text", MARK) for piece in entry["prompt"])
    applied = asked_application(words, shown)
    if applied is not None:
        # what is stated of its integrand is held against it at the stated points
        return applied, None
    integral = asked_integral(shown)
    if statement(entry["integrand"]) != integral.integrand or entry["variable"] != integral.variable.name:
        raise QuestionError("the integrand stated is not the one of the question")
    condition = condition_of(integral, shown)
    if isinstance(condition, SoughtLimit):
        return integral, condition
    if (condition is not None) != (entry["form"] == "evaluation"):
        raise QuestionError("the form stated is not the one of the question")
    if condition is not None and condition != _stated_condition(entry["response"]):
        raise QuestionError("the places stated are not those of the question")
    return integral, condition


def _stated_condition(response: Json) -> Condition:
    return Condition(
        point=expression(response["point"]),
        given=rational(fraction(response["given"]["exact"])),
        at=expression(response["at"]),
    )


def _answers(entry: Json) -> Answers:
    response = entry["response"]
    key = expression(entry["key"])
    match entry["form"]:
        case "choice":
            offered = tuple(
                Offered(identifier=one["identifier"], answer=expression(one["answer"]), right=one["key"])
                for one in response["options"]
            )
            if [one.answer for one in offered if one.right] != [key]:
                raise QuestionError("the key stated is not the one option that is marked as right")
            return Options(offered=offered)
        case "several-answers":
            return _several(entry, key)
        case "matching":
            return _matched(entry)
        case "numeric" | "evaluation":
            lower, upper = response["accepted"]["lower"], response["accepted"]["upper"]
            # some readers take the fractions and some the decimals: what both accept has to be right
            return Accepted(
                lower=max(fraction(lower["exact"]), decimal(lower["decimal"])),
                upper=min(fraction(upper["exact"]), decimal(upper["decimal"])),
                keyed=response["decimal"],
                exact=key,
            )
        case "free-expression" | "show-that":
            return ModelAnswer(answer=key)
        case "coefficients":
            return _form(entry)
        case "first-step" | "find-fault" | "complete-working":
            return read_task(entry)
        case other:
            raise QuestionError(f"items of the form {other} are not read back")


def _matched(entry: Json) -> Matched:
    response, variable = entry["response"], Symbol(entry["variable"])
    rows, partners = response["rows"], response["partners"]
    keys = [f"{row['identifier']} {row['partner']}" for row in rows]
    share = fraction(response["share"]["exact"])
    shown: list[tuple[str, Expression | FirstStep]] = []
    for one in partners:
        formulas = [statement(piece["mathematics"]) for piece in one["shown"] if "mathematics" in piece]
        text = "".join(piece.get("text", "") for piece in one["shown"])
        shown.append((one["identifier"], partner_shown(formulas, text)))
    answers = read_matched(
        [(row["identifier"], [Integral(expression(row["integrand"]), variable)]) for row in rows],
        shown,
        keys,
        Fraction(entry["marks"]),
        # a document says how pairs are scored, and has nothing to be carried out
        lambda pairs: share * len((pairs or frozenset()) & set(keys)),
    )
    for row, read in zip(rows, answers.rows, strict=True):
        partner = dict(answers.partners)[read.partner]
        if isinstance(partner, Expression) and expression(row["key"]) != partner:
            raise QuestionError(f"the key stated for {read.identifier} is not what is matched to it")
    return answers


def _several(entry: Json, key: Expression) -> Several:
    offered = tuple(
        Offered(identifier=one["identifier"], answer=expression(one["answer"]), right=one["key"])
        for one in entry["response"]["options"]
    )
    right = sum(one.right for one in offered)
    if not 2 <= right <= len(offered) - right:
        raise QuestionError("several answers are at least two, and no more than the wrong ones")
    if len({one.identifier for one in offered}) != len(offered):
        raise QuestionError("two options have the same identifier")
    if fraction(entry["response"]["share"]["exact"]) * right != entry["marks"]:
        raise QuestionError("the shares of the right options do not add up to the marks")
    constant = key.terms[-1] if isinstance(key, Sum) else key
    if not any(sum_of(one.answer, constant) == key for one in offered if one.right):
        raise QuestionError("the key stated is not among the options that are marked as right")
    return Several(offered=offered)


def _form(entry: Json) -> Form:
    """The form as the question shows it, with the stated answer and those of the slips."""
    shown = [statement(piece["mathematics"]) for piece in entry["prompt"] if "mathematics" in piece]
    response = entry["response"]
    form, _ = asked_by_form(shown)
    answers = [(response["values"], True), *((slip["values"], False) for slip in response["slips"])]
    return Form(
        letters=tuple(Symbol(term["letter"]) for term in response["terms"]),
        form=form,
        tried=tuple(
            Tried(values=tuple(fraction(value["exact"]) for value in values), full=full)
            for values, full in answers
        ),
    )
