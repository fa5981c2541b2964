"""The response processing of an item, carried out exactly: a response in, the outcome variables out.

The rules are those of the QTI information model: a comparison with NULL is NULL, `and` is false as soon as one part is
false, and a branch is taken only when its condition is true. Numbers are exact fractions. Only operators that are known
here are carried out; another one is refused, so that nothing is ever said of an item that was not understood.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from math import prod
from typing import TypeAlias

from qbank.packages.parsing import Element, attribute, children, inside, kind, line_of, text_of

__all__ = ["ProcessingError", "Value", "correct_response", "is_share", "literal", "outcomes", "thresholds"]

#: what a variable or an operator can be; None is the standard's NULL, a set is a container
Value: TypeAlias = "Fraction | str | bool | frozenset[str] | None"

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_LONGEST = 60


#: shares of the marks are decimals of 17 digits, rounded up
_SHARE = Fraction(1, 10**9)


def is_share(found: object, wanted: Fraction) -> bool:
    """Whether a score is a share of the marks, as the decimal that a package holds."""
    return isinstance(found, Fraction) and abs(found - wanted) <= _SHARE


class ProcessingError(Exception):
    """Something in an item's declarations or processing that is not understood; the text says what and where."""


def literal(text: str, base_type: str) -> Value:
    """The value of a literal.

    Args:
        text: as it stands in the file.
        base_type: `float`, `integer`, `identifier`, `string` or `boolean`.

    Raises:
        ProcessingError: the text is no such value.

    >>> literal("-1.25E1", "float")
    Fraction(-25, 2)
    """
    if base_type in ("float", "integer"):
        if len(text) > _LONGEST or not _NUMBER.fullmatch(text):
            raise ProcessingError(f"{text[:_LONGEST]!r} is not a number")
        return Fraction(text)
    if base_type == "boolean":
        return text == "true"
    if base_type in ("identifier", "string", "directedPair"):
        return text
    raise ProcessingError(f"the base type {base_type!r} is not used here")


def correct_response(item: Element, response: str) -> tuple[str, ...]:
    """The values declared as correct for a response variable, as they stand in the file; none when none are declared.

    Raises:
        ProcessingError: there is no such variable.
    """
    return tuple(
        text_of(value)
        for correct in children(_declaration(item, response), "correctresponse")
        for value in children(correct, "value")
    )


def _declaration(item: Element, response: str) -> Element:
    for declaration in children(item, "responsedeclaration"):
        if attribute(declaration, "identifier") == response:
            return declaration
    raise ProcessingError(f"no response variable {response!r} is declared")


def outcomes(item: Element, responses: Mapping[str, Value]) -> dict[str, Value]:
    """What an item's outcome variables are after its response processing.

    Args:
        item: the root of the item.
        responses: the value of each response variable; those not given are NULL.

    Raises:
        ProcessingError: the item uses something that is not known here.
    """
    state = _State(item, responses)
    for processing in children(item, "responseprocessing"):
        if len(processing) == 0:
            raise ProcessingError("the response processing is empty")
        for rule in processing:
            state.carry_out(rule)
    return state.outcomes


class _State:
    """The variables of one item session."""

    def __init__(self, item: Element, responses: Mapping[str, Value]) -> None:
        self._item = item
        self._responses = responses
        self._known = {attribute(one, "identifier") for one in children(item, "responsedeclaration")}
        self.outcomes: dict[str, Value] = {}
        for declaration in children(item, "outcomedeclaration"):
            start = [text_of(v) for default in children(declaration, "defaultvalue") for v in default]
            base_type = attribute(declaration, "basetype") or ""
            name = attribute(declaration, "identifier") or ""
            self.outcomes[name] = literal(start[0], base_type) if len(start) == 1 else None

    def carry_out(self, rule: Element) -> None:
        match kind(rule):
            case "responsecondition":
                self._condition(rule)
            case "setoutcomevalue":
                name = attribute(rule, "identifier") or ""
                if name not in self.outcomes:
                    raise ProcessingError(f"line {line_of(rule)}: no outcome variable {name!r} is declared")
                self.outcomes[name] = self._value(_only(rule))
            case other:
                raise ProcessingError(f"line {line_of(rule)}: the rule {other} is not known here")

    def _condition(self, condition: Element) -> None:
        for branch in condition:
            rules = list(branch)
            match kind(branch):
                case "responseif" | "responseelseif" if rules:
                    if self._value(rules.pop(0)) is not True:
                        continue
                case "responseelse":
                    pass
                case other:
                    raise ProcessingError(f"line {line_of(branch)}: the branch {other} is not known here")
            for rule in rules:
                self.carry_out(rule)
            return

    def _value(self, expression: Element) -> Value:
        match kind(expression):
            case "basevalue":
                return literal(text_of(expression), attribute(expression, "basetype") or "")
            case "variable":
                return self._variable(attribute(expression, "identifier") or "")
            case "correct":
                name = attribute(expression, "identifier") or ""
                return self._correct(name)
            case "mapresponse":
                return self._mapped(attribute(expression, "identifier") or "")
            case "isnull":
                return self._value(_only(expression)) is None
            case "not":
                inner = self._value(_only(expression))
                return None if inner is None else not inner
            case "and" | "or" as word:
                return _joined(word, [self._value(part) for part in expression])
            case "sum" | "product" as word:
                return _combined(word, [self._value(part) for part in expression])
            case "match":
                left, right = self._two(expression)
                return None if left is None or right is None else left == right
            case "member":
                left, right = self._two(expression)
                return None if left is None or not isinstance(right, frozenset) else left in right
            case "gte" | "lte" | "gt" | "lt" as word:
                left, right = self._two(expression)
                return _compared(word, left, right)
            case other:
                raise ProcessingError(f"line {line_of(expression)}: the operator {other} is not known here")

    def _two(self, expression: Element) -> tuple[Value, Value]:
        parts = list(expression)
        if len(parts) != 2:
            raise ProcessingError(f"line {line_of(expression)}: a comparison has two sides")
        return self._value(parts[0]), self._value(parts[1])

    def _variable(self, name: str) -> Value:
        if name in self._known:
            return self._responses.get(name)
        if name in self.outcomes:
            return self.outcomes[name]
        raise ProcessingError(f"no variable {name!r} is declared")

    def _mapped(self, name: str) -> Value:
        """The sum of what the values of a response variable are worth, within the bounds of its mapping."""
        tables = list(children(_declaration(self._item, name), "mapping"))
        if len(tables) != 1:
            raise ProcessingError(f"the response variable {name!r} has no mapping, or more than one")
        numbers = {word: _optional_number(tables[0], word) for word in _MAPPING}
        worth: dict[str, Fraction] = {}
        for entry in children(tables[0], "mapentry"):
            key, value = attribute(entry, "mapkey") or "", _optional_number(entry, "mappedvalue")
            if key in worth or value is None:
                raise ProcessingError(
                    f"line {line_of(entry)}: an entry of a mapping has one key and one value"
                )
            worth[key] = value
        given = self._responses.get(name)
        values = given if isinstance(given, frozenset) else () if given is None else (given,)
        total = sum(
            (worth.get(str(one), numbers["defaultvalue"] or Fraction(0)) for one in values), Fraction(0)
        )
        lower, upper = numbers["lowerbound"], numbers["upperbound"]
        total = total if lower is None else max(lower, total)
        return total if upper is None else min(upper, total)

    def _correct(self, name: str) -> Value:
        declaration = _declaration(self._item, name)
        base_type = attribute(declaration, "basetype") or ""
        values = correct_response(self._item, name)
        if attribute(declaration, "cardinality") == "multiple":
            return frozenset(values) or None
        return literal(values[0], base_type) if values else None


#: the attributes of a mapping
_MAPPING = ("lowerbound", "upperbound", "defaultvalue")


def _optional_number(element: Element, name: str) -> Fraction | None:
    text = attribute(element, name)
    value = None if text is None else literal(text, "float")
    assert value is None or isinstance(value, Fraction)
    return value


def _only(element: Element) -> Element:
    parts = list(element)
    if len(parts) != 1:
        raise ProcessingError(f"line {line_of(element)}: {kind(element)} has one part, not {len(parts)}")
    return parts[0]


def _joined(word: str, parts: list[Value]) -> Value:
    """Three-valued logic: one false part decides `and`, one true part decides `or`, then NULL counts."""
    decisive = word == "or"
    if any(part is decisive for part in parts):
        return decisive
    return None if any(part is None for part in parts) else not decisive


def _combined(word: str, parts: list[Value]) -> Value:
    """A sum or product of numbers, NULL as soon as one of them is."""
    if None in parts:
        return None
    numbers = [part for part in parts if isinstance(part, Fraction)]
    if len(numbers) != len(parts) or not numbers:
        raise ProcessingError(f"a {word} is one of numbers only")
    return sum(numbers, Fraction(0)) if word == "sum" else prod(numbers, start=Fraction(1))


_COMPARISONS: dict[str, Callable[[Fraction, Fraction], bool]] = {
    "gte": lambda left, right: left >= right,
    "lte": lambda left, right: left <= right,
    "gt": lambda left, right: left > right,
    "lt": lambda left, right: left < right,
}


def _compared(word: str, left: Value, right: Value) -> Value:
    if left is None or right is None:
        return None
    if not isinstance(left, Fraction) or not isinstance(right, Fraction):
        raise ProcessingError(f"{word} compares numbers only")
    return _COMPARISONS[word](left, right)


def thresholds(item: Element, response: str, *, alone: bool = True) -> tuple[Fraction, ...]:
    """The numbers that a response is compared with, in rising order: between two of them every outcome is the same.

    Args:
        item: the root of the item.
        response: the response variable.
        alone: whether nothing else may be compared in the item.

    Raises:
        ProcessingError: something other than the response and a literal is compared, though it should be alone.
    """
    found: set[Fraction] = set()
    for comparison in inside(item, *_COMPARISONS, "match"):
        kinds = [kind(side) for side in comparison]
        named = attribute(comparison[0], "identifier") if len(comparison) else None
        if kinds != ["variable", "basevalue"] or named != response:
            if not alone:
                continue
            raise ProcessingError(
                f"line {line_of(comparison)}: only a response and a number are compared here"
            )
        value = literal(text_of(comparison[1]), "float")
        assert isinstance(value, Fraction)
        found.add(value)
    return tuple(sorted(found))
