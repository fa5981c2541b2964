"""Decks with hostile texts in cartridges and plain QTI 1.2: the same checks for every kind of item."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from qbank.items.deck import Deck
from qbank.writers import WRITERS, Options, save
from tests.writers.qti12 import rules
from tests.writers.qti12.reading import Seen, html_texts, members
from tests.writers.validating import validate

#: the formats and what they hold
KINDS = [("cc", "assessment"), ("cc", "bank"), ("qti12", "assessment")]


def check_valid_and_harmless(wild: Deck, name: str, purpose: Any, shared: Path, folder: Path) -> None:
    """The package is valid, keeps the rules of cartridges, and holds no script."""
    validate(shared, save(WRITERS[name], wild, folder / "p.zip", options=Options(purpose=purpose)))
    files = members(WRITERS[name].write(wild, Options(purpose=purpose)))
    documents = [data for path, data in files.items() if "manifest" not in path]
    if name == "cc":
        assert [broken for data in documents for broken in rules.of_items(shared).broken(data)] == []
    assert not any("script" in [tag for tag, _ in Seen(t).tags] for d in documents for t in html_texts(d))
