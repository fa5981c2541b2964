r"""From text to tokens: numbers, names, signs and LaTeX commands, each with its place in the source.

    kind        text
    number      digits, with a point for a decimal           fraction   1/2 for ½
    symbol      name of the symbol                           constant   pi, e, infinity
    function    name in the language                         log        log, lg
    root        index, or n for root(x, n)                   frac       a LaTeX fraction follows
    open close  the bracket                                  bar        |, or (| and |) when the side is known
    op          + - * / ^ _ , ; =                            degree     °
    sup sup-end around what a superscript holds              integral, differential, end

`**` is `^`; a LaTeX command gives the token of the typed sign. A token is `glued` when no space stands before it.
"""

from __future__ import annotations

import decimal
import re
from collections.abc import Callable
from typing import ClassVar, NamedTuple, NoReturn

from qbank.maths.conventions import Conventions
from qbank.maths.reading import latex, limits, words
from qbank.maths.reading.choices import Choices
from qbank.maths.reading.errors import ReadingError
from qbank.maths.reading.lookalikes import CleanText, character_name
from qbank.maths.reading.raised import SUBSCRIPTS, SUPERSCRIPTS, VULGAR
from qbank.messages import say

__all__ = ["Names", "Token", "tokenise"]

_SUP, _SUB, _VULGARS = "".join(SUPERSCRIPTS), "".join(SUBSCRIPTS), "".join(VULGAR)

_TOKEN = re.compile(
    rf"""[\s~&]*(?:
    (?P<digits>[0-9]{{1,{limits.DIGITS}}}(?![0-9.,eEn{{]))
  | (?P<letter>[A-Za-z](?![A-Za-z]))
  | (?P<number>[0-9]+(?:\.[0-9]+)?|\.[0-9]+)
  | (?P<word>[A-Za-z]+)
  | (?P<stars>\*\*)
  | (?P<op>[-+*/^_,;=])
  | (?P<open>[(\[{{])
  | (?P<close>[)\]}}])
  | (?P<bar>\|)
  | (?P<command>\\(?:[A-Za-z]+\*?|.))
  | (?P<smallfraction>[⁰¹²³⁴⁵⁶⁷⁸⁹]+/[₀₁₂₃₄₅₆₇₈₉]+)
  | (?P<superscript>[{_SUP}]+(?:/[{_SUP}]+|(?<=⁻)[{_VULGARS}])?)
  | (?P<subscript>[{_SUB}]+)
  | (?P<vulgar>[{_VULGARS}])
  | (?P<other>.)
  | (?P<end>\Z))
    """,
    re.VERBOSE | re.DOTALL,
)
_UPRIGHT_D = re.compile(r"\s*\{\s*d\s*\}\s*([A-Za-z])(?![A-Za-z])")
_AFTER_ARC = re.compile(r"[ \t]+(sin|cos|tan|sec|cosec|csc|cot)(?![A-Za-z])")
_AFTER_COMMA = re.compile(r"(?:,|\{,\})([0-9]+)")
_AFTER_COMMA_IN_BRACES = re.compile(r"\{,\}([0-9]+)")
#: what makes 1.5e4 of 1.5, where no power or quotient follows that would have to be read first
_POWER_OF_TEN = re.compile(r"([eE])([+-]?)([0-9]{1,2})(?![0-9.,^/_])")
_AFTER_ONE = re.compile(r"n(?![A-Za-z])")
_NAME = re.compile(r"\w+")
_COMMAND_WORD = re.compile(r"\s*\{\s*([A-Za-z]+)\s*\}")
_SINGLE = {"√": ("root", "2"), "∞": ("constant", "infinity"), "°": ("degree", "°"), "∫": ("integral", "∫")}
_UNSUPPORTED = "±∓!%<>≤≥≠≈≡∑∏∂∇?'′″→⇒∈∪∩"


class Token(NamedTuple):
    """One token; `start` and `end` are places in the source."""

    kind: str
    text: str
    start: int
    end: int
    glued: bool


#: kinds of matches that are tokens by themselves -> their kind; `digits` is a number after which nothing could belong to it
_KINDS = {"digits": "number", "op": "op", "open": "open", "close": "close"}
#: a token of a tuple: a text has dozens of them, and the named way takes twice as long
_token = tuple.__new__


class Names(NamedTuple):
    """What names may mean in this text.

    Attributes:
        variables: names of the variable, or of all that may be it when none is stated.
        allowed: names the caller allows.
        conventions: the school's habits.
    """

    variables: frozenset[str]
    allowed: frozenset[str]
    conventions: Conventions


def tokenise(text: CleanText, names: Names, choices: Choices) -> list[Token]:
    """Cut a text into tokens; the last one is the end.

    Raises:
        ReadingError: at a character, word or command that has no meaning, or a number that is too long.
    """
    return _Tokeniser(text, names, choices).tokens()


class _Tokeniser:
    def __init__(self, text: CleanText, names: Names, choices: Choices) -> None:
        self.text = text
        #: how far the places in the source are from those in the text; None where they differ in other ways
        self.shift = text.starts.start if isinstance(text.starts, range) else None
        self.names = names
        self.choices = choices
        self.found: list[Token] = []
        self.side = ""
        self.glued = False
        self.longest = max(map(len, names.allowed), default=0)
        self.place = 0

    def tokens(self) -> list[Token]:
        plain, rules, tokens, shift = self.text.text, self._RULES, self.found, self.shift
        end = len(plain)
        while self.place < end:
            for found in _TOKEN.finditer(plain, self.place):
                kind = found.lastgroup
                assert kind is not None
                first, last = found.span(kind)
                if first != found.start():  # there is a space before it
                    self.glued = False
                self.place = last
                rule = rules.get(kind)
                if rule is not None:
                    rule(self, found[kind], first, last)
                    if self.place != last:  # it took more, or less
                        break
                elif kind == "end":
                    break
                elif shift is None or self.side:
                    self.add(_KINDS[kind], found[kind], first, last)
                else:  # most tokens are such, and are added here at once
                    part = _KINDS[kind], found[kind], first + shift, last + shift, self.glued
                    tokens.append(_token(Token, part))
                    self.glued = True
        self.add("end", "", end, end)
        if len(tokens) > limits.TOKENS + 1:
            message = say("the text has more than {limit} parts", limit=str(limits.TOKENS))
            position = tokens[limits.TOKENS].start, tokens[limits.TOKENS].end
            raise ReadingError("too-many-parts", message, position=position, hint="", source=self.text.source)
        return tokens

    def add(self, kind: str, text: str, start: int, end: int) -> None:
        """One more token."""
        shift = self.shift
        first, last = self.text.span(start, end) if shift is None else (start + shift, end + shift)
        self.found.append(_token(Token, (kind, text, first, last, self.glued)))
        self.glued, self.side = True, ""

    def stars(self, _: str, start: int, end: int) -> None:
        self.add("op", "^", start, end)

    def fail(self, code: str, message: str, start: int, end: int, hint: str = "") -> NoReturn:
        raise ReadingError(
            code, message, position=self.text.span(start, end), hint=hint, source=self.text.source
        )

    def number(self, value: str, start: int, end: int) -> None:
        digits, plain, conventions = value, self.text.text, self.names.conventions
        after = _AFTER_COMMA if conventions.decimal == "," else _AFTER_COMMA_IN_BRACES
        if (decimals := after.match(plain, end)) is not None:
            end = self.place = decimals.end()
            digits = f"{value},{decimals.group(1)}"
        if value == "1" and "n" not in self.names.allowed and _AFTER_ONE.match(plain, end):
            self.look_alike("1n", start, end + 1)
            return
        if len(digits) > limits.DIGITS and sum(map(str.isdigit, digits)) > limits.DIGITS:
            self.fail(
                "number-too-long",
                say("this number has more than {limit} digits", limit=str(limits.DIGITS)),
                start,
                end,
            )
        foreign = "." if conventions.decimal == "," else ","
        if foreign in digits:
            decimal_text = digits.replace(foreign, conventions.decimal)
            sentence = say("{digits} was read as the decimal {decimal}.", digits=digits, decimal=decimal_text)
            self.choices.remark("decimal-sign", sentence, *self.text.span(start, end))
        digits = self.times_power_of_ten(digits.replace(",", "."), start, end)
        self.add("number", f"0{digits}" if digits.startswith(".") else digits, start, end)

    def times_power_of_ten(self, digits: str, start: int, end: int) -> str:
        """The digits of 1.5e4 or 2E-3 written out; in 2e-3 the usual e is the number e."""
        found = _POWER_OF_TEN.match(self.text.text, end)
        if found is None or found.group(1) in self.names.allowed | self.names.variables:
            return digits
        letter, sign, power = found.groups()
        whole = self.text.text[start : found.end()]
        meant = say("{number} times 10^{power}", number=digits, power=sign.strip("+") + power)
        place = self.text.span(start, found.end())
        if letter == "e" and sign and "." not in digits:
            sentence = say(
                "In {text} the letter e is read as the number e; the other reading is {meant}.",
                text=whole,
                meant=meant,
            )
            if self.choices.usual("power-of-ten", *place, sentence):
                return digits
        else:
            self.choices.remark(
                "power-of-ten", say("{text} was read as {meant}.", text=whole, meant=meant), *place
            )
        self.place = found.end()
        return format(decimal.Decimal(f"{digits}e{sign}{power}"), "f")

    def look_alike(self, value: str, start: int, end: int) -> None:
        """The logarithm behind `In` or `1n`, which look like it in many fonts."""
        self.place = end
        self.choices.remark(
            "look-alike", say("{text} was read as the logarithm ln.", text=value), *self.text.span(start, end)
        )
        self.add("function", "ln", start, end)

    def single(self, value: str, start: int, end: int) -> None:
        if self.longest > 1:
            self.word(value, start, end)
        elif value == "E" and self.is_number_e(end):
            self.choices.remark(
                "look-alike", say("{text} was read as the number e.", text=value), *self.text.span(start, end)
            )
            self.add("constant", "e", start, end)
        else:
            self.add(*self.letter(value), start, end)

    def word(self, value: str, start: int, end: int) -> None:
        allowed = self.names.allowed
        if self.longest <= 1 and value in words.SPELT and value[0] not in allowed:
            self.add("function", words.SPELT[value], start, end)
            return
        if self.longest > 1:  # a longer name with digits or a subscript that the caller allows
            longer = _NAME.match(self.text.text, start, start + self.longest + 1)
            if longer is not None and longer.group() in allowed:
                self.place = longer.end()
                self.add("symbol", longer.group(), start, longer.end())
                return
        if len(value) == 1:
            self.add(*self.letter(value), start, end)
            return
        if self.ends_in_differential(value):
            if len(value) > 2:
                self.word(value[:-2], start, end - 2)
            self.add("differential", value[-1], end - 2, end)
            return
        if value == "arc" and (applied := _AFTER_ARC.match(self.text.text, end)) is not None:
            self.place = applied.end()
            self.add("function", words.SPELT["arc" + applied.group(1)], start, applied.end())
            return
        if value == "In" and not allowed & {"I", "n", "In"}:
            self.look_alike(value, start, end)
            return
        whole = words.word(value)
        if whole is not None and not self.is_letters(value):
            if self.takes_name(value, start):
                self.add(*whole, start, end)
            else:
                self.add(*self.letter(value[0]), start, start + 1)
                self.word(value[1:], start + 1, end)
            return
        self.pieces(value, start, end)

    def is_number_e(self, end: int) -> bool:
        """Whether a capital E before `end` is the base of a power: a phone writes the first letter so."""
        return self.text.text.startswith("^", end) and not self.names.allowed & {"e", "E"}

    def letter(self, value: str) -> tuple[str, str]:
        """The kind and meaning of a single letter."""
        if value == "e" and "e" not in self.names.allowed and self.names.variables != {"e"}:
            return "constant", "e"
        return "symbol", value

    def ends_in_differential(self, value: str) -> bool:
        """Whether a word ends in the dx of an integral."""
        ends = value[-2] == "d" and value[-1] in self.names.variables and "d" not in self.names.allowed
        return ends and (len(value) == 2 or words.word(value) is None) and value not in self.names.allowed

    def is_letters(self, value: str) -> bool:
        """Whether a short Greek name is rather a product of letters that are all known (`xi` with a parameter i)."""
        return words.word(value) == ("symbol", value) and all(
            letter in self.names.allowed for letter in value
        )

    def takes_name(self, name: str, start: int) -> bool:
        """Whether `asin` is the inverse sine, also when a is an allowed name; then it is asked."""
        rest, end = name[1:], start + len(name)
        if name[0] not in self.names.allowed or words.word(rest) is None:
            return True
        sentence = say(
            "{name} is read as one function; the other reading is {letter} times {rest}.",
            name=name,
            letter=name[0],
            rest=rest,
        )
        return self.choices.usual("name", *self.text.span(start, end), sentence)

    def pieces(self, value: str, start: int, end: int) -> None:
        """The tokens of letters that are no word by themselves."""
        allowed = self.names.allowed
        known = len(value) <= limits.WORD
        parts = words.split(value, variables=self.names.variables, names=allowed) if known else None
        if parts is None:
            near = words.near_word(value, allowed)
            stars = "*".join(value[:8])
            hint = (
                say("did you mean {near}?", near=near)
                if near
                else say("for a product write {stars}", stars=stars)
            )
            if value.lower() in words.SENTENCE:
                hint = say("write only the answer")
            self.fail(
                "unknown-word",
                say('the word "{word}" is not known', word=value[: limits.WORD]),
                start,
                end,
                hint,
            )
        first = parts[0]
        if first.kind != "letter" and not self.takes_name(value[: first.end], start):
            self.add(*self.letter(value[0]), start, start + 1)
            self.word(value[1:], start + 1, end)
            return
        if len(parts) > 2 and any(part.kind != "letter" for part in parts):
            sentence = say(
                "{text} was read as {parts}.", text=value, parts=" ".join(part.meaning for part in parts)
            )
            self.choices.remark("split-word", sentence, *self.text.span(start, end))
        for part in parts:
            kind, meaning = self.letter(part.meaning) if part.kind == "letter" else (part.kind, part.meaning)
            self.add(kind, meaning, start + part.start, start + part.end)

    def bar(self, value: str, start: int, end: int) -> None:
        side = {"left": "(|", "right": "|)"}.get(self.side, value)
        self.add("bar", side, start, end)

    def command(self, value: str, start: int, end: int) -> None:
        name = value[1:].rstrip("*")
        if name in latex.SPACES:
            self.glued = False
        elif name in latex.SIZES:
            self.side = latex.SIZES[name]
            if self.text.text.startswith(".", end):  # no bracket on this side
                self.place, self.side = end + 1, ""
        elif name in latex.WORDS:
            self.command_word(start, end)
        elif name in latex.UNSUPPORTED:
            self.fail(
                "unsupported-sign",
                say("the sign {text} cannot stand in an expression", text=value),
                start,
                end,
            )
        elif name in latex.COMMANDS:
            kind, text = latex.COMMANDS[name]
            if text == "|":
                self.bar(text, start, end)
            else:
                self.add(kind, text, start, end)
        elif (meaning := words.word(name)) is not None and name != "root":
            kind, text = meaning
            self.add(kind, text, start, end)
        elif not name.isalpha():
            self.fail("unknown-command", say('the command "{text}" is not read', text=value), start, end)
        else:
            near = words.near_word(name, (*latex.COMMANDS,))
            hint = say(r"did you mean \{near}?", near=near) if near else say("write it with plain signs")
            self.fail(
                "unknown-command", say('the command "{text}" is not read', text=value), start, end, hint
            )

    def command_word(self, start: int, end: int) -> None:
        r"""The word in the braces of `\operatorname` and its kind; without a word the braces are brackets."""
        found = _COMMAND_WORD.match(self.text.text, end)
        differential = _UPRIGHT_D.match(self.text.text, end)
        if differential is not None and differential.group(1) in self.names.variables:
            self.place = differential.end()
            self.add("differential", differential.group(1), start, differential.end())
        elif found is not None:
            self.place = found.end()
            self.glued = False if found.start(1) > start and not self.glued else self.glued
            self.word(found.group(1), found.start(1), found.end(1))

    def small_fraction(self, value: str, start: int, end: int) -> None:
        over, under = value.split("/")
        plain = (
            "".join(map(SUPERSCRIPTS.__getitem__, over)) + "/" + "".join(map(SUBSCRIPTS.__getitem__, under))
        )
        self.add("fraction", plain, start, end)

    def vulgar(self, value: str, start: int, end: int) -> None:
        self.add("fraction", VULGAR[value], start, end)

    def superscript(self, value: str, start: int, end: int) -> None:
        self.add("sup", "^", start, start)
        self.inner(value, SUPERSCRIPTS, start, end)
        self.add("sup-end", "^", end, end)

    def subscript(self, value: str, start: int, end: int) -> None:
        self.add("op", "_", start, start)
        self.inner(value, SUBSCRIPTS, start, end)

    def inner(self, value: str, plain: dict[str, str], start: int, end: int) -> None:
        """The tokens of raised or lowered characters."""
        text = "".join(plain.get(char, char) for char in value)
        if text.isdecimal() and len(text) <= limits.DIGITS:
            self.add("number", text, start, end)
            return
        part = self.text.part(start, end)
        lowered = CleanText(text=text, starts=part.starts, source=part.source)
        self.found += tokenise(lowered, self.names, self.choices)[:-1]

    def other(self, value: str, start: int, end: int) -> None:
        if value in _SINGLE:
            self.add(*_SINGLE[value], start, end)
        elif value == ":":  # the sign of division in many countries (common practice)
            self.choices.remark(
                "division-sign", say("The colon was read as a division sign."), *self.text.span(start, end)
            )
            self.add("op", "/", start, end)
        elif value == "π":
            self.add("constant", "pi", start, end)
        elif value in words.GREEK_LETTERS:
            self.add("symbol", words.GREEK_LETTERS[value], start, end)
        elif value in _UNSUPPORTED:
            self.fail(
                "unsupported-sign",
                say("the sign {text} cannot stand in an expression", text=value),
                start,
                end,
            )
        else:
            self.fail(
                "unknown-character",
                say("the character {character} has no meaning here", character=character_name(value)),
                start,
                end,
            )

    #: kind of match -> how it is treated
    _RULES: ClassVar[dict[str, Callable[[_Tokeniser, str, int, int], None]]] = {
        "letter": single,
        "number": number,
        "word": word,
        "stars": stars,
        "bar": bar,
        "command": command,
        "smallfraction": small_fraction,
        "superscript": superscript,
        "subscript": subscript,
        "vulgar": vulgar,
        "other": other,
    }
