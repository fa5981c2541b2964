"""A place in a list of tokens, with what every rule of the grammar needs: look, take, ask, fail."""

from __future__ import annotations

from itertools import islice
from typing import NoReturn

from qbank.maths.expression import Expression, Power, Symbol
from qbank.maths.reading import limits
from qbank.maths.reading.choices import Choices
from qbank.maths.reading.errors import ReadingError
from qbank.maths.reading.tokens import Names, Token
from qbank.messages import say

__all__ = ["Cursor"]

#: kinds of tokens that can start a factor
_STARTS = frozenset({"number", "fraction", "symbol", "constant", "function", "log", "root", "frac", "open"})
#: characters and tokens of the source that a message quotes at most
_SHOWN = 40


class Cursor:
    """The tokens of one text and how far they are read.

    Attributes:
        peek: the next token.
        powers: all that were read, inner ones before outer ones.
        bar_open: whether a plain modulus bar is open at this bracket level, so that the next one closes it.
    """

    def __init__(self, tokens: list[Token], source: str, names: Names, choices: Choices) -> None:
        self.tokens = tokens
        self.source = source
        self.names = names
        self.choices = choices
        self.index = 0
        self.depth = 0
        self.bar_open = False
        self.nesting_bars: dict[int, bool] = {}
        self.powers: list[Power] = []
        self.peek = tokens[0]

    def take(self) -> Token:
        """The next token, passing it; the end is never passed."""
        token = self.peek
        if token.kind != "end":
            self.index += 1
            self.peek = self.tokens[self.index]
        return token

    def after(self, steps: int = 1) -> Token:
        """The token some steps after the next one."""
        return self.tokens[min(self.index + steps, len(self.tokens) - 1)]

    def split_number(self) -> None:
        """Make two tokens of the next number: its first digit and the rest."""
        number = self.peek
        digit = number._replace(text=number.text[0], end=number.start + 1)
        rest = number._replace(text=number.text[1:], start=number.start + 1)
        self.tokens[self.index : self.index + 1] = [digit, rest]
        self.peek = digit

    def powered(self, base: Expression, exponent: Expression) -> Power:
        """A power, noted for the check of sizes at the end."""
        power = Power(base, exponent)
        self.powers.append(power)
        return power

    def is_op(self, text: str) -> bool:
        """Whether the next token is this operator."""
        return self.peek.kind == "op" and self.peek.text == text

    def root_index_ahead(self) -> bool:
        """Whether a superscript follows that is the index of a root sign: ³√."""
        if self.peek.kind != "sup" or self.after(2).kind != "sup-end":
            return False
        root = self.after(3)
        return root.kind == "root" and root.text == "2" and root.glued

    def starts_factor(self) -> bool:
        """Whether the next token starts a factor, here after another one (an implicit product)."""
        token = self.peek
        if token.kind in _STARTS:
            return True
        if token.kind == "bar":
            return token.text == "(|" or (token.text == "|" and (not self.bar_open or self.bar_nests()))
        return self.root_index_ahead()

    def bar_nests(self) -> bool:
        """Whether a bar after an operand opens a modulus inside the open one: `|2|x|+1|`.

        It closes, unless there is only a number before it; where bars enough follow, both are readings.
        """
        if self.index not in self.nesting_bars:
            self.nesting_bars[self.index] = self.may_nest() and self.choose_nesting()
        return self.nesting_bars[self.index]

    def may_nest(self) -> bool:
        """Whether a bar stands before an operand, with bars for both moduli after it."""
        follower = self.after()
        if not (self.peek.glued and follower.glued and follower.kind in _STARTS):
            return False
        ahead = (token for token in self.tokens[self.index + 1 :] if token.kind == "bar")
        return sum(1 for _ in islice(ahead, 2)) == 2

    def choose_nesting(self) -> bool:
        """Which of both readings of a bar is taken."""
        number = self.tokens[self.index - 1].kind == "number" and self.tokens[self.index - 2].kind == "bar"
        if number:
            sentence = say("This bar opens a modulus; in the other reading it closes one.")
        else:
            sentence = say("This bar closes a modulus; in the other reading it opens one.")
        return self.ask("bar", self.index, sentence) == number

    def enter(self) -> None:
        """Go one level down; every `enter` has its `leave`."""
        self.depth += 1
        if self.depth > limits.NESTING:
            self.too_nested()

    def leave(self) -> None:
        """Come back up one level."""
        self.depth -= 1

    def too_nested(self) -> NoReturn:
        """Fail at the next token: this goes too deep."""
        self.fail(
            "too-nested",
            say("this is nested more than {limit} levels deep", limit=str(limits.NESTING)),
            self.peek,
        )

    def fail(self, code: str, message: str, token: Token, hint: str = "") -> NoReturn:
        """Fail at a token."""
        self.fail_at(code, message, token.start, token.end, hint)

    def fail_at(self, code: str, message: str, start: int, end: int, hint: str = "") -> NoReturn:
        """Fail at a place of the source."""
        raise ReadingError(code, message, position=(start, end), hint=hint, source=self.source)

    def written(self, first: int, last: int) -> str:
        """What the source has from one token up to, not including, another; the middle of a long part is left out."""
        text = self.source[self.tokens[first].start : self.tokens[last - 1].end]
        return text if len(text) <= _SHOWN else f"{text[: _SHOWN // 2]}...{text[-_SHOWN // 2 :]}"

    def ask(self, kind: str, first: int, sentence: str) -> bool:
        """Whether to take the usual reading of what starts at token `first` and goes to the next token's end."""
        return self.choices.usual(kind, self.tokens[first].start, self.peek.end, sentence)

    def remark(self, identifier: str, sentence: str, first: int) -> None:
        """Remark on what stands from token `first` up to the next token."""
        self.choices.remark(identifier, sentence, self.tokens[first].start, self.tokens[self.index - 1].end)

    def reach(self, index: int) -> int:
        """The index after the factor that starts at `index`, as far as brackets and powers show; for messages."""
        if self.tokens[index].kind in ("function", "log", "root", "frac"):
            index = min(index + 1, len(self.tokens) - 2)
        place = self.past_group(index)
        while self.tokens[place].kind == "sup" or self.tokens[place].text == "^":
            place = self.past_group(place if self.tokens[place].kind == "sup" else place + 1)
        return place

    def past_group(self, index: int) -> int:
        """The index after a token, or after the bracket or superscript that it opens, when that is short."""
        if self.tokens[index].kind not in ("open", "sup"):
            return min(index + 1, len(self.tokens) - 1)
        inside = 0
        for place in range(index, min(index + _SHOWN, len(self.tokens) - 1)):
            kind = self.tokens[place].kind
            inside += (kind in ("open", "sup")) - (kind in ("close", "sup-end"))
            if inside == 0:
                return place + 1
        return index + 1

    def has_variable(self, tree: Expression) -> bool:
        """Whether the variable, or a letter that may be it, occurs in a tree."""
        variables, nodes = self.names.variables, [tree]
        while nodes:
            node = nodes.pop()
            if isinstance(node, Symbol):
                if node.name in variables:
                    return True
            else:
                nodes += node.children
        return False
