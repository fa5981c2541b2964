"""Characters that mean the same: one plain text from whatever a keyboard, a phone or a copied page gives.

`clean` replaces characters one by one and remembers where each came from, so that every later position can be
shown in the text as it was given. Signs with a meaning of their own (roots, superscripts, pi) are left for the
tokens. Replacements that nobody sees as different (a minus sign, italic letters of mathematics) are silent; letters
of other alphabets, wide forms and invisible characters are remarked on.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass

from qbank.maths.reading.remarks import Remark
from qbank.messages import say

__all__ = ["CleanText", "character_name", "clean"]

#: letters of other alphabets that look like a Latin one in most fonts (common practice)
_FOREIGN = {
    **dict(zip("асеорху", "aceopxy", strict=True)),
    **dict(zip("іѕјАВСЕНІЈКМОРЅТХУ", "isjABCEHIJKMOPSTXY", strict=True)),
    **dict(zip("ΑΒΕΖΗΙΚΜΝΟΡΤΥΧο", "ABEZHIKMNOPTYXo", strict=True)),
    "ı": "i",
}
_SILENT = {
    "−": "-",
    "⋅": "*",
    "·": "*",
    "×": "*",
    "∙": "*",
    "∗": "*",
    "⁢": "*",
    "÷": "/",
    "⁄": "/",
    "∕": "/",
    "⁡": " ",
    "∣": "|",
    "∛": "³√",
    "∜": "⁴√",
    "º": "°",
    "˚": "°",
    "Ω": "Ω",
    "µ": "μ",
    "ϕ": "φ",
    "ϑ": "θ",
    "ϵ": "ε",
    "ς": "σ",
    "ϱ": "ρ",
    "〖": "(",
    "〗": ")",
    "∆": "Δ",
}
_REMARKED = {
    "‐": "-",
    "‑": "-",
    "‒": "-",
    "–": "-",
    "—": "-",
    "―": "-",
    "﹣": "-",
    "•": "*",
    "⋆": "*",
    "✕": "*",
    "✖": "*",
    "ˆ": "^",
    "‖": "||",
    "│": "|",
    "ǀ": "|",
    "⟨": "(",
    "⟩": ")",
    "，": ",",
    "‚": ",",
    "٫": ",",
    "∕": "/",
}
#: invisible characters: they are dropped
_INVISIBLE = frozenset(
    "\u200b\u200c\u200d\u2060\ufeff\u00ad\u200e\u200f\u202a\u202b\u202c\u202d\u202e\ufe0e\ufe0f"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CleanText:
    """A text in plain characters, with the place of each in the source.

    Attributes:
        text: the plain characters.
        starts: for each of them, and one more for the end, where it starts in the source.
        source: the text as it was given.
        remarks: what was replaced.
    """

    text: str
    starts: Sequence[int]
    source: str
    remarks: tuple[Remark, ...] = ()

    def span(self, start: int, end: int) -> tuple[int, int]:
        """The place in the source of the characters from `start` to `end`."""
        starts = self.starts
        if isinstance(starts, range):  # no character was replaced
            return starts.start + start, starts.start + max(start, end)
        if end <= start:
            return starts[start], starts[start]
        last = starts[end - 1]
        return starts[start], max(last + 1, starts[end] if end < len(self.text) else last + 1)

    def part(self, start: int, end: int) -> CleanText:
        """The characters from `start` to `end` as a text of their own, with the same places."""
        return CleanText(
            text=self.text[start:end],
            starts=self.starts[start : end + 1],
            source=self.source,
            remarks=self.remarks,
        )


def clean(source: str) -> CleanText:
    """Replace look-alike characters.

    >>> clean("х − ２").text  # a Cyrillic letter, a minus sign, a wide digit
    'x - 2'
    """
    if source.isascii():
        return CleanText(text=source, starts=range(len(source) + 1), source=source)
    pieces: list[str] = []
    starts: list[int] = []
    remarks: dict[str, Remark] = {}
    for place, char in enumerate(source):
        plain, remarked = (char, False) if char.isascii() else _plain(char)
        pieces.append(plain)
        starts.extend([place] * len(plain))
        if remarked and char not in remarks:
            remarks[char] = _remark(char, plain, place)
    starts.append(len(source))
    return CleanText(text="".join(pieces), starts=starts, source=source, remarks=tuple(remarks.values()))


def character_name(char: str) -> str:
    """What to call a character in a message: itself when it can be seen, and its Unicode name.

    >>> character_name("#")
    '"#" (number sign)'
    """
    name = unicodedata.name(char, f"U+{ord(char):04X}").lower()
    return f'"{char}" ({name})' if char.isprintable() else name


def _plain(char: str) -> tuple[str, bool]:
    """The plain form of one character, and whether the replacement deserves a remark."""
    if char in _SILENT:
        return _SILENT[char], False
    if char in _FOREIGN:
        return _FOREIGN[char], True
    if char in _REMARKED:
        return _REMARKED[char], True
    if char in _INVISIBLE:
        return "", True
    code = ord(char)
    if 0xFF01 <= code <= 0xFF5E:  # the wide forms of the ASCII characters, in the same order
        return chr(code - 0xFEE0), True
    if 0x1D400 <= code <= 0x1D7FF or 0x2100 <= code <= 0x214F:  # letters of mathematics: italic, bold, script
        folded = unicodedata.normalize("NFKC", char)
        if len(folded) == 1 and folded.isalnum():
            return _SILENT.get(folded, folded), False
    return char, False


def _remark(char: str, plain: str, place: int) -> Remark:
    name = unicodedata.name(char, f"U+{ord(char):04X}").lower()
    if plain:
        done = say("The character {name} was read as {plain}.", name=name, plain=plain)
    else:
        done = say("The character {name} was left out.", name=name)
    return Remark("look-alike", done, place, place + 1)
