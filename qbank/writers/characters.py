"""Text from outside, made fit for any file: no character that XML forbids, none that reorders what follows it."""

from __future__ import annotations

import re

__all__ = ["clean", "is_plain", "one_line", "shown"]

# Not allowed in XML 1.0 (its production 2, Char), besides the embeddings and overrides of the bidirectional algorithm,
# whose use Unicode Standard Annex 9 discourages and with which a text can be made to read as another one.
# The isolates, which are what it recommends for right-to-left passages, are left alone.
_UNFIT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff\u202a-\u202e]")

#: with what LaTeX begins for a typesetter, which a system may run over all its pages
_BEGINNING = re.compile(r"[\\$]")
_WORD_JOINER = "\u2060"


def clean(text: str) -> str:
    r"""The text with each unfit character replaced by U+FFFD, so that the reader sees that something was there.

    >>> ascii(clean("a\x00b"))
    "'a\\ufffdb'"
    """
    # what can be printed holds none of them; most texts end here
    return text if text.isprintable() else _UNFIT.sub("\ufffd", text)


def shown(text: str) -> str:
    r"""A text as students see it: clean, with nothing in it that would be typeset as LaTeX, in whatever system.

    A word joiner, which has no width, stands behind each backslash and each dollar sign.

    >>> shown(r"\(x\) $5") == "\\\u2060(x\\\u2060) $\u20605"
    True
    """
    text = clean(text)
    if "\\" in text or "$" in text:
        return _BEGINNING.sub(lambda found: found[0] + _WORD_JOINER, text)
    return text


def one_line(text: str) -> str:
    r"""The same for titles: line ends and tabs become blanks, as an XML attribute would read them anyway.

    >>> one_line("Powers\n of  sine ")
    'Powers of sine'
    """
    # most are one word, and words hold neither blanks nor unfit characters
    return text if text.isidentifier() else " ".join(clean(text).split())


def is_plain(text: str) -> bool:
    """Whether there is nothing in a text to clean or to escape, so that it may stand anywhere as it is.

    Most texts are, and asking is far quicker than all that would be done to them.

    >>> is_plain("Powers of sine"), is_plain("a < b"), is_plain("two  blanks")
    (True, False, False)
    """
    return text.isprintable() and not (
        "&" in text
        or "<" in text
        or ">" in text
        or '"' in text
        or "$" in text
        or "\\" in text
        or "  " in text
        or text[:1] == " "
        or text[-1:] == " "
    )
