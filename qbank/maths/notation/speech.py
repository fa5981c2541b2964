"""Spoken words for a layout, for alternative text: no two different layouts are said alike.

Short things are said short (`x squared`, `one half`, `x over 2`); anything longer is closed by a word of its own
(`end power`, `end root`, `end fraction`, `end modulus`), so that a listener knows where it stops.
"""

from __future__ import annotations

from collections.abc import Callable

from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.equation import Statement
from qbank.maths.functions import FUNCTIONS
from qbank.maths.notation.hand import lay_out
from qbank.maths.notation.layout import (
    Bars,
    Digits,
    Equals,
    Factors,
    Fraction,
    IntegralOf,
    Layout,
    Letter,
    LimitOf,
    LittleD,
    Named,
    NamedConstant,
    Radical,
    Raised,
    Round,
    Square,
    Terms,
)
from qbank.maths.notation.names import SPOKEN
from qbank.maths.notation.pen import Pen
from qbank.messages import Message, in_language, say, say_count, together

__all__ = ["speech"]

_COUNT = (
    say("one"),
    say("two"),
    say("three"),
    say("four"),
    say("five"),
    say("six"),
    say("seven"),
    say("eight"),
    say("nine"),
    say("ten"),
    say("eleven"),
    say("twelve"),
)
#: number below the line -> so many of these parts
_PARTS: dict[int, Callable[[int, str], Message]] = {
    2: lambda number, word: say_count("{word} half", "{word} halves", number, word=word),
    3: lambda number, word: say_count("{word} third", "{word} thirds", number, word=word),
    4: lambda number, word: say_count("{word} quarter", "{word} quarters", number, word=word),
    5: lambda number, word: say_count("{word} fifth", "{word} fifths", number, word=word),
    6: lambda number, word: say_count("{word} sixth", "{word} sixths", number, word=word),
    8: lambda number, word: say_count("{word} eighth", "{word} eighths", number, word=word),
    9: lambda number, word: say_count("{word} ninth", "{word} ninths", number, word=word),
    10: lambda number, word: say_count("{word} tenth", "{word} tenths", number, word=word),
}
_POWERS = {"2": say("squared"), "3": say("cubed")}
_ATOMS = (Digits, Letter, NamedConstant)
#: what begins with a word that could go on from a factor before it
_NAMED_FIRST = (Radical, Bars)
#: numbers that are called by a name
_NAMES = {"infinity": say("infinity")}


def speech(tree: Statement | Layout, conventions: Conventions = DEFAULT) -> str:
    """An expression or equation in spoken words.

    Args:
        tree: what to say, or its layout.
        conventions: the school's habits; the decimal sign is heard, and the language.

    >>> from qbank.maths.expression import Symbol, rational, sin
    >>> speech(rational(1, 2) * sin(3 * Symbol("x")) ** 2 + Symbol("C"))
    'one half sine squared of 3 x, plus C'
    """
    return in_language(_line(lay_out(tree, conventions)), conventions.language)


def _line(box: Layout) -> str:
    """A whole line, where a short rest before each sign helps the listener."""
    if not isinstance(box, Terms):
        return _write(box)
    said: str | None = getattr(box, "_spoken", None)
    if said is None:
        said = _row(box, rest=True)
        object.__setattr__(box, "_spoken", said)
    return said


_write = Pen("speech", "_speech")


@_write.register
def _digits(box: Digits) -> str:
    if "," in box.text:
        whole, _, part = box.text.partition(",")
        return say("{whole} comma {part}", whole=whole, part=part)
    if "." in box.text:
        whole, _, part = box.text.partition(".")
        return say("{whole} point {part}", whole=whole, part=part)
    return box.text


@_write.register
def _letter(box: Letter) -> str:
    base = box.base.lower() if box.base.istitle() and len(box.base) > 1 else box.base
    said = base if base == box.base else say("capital {letter}", letter=base)
    if box.index:
        first, second = box.index
        return say("{letter} sub {first} minus {second} end sub", letter=said, first=first, second=second)
    return said if box.subscript is None else say("{letter} sub {index}", letter=said, index=box.subscript)


@_write.register
def _constant(box: NamedConstant) -> str:
    return _NAMES.get(box.name, box.name)


@_write.register
def _terms(box: Terms) -> str:
    return _row(box, rest=False)


def _row(box: Terms, *, rest: bool) -> str:
    """The terms, with a short rest before each sign or without."""
    first, *others = zip(box.minuses, box.bodies, strict=True)
    said = [say("minus {term}", term=_write(first[1])) if first[0] else _write(first[1])]
    for minus, body in others:
        term = _write(body)
        said.append(say("minus {term}", term=term) if minus else say("plus {term}", term=term))
    return together(*said, between=", " if rest else " ")


@_write.register
def _factors(box: Factors) -> str:
    said = [_write(box.bodies[0])]
    for left, joint, right in zip(box.bodies, box.joints, box.bodies[1:], strict=False):
        factor = _write(right)
        times = joint == "times" or _says_times(left, right)
        said.append(say("times {factor}", factor=factor) if times else factor)
    return together(*said)


def _says_times(left: Layout, right: Layout) -> bool:
    """Whether the sign that is not written must be said: after a function, and where the words would run on."""
    if isinstance(right, LittleD):
        return False
    if isinstance(left, Named) or isinstance(right, _NAMED_FIRST):
        return True
    return any(isinstance(box, Fraction) and not _small_fraction(box) for box in (left, right))


def _is_atom(box: Layout) -> bool:
    return isinstance(box, _ATOMS)


def _is_short(box: Layout) -> bool:
    """What `over` may stand beside: a letter or number, or its square or cube."""
    if isinstance(box, Raised):
        return _is_atom(box.base) and isinstance(box.exponent, Digits) and box.exponent.text in _POWERS
    return _is_atom(box)


@_write.register
def _fraction(box: Fraction) -> str:
    words = _small_fraction(box)
    if words is not None:
        return words
    top, bottom = _write(box.top), _write(box.bottom)
    if _is_short(box.top) and _is_short(box.bottom):
        return say("{top} over {bottom}", top=top, bottom=bottom)
    return say(
        "the fraction with numerator {top} and denominator {bottom} end fraction", top=top, bottom=bottom
    )


def _small_fraction(box: Fraction) -> str | None:
    """`three quarters` and the like; None where words would be longer than `15 over 16`."""
    if not isinstance(box.top, Digits) or not isinstance(box.bottom, Digits):
        return None
    top, bottom = box.top.text, box.bottom.text
    if not (top.isdigit() and bottom.isdigit() and 1 <= int(top) <= len(_COUNT) and int(bottom) in _PARTS):
        return None
    return _PARTS[int(bottom)](int(top), _COUNT[int(top) - 1])


@_write.register
def _raised(box: Raised) -> str:
    return together(_write(box.base), _power(box.exponent))


def _power(exponent: Layout) -> str:
    if isinstance(exponent, Digits) and exponent.text in _POWERS:
        return _POWERS[exponent.text]
    if _is_atom(exponent):
        return say("to the power {exponent}", exponent=_write(exponent))
    return say("to the power {exponent} end power", exponent=_write(exponent))


@_write.register
def _radical(box: Radical) -> str:
    under = _write(box.radicand)
    match box.index:
        case 2:
            said = say("the square root of {radicand}", radicand=under)
        case 3:
            said = say("the cube root of {radicand}", radicand=under)
        case index:
            said = say("the root of index {index} of {radicand}", index=str(index), radicand=under)
    return said if _is_atom(box.radicand) else say("{root} end root", root=said)


@_write.register
def _named(box: Named) -> str:
    undone = FUNCTIONS[box.function].inverse_of if box.function != "ln" else None
    name = say("inverse {function}", function=SPOKEN[undone]) if undone else SPOKEN[box.function]
    called = name if box.power is None else together(name, _power(box.power))
    argument = box.argument
    if isinstance(argument, Round) and _is_atom(argument.body):
        argument = argument.body
    return say("{function} of {argument}", function=called, argument=_write(argument))


@_write.register
def _round(box: Round) -> str:
    return say("open bracket {body} close bracket", body=_write(box.body))


@_write.register
def _bars(box: Bars) -> str:
    if _is_atom(box.body):
        return say("the modulus of {body}", body=_write(box.body))
    return say("the modulus of {body} end modulus", body=_write(box.body))


@_write.register
def _square(box: Square) -> str:
    return say(
        "open square bracket {body} close square bracket from {lower} to {upper} end limits",
        body=_write(box.body),
        lower=_write(box.lower),
        upper=_write(box.upper),
    )


@_write.register
def _little_d(box: LittleD) -> str:
    return say("d {variable}", variable=_write(box.variable))


@_write.register
def _integral(box: IntegralOf) -> str:
    body, variable = _write(box.body), _write(box.differential.variable)
    if box.lower is None or box.upper is None:
        return say("the integral of {body} with respect to {variable}", body=body, variable=variable)
    return say(
        "the integral from {lower} to {upper} of {body} with respect to {variable}",
        lower=_write(box.lower),
        upper=_write(box.upper),
        body=body,
        variable=variable,
    )


@_write.register
def _limit(box: LimitOf) -> str:
    variable, to, body = _write(box.variable), _write(box.to), _write(box.body)
    match box.side:
        case "+":
            return say(
                "the limit as {variable} tends to {to} from above of {body} end limit",
                variable=variable,
                to=to,
                body=body,
            )
        case "-":
            return say(
                "the limit as {variable} tends to {to} from below of {body} end limit",
                variable=variable,
                to=to,
                body=body,
            )
    return say(
        "the limit as {variable} tends to {to} of {body} end limit", variable=variable, to=to, body=body
    )


@_write.register
def _equals(box: Equals) -> str:
    return say("{left} equals {right}", left=_line(box.left), right=_line(box.right))
