"""What an item says, as plain text."""

from __future__ import annotations

from qbank.items.options import Prose
from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.notation import plain

__all__ = ["prose_text"]


def prose_text(prose: Prose, conventions: Conventions = DEFAULT) -> str:
    """Text with its mathematics written in plain characters.

    >>> from qbank.maths.expression import Symbol
    >>> prose_text(("Find ", Symbol("x") ** 2, "."))
    'Find x^2.'
    """
    return "".join(piece if isinstance(piece, str) else plain(piece, conventions) for piece in prose)
