"""Several answers: the mapping from options to shares of the marks.

The standard's own mapping adds up what the chosen options are worth and keeps the sum within bounds, so that nothing has to
be calculated in the response processing. FEEDBACK holds all options that were chosen, and each shows what is said of it.
"""

from __future__ import annotations

from functools import lru_cache

from qbank.items.item import Item, SeveralAnswers
from qbank.writers.formulas import AS_MATHML
from qbank.writers.numbers import decimal_text
from qbank.writers.qti.elements import QtiElement, add
from qbank.writers.qti.generation import Generation
from qbank.writers.qti.names import FEEDBACK, RESPONSE, SCORE, SOLUTION
from qbank.writers.tree import Element, lasting

__all__ = ["add_several_processing", "declare_several", "share_text"]


def share_text(response: SeveralAnswers, marks: int) -> str:
    """A share of the marks as a decimal, rounded up, so that all shares together are full marks at least."""
    return decimal_text(response.share(marks), "up")


def declare_several(top: QtiElement, item: Item, response: SeveralAnswers) -> None:
    """Append the declaration of the response variable: the right options, and what each option is worth."""
    options = tuple((option.identifier, option.is_key) for option in response.options)
    share = share_text(response, item.marks)
    top.parts.append(_declaration(top.generation, options, item.marks, share))


@lru_cache(maxsize=64)
def _declaration(
    generation: Generation, options: tuple[tuple[str, bool], ...], marks: int, share: str
) -> Element:
    """The same where the same options are right."""
    top = QtiElement(b"", b"", generation, AS_MATHML)
    attributes = {"identifier": RESPONSE, "cardinality": "multiple", "base-type": "identifier"}
    declaration = add(top, "qti-response-declaration", attributes)
    correct = add(declaration, "qti-correct-response")
    for identifier, right in options:
        if right:
            add(correct, "qti-value", text=identifier)
    bounds = {"lower-bound": "0", "upper-bound": str(marks), "default-value": "0"}
    mapping = add(declaration, "qti-mapping", bounds)
    for identifier, right in options:
        value = share if right else f"-{share}"
        add(mapping, "qti-map-entry", {"map-key": identifier, "mapped-value": value})
    return lasting(declaration)


def add_several_processing(condition: QtiElement, shown: str) -> None:
    """Append the branches of a response condition.

    Args:
        condition: where they go.
        shown: the value of SOLUTION once the worked solution may be seen.
    """
    chosen = add(condition, "qti-response-if")
    _variable(add(add(chosen, "qti-not"), "qti-is-null"))
    score = add(chosen, "qti-set-outcome-value", {"identifier": SCORE})
    add(score, "qti-map-response", {"identifier": RESPONSE})
    _variable(add(chosen, "qti-set-outcome-value", {"identifier": FEEDBACK}))
    solution = add(chosen, "qti-set-outcome-value", {"identifier": SOLUTION})
    add(solution, "qti-base-value", {"base-type": "identifier"}, shown)
    nothing = add(add(condition, "qti-response-else"), "qti-set-outcome-value", {"identifier": SCORE})
    add(nothing, "qti-base-value", {"base-type": "float"}, "0")


def _variable(parent: QtiElement) -> None:
    add(parent, "qti-variable", {"identifier": RESPONSE})
