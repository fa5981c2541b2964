"""What the reader says when it cannot read: a code, the place, a sentence, a hint.

`CODES` is the one list of codes; each has a meaning and an example input that gives exactly this code. The text of
a message is written where it is raised, because only there the names are known.

>>> error = ReadingError(
...     "unclosed-bracket", "this ( is never closed", position=(0, 1), hint="add a )", source="(x+1"
... )
>>> print(error.caret())
(x+1
^
"""

from __future__ import annotations

from typing import NamedTuple

__all__ = ["CODES", "Code", "ReadingError"]

#: how many characters of the source stand on each side of the position in a caret line
_WINDOW = 40


class Code(NamedTuple):
    """One kind of error: what it means, and an input that gives it."""

    meaning: str
    example: str


CODES: dict[str, Code] = {
    "empty": Code("there is nothing to read", " "),
    "too-long": Code("the text is longer than the limit", "x" + "+x" * 2000),
    "too-nested": Code(
        "brackets, functions, powers or signs are nested deeper than the limit", "(" * 101 + "x"
    ),
    "too-many-parts": Code("the text has more parts than the limit", "x" + "+x" * 1990),
    "number-too-long": Code("a number has more digits than the limit", "1" * 61),
    "number-too-large": Code("a power of numbers would be too large to work with", "(9^900)^900"),
    "exponent-too-large": Code("an exponent is beyond the limit", "x^1001"),
    "unknown-character": Code("a character that has no meaning here; the message names it", "x + #"),
    "unknown-word": Code(
        "a word that is neither a function nor a name; the hint offers a near one", "sine x"
    ),
    "unknown-command": Code("a LaTeX command that is not read", r"\foo x"),
    "unknown-function": Code("a letter used as a function, such as f(x)", "f(x)"),
    "unsupported-sign": Code("a sign of mathematics that an expression here cannot hold", "2 ± x"),
    "missing-operand": Code("something is missing before or after a sign, or in a bracket", "2 +"),
    "missing-argument": Code("a function or a root has no argument", "sin"),
    "misplaced-number": Code("a number directly after something else: a lost power or a lost sign", "x2"),
    "unclosed-bracket": Code("a bracket is opened and not closed", "(x+1"),
    "unopened-bracket": Code("a bracket is closed that was not opened", "x+1)"),
    "wrong-bracket": Code("a bracket is closed by one of another kind", "(x+1]"),
    "unclosed-bar": Code("a modulus bar is opened and not closed", "ln|x"),
    "equals-sign": Code("an equals sign inside an expression", "x = 2"),
    "integral-sign": Code("an integral sign where an expression is wanted", "∫ x dx"),
    "differential": Code("a dx where an expression is wanted", "x dx"),
    "comma": Code("a comma where none can stand", "1,5"),
    "bad-subscript": Code("a subscript that is not a number or a letter", "C_(x+1)"),
    "bad-root-index": Code("the index of a root is not a whole number from 2 to 1000", r"\sqrt[1]{x}"),
}


class ReadingError(Exception):
    """A text that cannot be read.

    Attributes:
        code: a key of `CODES`.
        message: what is wrong, one sentence without a full stop.
        position: start and end of the place, counted in characters of the source as it was given.
        hint: what to write instead, or an empty text.
        source: the text as it was given.
    """

    def __init__(self, code: str, message: str, *, position: tuple[int, int], hint: str, source: str) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.position = position
        self.hint = hint
        self.source = source

    def caret(self) -> str:
        """The line of the source with carets under the place; a long line is cut to the part around it.

        >>> print(ReadingError("comma", "a comma", position=(1, 2), hint="", source="1,5").caret())
        1,5
         ^
        """
        start, end = self.position
        left = max(0, start - _WINDOW)
        shown = self.source[left : min(max(end, start), start + _WINDOW) + _WINDOW]
        line = "".join(char if char.isprintable() else " " for char in shown)
        return f"{line}\n{' ' * (start - left)}{'^' * max(1, min(end, left + len(shown)) - start)}"

    def __str__(self) -> str:
        hint = f" ({self.hint})" if self.hint else ""
        return f"{self.message}{hint}"
