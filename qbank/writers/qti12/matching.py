"""Matching in QTI 1.2.

The plain standard lets one item have several responses: there is a choice for each integral, all with the same options, and
a right one adds its share. The profile of Common Cartridge knows no such item, so that a cartridge has a question for each
integral; its identifier is that of the item with the integral's own at the end, its marks are a share in whole marks, one at
least.
"""

from __future__ import annotations

from dataclasses import replace

from qbank.items import wording
from qbank.items.item import Item, Matching
from qbank.items.matched import MatchingRow
from qbank.maths.expression import Integral
from qbank.messages import in_language
from qbank.writers.formulas import Formulas
from qbank.writers.numbers import decimal_text
from qbank.writers.qti12.content import add_material, prose_html
from qbank.writers.qti12.follows import follows
from qbank.writers.qti12.names import feedback_name
from qbank.writers.tree import Element, add

__all__ = ["RIGHT", "SOME", "add_matching_conditions", "add_matching_responses", "row_items"]

#: feedback on a row
RIGHT, SOME = feedback_name("right"), feedback_name("other")


def row_items(item: Item, response: Matching) -> tuple[Item, ...]:
    """An item for each integral of a matching: a matching of one row, with all the partners."""
    if len(response.rows) == 1:
        return (item,)
    return tuple(
        replace(
            item,
            identifier=f"{item.identifier}-{row.identifier}",
            integrand=row.integrand,
            key=row.key,
            proof=row.proof,
            working=row.working,
            prompt=in_language(
                wording.prompt_row(response, Integral(row.integrand, item.variable)), item.language
            ),
            marks=max(1, item.marks // len(response.rows)),
            response=_only(response, row),
        )
        for row in response.rows
    )


def _only(response: Matching, row: MatchingRow) -> Matching:
    return replace(
        response,
        rows=(row,),
        mismatches=tuple(one for one in response.mismatches if one.row == row.identifier),
    )


def add_matching_responses(
    presentation: Element, item: Item, response: Matching, formulas: Formulas, *, shuffle: bool
) -> None:
    """Append a choice for each integral."""
    add_material(presentation, prose_html(item, formulas, item.prompt))
    for row in response.rows:
        given = add(presentation, "response_lid", {"ident": row.identifier, "rcardinality": "Single"})
        if len(response.rows) > 1:
            add_material(given, prose_html(item, formulas, (Integral(row.integrand, item.variable),)))
        choice = add(given, "render_choice", {"shuffle": "Yes" if shuffle else "No"})
        for partner in response.partners:
            label = add(choice, "response_label", {"ident": partner.identifier})
            add_material(label, prose_html(item, formulas, partner.shown))


def add_matching_conditions(processing: Element, response: Matching, full: int) -> None:
    """Append the conditions of an item: one for each pair.

    Args:
        processing: where they go.
        response: the pairs.
        full: the full score.
    """
    share = decimal_text(response.share(full), "up")
    alone = len(response.rows) == 1
    for row in response.rows:
        for partner in response.partners:
            condition = add(processing, "respcondition", {"continue": "No" if alone else "Yes"})
            test = add(condition, "conditionvar")
            add(test, "varequal", {"respident": row.identifier}, partner.identifier)
            right = partner.identifier == row.partner
            name = None
            if partner.misled == row.identifier:
                name = feedback_name(partner.identifier)
            elif alone:
                name = RIGHT if right else SOME
            condition.parts += follows("Set" if alone else "Add", share if right else None, name)
