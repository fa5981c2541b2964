"""One sentence, with what was put into its gaps."""

from __future__ import annotations

from typing import Self

__all__ = ["Message", "say"]


class Message(str):
    """English text that knows how it came about.

    Attributes:
        sentence: as it stands in the source, with gaps such as `{letter}`.
        pieces: what stands in each gap; a piece may be a message itself, which is then said in the same language.
    """

    __slots__ = ("pieces", "sentence")

    sentence: str
    pieces: tuple[tuple[str, str], ...]

    def __new__(cls, sentence: str, pieces: tuple[tuple[str, str], ...] = ()) -> Self:
        """The message of a sentence and of what is put into its gaps.

        Raises:
            KeyError: a gap is left open.
        """
        made = super().__new__(cls, sentence.format(**dict(pieces)))
        made.sentence = sentence
        made.pieces = pieces
        return made

    def __getnewargs__(self) -> tuple[str, tuple[tuple[str, str], ...]]:  # type: ignore[override]
        """What a copy, or another process, makes it from."""
        return (self.sentence, self.pieces)


def say(sentence: str, **pieces: str) -> Message:
    """A sentence for people. It is written out in the call, so that the catalogue can be taken from the source.

    Args:
        sentence: English, with named gaps.
        pieces: text for each gap.

    >>> say("Put the function back for {letter}.", letter="u")
    'Put the function back for u.'
    """
    return Message(sentence, tuple(pieces.items()))
