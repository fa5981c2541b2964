"""The source of a deck as a part of its package, from which `qbank recover` gives the bank back byte for byte.

A package of many files has it as two: the bank file as it is, and a small JSON file that says how it was drawn. A JSON
document has both in one member, the bank as text.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator
from typing import Any

from qbank import __version__
from qbank.items.deck import Deck
from qbank.items.source import Source
from qbank.writers.artifact import GENERATOR, Artifact

__all__ = ["BANK_PATHS", "DRAW_PATH", "bank_path", "source_files", "source_member"]

#: where the bank file lies, in YAML or in JSON
BANK_PATHS = ("source/bank.yaml", "source/bank.json")
#: the file that says how the items were drawn
DRAW_PATH = "source/draw.json"


def bank_path(source: Source) -> str:
    """Where the bank file lies in a package; its own name is kept in the other file, as it may be any text."""
    yaml, json_ = BANK_PATHS
    return json_ if source.name.lower().endswith(".json") else yaml


def source_files(deck: Deck) -> Iterator[Artifact]:
    """The files of a deck's source; none when the deck has none."""
    if deck.source is not None:
        yield Artifact(bank_path(deck.source), deck.source.content)
        value = {"generator": GENERATOR, **_draw(deck.source), "file": bank_path(deck.source)}
        yield Artifact(DRAW_PATH, (json.dumps(value, indent=2) + "\n").encode())


def source_member(source: Source) -> str:
    """The source as one JSON value, written with ASCII alone so that nothing in the bank can disturb its reader.

    Raises:
        UnicodeDecodeError: the bank file is not in UTF-8, which no bank is.
    """
    value = {**_draw(source), "content": source.content.decode("utf-8")}
    return json.dumps(value, separators=(",", ":"))


def _draw(source: Source) -> dict[str, Any]:
    chosen = {"test": source.test, "forms": source.forms}
    return {
        "version": __version__,
        "name": source.name,
        "seed": source.seed,
        "count": source.count,
        "pick": source.pick,
        "templates": None if source.templates is None else list(source.templates),
        **{name: value for name, value in chosen.items() if value is not None},
        "sha256": hashlib.sha256(source.content).hexdigest(),
    }
