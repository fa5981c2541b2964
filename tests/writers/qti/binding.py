"""The names of the XML bindings as published, written out by hand: an independent account of what the writer maps by rule.

Source: the schemas of QTI 2.1, 2.2 and 3.0; `test_binding` looks every name up in them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from lxml import etree

__all__ = ["ATTRIBUTES", "ELEMENTS", "GENERATION_3", "attribute", "children", "named", "word"]

_XSD = "http://www.imsglobal.org/xsd/"
GENERATION_3 = _XSD + "imsqtiasi_v3p0"

#: element of 2.1 and 2.2 -> of 3.0
ELEMENTS: Mapping[str, str] = {
    "assessmentItem": "qti-assessment-item",
    "assessmentTest": "qti-assessment-test",
    "testPart": "qti-test-part",
    "itemSessionControl": "qti-item-session-control",
    "assessmentSection": "qti-assessment-section",
    "selection": "qti-selection",
    "ordering": "qti-ordering",
    "assessmentItemRef": "qti-assessment-item-ref",
    "outcomeProcessing": "qti-outcome-processing",
    "sum": "qti-sum",
    "product": "qti-product",
    "testVariables": "qti-test-variables",
    "responseDeclaration": "qti-response-declaration",
    "correctResponse": "qti-correct-response",
    "mapping": "qti-mapping",
    "mapEntry": "qti-map-entry",
    "outcomeDeclaration": "qti-outcome-declaration",
    "defaultValue": "qti-default-value",
    "value": "qti-value",
    "itemBody": "qti-item-body",
    "rubricBlock": "qti-rubric-block",
    "choiceInteraction": "qti-choice-interaction",
    "matchInteraction": "qti-match-interaction",
    "simpleMatchSet": "qti-simple-match-set",
    "simpleAssociableChoice": "qti-simple-associable-choice",
    "prompt": "qti-prompt",
    "simpleChoice": "qti-simple-choice",
    "textEntryInteraction": "qti-text-entry-interaction",
    "extendedTextInteraction": "qti-extended-text-interaction",
    "feedbackBlock": "qti-feedback-block",
    "modalFeedback": "qti-modal-feedback",
    "responseProcessing": "qti-response-processing",
    "responseCondition": "qti-response-condition",
    "responseIf": "qti-response-if",
    "responseElseIf": "qti-response-else-if",
    "responseElse": "qti-response-else",
    "setOutcomeValue": "qti-set-outcome-value",
    "variable": "qti-variable",
    "correct": "qti-correct",
    "baseValue": "qti-base-value",
    "mapResponse": "qti-map-response",
    "isNull": "qti-is-null",
    "not": "qti-not",
    "and": "qti-and",
    "match": "qti-match",
    "member": "qti-member",
    "gte": "qti-gte",
    "lte": "qti-lte",
}

#: attribute of 2.1 and 2.2 -> of 3.0
ATTRIBUTES: Mapping[str, str] = {
    "identifier": "identifier",
    "title": "title",
    "toolName": "tool-name",
    "adaptive": "adaptive",
    "timeDependent": "time-dependent",
    "cardinality": "cardinality",
    "baseType": "base-type",
    "lowerBound": "lower-bound",
    "upperBound": "upper-bound",
    "defaultValue": "default-value",
    "mapKey": "map-key",
    "mappedValue": "mapped-value",
    "normalMaximum": "normal-maximum",
    "normalMinimum": "normal-minimum",
    "view": "view",
    "use": "use",
    "responseIdentifier": "response-identifier",
    "shuffle": "shuffle",
    "maxChoices": "max-choices",
    "maxAssociations": "max-associations",
    "matchMax": "match-max",
    "expectedLength": "expected-length",
    "expectedLines": "expected-lines",
    "outcomeIdentifier": "outcome-identifier",
    "showHide": "show-hide",
    "navigationMode": "navigation-mode",
    "submissionMode": "submission-mode",
    "maxAttempts": "max-attempts",
    "showFeedback": "show-feedback",
    "allowReview": "allow-review",
    "visible": "visible",
    "select": "select",
    "href": "href",
    "variableIdentifier": "variable-identifier",
}

_FROM_3 = {new: old for old, new in ELEMENTS.items()}


def word(element: Any) -> str:
    """An element's name in 2.x; names that are no element of QTI stay."""
    name = etree.QName(element)
    return _FROM_3.get(name.localname, name.localname) if name.namespace == GENERATION_3 else name.localname


def attribute(element: Any, name: str) -> str | None:
    """The value of the attribute that 2.x calls `name`."""
    is_3 = etree.QName(element).namespace == GENERATION_3
    value = element.get(ATTRIBUTES[name] if is_3 else name)
    return None if value is None else str(value)


def children(element: Any, name: str) -> list[Any]:
    """The children that 2.x calls `name`."""
    return [child for child in element if word(child) == name]


def named(element: Any, name: str) -> Iterator[Any]:
    """The element itself and all below it that 2.x calls `name`."""
    return (one for one in element.iter(etree.Element) if word(one) == name)
