"""What the test and the manifest need to know of an item once its file is written and the item itself is gone."""

from __future__ import annotations

from typing import NamedTuple

from qbank.items.item import Item

__all__ = ["Listed", "listed"]


class Listed(NamedTuple):
    """One line of the table of contents; a bare tuple, as there may be a hundred thousand.

    Attributes:
        identifier: of the item.
        form: its response form.
        tags: of its template.
        files: what it shows besides its own file.
    """

    identifier: str
    form: str
    tags: tuple[str, ...]
    files: tuple[str, ...] = ()


def listed(item: Item, files: tuple[str, ...] = ()) -> Listed:
    """The line of an item."""
    return Listed(item.identifier, item.form, item.tags, files)
