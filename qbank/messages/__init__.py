"""Sentences for people: written in English where they belong, shown in the language that is asked for.

    say("Put the function back for {letter}.", letter="u")   -> Message, which is English text
    say_count("{count} mark", "{count} marks", 3)            -> Message, about a number of things
    prose("Find {integral}.", integral=Integral(...))        -> Prose, which is a tuple of text and things
    in_language(message or prose, "de-CH")                   -> finished text, or a tuple of it and the things

A `Message` is a `str` in English, so whatever handles text handles it. It also remembers the sentence as it was
written and what was put into its gaps, so that it can be said in another language later. Sentences are whole: a
sentence put together from pieces of grammar cannot be translated.

The catalogue is taken from the source and translated in one file for each language, `catalogue/de.po`.
"""

from __future__ import annotations

from qbank.messages.language import in_language, is_spoken, languages, saying
from qbank.messages.message import Message, say, say_count
from qbank.messages.prose import Prose, prose, together

__all__ = [
    "Message",
    "Prose",
    "in_language",
    "is_spoken",
    "languages",
    "prose",
    "say",
    "say_count",
    "saying",
    "together",
]
