"""Matching: the pairs and what they are worth, the two sets of choices, and what is said afterwards.

The standard's mapping adds up what the right pairs are worth. In 3.0 the interaction asks to be shown as a table with a
button for each pair (a class of the standard's shared vocabulary), which can be used without dragging.
"""

from __future__ import annotations

from functools import lru_cache

from qbank.items.item import Item, Matching
from qbank.maths.expression import Integral
from qbank.writers.formulas import AS_MATHML
from qbank.writers.numbers import decimal_text
from qbank.writers.qti.content import add_mathematics, add_prose
from qbank.writers.qti.elements import QtiElement, add, frame
from qbank.writers.qti.generation import Generation
from qbank.writers.qti.names import FEEDBACK, RESPONSE, SCORE, SOLUTION
from qbank.writers.tree import Element, lasting

__all__ = ["SOME", "add_matching", "add_matching_processing", "declare_matching", "misleading"]

#: the value of FEEDBACK when not all pairs are right
SOME = "SOME"
_TABLE = "qti-match-tabular"


def declare_matching(top: QtiElement, item: Item, response: Matching) -> None:
    """Append the declaration of the response variable: the right pairs, and what each is worth."""
    share = decimal_text(response.share(item.marks), "up")
    pairs = tuple(map(" ".join, response.pairs))
    top.parts.append(_declaration(top.generation, pairs, item.marks, share))


@lru_cache(maxsize=64)
def _declaration(generation: Generation, pairs: tuple[str, ...], marks: int, share: str) -> Element:
    """The same where the same places belong together."""
    top = QtiElement(b"", b"", generation, AS_MATHML)
    attributes = {"identifier": RESPONSE, "cardinality": "multiple", "base-type": "directedPair"}
    declaration = add(top, "qti-response-declaration", attributes)
    correct = add(declaration, "qti-correct-response")
    bounds = {"lower-bound": "0", "upper-bound": str(marks), "default-value": "0"}
    mapping = add(declaration, "qti-mapping", bounds)
    for pair in pairs:
        add(correct, "qti-value", text=pair)
        add(mapping, "qti-map-entry", {"map-key": pair, "mapped-value": share})
    return lasting(declaration)


def add_matching(body: QtiElement, item: Item, response: Matching, *, shuffle: bool) -> None:
    """Append the interaction: the integrals, and what may belong to them."""
    attributes = {
        "response-identifier": RESPONSE,
        "shuffle": "true" if shuffle else "false",
        "max-associations": str(len(response.rows)),
    }
    if body.generation.hyphenated:
        attributes["class"] = _TABLE
    interaction = add(body, "qti-match-interaction", attributes)
    add_prose(add(interaction, "qti-prompt"), item.prompt, item.conventions)
    integrals = add(interaction, "qti-simple-match-set")
    for row in response.rows:
        before, after = frame(body.generation, _choice, row.identifier)
        integrals.parts.append(before)
        add_mathematics(integrals, Integral(row.integrand, item.variable), item.conventions)
        integrals.parts.append(after)
    partners = add(interaction, "qti-simple-match-set")
    for partner in response.partners:
        before, after = frame(body.generation, _choice, partner.identifier)
        partners.parts.append(before)
        add_prose(partners, partner.shown, item.conventions)
        partners.parts.append(after)


def _choice(parent: QtiElement, identifier: str) -> QtiElement:
    return add(parent, "qti-simple-associable-choice", {"identifier": identifier, "match-max": "1"})


def misleading(response: Matching) -> tuple[str, ...]:
    """The pairs that slips lead to, as the processing names them."""
    return tuple(f"{one.misled} {one.identifier}" for one in response.partners if one.misled is not None)


def add_matching_processing(condition: QtiElement, slip: str, shown: str, *misled: str) -> None:
    """Append the branches of a response condition.

    Args:
        condition: where they go.
        slip: the value of FEEDBACK for a pair that a slip leads to.
        shown: the value of SOLUTION once the worked solution may be seen.
        misled: these pairs.
    """
    given = add(condition, "qti-response-if")
    _variable(add(add(given, "qti-not"), "qti-is-null"))
    score = add(given, "qti-set-outcome-value", {"identifier": SCORE})
    add(score, "qti-map-response", {"identifier": RESPONSE})
    _set(given, SOLUTION, shown)
    inside = add(given, "qti-response-condition")
    right = add(inside, "qti-response-if")
    same = add(right, "qti-match")
    _variable(same)
    add(same, "qti-correct", {"identifier": RESPONSE})
    _set(right, FEEDBACK, "RIGHT")
    for pair in misled:
        branch = add(inside, "qti-response-else-if")
        member = add(branch, "qti-member")
        add(member, "qti-base-value", {"base-type": "directedPair"}, pair)
        _variable(member)
        _set(branch, FEEDBACK, slip)
    _set(add(inside, "qti-response-else"), FEEDBACK, SOME)
    nothing = add(add(condition, "qti-response-else"), "qti-set-outcome-value", {"identifier": SCORE})
    add(nothing, "qti-base-value", {"base-type": "float"}, "0")


def _variable(parent: QtiElement) -> None:
    add(parent, "qti-variable", {"identifier": RESPONSE})


def _set(branch: QtiElement, outcome: str, value: str) -> None:
    target = add(branch, "qti-set-outcome-value", {"identifier": outcome})
    add(target, "qti-base-value", {"base-type": "identifier"}, value)
