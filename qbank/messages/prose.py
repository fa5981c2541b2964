"""Sentences with things in them that are not text, such as formulas, which each medium shows in its own way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from string import Formatter
from typing import Any, Self, TypeVar, overload

from qbank.messages.message import Message

__all__ = ["Prose", "filled", "prose", "together"]

_T = TypeVar("_T")


class Prose(tuple[Any, ...]):  # noqa: SLOT001 - a tuple has no room for slots
    """An English sentence in pieces, text and things in turn, that knows how it came about.

    Attributes:
        sentence: as it stands in the source, with gaps such as `{integral}`.
        pieces: what stands in each gap: text, a message, a thing, or prose itself.
    """

    sentence: str
    pieces: tuple[tuple[str, object], ...]

    def __new__(cls, sentence: str, pieces: tuple[tuple[str, object], ...] = ()) -> Self:
        """The prose of a sentence and of what is put into its gaps.

        Raises:
            KeyError: a gap is left open.
        """
        made = super().__new__(cls, filled(sentence, dict(pieces)))
        made.sentence = sentence
        made.pieces = pieces
        return made

    def __getnewargs__(self) -> tuple[str, tuple[tuple[str, object], ...]]:
        """What a copy, or another process, makes it from."""
        return (self.sentence, self.pieces)


def prose(sentence: str, **pieces: str | _T | tuple[str | _T, ...]) -> tuple[str | _T, ...]:
    """A sentence for people with things in it. It is written out in the call, as in `say`.

    Args:
        sentence: English, with named gaps.
        pieces: for each gap text, a thing that is not text, or prose.

    >>> prose("Add {number} to {what}.", number=2, what="it")
    ('Add ', 2, ' to it.')
    """
    return Prose(sentence, tuple(pieces.items()))


@overload
def together(*sentences: str, between: str = ...) -> Message: ...  # type: ignore[overload-overlap]  # text alone


@overload
def together(*sentences: str | tuple[str | _T, ...], between: str = ...) -> tuple[str | _T, ...]: ...


def together(*sentences: str | tuple[Any, ...], between: str = " ") -> Message | tuple[Any, ...]:
    """Whole sentences one after the other, those left out that are empty.

    Args:
        sentences: text, messages or prose.
        between: what parts them in every language.

    >>> together(prose("Add {number}.", number=2), "", "Then stop.")
    ('Add ', 2, '. Then stop.')
    >>> together("Add.", "Then stop.")
    'Add. Then stop.'
    """
    said = [one for one in sentences if one]
    pattern, gaps = _row(len(said), between)
    text = [one for one in said if isinstance(one, str)]
    if len(text) < len(said):
        return Prose(pattern, tuple(zip(gaps, said, strict=True)))
    return Message.made(between.join(text), pattern, tuple(zip(gaps, text, strict=True)))


@lru_cache(maxsize=64)
def _row(count: int, between: str) -> tuple[str, tuple[str, ...]]:
    """A sentence of nothing but gaps, and the gaps."""
    gaps = tuple(f"_{place}" for place in range(count))
    return between.join(f"{{{gap}}}" for gap in gaps), gaps


def filled(sentence: str, pieces: dict[str, Any]) -> Iterable[Any]:
    """A sentence with its gaps filled: neighbouring text is joined, prose is taken apart.

    Raises:
        KeyError: a gap is left open.
    """
    text: list[str] = []
    for piece in _parts(sentence, pieces):
        if isinstance(piece, str):
            text.append(piece)
            continue
        if any(text):
            yield "".join(text)
        text = []
        yield piece
    if any(text):
        yield "".join(text)


def _parts(sentence: str, pieces: dict[str, Any]) -> Iterator[Any]:
    for before, gap in _parsed(sentence):
        yield before
        if gap is not None:
            piece = pieces[gap]
            yield from piece if isinstance(piece, tuple) else (piece,)


@lru_cache(maxsize=256)
def _parsed(sentence: str) -> tuple[tuple[str, str | None], ...]:
    return tuple((before, gap) for before, gap, _, _ in Formatter().parse(sentence))
