r"""Formulas shown as delimited LaTeX, `\( ... \)`, read back to expression trees by the reader of responses.

That reader knows no integrals: the sign with its limits and the `dx` are taken off here, and what is between is read.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Differential, Expression, Integral, Negate, Symbol, product
from qbank.maths.notation.gapped import GAP
from qbank.maths.reading import ReadingError, read
from qbank.packages.formulas import FormulaError

__all__ = ["marked_tex", "tex_formulas", "without_tex"]

_DELIMITED = re.compile(r"\\\((.*?)\\\)", re.DOTALL)
#: an integral still to be done, among other terms
_PENDING = re.compile(r"\\int (?:(?!\\int).)*?\\, d\\?[A-Za-z]+", re.DOTALL)
_DIFFERENTIAL = re.compile(r"d\\?([A-Za-z]{1,40})")


def tex_formulas(text: str | None) -> Iterator[Statement]:
    r"""The formulas in a text, in their order.

    Args:
        text: of an element, or None.

    Raises:
        FormulaError: what stands between the delimiters cannot be read.

    >>> [str(type(found).__name__) for found in tex_formulas(r"Find \(\displaystyle \int 2x \, dx\) and \(x + C\).")]
    ['Integral', 'Sum']
    """
    for found in _DELIMITED.finditer(text or ""):
        text = found[1].strip().removeprefix(r"\displaystyle").strip()
        yield _statement(text.removeprefix("=").strip())  # the next line of a chain of equal expressions


def without_tex(text: str) -> str:
    r"""A text without its formulas.

    >>> without_tex(r"Let \(u = x^{2}\).")
    'Let .'
    """
    return _DELIMITED.sub("", text)


def marked_tex(text: str, mark: str) -> str:
    r"""A text with a mark in the place of each formula.

    >>> marked_tex(r"Let \(u = x^{2}\).", "_")
    'Let _.'
    """
    return _DELIMITED.sub(mark, text)


def _statement(text: str) -> Statement:
    if not text.startswith(r"\int") or (not _PENDING.fullmatch(text) and not text.startswith(r"\int_")):
        left, equals, right = text.partition("=")
        return Equation(_side(left), _side(right)) if equals else _read(text)
    rest = text.removeprefix(r"\int")
    lower = upper = None
    if rest.startswith("_{"):
        lower, rest = _group(rest[1:])
        if not rest.startswith("^{"):
            raise FormulaError("an integral has both limits or none")
        upper, rest = _group(rest[1:])
    body, comma, differential = rest.rpartition(r"\,")
    letter = differential.strip().removeprefix("d").removeprefix("\\")
    if not comma or not re.fullmatch(r"[A-Za-z]{1,40}", letter):
        raise FormulaError("an integral without its differential")
    variable = Symbol(letter)
    if lower is None or upper is None:
        return Integral(_read(body, variable), variable)
    return Integral(_read(body, variable), variable, _read(lower), _read(upper))


def _side(text: str) -> Expression:
    """One side of an equation, which may end with a differential."""
    body, comma, last = text.rpartition(r"\,")
    found = _DIFFERENTIAL.fullmatch(last.strip())
    if found is None:
        return _read(text)
    letter = Differential(Symbol(found[1]))
    if not comma:
        return letter
    match _read(body):
        case Negate(operand):  # a minus sign stands before all of the product
            return Negate(product(operand, letter))
        case rate:
            return product(rate, letter)


def _group(text: str) -> tuple[str, str]:
    """What stands in the braces with which a text begins, and what follows them."""
    depth = 0
    for at, letter in enumerate(text):
        depth += {"{": 1, "}": -1}.get(letter, 0)
        if not depth:
            return text[1:at], text[at + 1 :]
    raise FormulaError("a brace is not closed")


def _read(text: str, variable: Symbol | None = None) -> Expression:
    pending: dict[Symbol, Expression] = {}

    def kept(found: re.Match[str]) -> str:
        letter = Symbol(f"pending{len(pending)}")
        integral = _statement(found[0])
        assert isinstance(integral, Expression)
        pending[letter] = integral
        return f" {letter.name} "

    text = _PENDING.sub(kept, text)
    names = frozenset(letter.name for letter in (*pending, GAP))
    try:
        tree = read(text, variable=variable, names=names).tree
        return tree.substitute(pending) if pending else tree
    except ReadingError as problem:
        raise FormulaError(f"{text[:60]!r} cannot be read: {problem.message}") from problem
