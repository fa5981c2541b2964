"""What the test and the manifest need to know of an item once its file is written and the item itself is gone."""

from __future__ import annotations

from typing import NamedTuple

from qbank.items.item import Item, WorkingTask
from qbank.writers.qti.tasks import is_scored_by_person

__all__ = ["Listed", "listed"]


class Listed(NamedTuple):
    """One line of the table of contents; a bare tuple, as there may be a hundred thousand.

    Attributes:
        identifier: of the item.
        form: its response form, or what is typed in a working.
        tags: of its template.
        files: what it shows besides its own file.
    """

    identifier: str
    form: str
    tags: tuple[str, ...]
    files: tuple[str, ...] = ()


def listed(item: Item, files: tuple[str, ...] = ()) -> Listed:
    """The line of an item."""
    return Listed(item.identifier, _form(item), item.tags, files)


def _form(item: Item) -> str:
    match item.response:
        case WorkingTask(gaps=gaps) as task if gaps:
            if is_scored_by_person(task):
                return "expression-gaps"
            return "number-gaps-and-lines" if task.choices else "number-gaps"
        case _:
            return item.form
