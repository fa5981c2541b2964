"""Functions and roots: where an argument without brackets ends, and what a power on a name means.

The conventions, each with a remark when it decides:

- `sin 2x cos 3x`: the argument is the product of what stands together, up to the next function, `+` or `-`.
- `sin x (x+1)`: a bracket after the variable is a new factor; after numbers and constants (`sin 2(x+1)`) it belongs
  to the argument.
- `sin x^2` is the sine of the square, `sin(x)^2` the square of the sine; likewise `√x²` and `√(x)²`.
- `sin x/2` is half of the sine. A number goes on: `sin pi/4`, `sin 2*x`, `cos 1/2 x`; but `ln 2/3` is (ln 2)/3.
- `sin^-1 x` is the inverse function; other powers on a name are powers of the value.
- `log x` is natural, `log_2 x` is ln x/ln 2, `lg x` has base 10.
"""

from __future__ import annotations

from abc import ABC, abstractmethod

from qbank.maths.expression import (
    Apply,
    Constant,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
)
from qbank.maths.functions import FUNCTIONS
from qbank.maths.reading import limits
from qbank.maths.reading.cursor import Cursor
from qbank.maths.reading.tokens import Token

__all__ = ["Applications", "joined", "negated"]

#: function -> its inverse
_INVERSES = {
    row.inverse_of: name for name, row in FUNCTIONS.items() if row.inverse_of and "inverse" in row.family
}
#: functions whose value at a number is itself a usual factor (ln 2), so that a number does not go on after * or /
_VALUED = ("ln", "abs")
#: functions that are written like brackets, so that a power after them is never in doubt
_PLAIN_POWER = ("exp", "abs")


def joined(factors: list[Expression]) -> Expression:
    """One factor itself, or the product of several as written."""
    return factors[0] if len(factors) == 1 else Product(tuple(factors))


def negated(tree: Expression, times: int) -> Expression:
    """The tree behind a number of minus signs."""
    for _ in range(times):
        tree = Negate(tree)
    return tree


class Applications(Cursor, ABC):
    """The rules for functions and roots."""

    @abstractmethod
    def factor(self) -> Expression:
        """One factor with its powers."""

    @abstractmethod
    def atom(self) -> Expression:
        """One factor without powers after it."""

    @abstractmethod
    def bracket(self) -> Expression:
        """What stands in the brackets that open at the next token."""

    @abstractmethod
    def postfix(self, tree: Expression) -> Expression:
        """A tree with the powers and degree signs after it."""

    @abstractmethod
    def implicit(self, factors: list[Expression]) -> None:
        """Read a factor that follows without a sign."""

    @abstractmethod
    def signs(self) -> int:
        """Pass plus and minus signs; how many minus signs there were."""

    @abstractmethod
    def superscript(self) -> Expression:
        """What a superscript holds; the next token opens it."""

    # functions ------------------------------------------------------------------------------------------------

    def application(self, token: Token) -> Expression:
        """A function name, already passed, with its base, power and argument."""
        first = self.index - 1
        base = self.logarithm_base(token) if token.kind == "log" else None
        name = "ln" if token.kind == "log" else token.text
        power = self.name_power()
        if power == Negate(Integer(1)) and name in _INVERSES and base is None:
            written, name, power = self.written(first, self.index), _INVERSES[name], None
            self.remark("inverse-function", f"{written} is read as the inverse function {name}.", first)
        elif isinstance(power, Negate):
            sentence = (
                f"{self.written(first, self.index)} is read as that power of the value of {token.text}."
            )
            self.remark("negative-function-power", sentence, first)
        if token.kind == "log" and base is None and self.names.conventions.logarithm == "ln":
            self.choices.remark(
                "logarithm", "log is read as the natural logarithm ln.", token.start, token.end
            )
        if self.peek.kind == "open":
            argument = self.bracket()
            asks = power is None and name not in _PLAIN_POWER and self.power_ahead()
            if asks and not self.ask("function-power", first, self.power_of(first)):
                argument = self.postfix(argument)
            moved = None
        else:
            argument, moved = self.argument(token, name, power is None and name not in _PLAIN_POWER)
        tree: Expression = Apply(name, argument)
        if base is not None and base != E:
            tree = Quotient(tree, Apply("ln", base))
        exponent = moved if power is None else power
        return tree if exponent is None else Power(tree, exponent)

    def logarithm_base(self, token: Token) -> Expression | None:
        """The base after `log_`, the 10 of `lg`, the 2 of `log2(x)`; None for a natural logarithm."""
        if token.text == "lg":
            return Integer(10)
        if self.is_op("_"):
            self.take()
            return self.atom()
        if self.peek.kind == "number" and self.peek.glued and self.after().kind == "open":
            digits = self.peek.text
            sentence = f"log{digits}( is read as the logarithm to base {digits}; the other reading has {digits} as a factor."
            if self.ask("base", self.index - 1, sentence):
                return self.atom()
        return None

    def name_power(self) -> Expression | None:
        """The power between a function name and its argument."""
        if self.peek.kind == "sup" and not (self.root_index_ahead() and not self.peek.glued):
            return self.superscript()
        if self.is_op("^"):
            self.take()
            minus = self.signs()
            return negated(self.atom(), minus)
        return None

    def power_ahead(self) -> bool:
        """Whether a power follows."""
        return self.peek.kind == "sup" or self.is_op("^")

    def root_index_ahead(self) -> bool:
        """Whether a superscript follows that is the index of a root sign: ³√."""
        return (
            self.peek.kind == "sup"
            and self.after().kind == "number"
            and self.after(2).kind == "sup-end"
            and self.after(3) == self.after(3)._replace(kind="root", text="2", glued=True)
        )

    def power_of(self, first: int) -> str:
        """The sentence for a power after a bracketed argument."""
        written = self.written(first, self.index)
        return f"The power after {written} is read as a power of its value; the other reading has it inside."

    def argument(self, token: Token, name: str, may_move: bool) -> tuple[Expression, Expression | None]:
        """An argument without brackets, and a power that was moved from it to the function."""
        minus = self.signs()
        if self.peek.kind not in ("sup", "bar") and not self.starts_factor():
            self.fail("missing-argument", f"{token.text} has no argument", token, f"write {token.text}(x)")
        if self.peek.kind in ("function", "log"):
            return negated(self.factor(), minus), None
        first = self.index
        parts = [self.factor()]
        last = first
        while True:
            place = self.index
            if self.starts_factor():
                if not self.goes_on(parts, first):
                    break
                self.implicit(parts)
            elif self.operator_goes_on(parts, name, first):
                over = self.take().text == "/"
                right = self.factor()
                parts = [Quotient(joined(parts), right)] if over else [*parts, right]
            else:
                break
            last = place
        moved = self.moved_power(parts, last, first) if may_move else None
        return negated(joined(parts), minus), moved

    def goes_on(self, parts: list[Expression], first: int) -> bool:
        """Whether a factor that follows without a sign belongs to the argument."""
        kind = self.peek.kind
        if kind in ("function", "log"):
            self.remark(
                "function-argument",
                f"The argument {self.written(first, self.index)} ends before the next function.",
                first,
            )
            return False
        if kind in ("number", "fraction"):
            return False
        if not self.has_variable(*parts):
            return True
        if kind == "symbol":
            return True
        if kind == "constant":
            return not (self.after().kind == "sup" or (self.after().kind, self.after().text) == ("op", "^"))
        if kind != "open":
            return False
        inside = self.written(self.index, self.reach(self.index))
        sentence = f"The argument {self.written(first, self.index)} ends before {inside}; the other reading goes on over it."
        return not self.ask("argument-bracket", first, sentence)

    def operator_goes_on(self, parts: list[Expression], name: str, first: int) -> bool:
        """Whether the argument goes on over a following `*` or `/`."""
        over, times = self.is_op("/"), self.is_op("*")
        follower = self.after()
        if not (over or times) or follower.kind not in ("number", "symbol", "constant"):
            return False
        number = not any(tree.symbols() for tree in parts)
        if times and (not number or follower.text == "e"):
            return False
        if over and not number and not (self.peek.glued and follower.glued):
            return False
        if over and follower.kind == "symbol" and (number or follower.text in self.names.variables):
            return False
        inside = number and name not in _VALUED
        so_far, whole = self.written(first, self.index), self.written(first, self.index + 2)
        usual, other = (whole, so_far) if inside else (so_far, whole)
        sentence = f"{usual} is read as the argument of {name}; the other reading has only {other}."
        if not inside:
            sentence = f"{usual} is read as the argument of {name}; the other reading has {other}."
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
        sentence = f"The power belongs to the argument {self.written(first, self.index)}; the other reading is a power of the function."
        place = self.tokens[first]
        if self.choices.usual("argument-power", place.start, self.tokens[self.index - 1].end, sentence):
            return None
        parts[-1] = end.base
        return end.exponent

    # roots ----------------------------------------------------------------------------------------------------

    def root(self, token: Token) -> Expression:
        """A root sign or word, already passed, with its index and what is under it."""
        if token.text == "n":
            return self.root_call(token)
        index = int(token.text)
        if (
            self.peek.text == "["
            and self.after().kind == "number"
            and self.after(2).text == "]"
            and self.operand_at(3)
        ):
            self.take()
            index = self.root_index(self.take())
            self.take()
        return self.radicand(token, index)

    def operand_at(self, steps: int) -> bool:
        """Whether an operand stands some steps after the next token."""
        return self.after(steps).kind in (
            "open",
            "symbol",
            "constant",
            "number",
            "function",
            "frac",
            "bar",
            "root",
        )

    def raised_root(self, token: Token) -> Expression:
        """A root with its index before it: ³√x; the superscript was just opened."""
        index = self.root_index(self.take())
        self.take()
        self.take()
        return self.radicand(token, index)

    def root_index(self, token: Token) -> int:
        """The index in a token."""
        digits = token.text
        if token.kind != "number" or not digits.isdigit() or not 2 <= int(digits) <= limits.EXPONENT:
            self.fail("bad-root-index", f"a root index is a whole number from 2 to {limits.EXPONENT}", token)
        return int(digits)

    def radicand(self, token: Token, index: int) -> Expression:
        """What is under a root sign: a bracket, or one factor."""
        if self.peek.kind == "open":
            return Root(self.bracket(), index)
        self.enter()
        first = self.index
        minus = self.signs()
        if self.peek.kind not in ("sup", "bar") and not self.starts_factor():
            self.fail("missing-argument", "there is nothing under this root", token, "write sqrt(x)")
        applied = self.peek.kind in ("function", "log", "root")
        tree = self.atom()
        if self.power_ahead() and not applied:
            sentence = f"The power after {self.written(first, self.index)} is read as under the root; the other reading is a power of the root."
            if self.ask("root-power", first - 1, sentence):
                tree = self.postfix(tree)
        if self.peek.glued and self.peek.kind in ("symbol", "constant") and not applied:
            sentence = f"Only {self.written(first, self.index)} is under the root; the other reading has {self.written(first, self.index + 1)} under it."
            if not self.ask("root-product", first - 1, sentence):
                parts = [tree]
                while self.peek.glued and self.peek.kind in ("symbol", "constant"):
                    parts.append(self.factor())
                tree = joined(parts)
        self.leave()
        return Root(negated(tree, minus), index)

    def root_call(self, token: Token) -> Expression:
        """The root written as a function of two arguments, `root(x, 3)`; a semicolon also separates them."""
        if self.peek.text != "(":
            self.fail("missing-argument", "root needs two arguments", token, "write root(x, 3) or sqrt(x)")
        opener = self.peek
        tree = self.listed()
        if not (self.is_op(",") or self.is_op(";")):
            self.fail("missing-argument", "root needs two arguments", token, "write root(x, 3) or sqrt(x)")
        self.take()
        index = self.root_index(self.take())
        self.close(opener)
        return Root(tree, index)

    @abstractmethod
    def listed(self) -> Expression:
        """The first argument in brackets, up to what separates it from the next."""

    @abstractmethod
    def close(self, opener: Token) -> None:
        """Pass the bracket that closes `opener`."""
