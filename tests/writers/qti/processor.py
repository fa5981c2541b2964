"""Response processing carried out as the information model says, for the few operators that are used.

The model is the same in QTI 2.1, 2.2 and 3.0; names are those of 2.x, and 3.0's are turned into them by the tests'
own table. NULL is `None`: a comparison or a match with NULL is NULL, `not` of NULL is NULL, `and` is false as soon as
one part is false and else NULL if one is NULL, and a condition that is NULL counts as false.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
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
    declared = {str(name): one for name, one in declarations.items()}
    (processing,) = children(item, "responseProcessing")
    for rule in processing:
        carry_out(rule, values, declared, outcomes)
    return {str(key): one for key, one in outcomes.items()}


def carry_out(
    rule: Any, values: Mapping[str, Value], declared: Mapping[str, Any], outcomes: dict[Any, Value]
) -> None:
    """One response rule: the first branch of a condition that is true, or the setting of an outcome."""
    if word(rule) == "setOutcomeValue":
        outcomes[attribute(rule, "identifier")] = evaluate(rule[0], {**values, **outcomes}, declared)
        return
    assert word(rule) == "responseCondition"
    for branch in rule:
        last = word(branch) == "responseElse"
        assert last or word(branch) in ("responseIf", "responseElseIf")
        if last or evaluate(branch[0], {**values, **outcomes}, declared) is True:
            for inner in branch[0 if last else 1 :]:
                carry_out(inner, values, declared, outcomes)
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
    """The default of an outcome, or the correct response; a container of values is a set."""
    values = list(named(declaration, "value"))
    if attribute(declaration, "cardinality") == "multiple":
        return frozenset(one.text for one in values) or None
    assert len(values) < 2
    return typed(attribute(declaration, "baseType"), values[0].text) if values else None


def typed(kind: str | None, text: Value) -> Value:
    return float(text) if kind == "float" else int(text) if kind == "integer" else text


def mapped(declaration: Any, response: Value) -> float:
    """The sum of what the values of a response are worth, within the bounds of the mapping; NULL is worth nothing.

    The information model of QTI 2.2, mapping and mapResponse: "the result is the sum of the mapped values", each value of
    a container counting once; the bounds hold for the sum.
    """
    (table,) = children(declaration, "mapping")
    worth = {attribute(one, "mapKey"): float(attribute(one, "mappedValue") or "nan") for one in table}
    assert len(worth) == len(table)
    other = float(attribute(table, "defaultValue") or 0)
    values = (response,) if isinstance(response, str) else response or ()
    total = sum(worth.get(one, other) for one in values)
    lower, upper = attribute(table, "lowerBound"), attribute(table, "upperBound")
    total = total if lower is None else max(float(lower), total)
    return total if upper is None else min(float(upper), total)


def evaluate(node: Any, responses: Mapping[str, Value], declared: Mapping[str, Any]) -> Value:
    parts = [evaluate(part, responses, declared) for part in node]
    match word(node):
        case "variable":
            return responses[str(attribute(node, "identifier"))]
        case "correct":
            return default(declared[str(attribute(node, "identifier"))])
        case "mapResponse":
            name = str(attribute(node, "identifier"))
            return mapped(declared[name], responses[name])
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
    operator = OPERATORS.get(word(node))
    assert operator is not None, f"unexpected operator {word(node)}"
    return operator(parts)


OPERATORS: Mapping[str, Callable[[list[Value]], Value]] = {
    "match": lambda parts: parts[0] == parts[1],
    "member": lambda parts: parts[0] in parts[1],
    "gte": lambda parts: parts[0] >= parts[1],
    "lte": lambda parts: parts[0] <= parts[1],
    "sum": sum,
    "product": prod,
}
