"""Mathematics in generic JSON: an object with every notation of a statement, which is written once and put in as it is.

    value with marks --dump--> text with marks --filled--> the line of an item

A formula makes up most of an item, and many stand in it more than once. In a value there is a mark in its place, a string that no
cleaned text can be, as it begins with a character that is cleaned away.
"""

from __future__ import annotations

from json.encoder import encode_basestring
from typing import Final

from qbank.maths.conventions import Conventions
from qbank.maths.equation import Statement
from qbank.maths.notation import latex, plain
from qbank.maths.notation.gapped import Piece
from qbank.maths.notation.hand import hand_of
from qbank.maths.notation.mathml import MATHML, markup, quoted
from qbank.maths.notation.speech import voice_of
from qbank.writers.characters import is_plain

__all__ = ["Notations"]

#: so many statements are remembered
_HELD: Final = 1024

_MARK, _DUMPED_MARK = "\x00", b'"\\u0000'
_STATEMENT: Final = rf'%b,"mathml":"<math xmlns=\"{MATHML}\" alttext=\"%b\">%b</math>","speech":%b}}'.encode()
#: what cannot stand in a JSON string as it is, besides the quotation mark and the backslash
_CONTROL = bytes(range(0x20))


class Notations(dict[Statement, bytes]):
    """The notations of statements as they are dumped, for items of one school.

    Args:
        conventions: how it writes.

    >>> import json
    >>> from qbank.maths.expression import Symbol
    >>> notations = Notations(Conventions())
    >>> dumped = json.dumps([notations.mark(Symbol("x"))]).encode()
    >>> notations.filled(dumped)[:25]
    b'[{"plain":"x","latex":"x"'
    """

    __slots__ = ("_hand", "_marked", "_voice", "conventions")

    def __init__(self, conventions: Conventions) -> None:
        super().__init__()
        self.conventions = conventions
        self._hand = hand_of(conventions)
        self._voice = voice_of(conventions.language)
        self._marked: list[bytes] = []

    def __missing__(self, statement: Statement) -> bytes:
        box = self._hand[statement]
        written = _written(plain(box), latex(box), markup(box), self._voice.line(box))
        if len(self) >= _HELD:
            self.clear()
        self[statement] = written
        return written

    def mark(self, statement: Statement) -> str:
        """What stands for a statement in a value, until `filled` is asked for."""
        return self._mark(self[statement])

    def mark_piece(self, piece: Piece) -> str:
        """The same for a piece of a statement that has a gap."""
        return self._mark(_written(piece.plain, piece.latex, piece.mathml.encode(), piece.speech))

    def _mark(self, written: bytes) -> str:
        self._marked.append(written)
        return f"{_MARK}{len(self._marked) - 1}"

    def filled(self, dumped: bytes) -> bytes:
        """A value that was dumped with marks in it, with the notations in their places; the marks are done with.

        Args:
            dumped: with every mark that was given since the last time, each once.

        Raises:
            ValueError: there are other marks in it, or not all.
        """
        first, *others = dumped.split(_DUMPED_MARK)
        pieces, places = [first], []
        for one in others:
            place, _, rest = one.partition(b'"')
            places.append(int(place))
            pieces += (self._marked[places[-1]], rest)
        if sorted(places) != list(range(len(self._marked))):
            raise ValueError("a text in an item is taken for a mark")
        self._marked.clear()
        return b"".join(pieces)


def _written(typed: str, tex: str, formula: bytes, words: str) -> bytes:
    """The object of a statement, or of a piece of one."""
    shown = f'{{"plain":{encode_basestring(typed)},"latex":{encode_basestring(tex)}'.encode()
    said = encode_basestring(words).encode()
    label = said[1:-1] if is_plain(words) else _inside(quoted(words).encode())
    return _STATEMENT % (shown, label, _inside(formula), said)


def _inside(text: bytes) -> bytes:
    """A text in UTF-8 as it stands between the quotation marks of a JSON string."""
    if len(text.translate(None, _CONTROL)) < len(text):
        return encode_basestring(text.decode())[1:-1].encode()
    return text.replace(b"\\", b"\\\\").replace(b'"', b'\\"')
