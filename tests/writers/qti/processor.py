"""Response processing carried out as the QTI 3.0 information model says, for the few operators that are used.

NULL is `None`: a comparison or a match with NULL is NULL, `not` of NULL is NULL, `and` is false as soon as one part is
false and else NULL if one is NULL, and a condition that is NULL counts as false.
"""

from __future__ import annotations

from typing import Any

from lxml import etree

NAMESPACE = "{http://www.imsglobal.org/xsd/imsqtiasi_v3p0}"
Value = Any


def run(document: bytes, response: str | None) -> dict[str, Value]:
    """The outcomes after a response, which is the text of the response variable's value, None for NULL."""
    item: Any = etree.fromstring(document)
    outcomes = {
        one.get("identifier"): default(one) for one in item.iter(NAMESPACE + "qti-outcome-declaration")
    }
    declaration = item.find(NAMESPACE + "qti-response-declaration")
    assert declaration is not None
    kind = declaration.get("base-type")
    value = None if response is None else typed(kind, response)
    correct = None if default(declaration) is None else typed(kind, default(declaration))
    for rule in item.iterfind(f"{NAMESPACE}qti-response-processing/*"):
        assert name(rule) == "qti-response-condition"
        for branch in rule:
            if name(branch) == "qti-response-else" or evaluate(branch[0], value, correct) is True:
                for action in branch[0 if name(branch) == "qti-response-else" else 1 :]:
                    assert name(action) == "qti-set-outcome-value"
                    outcomes[action.get("identifier")] = evaluate(action[0], value, correct)
                break
    return {str(key): one for key, one in outcomes.items()}


def name(element: Any) -> str:
    return str(element.tag).removeprefix(NAMESPACE)


def default(declaration: Any) -> Value:
    value = declaration.find(f".//{NAMESPACE}qti-value")
    if value is None:
        return None
    return typed(declaration.get("base-type"), value.text)


def typed(kind: str | None, text: Any) -> Value:
    return float(text) if kind == "float" else text


def evaluate(node: Any, response: Value, correct: Value) -> Value:
    parts = [evaluate(part, response, correct) for part in node]
    match name(node):
        case "qti-variable":
            return response
        case "qti-correct":
            return correct
        case "qti-base-value":
            return typed(node.get("base-type"), node.text)
        case "qti-is-null":
            return parts[0] is None
        case "qti-not":
            return None if parts[0] is None else not parts[0]
        case "qti-and":
            return False if False in parts else None if None in parts else True
        case _ if None in parts:
            return None
        case "qti-match":
            return parts[0] == parts[1]
        case "qti-gte":
            return parts[0] >= parts[1]
        case "qti-lte":
            return parts[0] <= parts[1]
    raise AssertionError(f"unexpected operator {name(node)}")
