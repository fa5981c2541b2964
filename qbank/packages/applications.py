"""Questions for areas, volumes, lengths, means and ways, read back from their sentences, and set up anew.

    text with a mark for each formula --sentence found--> Asked --set_up--> one integral, which quadrature knows

The sentences are those of `qbank.items.applications.wording`, in every language that there is. The integral is set up from
the curves and limits that students see; no number of the package is believed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple, get_args

from qbank.bank.application import LENGTHS, TIMES, Application
from qbank.items.applications.wording import question
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Expression, Integral, Symbol
from qbank.messages import in_language, languages
from qbank.packages.parsing import Element, children, kind
from qbank.packages.question import QuestionError
from qbank.packages.shown import FEEDBACK, RUBRIC
from qbank.packages.tex import marked_tex
from qbank.techniques.applications.asked import ApplicationRefused, Asked, Kind
from qbank.techniques.applications.working import set_up

__all__ = ["MARK", "asked_application", "told_before_answering", "told_in"]

#: stands for a formula in a text
MARK = "\ufffc"

_CURVES = (Symbol("_first"), Symbol("_second"))
_LIMITS = (Symbol("_lower"), Symbol("_upper"))
_VARIABLE = Symbol("_x")
_BLANKS = re.compile(r"\s+")


class _Sentence(NamedTuple):
    """How a question is asked.

    Attributes:
        kind: what is wanted.
        text: the sentence, with a mark for each formula.
        things: what the formulas are, in their order.
    """

    kind: Kind
    text: str
    things: tuple[Statement, ...]


def told_in(parent: Element, hidden: frozenset[str]) -> str:
    """The text below an element, with a mark for each formula.

    Args:
        parent: the element.
        hidden: the kinds of elements that are left out.
    """
    parts = [marked_tex(parent.text or "", MARK)]
    for child in parent:
        if kind(child) == "math":
            parts.append(MARK)
        elif kind(child) not in hidden:
            # a span stands in its line, and around a formula; anything else is apart
            apart = "" if kind(child) == "span" else " "
            parts.append(f"{apart}{told_in(child, hidden)}{apart}")
        parts.append(marked_tex(child.tail or "", MARK))
    return "".join(parts)


def told_before_answering(item: Element) -> str:
    """What a student reads of an item of QTI 2 or 3 before answering, with a mark for each formula."""
    hidden = FEEDBACK | {RUBRIC, "simplechoice"}
    return " ".join(told_in(body, hidden) for body in children(item, "itembody"))


def asked_application(text: str, shown: Sequence[Statement]) -> Integral | None:
    """The integral that answers a question in words.

    Args:
        text: what a student reads before answering, with a mark for each formula.
        shown: the formulas, in their order.

    Returns:
        None where it is no such question.

    Raises:
        QuestionError: it is one, but makes no sense with these formulas.
    """
    text = _BLANKS.sub(" ", text)
    found = [one for one in _sentences() if one.text in text]
    if not found:
        return None
    sentence = max(found, key=lambda one: len(one.text))
    first = text[: text.index(sentence.text)].count(MARK)
    given = shown[first : first + len(sentence.things)]
    try:
        return set_up(_asked(sentence, given)).one_integral
    except ApplicationRefused as refusal:
        raise QuestionError(f"the integral cannot be set up: {refusal}") from refusal


def _asked(sentence: _Sentence, given: Sequence[Statement]) -> Asked:
    """The question with the formulas of the package in the place of those of the sentence."""
    known: dict[Expression, Expression] = {}
    variable: Expression | None = None
    for thing, statement in zip(sentence.things, given, strict=True):
        match thing, statement:
            case Equation(left, right), Equation(letter, value) if left == _VARIABLE:
                if variable not in (None, letter):
                    raise QuestionError("the limits are those of different letters")
                variable, known[right] = letter, value
            case Equation(left, right), Equation(letter, value) if left == letter:
                known[right] = value
            case Symbol(), Symbol():
                variable = variable or statement
            case _:
                raise QuestionError("the question does not say which curves are meant")
    curves = tuple(known[curve] for curve in _CURVES if curve in known)
    if variable is None:
        letters = {letter for curve in curves for letter in curve.symbols()}
        variable = next(iter(letters)) if len(letters) == 1 else None
    if not isinstance(variable, Symbol):
        raise QuestionError("the question does not say what the curves depend on")
    limits = (known[_LIMITS[0]], known[_LIMITS[1]]) if _LIMITS[0] in known else None
    return Asked(kind=sentence.kind, curves=curves, variable=variable, limits=limits)


@lru_cache(maxsize=1)
def _sentences() -> tuple[_Sentence, ...]:
    """All sentences in all languages, each once."""
    found = (
        _sentence(application, asked, language)
        for language in ("en", *languages())
        for application, asked in _questions()
    )
    return tuple(dict.fromkeys(found))


def _questions() -> Iterator[tuple[Application, Asked]]:
    for kind_of in get_args(Kind):
        for curves in (_CURVES[:1], _CURVES):
            for limits in (None, _LIMITS):
                asked = Asked(kind=kind_of, curves=curves, variable=_VARIABLE, limits=limits)
                match kind_of:
                    case "area" | "volume":
                        yield Application(kind=kind_of, curves=curves), asked
                    case _ if limits is None or len(curves) > 1:
                        continue
                    case "displacement" | "distance":
                        yield Application(kind=kind_of, curves=curves), asked
                        for unit in LENGTHS:
                            for time in TIMES:
                                yield Application(kind=kind_of, curves=curves, unit=unit, time=time), asked
                    case _:
                        yield Application(kind=kind_of, curves=curves), asked


def _sentence(application: Application, asked: Asked, language: str) -> _Sentence:
    pieces = in_language(question(application, asked), language)
    text = "".join(piece if isinstance(piece, str) else MARK for piece in pieces)
    things = tuple(piece for piece in pieces if not isinstance(piece, str))
    return _Sentence(kind=asked.kind, text=_BLANKS.sub(" ", text), things=things)
