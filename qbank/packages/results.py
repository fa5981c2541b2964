"""QTI Results Reporting: what students answered in another system, as rows to be marked by differentiation.

    assessmentResult + the package its items are from --> rows: student, item, integrand, response, ...

An option that was chosen is marked as if its mathematics had been typed, and coefficients as the expression they make; so
the mark does not depend on how the system scored them. What it scored stands beside it, to be compared.

The documents of 2.1, 2.2 and 3.0 differ in their namespaces alone; those are not looked at.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import TypeAlias

from qbank.bank.policy import ACCEPTING, Policy
from qbank.marking.entry import Entry, Marked
from qbank.marking.rows import Row, TableError
from qbank.maths.expression import Expression, Symbol, rational
from qbank.maths.notation import plain
from qbank.messages import say
from qbank.packages.document import document_problems, read_entry, read_json
from qbank.packages.items import read_item
from qbank.packages.matched import mark_matched
from qbank.packages.opening import Package, PackageError, is_zip, read_document
from qbank.packages.parsing import Element, XmlError, attribute, children, inside, kind, parse, text_of
from qbank.packages.pictures import Gallery
from qbank.packages.policies import policies_of, policy_for
from qbank.packages.question import (
    Accepted,
    AskedTask,
    Condition,
    Form,
    Matched,
    ModelAnswer,
    Options,
    Question,
    QuestionError,
    Several,
    SoughtLimit,
)
from qbank.packages.recovering import source_in, source_of
from qbank.packages.several import mark_several
from qbank.packages.tasks import mark_task

__all__ = ["COLUMNS", "questions_of", "result_rows"]

#: the columns of such a table, before those that marking adds
COLUMNS = (
    "student",
    "item",
    "kind",
    "attempt",
    "system_score",
    "integrand",
    "variable",
    "lower",
    "upper",
    "figures",
    "response",
)
#: variables of a session that are no answer
_OWN = frozenset({"numattempts", "duration", "completionstatus"})
_NUMERATOR, _DENOMINATOR = "_NUMERATOR", "_DENOMINATOR"
_LANGUAGE = "{http://www.w3.org/XML/1998/namespace}lang"
_LONGEST_NUMBER = 40
_MOST_FIGURES = 15

_ACCEPTED = Marked(
    verdict="correct",
    score=1.0,
    proof="within the bounds of the item, which hold the value",
    message=say("Right."),
)

_NOT_ACCEPTED = Marked(
    verdict="incorrect",
    score=0.0,
    proof="outside the bounds of the item, which hold the only such number",
    message=say("This is not the number for which the integral has that value."),
)

Questions: TypeAlias = Mapping[str, "Question | str"]


def questions_of(path: Path) -> dict[str, Question | str]:
    """The questions of a package by the identifiers of its items.

    Args:
        path: a QTI package or a JSON document that qbank wrote.

    Returns:
        For each item its question, or why it cannot be read back.

    Raises:
        PackageError: the file cannot be used.
    """
    found: dict[str, Question | str] = {}
    if not is_zip(path):
        value = read_json(read_document(path))
        for problem in document_problems(value):
            raise PackageError(str(problem))
        policies = policies_of(source_of(value))
        for entry in value["items"]:
            try:
                found[entry["identifier"]] = _with(read_entry(entry), policies, entry["language"])
            except QuestionError as error:
                found[entry["identifier"]] = str(error)
        return found
    with Package(path) as package:
        gallery, policies = Gallery(package.read), policies_of(source_in(package))
        for member in package.names:
            if not member.endswith(".xml"):
                continue
            try:
                root = parse(package.read(member))
            except XmlError as error:
                raise PackageError(f"{member}: {error}") from error
            if kind(root) == "assessmentitem":
                name = attribute(root, "identifier") or ""
                try:
                    gallery.put_formulas(root, member)
                    found[name] = _with(read_item(root), policies, root.get(_LANGUAGE) or "en")
                except QuestionError as error:
                    found[name] = str(error)
    if not found:
        raise PackageError("it has no items of QTI 2 or 3; use the qti3, qti22, qti21 or json export")
    return found


def _with(question: Question, policies: Mapping[str, Policy], language: str) -> Question:
    return replace(question, policy=policy_for(question.identifier, policies), language=language)


def result_rows(
    path: Path, questions: Questions, policy: Policy | None = None, language: str | None = None
) -> Iterator[Row]:
    """The responses of one student, or of a folder of students in the order of the names of their files.

    Args:
        path: a results document, or a folder with such documents (`*.xml`).
        questions: of the package that was answered.
        policy: what answers score that lack something, and slips; None for that of each question.
        language: BCP 47 tag of what is said to students; None for that of each question.

    Raises:
        TableError: a document is not one of results; the text says which.
    """
    documents = sorted(path.glob("*.xml")) if path.is_dir() else [path]
    if not documents:
        raise TableError("there is no *.xml file in the folder")
    for document in documents:
        try:
            root = parse(read_document(document))
        except (XmlError, PackageError) as error:
            raise TableError(f"{document.name}: {error}") from error
        if kind(root) != "assessmentresult":
            raise TableError(f"{document.name}: it is no assessmentResult")
        for row in _rows(root, document.stem, questions, policy):
            item = questions.get(dict(row.cells)["item"], "")
            yield _said(row, language or ("en" if isinstance(item, str) else item.language))


def _said(row: Row, language: str) -> Row:
    """A row whose mark is said in a language."""
    entry, settled = row.entry, row.settled
    return replace(
        row,
        entry=None if entry is None else replace(entry, language=language),
        settled=None if settled is None else settled.in_language(language),
    )


def _rows(root: Element, name: str, questions: Questions, policy: Policy | None) -> Iterator[Row]:
    student = name
    for context in children(root, "context"):
        student = attribute(context, "sourcedid") or student
    for result in children(root, "itemresult"):
        yield _row(student, result, questions, policy)


def _row(student: str, result: Element, questions: Questions, policy: Policy | None) -> Row:
    identifier = attribute(result, "identifier") or ""
    cells = dict.fromkeys(COLUMNS, "")
    cells |= {"student": student, "item": identifier, "attempt": attribute(result, "sequenceindex") or ""}
    cells["system_score"] = _score(result)
    given = _given(result)
    cells["response"] = " ".join(value for values in given.values() for value in values)
    question = questions.get(identifier, "the package has no such item")
    if isinstance(question, str):
        return Row(cells=tuple(cells.items()), entry=None, problem=question)
    cells |= _asked(question)
    if isinstance(question.answers, Several):
        chosen = [value for values in given.values() for value in values]
        marked = mark_several(question.answers, question.integral, chosen)
        return Row(cells=tuple(cells.items()), entry=None, settled=marked)
    if isinstance(question.answers, Matched):
        pairs = [value for values in given.values() for value in values]
        return Row(cells=tuple(cells.items()), entry=None, settled=mark_matched(question.answers, pairs))
    if isinstance(question.answers, AskedTask):
        options = {name: " ".join(values) for name, values in given.items()}
        settled = mark_task(question.answers, question.integral, options)
        return Row(cells=tuple(cells.items()), entry=None, settled=settled)
    if question.is_shown:
        problem = "a working towards a value that is given is marked by a person"
        return Row(cells=tuple(cells.items()), entry=None, problem=problem)
    problem = ""
    try:
        cells["response"] = _typed(question, given)
    except QuestionError as error:
        problem = str(error)
    if isinstance(question.answers, Accepted) and _accepts(question.answers, cells["response"]):
        return Row(cells=tuple(cells.items()), entry=None, settled=_ACCEPTED)
    if isinstance(question.condition, SoughtLimit):
        # what is typed is a limit, no value: it is right exactly where the package takes it as right
        return Row(
            cells=tuple(cells.items()),
            entry=None,
            problem=problem,
            settled=None if problem else _NOT_ACCEPTED,
        )
    lower, upper, start = _places(question, cells)
    entry = (
        None
        if problem
        else Entry(
            integrand=cells["integrand"],
            response=cells["response"],
            variable=cells["variable"],
            lower=lower,
            upper=upper,
            given=start,
            figures=cells["figures"],
            policy=_policy(question, policy),
        )
    )
    return Row(cells=tuple(cells.items()), entry=entry, problem=problem)


def _policy(question: Question, stated: Policy | None) -> Policy:
    """The policy for what a student typed; an option or a form lacks what it lacks by no fault of theirs."""
    if not isinstance(question.answers, ModelAnswer | Accepted):
        return ACCEPTING
    return question.policy if stated is None else stated


def _score(result: Element) -> str:
    """The outcome SCORE as the system reported it."""
    for outcome in children(result, "outcomevariable"):
        if attribute(outcome, "identifier") == "SCORE":
            return " ".join(text_of(value) for value in children(outcome, "value"))
    return ""


def _given(result: Element) -> dict[str, tuple[str, ...]]:
    """The values of each response variable; no value at all for one that was left empty."""
    given: dict[str, tuple[str, ...]] = {}
    for variable in children(result, "responsevariable"):
        name = attribute(variable, "identifier") or ""
        if name.lower() in _OWN:
            continue
        given[name] = tuple(
            text_of(value)
            for response in children(variable, "candidateresponse")
            for value in inside(response, "value")
            if text_of(value)
        )
    return given


def _asked(question: Question) -> dict[str, str]:
    integral = question.integral
    asked = {
        "kind": question.kind,
        "integrand": plain(integral.integrand),
        "variable": integral.variable.name,
    }
    if integral.lower is not None and integral.upper is not None:
        asked |= {"lower": plain(integral.lower), "upper": plain(integral.upper)}
    if isinstance(question.answers, Accepted):
        asked["figures"] = str(_figures(question.answers))
    return asked


def _places(question: Question, cells: dict[str, str]) -> tuple[str, str, str]:
    """The limits of an integral; or where an antiderivative has a given value, where another is asked for, and that value."""
    condition = question.condition
    if not isinstance(condition, Condition):
        return cells["lower"], cells["upper"], ""
    return plain(condition.point), plain(condition.at), plain(condition.given)


def _accepts(accepted: Accepted, response: str) -> bool:
    """Whether the package itself takes a number as right."""
    number = _number((response,))
    return number is not None and accepted.lower <= number <= accepted.upper


def _figures(accepted: Accepted) -> int:
    """To how many significant figures a number has to be right, from how wide the numbers lie that score.

    >>> half = Fraction(1, 2)
    >>> _figures(Accepted(lower=Fraction(1195), upper=Fraction(1205), keyed="1200"))
    3
    >>> _figures(Accepted(lower=12 + half / 100, upper=12 + 3 * half / 100, keyed="12.01"))
    4
    """
    width = accepted.upper - accepted.lower
    largest = max(abs(accepted.upper), abs(accepted.lower))
    if not width or not largest:
        return _MOST_FIGURES
    # the numbers that round to a decimal lie within one unit of its last figure
    figures = round(math.log10(largest / width) - 0.5) + 1
    return min(max(figures, 1), _MOST_FIGURES)


def _typed(question: Question, given: Mapping[str, tuple[str, ...]]) -> str:
    """What a student would have typed to say the same."""
    answers = question.answers
    if isinstance(answers, Form):
        return _form(answers, given)
    values = [value for values in given.values() for value in values]
    if len(values) > 1:
        raise QuestionError("the result has several values for one answer")
    value = values[0] if values else ""
    if not isinstance(answers, Options) or not value:
        return value
    for option in answers.offered:
        if option.identifier == value:
            return plain(option.answer)
    raise QuestionError(f"the item has no option {value[:40]!r}")


def _form(form: Form, given: Mapping[str, tuple[str, ...]]) -> str:
    """The form with the numbers in the boxes; empty when a box is."""
    if form.accepted is not None:
        raise QuestionError(
            "rounded coefficients are not an antiderivative to be differentiated; see the system's score"
        )
    numbers: dict[Symbol, Expression] = {}
    for letter in form.letters:
        upper, lower = (_number(given.get(letter.name + part, ())) for part in (_NUMERATOR, _DENOMINATOR))
        if upper is None or not lower:
            return ""
        numbers[letter] = rational(upper / lower)
    return plain(form.form.substitute(numbers))


def _number(values: tuple[str, ...]) -> Fraction | None:
    if len(values) != 1 or len(values[0]) > _LONGEST_NUMBER:
        return None
    try:
        return Fraction(values[0])
    except (ValueError, ZeroDivisionError):
        return None
