"""A language of one sign: whatever word is left in a text has not passed by the catalogue (pseudo-localisation)."""

from __future__ import annotations

import re
from collections.abc import Iterable

import pytest

from qbank.messages import language

__all__ = ["SIGN", "speak_in_signs", "words"]

SIGN = "·"
_GAP_OR_LETTER = re.compile(r"\{\w+\}|[^\W\d_]")
_WORD = re.compile(r"[^\W\d_]{2,}")


class _Signs:
    """A catalogue with a sign in place of each letter."""

    def gettext(self, sentence: str) -> str:
        return _GAP_OR_LETTER.sub(lambda found: found[0] if len(found[0]) > 1 else SIGN, sentence)

    def ngettext(self, one: str, many: str, number: int) -> str:
        return self.gettext(one if number == 1 else many)


def speak_in_signs(patch: pytest.MonkeyPatch) -> None:
    """Let German be that language."""
    patch.setattr(language, "_catalogue", lambda tag: _Signs() if tag == "de" else None)


def words(texts: Iterable[str]) -> set[str]:
    """The words of two letters at least."""
    return {word for text in texts for word in _WORD.findall(text)}
