"""Spoken words for a layout, for alternative text: no two different layouts are said alike.

Short things are said short (`x squared`, `one half`, `x over 2`); anything longer is closed by a word of its own
(`end power`, `end root`, `end fraction`, `end modulus`), so that a listener knows where it stops.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any, TypeAlias

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
from qbank.messages import Message, in_language, say, say_count, saying

__all__ = ["Voice", "speech", "voice_of"]

#: `say`, or what says the same in a language
_Say: TypeAlias = Callable[..., str]

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
_ATOMS: frozenset[type] = frozenset({Digits, Letter, NamedConstant})
_GAP = "\x00"
#: what begins with a word that could go on from a factor before it
_NAMED_FIRST: frozenset[type] = frozenset({Radical, Bars})
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
    return voice_of(conventions.language).line(lay_out(tree, conventions))


def voice_of(language: str) -> Voice:
    """What speaks in a language."""
    return _voice(language, saying(language))


class Voice:
    """Speaks in one language, and notes on each box what it said of it: see `rules`, for what is no language."""

    __slots__ = ("_heard", "brackets", "language", "minus", "plus", "say", "times")

    def __init__(self, language: str, say: _Say) -> None:
        self.language = language
        self.say = say
        self._heard: dict[str, str] = {}
        #: what is said before and after a part, for signs and brackets, which are said most often
        self.plus = _halves(say("plus {term}", term=_GAP))
        self.minus = _halves(say("minus {term}", term=_GAP))
        self.times = _halves(say("times {factor}", factor=_GAP))
        self.brackets = _halves(say("open bracket {body} close bracket", body=_GAP))

    def words(self, box: Layout) -> str:
        """The words for a part.

        Raises:
            TypeError: there is no rule for its kind.
        """
        if box.said_by is not self:
            rule = _RULES.get(type(box))
            if rule is None:
                raise TypeError(f"no speech for {type(box).__name__}")
            box.said, box.said_by = rule(box, self, self.say), self
        return box.said

    def line(self, box: Layout) -> str:
        """A whole line, where a short rest before each sign helps the listener."""
        if type(box) is not Terms:
            return self.words(box)
        return _row(box, self, ", ")

    def hear(self, message: str) -> str:
        """What is a message already: a word of the tables here."""
        heard = self._heard.get(message)
        if heard is None:
            heard = self._heard[message] = in_language(message, self.language)
        return heard


def _halves(sentence: str) -> tuple[str, str]:
    """A sentence before its gap and after it."""
    before, _, after = sentence.partition(_GAP)
    return before, after


_voice = lru_cache(maxsize=8)(Voice)


def _digits(box: Digits, _voice: Voice, say: _Say) -> str:
    if "," in box.text:
        whole, _, part = box.text.partition(",")
        return say("{whole} comma {part}", whole=whole, part=part)
    if "." in box.text:
        whole, _, part = box.text.partition(".")
        return say("{whole} point {part}", whole=whole, part=part)
    return box.text


def _letter(box: Letter, _voice: Voice, say: _Say) -> str:
    base = box.base.lower() if box.base.istitle() and len(box.base) > 1 else box.base
    said = base if base == box.base else say("capital {letter}", letter=base)
    if box.index:
        first, second = box.index
        return say("{letter} sub {first} minus {second} end sub", letter=said, first=first, second=second)
    return said if box.subscript is None else say("{letter} sub {index}", letter=said, index=box.subscript)


def _constant(box: NamedConstant, voice: Voice, _say: _Say) -> str:
    return voice.hear(_NAMES.get(box.name, box.name))


def _terms(box: Terms, voice: Voice, _say: _Say) -> str:
    return _row(box, voice, " ")


def _row(box: Terms, voice: Voice, rest: str) -> str:
    """The terms, with a short rest before each sign or without."""
    said: list[str] = []
    for minus, body in zip(box.minuses, box.bodies, strict=True):
        words = body.said if body.said_by is voice else voice.words(body)
        if minus or said:
            before, after = voice.minus if minus else voice.plus
            words = f"{before}{words}{after}"
        said.append(words)
    return rest.join(said)


def _factors(box: Factors, voice: Voice, _say: _Say) -> str:
    left, *others = box.bodies
    said = [voice.words(left)]
    for joint, right in zip(box.joints, others, strict=True):
        words = right.said if right.said_by is voice else voice.words(right)
        if joint == "times" or _says_times(left, right):
            before, after = voice.times
            words = f"{before}{words}{after}"
        said.append(words)
        left = right
    return " ".join(said)


def _says_times(left: Layout, right: Layout) -> bool:
    """Whether the sign that is not written must be said: after a function, and where the words would run on."""
    if type(right) is LittleD:
        return False
    if type(left) is Named or type(right) in _NAMED_FIRST:
        return True
    # a fraction of many words has no end that is heard
    return (type(left) is Fraction and _small_fraction(left) is None) or (
        type(right) is Fraction and _small_fraction(right) is None
    )


def _is_atom(box: Layout) -> bool:
    return type(box) in _ATOMS


def _is_short(box: Layout) -> bool:
    """What `over` may stand beside: a letter or number, or its square or cube."""
    if type(box) is Raised:
        return _is_atom(box.base) and type(box.exponent) is Digits and box.exponent.text in _POWERS
    return _is_atom(box)


def _fraction(box: Fraction, voice: Voice, say: _Say) -> str:
    words = _small_fraction(box)
    if words is not None:
        return voice.hear(words)
    top, bottom = voice.words(box.top), voice.words(box.bottom)
    if _is_short(box.top) and _is_short(box.bottom):
        return say("{top} over {bottom}", top=top, bottom=bottom)
    return say(
        "the fraction with numerator {top} and denominator {bottom} end fraction", top=top, bottom=bottom
    )


def _small_fraction(box: Fraction) -> Message | None:
    """`three quarters` and the like; None where words would be longer than `15 over 16`."""
    if type(box.top) is not Digits or type(box.bottom) is not Digits:
        return None
    return _few_parts(box.top.text, box.bottom.text)


@lru_cache(maxsize=256)
def _few_parts(top: str, bottom: str) -> Message | None:
    if not (top.isdigit() and bottom.isdigit() and 1 <= int(top) <= len(_COUNT) and int(bottom) in _PARTS):
        return None
    return _PARTS[int(bottom)](int(top), _COUNT[int(top) - 1])


def _raised(box: Raised, voice: Voice, say: _Say) -> str:
    return f"{voice.words(box.base)} {_power(box.exponent, voice, say)}"


def _power(exponent: Layout, voice: Voice, say: _Say) -> str:
    if type(exponent) is Digits and exponent.text in _POWERS:
        return voice.hear(_POWERS[exponent.text])
    if _is_atom(exponent):
        return say("to the power {exponent}", exponent=voice.words(exponent))
    return say("to the power {exponent} end power", exponent=voice.words(exponent))


def _radical(box: Radical, voice: Voice, say: _Say) -> str:
    under = voice.words(box.radicand)
    match box.index:
        case 2:
            said = say("the square root of {radicand}", radicand=under)
        case 3:
            said = say("the cube root of {radicand}", radicand=under)
        case index:
            said = say("the root of index {index} of {radicand}", index=str(index), radicand=under)
    return said if _is_atom(box.radicand) else say("{root} end root", root=said)


def _named(box: Named, voice: Voice, say: _Say) -> str:
    undone = FUNCTIONS[box.function].inverse_of if box.function != "ln" else None
    name = voice.hear(SPOKEN[undone or box.function])
    if undone:
        name = say("inverse {function}", function=name)
    called = name if box.power is None else f"{name} {_power(box.power, voice, say)}"
    argument = box.argument
    if isinstance(argument, Round) and _is_atom(argument.body):
        argument = argument.body
    return say("{function} of {argument}", function=called, argument=voice.words(argument))


def _round(box: Round, voice: Voice, _say: _Say) -> str:
    before, after = voice.brackets
    return f"{before}{voice.words(box.body)}{after}"


def _bars(box: Bars, voice: Voice, say: _Say) -> str:
    if _is_atom(box.body):
        return say("the modulus of {body}", body=voice.words(box.body))
    return say("the modulus of {body} end modulus", body=voice.words(box.body))


def _square(box: Square, voice: Voice, say: _Say) -> str:
    return say(
        "open square bracket {body} close square bracket from {lower} to {upper} end limits",
        body=voice.words(box.body),
        lower=voice.words(box.lower),
        upper=voice.words(box.upper),
    )


def _little_d(box: LittleD, voice: Voice, say: _Say) -> str:
    return say("d {variable}", variable=voice.words(box.variable))


def _integral(box: IntegralOf, voice: Voice, say: _Say) -> str:
    body, variable = voice.words(box.body), voice.words(box.differential.variable)
    if box.lower is None or box.upper is None:
        return say("the integral of {body} with respect to {variable}", body=body, variable=variable)
    return say(
        "the integral from {lower} to {upper} of {body} with respect to {variable}",
        lower=voice.words(box.lower),
        upper=voice.words(box.upper),
        body=body,
        variable=variable,
    )


def _limit(box: LimitOf, voice: Voice, say: _Say) -> str:
    variable, to, body = voice.words(box.variable), voice.words(box.to), voice.words(box.body)
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


def _equals(box: Equals, voice: Voice, say: _Say) -> str:
    return say("{left} equals {right}", left=voice.line(box.left), right=voice.line(box.right))


_RULES: dict[type[Layout], Callable[[Any, Voice, _Say], str]] = {
    Digits: _digits,
    Letter: _letter,
    NamedConstant: _constant,
    Terms: _terms,
    Factors: _factors,
    Fraction: _fraction,
    Raised: _raised,
    Radical: _radical,
    Named: _named,
    Round: _round,
    Bars: _bars,
    Square: _square,
    LittleD: _little_d,
    IntegralOf: _integral,
    LimitOf: _limit,
    Equals: _equals,
}
