"""The boxes for coefficients: their declarations, and the lines they stand in."""

from __future__ import annotations

from fractions import Fraction

from qbank.items.item import Coefficients, DecimalEntry, FractionEntry, Item
from qbank.messages import Message, in_language
from qbank.writers import phrases
from qbank.writers.numbers import decimal_text
from qbank.writers.qti.coefficients import denominator_name, number_name, numerator_name
from qbank.writers.qti.content import add_mathematics, add_phrase, add_text
from qbank.writers.qti.elements import QtiElement, add

__all__ = ["add_boxes", "declare_boxes"]


def declare_boxes(top: QtiElement, response: Coefficients) -> None:
    """Append a declaration for each box, with a right answer."""
    for letter, value in zip(response.letters, response.values, strict=True):
        if isinstance(response.entry, FractionEntry):
            _declare(top, numerator_name(letter.name), "integer", str(value.numerator))
            _declare(top, denominator_name(letter.name), "integer", str(value.denominator))
        else:
            _declare(top, number_name(letter.name), "float", _rounded(value, response.entry))


def _declare(top: QtiElement, identifier: str, base_type: str, right: str) -> None:
    attributes = {"identifier": identifier, "cardinality": "single", "base-type": base_type}
    add(
        add(add(top, "qti-response-declaration", attributes), "qti-correct-response"), "qti-value", text=right
    )


def _rounded(value: Fraction, entry: DecimalEntry) -> str:
    # Python rounds a fraction to a fraction, so the text is exact
    return decimal_text(round(value, entry.places))


def add_boxes(body: QtiElement, item: Item, response: Coefficients) -> None:
    """Append a line with the boxes of each coefficient, and how to fill them in."""
    for letter in response.letters:
        line = add(body, "p")
        add_mathematics(line, letter, item.conventions)
        add_text(line, " = ")
        if isinstance(response.entry, FractionEntry):
            _box(line, numerator_name(letter.name), phrases.numerator(letter.name), 5, item)
            add_text(line, " / ")
            _box(line, denominator_name(letter.name), phrases.denominator(letter.name), 5, item)
        else:
            _box(line, number_name(letter.name), phrases.number(letter.name), 12, item)
    wanted = (
        phrases.whole_numbers_wanted(response.entry.bound)
        if isinstance(response.entry, FractionEntry)
        else phrases.DECIMAL_WANTED
    )
    add_phrase(add(body, "p"), wanted, item)


def _box(line: QtiElement, identifier: str, label: Message, length: int, item: Item) -> None:
    attributes = {
        "response-identifier": identifier,
        "expected-length": str(length),
        "aria-label": in_language(label, item.language),
    }
    add(line, "qti-text-entry-interaction", attributes)
