r"""Asides: words and statements that students write around an answer.

    in front                  Answer:   Solution:   ∴   =>   \therefore
    about the constant        , C ∈ ℝ   (C constant)   where c is any constant
    wherever there is a value , x ≠ 2   for all x   , x ∈ ℝ
    on a part of the line     , x > 0   (0 < x < pi)   , x ∈ (0, 1)

They are left out with a remark: `aside` when they change nothing, `condition` for the last kind. Which words there are is
common practice.
"""

from __future__ import annotations

import re

from qbank.maths.reading.lookalikes import CleanText
from qbank.maths.reading.remarks import Remark
from qbank.maths.reading.tokens import Names
from qbank.messages import say

__all__ = ["without_asides"]

_SPACE = r"(?:\s|~|\\[,;:!\ ]|\\(?:q?quad|displaystyle)(?![A-Za-z])){0,9}"
_IN_FRONT = re.compile(
    _SPACE
    + r"""(?:
    (?:answer|ans|solution|soln?|result|lösung|antwort|ergebnis)(?:\s*[.:]|\s)(?!\s*=)
  | ∴ | ⇒ | → | ⟹ | ={1,2}> | -{1,2}>
  | \\(?:therefore|Rightarrow|implies|rightarrow|to)(?![A-Za-z])
    )"""
    + _SPACE,
    re.VERBOSE | re.IGNORECASE,
)
_NUMBERS = r"(?:ℝ|ℤ|ℚ|ℂ|ℕ|[RZQCN]|\\mathbb\s*\{?\s*[RZQCN]\s*\}?|\\[RZQCN])(?![A-Za-z])"
_IN = r"(?:∈|\\in(?![A-Za-z])|(?<=\s)in(?=\s))"
_LETTER = r"(?P<letter>\\?[A-Za-zα-ω]{1,12})"
#: a number, perhaps with a letter for whole ones, as in pi/2 + n pi
_BOUND = r"[-+*/.0-9a-zπ∞√\s\\{}]{1,24}"
_UNEQUAL = r"(?:!=|=/=|≠|\\neq?(?![A-Za-z]))"
_ORDER = r"(?:<=|>=|[<>≤≥]|\\(?:gt|lt|geq?|leq?)(?![A-Za-z]))"
_ABOUT_THE_CONSTANT = rf"""{_LETTER}(?:_?[0-9])?\s*(?:
      {_IN}\s*{_NUMBERS}
    | (?:=|is|being|as|ist|sei)?\s*(?:(?:an?|any|some|the|arbitrary|real|eine?|beliebige?|reelle?)\s+){{0,4}}
      (?:constant|const|konstante?|konst|number|zahl)\.?(?:\s+of\s+integration)? )"""
_WHEREVER = rf"""(?: {_LETTER}\s*{_UNEQUAL}{_BOUND} | {_LETTER.replace("letter", "element")}\s*{_IN}\s*{_NUMBERS}
    | (?:∀|all|every|any|each|alle|jedes)\s*(?:real\s+|reellen?\s+)?{_LETTER.replace("letter", "each")} )"""
_ON_A_PART = rf"""(?: (?:{_BOUND}{_ORDER}\s*)?\|?\s*{_LETTER}\s*\|?\s*{_ORDER}{_BOUND}
    | {_LETTER.replace("letter", "element")}\s*{_IN}\s*[(\[\]][^()\[\]]{{1,30}}[)\[\]] )"""
_JOIN = r"(?:where|with|when|for|if|provided|wobei|mit|für|falls|wenn)(?![A-Za-z])"
_OPEN = rf"(?: [,;]{_SPACE}(?:{_JOIN})? | (?<![A-Za-z]){_JOIN} | (?=∀) )\s*\$?\s*(?:{{}})\s*\$?[\s.]*$"
_IN_BRACKETS = rf"(?:[,;]\s*)?[(\[]\s*(?:{_JOIN})?\s*(?:{{}})\s*[)\]][\s.]*$"
#: what a statement is remarked on as, whether it is about the variable, and its pattern
_STATEMENTS = tuple(
    (identifier, is_on_the_variable, re.compile(around.replace("{}", statement), re.VERBOSE | re.IGNORECASE))
    for identifier, is_on_the_variable, statement in (
        ("aside", False, _ABOUT_THE_CONSTANT),
        ("aside", True, _WHEREVER),
        ("condition", True, _ON_A_PART),
    )
    for around in (_OPEN, _IN_BRACKETS)
)
_MARKS, _QUOTES = " .,;!?", "\"'“”„‘’«»`´"
#: statements at the end that are looked for, each within so many characters
_MOST = 3
_REACH = 120


def without_asides(text: CleanText, names: Names) -> tuple[CleanText, tuple[Remark, ...]]:
    """An answer that cannot be read without what is written around it, and a remark on each part left out.

    Quotation marks around it and punctuation marks at its end are left out too, without a remark.

    Args:
        text: the whole response.
        names: what names may mean, so that a statement about the variable is told from one about a constant.
    """
    remarks = []
    start, end = _within_marks(text.text)
    text = text.part(start, end)
    found = _IN_FRONT.match(text.text)
    if found is not None and found.end() < len(text.text):
        remarks.append(_remark("aside", text, 0, found.end()))
        text = text.part(found.end(), len(text.text))
    for _ in range(_MOST):
        identifier, place = _statement(text.text.rstrip(), names)
        if not place:
            break
        remarks.append(_remark(identifier, text, place, len(text.text)))
        text = text.part(0, place)
    return text, tuple(remarks)


def _within_marks(text: str) -> tuple[int, int]:
    """Where an answer starts and ends without quotation marks around it and punctuation marks at its end."""
    inner = text.rstrip(_MARKS + _QUOTES)
    start = len(inner) - len(inner.lstrip(_QUOTES))
    return start, len(inner)


def _statement(text: str, names: Names) -> tuple[str, int]:
    """What the statement at the end is remarked on as, and where it starts; 0 without one."""
    for identifier, is_on_the_variable, pattern in _STATEMENTS:
        found = pattern.search(text, max(0, len(text) - _REACH))
        if found is None:
            continue
        letter = next(filter(None, found.groupdict().values())).lstrip("\\")
        if (letter in names.variables) == is_on_the_variable:
            return identifier, found.start()
    return "", 0


def _remark(identifier: str, text: CleanText, start: int, end: int) -> Remark:
    first, last = text.span(start, end)
    written = text.source[first:last].strip(" ,;")
    sentence = say('The words "{text}" around the answer were left out.', text=written)
    return Remark(identifier, sentence, first, last)
