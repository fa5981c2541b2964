"""Response processing of QTI 1.2 carried out for the elements that are used, and nothing else.

After the annotations of the published schema (Common Cartridge 1.1, QTI ASI 1.2.1) and the ASI Information Model 1.2 of
2002, whose rules on order are from memory: SCORE starts at 0; conditions are tried in their order; one that holds sets,
shows, and ends the processing unless it says `continue="Yes"`; `varequal` compares text, without regard to case unless
told; `other` holds for every response that gets as far. A blank response has no text to compare. Of several options that
were chosen `varequal` looks for one. Whether a score is kept within its bounds at once or at the end the standard does not
say, so both are carried out, and have to agree.
"""

from __future__ import annotations

from typing import Any, NamedTuple, TypeAlias

from lxml import etree


class Outcome(NamedTuple):
    """What came of a response: the score, as a part of the full one, and the idents of the feedback shown."""

    score: float
    shown: tuple[str, ...]


Response: TypeAlias = "str | frozenset[str] | dict[str, str] | None"


def run(item: Any, response: Response) -> Outcome:
    """The outcome of a response.

    Args:
        item: the item.
        response: a text, the options chosen of several, for several responses a text each by their idents, or None when
            nothing was entered.
    """
    processing = only(item, "resprocessing")
    declared = only(only(processing, "outcomes"), "decvar")
    assert declared.get("varname") == "SCORE"
    low, full = float(declared.get("minvalue")), float(declared.get("maxvalue"))
    assert low == 0
    given = {one.get("ident") for one in item.iter("{*}response_lid", "{*}response_str")}
    assert len(given) == 1 or isinstance(response, dict) or response is None
    assert {one.get("respident") for one in processing.iter("{*}varequal")} <= given
    assert {one.get("linkrefid") for one in processing.iter("{*}displayfeedback")} <= {
        one.get("ident") for one in named(item, "itemfeedback")
    }
    score, unbounded, shown = 0.0, 0.0, []
    for condition in named(processing, "respcondition"):
        if not holds(only(condition, "conditionvar"), response):
            continue
        for setting in named(condition, "setvar"):
            assert setting.get("varname") == "SCORE"
            signs = {"Add": 1, "Subtract": -1}
            if setting.get("action") == "Set":
                score = unbounded = float(setting.text)
            else:
                change = signs[setting.get("action")] * float(setting.text)
                unbounded += change
                score = min(full, max(low, score + change))
        shown += [display.get("linkrefid") for display in named(condition, "displayfeedback")]
        if condition.get("continue", "No") == "No":
            break
    assert low <= score <= full
    assert abs(score - min(full, max(low, unbounded))) < 1e-9
    return Outcome(score / full, tuple(shown))


def holds(test: Any, response: Response) -> bool:
    """Whether a condition with exactly one test holds, so that it matters to no one how several would be joined."""
    (one,) = test
    match local(one):
        case "and":
            return all(holds([part], response) for part in one)
        case "not":
            return not holds(one, response)
        case "other":
            return True
        case "varequal":
            if isinstance(response, dict):
                response = response.get(one.get("respident"))
            if response is None:
                return False
            if isinstance(response, frozenset):
                return one.text in response
            if one.get("case", "No") == "Yes":
                return bool(response == one.text)
            return bool(response.casefold() == one.text.casefold())
    raise AssertionError(f"unexpected test {local(one)}")


def local(element: Any) -> str:
    return str(etree.QName(element).localname)


def named(parent: Any, name: str) -> list[Any]:
    return [child for child in parent if local(child) == name]


def only(parent: Any, name: str) -> Any:
    (one,) = named(parent, name)
    return one


def items(document: bytes) -> list[Any]:
    """The items of a document, in their order."""
    return [element for element in etree.fromstring(document).iter() if local(element) == "item"]
