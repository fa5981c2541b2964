"""What was said, in another language: looked up in the catalogue of that language, a file of gettext's.

A language is named by its BCP 47 tag. `de-CH` is said in `de-CH` if there is such a catalogue, else in `de`; where there is
neither, people hear English. A sentence that a catalogue lacks stays English, and so does text that is no message.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import TYPE_CHECKING, Any, TypeVar, overload

from qbank.messages.message import Message
from qbank.messages.prose import Prose, filled

if TYPE_CHECKING:
    from gettext import GNUTranslations

__all__ = ["in_language", "is_spoken", "languages", "saying"]

_T = TypeVar("_T")

#: tags are cut off after so many parts, and may come from an untrusted file
_PARTS = 4
#: of the source
_ENGLISH = "en"


@overload
def in_language(said: str, language: str) -> str: ...


@overload
def in_language(said: tuple[_T, ...], language: str) -> tuple[_T, ...]: ...


def in_language(said: str | tuple[Any, ...], language: str) -> str | tuple[Any, ...]:
    """A message, prose, or a tuple of such, said in a language; the messages in its gaps too.

    Args:
        said: what to say.
        language: BCP 47 tag.

    Returns:
        Plain text, or a tuple of text and the things that stood in it, which no longer know how they came about.

    >>> from qbank.messages import say
    >>> in_language(say("Multiply out and collect."), "de-CH")
    'Multipliziere aus und fasse zusammen.'
    """
    found: str | tuple[Any, ...] = _said(said, _catalogue(language))
    return found


def saying(language: str) -> Callable[..., str]:
    """`say` in a language at once, for what is said too often to be a message: it gives text that knows nothing more.

    The same function comes back each time.

    >>> say = saying("de")
    >>> say("the square root of {radicand}", radicand="x")
    'Wurzel aus x'
    """
    return _saying(_catalogue(language))


@lru_cache(maxsize=64)
def _saying(catalogue: GNUTranslations | None) -> Callable[..., str]:
    if catalogue is None:
        return str.format
    return lambda sentence, **pieces: catalogue.gettext(sentence).format(**pieces)


def _said(said: Any, catalogue: GNUTranslations | None) -> Any:
    if catalogue is not None and isinstance(said, _MADE):
        pieces = {gap: _said(piece, catalogue) for gap, piece in said.pieces}
        sentence = _sentence(said, catalogue)
        return sentence.format(**pieces) if isinstance(said, Message) else tuple(filled(sentence, pieces))
    if isinstance(said, Message):
        return str(said)
    if isinstance(said, tuple):
        return tuple([_said(one, catalogue) if isinstance(one, _SAID) else one for one in said])
    return said


#: what knows how it came about, and what may hold such
_MADE, _SAID = (Message, Prose), (Message, tuple)


def _sentence(said: Message | Prose, catalogue: GNUTranslations) -> str:
    """The sentence with its gaps."""
    if isinstance(said, Message) and said.plural:
        return catalogue.ngettext(said.sentence, said.plural, said.number)
    # for no text at all, gettext answers with the head of the catalogue
    return catalogue.gettext(said.sentence) if said.sentence else ""


def is_spoken(language: str) -> bool:
    """Whether there are sentences in a language, or in the one that it is a kind of.

    >>> is_spoken("en-AU"), is_spoken("DE"), is_spoken("tlh")
    (True, True, False)
    """
    return _ENGLISH in _kinds(language) or _catalogue(language) is not None


@lru_cache(maxsize=1)
def languages() -> tuple[str, ...]:
    """The tags of all languages that sentences are said in, English first.

    >>> languages()
    ('en', 'de')
    """
    from importlib.resources import files

    folder = files("qbank.messages") / "catalogue"
    found = (one.name.removesuffix(".mo") for one in folder.iterdir() if one.name.endswith(".mo"))
    return (_ENGLISH, *sorted(found))


def _kinds(language: str) -> Iterator[str]:
    """A tag and those of the languages it is a kind of, last the language alone; as in a name of a catalogue."""
    parts = language.lower().split("-")[:_PARTS]
    return ("-".join(parts[:count]) for count in range(len(parts), 0, -1))


@lru_cache(maxsize=64)
def _catalogue(language: str) -> GNUTranslations | None:
    """The catalogue of a language; None for English, and for languages without one."""
    from gettext import GNUTranslations
    from importlib.resources import files

    for tag in _kinds(language):
        if tag != _ENGLISH and tag in languages():
            with (files("qbank.messages") / "catalogue" / f"{tag}.mo").open("rb") as file:
                return GNUTranslations(file)
    return None
