r"""Answers as students write them: asides, the left side, the full stop and the spelt-out constant around an expression.

A student who finds an antiderivative may write `y = ...`, `F(x) = ...`, `I = ...`, `∫ cos x dx = ...` or only `= ...`,
in LaTeX too, and several of them in a row. These left sides say nothing about the answer and are left out, with a
remark. Any other left side is refused: `x = 2` is no antiderivative.
"""

from __future__ import annotations

import re
from dataclasses import replace

from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.expression import Symbol
from qbank.maths.reading.asides import without_asides
from qbank.maths.reading.choices import Choices
from qbank.maths.reading.errors import ReadingError
from qbank.maths.reading.lookalikes import CleanText
from qbank.maths.reading.reader import Reading, cleaned, names_of, read_clean, unwrapped
from qbank.maths.reading.remarks import Remark
from qbank.maths.reading.tokens import Names, Token, tokenise
from qbank.messages import say

__all__ = ["read_response"]

#: a constant of integration as a word, at the end
_SPELT_OUT = re.compile(
    r"""(?:\b(?:(?:an?|any|some|an\sarbitrary|eine|die)\s)?(?:const|constant|konst|konstante?|cst|cte)\b\.?(?:\sof\sintegration\b)?
    | \\(?:text|textrm|mathrm|operatorname)\s*\{\s*(?:const|constant|konst|konstante?)\.?\s*\})\s*$""",
    re.VERBOSE | re.IGNORECASE,
)
_LAST_LETTERS = ("t", "e", "n", "T", "E", "}")
#: dollar signs around an answer and a statement after it, each a formula of its own
_TWO_FORMULAS = 4
#: letters of a constant: C = 2 is no answer
_CONSTANTS = ("C", "c", "K", "k")
#: left sides that need not be read: any integral, and words for the answer
_UNSPECIFIC = re.compile(
    r"\s*(?:∫|\\int(?![A-Za-z])|int\b|integral\b|(?:answer|ans|result|solution)\s*$)", re.IGNORECASE
)


def read_response(
    text: str,
    *,
    conventions: Conventions = DEFAULT,
    variable: Symbol | None = None,
    names: frozenset[str] = frozenset(),
) -> Reading:
    r"""Read an answer: an expression, perhaps with a left side and a full stop.

    Args:
        text: what the student wrote, typed or LaTeX.
        conventions: the school's habits.
        variable: the variable of the question.
        names: symbols with several letters.

    Returns:
        The reading of the right side; constants of integration stay in the tree.

    Raises:
        ReadingError: when the text cannot be read.

    >>> read_response("y = x^2 + C.").tree == read_response(r"\int 2x\,dx = x^2 + C").tree
    True
    """
    known = names_of(conventions, variable, names)
    whole = _without_full_stop(cleaned(text))
    try:
        return _read(unwrapped(whole), known, text)
    except ReadingError:
        # words around an answer keep it from being read, so only then are they looked for
        outer = whole if text.count("$") == _TWO_FORMULAS else unwrapped(whole)
        inner, asides = without_asides(outer, known)
        if inner.text == outer.text:
            raise
    reading = _read(unwrapped(inner), known, text)
    return replace(reading, remarks=(*asides, *reading.remarks))


def _read(text: CleanText, names: Names, source: str) -> Reading:
    """Read an answer without asides."""
    body, remarks = _right_side(_without_full_stop(text), names)
    body, spelt = _with_letter(body, names.conventions)
    reading = read_clean(body, names)
    return Reading(reading.tree, (*remarks, *spelt, *reading.remarks), source, reading.others)


def _without_full_stop(text: CleanText) -> CleanText:
    plain = text.text.rstrip()
    return text.part(0, len(plain) - 1) if plain.endswith(".") else text


def _right_side(text: CleanText, names: Names) -> tuple[CleanText, tuple[Remark, ...]]:
    """What stands after the last equals sign, when all before it are left sides that may be left out."""
    last = text.text.rfind("=")
    if last < 0:
        return text, ()
    start = 0
    while start <= last:
        end = text.text.index("=", start)
        _check_left_side(text.part(start, end), text.span(end, end + 1), names)
        start = end + 1
    left = text.text[:last].strip()
    remark = Remark(
        "left-side", say("The left side {left} was left out.", left=left), *text.span(0, last + 1)
    )
    return text.part(start, len(text.text)), (remark,) if left else ()


def _check_left_side(text: CleanText, equals: tuple[int, int], names: Names) -> None:
    """Refuse a left side that could be part of the answer."""
    if not text.text.strip() or _UNSPECIFIC.match(text.text):
        return
    tokens = tokenise(text, names, Choices())[:-1]
    quotient = len(tokens) > 1 and tokens[-2].text == "/"
    if not _is_name(tokens, names) and (tokens[-1].kind != "differential" or quotient):
        raise ReadingError(
            "equals-sign",
            say("this equals sign does not follow a name such as y or F(x), or an integral"),
            position=equals,
            hint=say("write only the answer"),
            source=text.source,
        )


def _is_name(tokens: list[Token], names: Names) -> bool:
    """Whether the left side is a letter that is not the variable, perhaps of the variable: y, I, F(x)."""
    first, *others = tokens
    stated = len(names.variables) == 1
    if (
        first.kind != "symbol"
        or first.text in _CONSTANTS
        or first.text in (names.variables if stated else {"x", "t", "theta"})
    ):
        return False
    if not others:
        return True
    return [token.kind for token in others] == ["open", "symbol", "close"] and others[
        1
    ].text in names.variables


def _with_letter(text: CleanText, conventions: Conventions) -> tuple[CleanText, tuple[Remark, ...]]:
    """The text with the letter of the constant in place of the word for it."""
    plain = text.text.rstrip().removesuffix(".")
    found = _SPELT_OUT.search(text.text) if plain.endswith(_LAST_LETTERS) else None
    if found is None:
        return text, ()
    start, end = found.span()
    letter = conventions.constant
    remark = Remark(
        "named-constant",
        say("{text} was read as the constant {letter}.", text=found.group().strip(), letter=letter),
        *text.span(start, end),
    )
    starts = [*text.starts[:start], *([text.starts[start]] * len(letter)), text.starts[end]]
    changed = CleanText(
        text=text.text[:start] + letter, starts=starts, source=text.source, remarks=text.remarks
    )
    return changed, (remark,)
