"""The response processing of an item of QTI 1.2, carried out exactly: a response in, the score out.

Conditions are tried in order; the first that holds and does not say `continue` ends the processing. Only what is written
here is carried out, anything else is refused. A score is kept within its bounds; some readers do so at every step and some
at the end, so an item for which that makes a difference is refused too.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import TypeAlias

from qbank.packages.parsing import Element, attribute, children, inside, kind, line_of, text_of
from qbank.packages.processing import ProcessingError, is_share, literal

__all__ = ["compared", "full_score", "score"]

#: what stands in a condition beside its test
_ACTIONS = ("setvar", "displayfeedback")


def full_score(item: Element) -> Fraction:
    """The most that an item scores.

    Raises:
        ProcessingError: it does not say.
    """
    least, most = _bounds(item)
    if least or most <= 0:
        raise ProcessingError("a score runs from 0 to the full marks")
    return most


def _bounds(item: Element) -> tuple[Fraction, Fraction]:
    declared = list(inside(item, "decvar"))
    if len(declared) != 1 or attribute(declared[0], "varname") != "SCORE":
        raise ProcessingError("one score is declared")
    return _number(attribute(declared[0], "minvalue")), _number(attribute(declared[0], "maxvalue"))


def _number(text: str | None) -> Fraction:
    value = literal(text or "", "float")
    assert isinstance(value, Fraction)
    return value


def compared(item: Element) -> tuple[str, ...]:
    """The texts that responses are compared with, in order, each once."""
    return tuple(dict.fromkeys(text_of(test) for test in inside(item, "varequal")))


#: what was typed or chosen; of an item with several responses, by their identifiers
Given: TypeAlias = "frozenset[str] | Mapping[str, str]"


def score(item: Element, given: Given) -> Fraction:
    """What a response scores.

    Args:
        item: the item.
        given: what was typed, or the options chosen; empty for no response.

    Raises:
        ProcessingError: the item uses something that is not known here, or readers may score it in two ways.
    """
    least, most = _bounds(item)
    stepwise = at_end = Fraction(0)
    for condition in _conditions(item):
        if not _holds(condition, given):
            continue
        for action in children(condition, "setvar"):
            stepwise = min(max(_after(stepwise, action), least), most)
            at_end = _after(at_end, action)
        if attribute(condition, "continue") != "Yes":
            break
    if not is_share(stepwise, min(max(at_end, least), most)):
        raise ProcessingError("the score depends on when it is kept within its bounds")
    return stepwise


def _conditions(item: Element) -> Iterator[Element]:
    processing = list(children(item, "resprocessing"))
    if len(processing) != 1:
        raise ProcessingError("an item has one response processing")
    return children(processing[0], "respcondition")


def _holds(condition: Element, given: Given) -> bool:
    tests = list(children(condition, "conditionvar"))
    unknown = [child for child in condition if kind(child) not in ("conditionvar", *_ACTIONS)]
    if len(tests) != 1 or len(tests[0]) != 1 or unknown:
        raise ProcessingError(f"line {line_of(condition)}: a condition has one test")
    return _true(tests[0][0], given)


def _true(test: Element, given: Given) -> bool:
    match kind(test):
        case "other":
            return True
        case "varequal":
            if isinstance(given, Mapping):
                return given.get(attribute(test, "respident") or "") == text_of(test)
            return text_of(test) in given
        case "not" if len(test) == 1:
            return not _true(test[0], given)
        case "and" if len(test):
            parts = [_true(part, given) for part in test]  # each is read, so that none is unknown
            return all(parts)
        case unknown:
            raise ProcessingError(f"line {line_of(test)}: the test {unknown} is not known here")


def _after(before: Fraction, action: Element) -> Fraction:
    if attribute(action, "varname") != "SCORE":
        raise ProcessingError(f"line {line_of(action)}: another variable than the score is set")
    value = _number(text_of(action))
    match attribute(action, "action"):
        case "Set":
            return value
        case "Add":
            return before + value
        case "Subtract":
            return before - value
        case other:
            raise ProcessingError(f"line {line_of(action)}: the action {other!r} is not known here")
