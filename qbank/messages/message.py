"""One sentence, with what was put into its gaps."""

from __future__ import annotations

from collections.abc import Callable
from typing import Self

__all__ = ["Message", "say", "say_count"]


class Message(str):
    """English text that knows how it came about.

    Attributes:
        sentence: as it stands in the source, with gaps such as `{letter}`.
        pieces: what stands in each gap; a piece may be a message itself, which is then said in the same language.
        plural: the sentence for any number but one; empty where nothing is counted.
        number: how many; 1 where nothing is counted.
    """

    __slots__ = ("number", "pieces", "plural", "sentence")

    sentence: str
    pieces: tuple[tuple[str, str], ...]
    plural: str
    number: int

    def __new__(
        cls, sentence: str, pieces: tuple[tuple[str, str], ...] = (), plural: str = "", number: int = 1
    ) -> Self:
        """The message of a sentence and of what is put into its gaps.

        Raises:
            KeyError: a gap is left open.
        """
        pattern = plural if plural and number != 1 else sentence
        return cls.made(pattern.format(**dict(pieces)), sentence, pieces, plural, number)

    @classmethod
    def made(
        cls,
        text: str,
        sentence: str,
        pieces: tuple[tuple[str, str], ...],
        plural: str = "",
        number: int = 1,
    ) -> Self:
        """The same where the English text, with the pieces in their gaps, is there already."""
        made = str.__new__(cls, text)
        made.sentence = sentence
        made.pieces = pieces
        made.plural = plural
        made.number = number
        return made

    def __getnewargs__(self) -> tuple[str, tuple[tuple[str, str], ...], str, int]:  # type: ignore[override]
        """What a copy, or another process, makes it from."""
        return (self.sentence, self.pieces, self.plural, self.number)

    def with_pieces(self, change: Callable[[str], str]) -> Message:
        """The same sentence with other text in its gaps.

        >>> say("Put the function back for {letter}.", letter="u").with_pieces(str.upper)
        'Put the function back for U.'
        """
        pieces = tuple(
            (gap, piece.with_pieces(change) if isinstance(piece, Message) else change(piece))
            for gap, piece in self.pieces
        )
        return Message(self.sentence, pieces, self.plural, self.number)


def say(sentence: str, **pieces: str) -> Message:
    """A sentence for people. It is written out in the call, so that the catalogue can be taken from the source.

    Args:
        sentence: English, with named gaps.
        pieces: text for each gap.

    >>> say("Put the function back for {letter}.", letter="u")
    'Put the function back for u.'
    """
    return Message.made(sentence.format(**pieces), sentence, tuple(pieces.items()))


def say_count(one: str, many: str, count: int, **pieces: str) -> Message:
    """A sentence about a number of things, which other languages may have in more forms than two.

    Args:
        one: English, for one thing; `{count}` is the number.
        many: English, for any other number.
        count: how many.
        pieces: text for the other gaps.

    >>> say_count("Give {count} decimal place.", "Give {count} decimal places.", 3)
    'Give 3 decimal places.'
    """
    return Message(one, (("count", str(count)), *pieces.items()), many, count)
