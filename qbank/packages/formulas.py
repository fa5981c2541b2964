"""Presentation MathML read back to an expression tree: the part of MathML that `qbank.maths.notation` writes.

This is not a reader of MathML in general. Every row says by its signs what it is (a sum, a product, a function with
its argument, what brackets enclose); a row that says two things at once is refused, never guessed at.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from lxml import etree

from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import (
    INFINITY,
    PI,
    Apply,
    Decimal,
    Differential,
    E,
    Expression,
    Integer,
    Integral,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
)
from qbank.maths.functions import FUNCTIONS
from qbank.maths.notation.mathml import MATHML
from qbank.maths.notation.names import GREEK
from qbank.packages.parsing import Element

__all__ = ["FormulaError", "formula"]

_TIMES = frozenset("\u2062×")
_PLUS, _MINUS, _APPLY = "+", "\u2212", "\u2061"
_LONGEST_NUMBER = 400
_MOST_ELEMENTS = 4000

_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_WORD = re.compile(r"[A-Za-z][A-Za-z0-9]*")
_LATIN = {letter: name for name, letter in GREEK.items()}


class FormulaError(Exception):
    """Mathematics that cannot be read back; the text says why."""


def _function_words() -> dict[str, str]:
    """The functions by every word that a school may have for them."""
    words = {name: name for name in FUNCTIONS if name != "abs"}
    words |= {name.replace("cosec", "csc"): name for name in words}
    words["log"] = "ln"
    return words


_FUNCTIONS = _function_words()
_INVERSES = {row.inverse_of: name for name, row in FUNCTIONS.items() if row.family.startswith("inverse")}


def formula(math: Element) -> Statement:
    """The tree of a `math` element.

    Args:
        math: the element.

    Raises:
        FormulaError: it is not what `qbank.maths.notation.mathml` writes.

    >>> from qbank.maths.notation import mathml
    >>> x = Symbol("x")
    >>> formula(mathml(Integral(2 * x, x))) == Integral(2 * x, x)
    True
    """
    if math.tag != f"{{{MATHML}}}math":
        raise FormulaError("this is not a formula")
    if sum(1 for _ in math.iter()) > _MOST_ELEMENTS:
        raise FormulaError("the formula is too long")
    parts = _parts(math)
    if len(parts) == 1 and _name(parts[0]) == "mstyle":
        parts = _parts(parts[0])
    if parts and _sign(parts[0]) == "=":
        parts = parts[1:]  # the next line of a chain of equal expressions
    try:
        return _statement(parts)
    except RecursionError as problem:
        raise FormulaError("the formula is nested too deeply") from problem


def _statement(parts: list[Element]) -> Statement:
    row = parts
    while len(row) == 1 and _name(row[0]) in ("mrow", "mstyle"):
        row = _parts(row[0])
    equals = [at for at, part in enumerate(row) if _sign(part) == "="]
    if len(equals) == 1:
        return Equation(_row(row[: equals[0]]), _row(row[equals[0] + 1 :]))
    return _row(parts)


def _name(element: Element) -> str:
    name = etree.QName(element)
    if name.namespace != MATHML:
        raise FormulaError(f"{name.localname} does not belong in a formula")
    return name.localname


def _parts(element: Element) -> list[Element]:
    """The children that mean something."""
    return [child for child in element if _name(child) != "mspace"]


def _sign(element: Element) -> str | None:
    return (element.text or "") if _name(element) == "mo" else None


def _read(element: Element) -> Expression:
    read = _READERS.get(_name(element))
    if read is None:
        raise FormulaError(f"{_name(element)} is not used in our formulas")
    return read(element)


def _row(parts: list[Element]) -> Expression:
    """What stands side by side."""
    if not parts:
        raise FormulaError("an empty row")
    if len(parts) == 1:
        return _read(parts[0])
    signs = [_sign(part) for part in parts]
    first, last = signs[0], signs[-1]
    if first == "∫" or _is_sign_with_limits(parts[0]):
        return _integral(parts)
    if (first, last) == ("(", ")"):
        return _row(parts[1:-1])
    if (first, last) == ("|", "|"):
        return Apply("abs", _row(parts[1:-1]))
    if len(parts) == 2 and first is None and last is None:
        return _differential(parts)
    middle = {sign for sign in signs if sign is not None}
    if middle == {_APPLY} and len(parts) == 3:
        return _application(parts[0], parts[2])
    if middle == {"/"} and len(parts) == 3:
        return Quotient(_read(parts[0]), _read(parts[2]))
    if middle <= {_PLUS, _MINUS}:
        return _sum(parts, signs)
    if middle <= _TIMES:
        return _product(parts, signs)
    raise FormulaError(f"a row with the signs {' '.join(sorted(middle))} has more than one meaning")


def _sum(parts: list[Element], signs: list[str | None]) -> Expression:
    rest = list(zip(parts, signs, strict=True))
    terms: list[Expression] = []
    if rest[0][1] is None:
        terms.append(_read(rest.pop(0)[0]))
    elif rest[0][1] == _PLUS:
        raise FormulaError("a sum does not begin with a plus sign")
    if len(rest) % 2:
        raise FormulaError("a sign without a term")
    for (_, sign), (part, none) in zip(rest[::2], rest[1::2], strict=True):
        if sign is None or none is not None:
            raise FormulaError("terms and signs do not alternate")
        term = _read(part)
        terms.append(Negate(term) if sign == _MINUS else term)
    return Sum(tuple(terms)) if len(terms) > 1 else terms[0]


def _product(parts: list[Element], signs: list[str | None]) -> Expression:
    if len(parts) % 2 == 0 or any((sign is None) == bool(at % 2) for at, sign in enumerate(signs)):
        raise FormulaError("factors and signs do not alternate")
    return Product(tuple(_read(part) for part in parts[::2]))


def _is_sign_with_limits(element: Element) -> bool:
    if _name(element) != "msubsup":
        return False
    parts = _parts(element)
    return len(parts) == 3 and _sign(parts[0]) == "∫"


def _integral(parts: list[Element]) -> Expression:
    differential = _read(parts[-1])
    if not isinstance(differential, Differential):
        raise FormulaError("an integral without its differential")
    body = _row(parts[1:-1])
    if _sign(parts[0]) == "∫":
        return Integral(body, differential.variable)
    _, lower, upper = _parts(parts[0])
    return Integral(body, differential.variable, _read(lower), _read(upper))


def _differential(parts: list[Element]) -> Expression:
    letter = _read(parts[1])
    if _name(parts[0]) != "mi" or parts[0].text != "d" or not isinstance(letter, Symbol):
        raise FormulaError("two things side by side without a sign between them")
    return Differential(letter)


def _application(name: Element, argument: Element) -> Expression:
    """A function with its argument; a power or a `-1` raised on its name."""
    raised: Element | None = None
    if _name(name) == "msup":
        parts = _parts(name)
        if len(parts) != 2:
            raise FormulaError("a name with something strange raised on it")
        name, raised = parts
    word = (name.text or "") if _name(name) == "mi" else ""
    if word not in _FUNCTIONS:
        raise FormulaError(f"there is no function {word[:40]!r}")
    function = _FUNCTIONS[word]
    inner = _read(argument)
    if raised is None:
        return Apply(function, inner)
    exponent = _read(raised)
    if exponent == Negate(Integer(1)):
        if function not in _INVERSES:
            raise FormulaError(f"{word} has no inverse with a name")
        return Apply(_INVERSES[function], inner)
    match exponent:
        case Integer():
            return Power(Apply(function, inner), exponent)
        case (Symbol() as n) | Sum((Symbol() as n, Integer() | Negate(Integer()))) if (
            n not in inner.symbols()
        ):
            return Power(Apply(function, inner), exponent)
        case _:
            raise FormulaError(
                "only a whole number, or a letter for one, is raised on the name of a function"
            )


def _number(element: Element) -> Expression:
    text = element.text or ""
    if text == "∞":
        return INFINITY
    if len(text) > _LONGEST_NUMBER or not _NUMBER.fullmatch(text):
        raise FormulaError(f"{text[:40]!r} is not a number")
    return Integer(int(text)) if text.isdigit() else Decimal(text.replace(",", "."))


def _letter(element: Element) -> Expression:
    text = element.text or ""
    if text in ("π", "e"):
        return PI if text == "π" else E
    name = _LATIN.get(text, text)
    if len(name) > 40 or not _WORD.fullmatch(name) or text in _FUNCTIONS:
        raise FormulaError(f"{text[:40]!r} is not a letter")
    return Symbol(name)


def _with_index(element: Element) -> Expression:
    base, index = _two(element)
    letter, text = _read(base), index.text or ""
    if isinstance(letter, Symbol) and _name(index) == "mrow":
        match _read(index):
            case Sum((Symbol(place), Negate(Integer(number)))):
                return Symbol(f"{letter.name}_({place}-{number})")
    if not isinstance(letter, Symbol) or len(text) > 40 or not text.isalnum() or not text.isascii():
        raise FormulaError("an index stands on a letter only")
    return Symbol(f"{letter.name}_{text}")


def _power(element: Element) -> Expression:
    base, exponent = _two(element)
    return Power(_read(base), _read(exponent))


def _fraction(element: Element) -> Expression:
    over, under = _two(element)
    return Quotient(_read(over), _read(under))


def _root(element: Element) -> Expression:
    radicand, index = _two(element)
    number = _read(index)
    if not isinstance(number, Integer) or number.value < 2:
        raise FormulaError("the index of a root is a whole number from 2")
    return Root(_read(radicand), number.value)


def _two(element: Element) -> tuple[Element, Element]:
    parts = _parts(element)
    if len(parts) != 2:
        raise FormulaError(f"{_name(element)} has {len(parts)} parts")
    return parts[0], parts[1]


_READERS: dict[str, Callable[[Element], Expression]] = {
    "mn": _number,
    "mi": _letter,
    "msub": _with_index,
    "msup": _power,
    "mfrac": _fraction,
    "mroot": _root,
    "msqrt": lambda element: Root(_row(_parts(element))),
    "mrow": lambda element: _row(_parts(element)),
    "mstyle": lambda element: _row(_parts(element)),
}
