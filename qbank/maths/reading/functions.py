"""Functions: where an argument without brackets ends, and what a power on a name means.

The conventions, each with a remark when it decides:

- `sin 2x cos 3x`: the argument is the product of what stands together, up to the next function, `+` or `-`.
- `sin x (x+1)`: a bracket after the variable is a new factor; after numbers and constants (`sin 2(x+1)`) it belongs
  to the argument.
- `sin x^2` is the sine of the square, `sin(x)^2` the square of the sine.
- `sin x/2` is half of the sine, and so is `sin (x+1)/2`. A number goes on: `sin pi/4`, `sin 2*x`, `cos 1/2 x`; but `ln 2/3` is (ln 2)/3.
- `sin^-1 x` is the inverse function; other powers on a name are powers of the value.
- `sgn x` is |x|/x.
- `log x` is natural, `log_2 x` is ln x/ln 2, `lg x` has base 10.
"""

from __future__ import annotations

from qbank.maths.expression import (
    Apply,
    Constant,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Quotient,
    Symbol,
)
from qbank.maths.functions import FUNCTIONS
from qbank.maths.reading.rules import Rules, joined, negated
from qbank.maths.reading.tokens import Token
from qbank.messages import say

__all__ = ["Functions"]

#: function -> its inverse
_MINUS_ONE = Negate(Integer(1))
_INVERSES = {
    row.inverse_of: name for name, row in FUNCTIONS.items() if row.inverse_of and "inverse" in row.family
}
#: functions whose value at a number is itself a usual factor (ln 2), so that a number does not go on after * or /
_VALUED = ("ln", "abs")
#: what letters an argument has so far
_NUMBER, _LETTER, _VARIABLE = 0, 1, 2
#: kinds of tokens after sin-1 that show an argument
_OPERANDS = ("open", "symbol", "constant", "bar", "frac", "root")
#: functions that are written like brackets, so that a power after them is never in doubt
_PLAIN_POWER = ("exp", "abs")


def _sign_of(argument: Expression) -> Expression:
    """The sign of an argument, 1 or -1, in functions of the language; where it is 0 it has no value."""
    return Quotient(Apply("abs", argument), argument)


class Functions(Rules):
    """The rules for functions and their arguments."""

    def application(self, token: Token) -> Expression:
        """A function name, already passed, with its base, power and argument."""
        first = self.index - 1
        base = self.logarithm_base(token) if token.kind == "log" else None
        name = "ln" if token.kind == "log" else token.text
        power = self.name_power(token)
        if power is None and token.kind == "function" and token.text not in _VALUED:
            power = self.number_before_bracket(token)
        if power == _MINUS_ONE and name in _INVERSES and base is None:
            written, name, power = self.written(first, self.index), _INVERSES[name], None
            sentence = say("{written} is read as the inverse function {name}.", written=written, name=name)
            self.remark("inverse-function", sentence, first)
        elif isinstance(power, Negate):
            sentence = say(
                "{text} is read as that power of the value of {function}.",
                text=self.written(first, self.index),
                function=token.text,
            )
            self.remark("negative-function-power", sentence, first)
        if token.kind == "log" and base is None and self.names.conventions.logarithm == "ln":
            self.choices.remark(
                "logarithm", say("log is read as the natural logarithm ln."), token.start, token.end
            )
        if self.peek.kind == "open":
            start, apart = self.index, not self.peek.glued
            argument = self.bracket()
            if apart and power is None and name not in _VALUED and self.number_below():
                argument = self.divided(argument, name, start)
            asks = (
                power is None
                and name not in _PLAIN_POWER
                and self.power_ahead()
                and not self.is_double_star()
            )
            if asks and not self.ask("function-power", first, self.power_of(first)):
                argument = self.postfix(argument)
            moved = None
        else:
            argument, moved = self.argument(token, name, power is None and name not in _PLAIN_POWER)
        tree: Expression = _sign_of(argument) if name == "sgn" else Apply(name, argument)
        if base is not None and base != E:
            tree = Quotient(tree, Apply("ln", base))
        exponent = moved if power is None else power
        return tree if exponent is None else self.powered(tree, exponent)

    def logarithm_base(self, token: Token) -> Expression | None:
        """The base after `log_`, the 10 of `lg`, the 2 of `log2(x)`; None for a natural logarithm."""
        if token.text == "lg":
            return Integer(10)
        if self.is_op("_"):
            self.take()
            return self.atom()
        if self.peek.kind == "number" and self.peek.glued and self.after().kind == "open":
            digits = self.peek.text
            sentence = say(
                "log{digits}( is read as the logarithm to base {digits}; the other reading has {digits} as a factor.",
                digits=digits,
            )
            if self.ask("base", self.index - 1, sentence):
                return self.atom()
        return None

    def name_power(self, token: Token) -> Expression | None:
        """The power between a function name and its argument."""
        if self.peek.kind == "sup" and not (self.root_index_ahead() and not self.peek.glued):
            return self.superscript()
        if self.is_op("^"):
            self.take()
            minus = self.signs()
            self.split_power(token)
            return negated(self.atom(), minus)
        if self.is_op("-") and self.peek.glued and self.after().glued and self.after(2).kind in _OPERANDS:
            return self.flattened_power(token)
        return None

    def flattened_power(self, token: Token) -> Expression | None:
        """A power that lost its place when the text was copied: `sin-1 x`, and in the other reading `sin2(x)`."""
        name, first, following = token.text, self.index - 1, self.after()
        if (following.kind, following.text) == ("number", "1"):
            sentence = say(
                "{name}-1 is read as the inverse function; the other reading has -1 in the argument.",
                name=name,
            )
            if self.ask("name-inverse", first, sentence):
                self.take()
                self.take()
                return _MINUS_ONE
        return None

    def number_before_bracket(self, token: Token) -> Expression | None:
        """The number in `sin2(x)` as a power; usually it is part of the argument."""
        number = self.peek
        if (
            number.kind != "number"
            or not number.glued
            or self.after().kind != "open"
            or not self.after().glued
        ):
            return None
        inside = f"{token.text}{number.text}{self.after().text}"
        sentence = say(
            "The number in {inside} is read as a part of the argument; in the other reading it is a power.",
            inside=inside,
        )
        return None if self.ask("name-number", self.index - 1, sentence) else self.atom()

    def split_power(self, token: Token) -> None:
        """Take `sin^22x` for the square of sin 2x, unless the power is at least 10 in all likelihood."""
        number, follower = self.peek, self.after()
        digits = number.text
        likely = number.kind == "number" and len(digits) == 2 and digits[0] > "1" and digits[1] > "0"
        if likely and follower.glued and follower.kind in ("symbol", "constant"):
            sentence = say(
                "{text}^{digits} is read as {text}^{power} of {factor}{letter}; the other reading is the power {digits}.",
                text=token.text,
                digits=digits,
                power=digits[0],
                factor=digits[1],
                letter=follower.text,
            )
            if self.ask("name-power", self.index - 2, sentence):
                self.split_number()

    def power_of(self, first: int) -> str:
        """The sentence for a power after a bracketed argument."""
        return say(
            "The power after {written} is read as a power of its value; the other reading has it inside.",
            written=self.written(first, self.index),
        )

    def argument(self, token: Token, name: str, may_move: bool) -> tuple[Expression, Expression | None]:
        """An argument without brackets, and a power that was moved from it to the function."""
        minus = 0 if self.is_op("+") else self.signs()
        if self.peek.kind not in ("sup", "bar") and not self.starts_factor():
            self.fail(
                "missing-argument",
                say("{text} has no argument", text=token.text),
                token,
                say("write {text}(x)", text=token.text),
            )
        if self.peek.kind in ("function", "log"):
            return negated(self.factor(), minus), None
        first = self.index
        parts = [self.factor()]
        seen = self.seen(parts[0])
        last = first
        while True:
            place = self.index
            if self.starts_factor():
                if not self.goes_on(seen, first):
                    break
                self.implicit(parts)
                seen = max(seen, self.seen(parts[-1]))
            elif self.operator_goes_on(seen, name, first):
                over = self.take().text == "/"
                right = self.factor()
                seen = max(seen, self.seen(right))
                parts = [Quotient(joined(parts), right)] if over else [*parts, right]
            else:
                break
            last = place
        moved = self.moved_power(parts, last, first) if may_move else None
        return negated(joined(parts), minus), moved

    def seen(self, tree: Expression) -> int:
        """What letters a part of an argument has: none, constants only, or the variable."""
        if isinstance(tree, Integer):
            return _NUMBER
        if isinstance(tree, Symbol):
            return _VARIABLE if tree.name in self.names.variables else _LETTER
        if self.has_variable(tree):
            return _VARIABLE
        return _LETTER if tree.symbols() else _NUMBER

    def goes_on(self, seen: int, first: int) -> bool:
        """Whether a factor that follows without a sign belongs to the argument."""
        kind = self.peek.kind
        if kind in ("function", "log"):
            so_far = self.written(first, self.index)
            if seen < _VARIABLE:
                sentence = say(
                    "The argument {so_far} ends before the next function; the other reading goes on over it.",
                    so_far=so_far,
                )
                return not self.ask("argument-function", first, sentence)
            self.remark(
                "function-argument",
                say("The argument {so_far} ends before the next function.", so_far=so_far),
                first,
            )
            return False
        if kind in ("number", "fraction"):
            return False
        if seen < _VARIABLE or kind == "symbol":
            return True
        if kind == "constant":
            follower = self.after()
            return not (follower.kind == "sup" or (follower.kind, follower.text) == ("op", "^"))
        if kind != "open":
            return False
        inside = self.written(self.index, self.reach(self.index))
        sentence = say(
            "The argument {text} ends before {inside}; the other reading goes on over it.",
            text=self.written(first, self.index),
            inside=inside,
        )
        return not self.ask("argument-bracket", first, sentence)

    def number_below(self) -> bool:
        """Whether a slash with a number follows."""
        return self.is_op("/") and self.after().kind == "number"

    def divided(self, argument: Expression, name: str, first: int) -> Expression:
        """An argument in brackets with the number under the slash after it, when that belongs to it: `arctan (x+1)/2`."""
        usual, other = self.written(first, self.index), self.written(first, self.index + 2)
        sentence = say(
            "{usual} is read as the argument of {name}; the other reading has {other} there.",
            usual=usual,
            name=name,
            other=other,
        )
        if self.ask("argument-operator", first, sentence):
            return argument
        self.take()
        return Quotient(argument, self.atom())

    def operator_goes_on(self, seen: int, name: str, first: int) -> bool:
        """Whether the argument goes on over a following `*` or `/`."""
        over, times = self.is_op("/"), self.is_op("*")
        follower = self.after()
        if not (over or times) or follower.kind not in ("number", "symbol", "constant"):
            return False
        if times and seen > _NUMBER:
            return False
        if over and seen > _NUMBER and not (self.peek.glued and follower.glued):
            return False
        if self.tokens[self.index - 1].kind == "bar":
            return False
        if over and follower.kind == "symbol" and (seen == _NUMBER or follower.text in self.names.variables):
            return False
        if seen == _VARIABLE and name in _VALUED:
            # ln(x/2) is ln x but for a constant, so this would make an answer right that is wrong by a factor
            return False
        inside = seen == _NUMBER and name not in _VALUED
        so_far, whole = self.written(first, self.index), self.written(first, self.index + 2)
        usual, other = (whole, so_far) if inside else (so_far, whole)
        sentence = say(
            "{usual} is read as the argument of {name}; the other reading has {other} there.",
            usual=usual,
            name=name,
            other=other,
        )
        return self.ask("argument-operator", first, sentence) == inside

    def moved_power(self, parts: list[Expression], last: int, first: int) -> Expression | None:
        """The power at the end of an argument, when it is to be read as a power of the function."""
        end, kind = parts[-1], self.tokens[last].kind
        if (
            not isinstance(end, Power)
            or isinstance(end.base, Constant)
            or kind not in ("number", "symbol", "bar")
        ):
            return None
        sentence = say(
            "The power belongs to the argument {text}; the other reading is a power of the function.",
            text=self.written(first, self.index),
        )
        place = self.tokens[first]
        if self.choices.usual("argument-power", place.start, self.tokens[self.index - 1].end, sentence):
            return None
        parts[-1] = end.base
        return end.exponent
