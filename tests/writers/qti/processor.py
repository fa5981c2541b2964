"""Response processing carried out as the information model says, for the few operators that are used.

The model is the same in QTI 2.1, 2.2 and 3.0; names are those of 2.x, and 3.0's are turned into them by the tests'
own table. NULL is `None`: a comparison or a match with NULL is NULL, `not` of NULL is NULL, `and` is false as soon as
one part is false and else NULL if one is NULL, and a condition that is NULL counts as false.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import prod
from typing import Any

from lxml import etree

from tests.writers.qti.binding import attribute, children, named, word

__all__ = ["run"]

Value = Any


def run(document: bytes, response: Value | Mapping[str, Value]) -> dict[str, Value]:
    """The outcomes after a response.

    Args:
        document: the item.
        response: the text of the response variable's value, or a number that a system made of a text, None for NULL;
            or those by variable, where variables without one are NULL. A text that is no value of the base type is
            NULL too, as a reader that checks what is typed would have it.
    """
    item: Any = etree.fromstring(document)
    outcomes = {attribute(one, "identifier"): default(one) for one in children(item, "outcomeDeclaration")}
    declarations = {attribute(one, "identifier"): one for one in children(item, "responseDeclaration")}
    first = next(iter(declarations))
    texts = response if isinstance(response, Mapping) else {first: response}
    assert set(declarations) >= set(texts)
    values = {str(name): given(one, texts.get(str(name))) for name, one in declarations.items()}
    correct = default(declarations[first])
    (processing,) = children(item, "responseProcessing")
    for rule in processing:
        carry_out(rule, values, correct, outcomes)
    return {str(key): one for key, one in outcomes.items()}


def carry_out(rule: Any, values: Mapping[str, Value], correct: Value, outcomes: dict[Any, Value]) -> None:
    """One response rule: the first branch of a condition that is true, or the setting of an outcome."""
    if word(rule) == "setOutcomeValue":
        outcomes[attribute(rule, "identifier")] = evaluate(rule[0], values, correct)
        return
    assert word(rule) == "responseCondition"
    for branch in rule:
        last = word(branch) == "responseElse"
        assert last or word(branch) in ("responseIf", "responseElseIf")
        if last or evaluate(branch[0], values, correct) is True:
            for inner in branch[0 if last else 1 :]:
                carry_out(inner, values, correct, outcomes)
            return


def given(declaration: Any, response: Value) -> Value:
    """The value of a response variable."""
    if not isinstance(response, str):
        return response
    try:
        return typed(attribute(declaration, "baseType"), response)
    except ValueError:
        return None


def default(declaration: Any) -> Value:
    """The default of an outcome, or the correct response."""
    values = list(named(declaration, "value"))
    assert len(values) < 2
    return typed(attribute(declaration, "baseType"), values[0].text) if values else None


def typed(kind: str | None, text: Value) -> Value:
    return float(text) if kind == "float" else int(text) if kind == "integer" else text


def evaluate(node: Any, responses: Mapping[str, Value], correct: Value) -> Value:
    parts = [evaluate(part, responses, correct) for part in node]
    match word(node):
        case "variable":
            return responses[str(attribute(node, "identifier"))]
        case "correct":
            return correct
        case "baseValue":
            return typed(attribute(node, "baseType"), node.text)
        case "isNull":
            return parts[0] is None
        case "not":
            return None if parts[0] is None else not parts[0]
        case "and":
            return False if False in parts else None if None in parts else True
        case _ if None in parts:
            return None
        case "match":
            return parts[0] == parts[1]
        case "gte":
            return parts[0] >= parts[1]
        case "lte":
            return parts[0] <= parts[1]
        case "sum":
            return sum(parts)
        case "product":
            return prod(parts)
    raise AssertionError(f"unexpected operator {word(node)}")
