"""Sentences for people: written in English where they belong, shown in the language that is asked for.

    say("Put the function back for {letter}.", letter="u")   -> Message, which is English text

A `Message` is a `str` in English, so whatever handles text handles it. It also remembers the sentence as it was
written and what was put into its gaps, so that it can be said in another language later. Sentences are whole: a
sentence put together from pieces of grammar cannot be translated.
"""

from __future__ import annotations

from qbank.messages.message import Message, say

__all__ = ["Message", "say"]
