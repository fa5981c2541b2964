"""Forward mode: the one walk over a tree that yields its value and its derivative in any number system.

A number system says what numbers, letters, powers, exponentials, logarithms and circular functions are; the
rules of differentiation stand here once. Exact quotients (`qbank.maths.exact`) and rigorous balls
(`qbank.maths.balls`) walk by the same rules, so a proof and a witness speak of the same function.

    tree --Walk(numbers, variable, bindings)--> value(tree), slope(tree)

A slope is the derivative with respect to the variable; None stands for one that is zero because the variable
does not occur, which saves work and avoids 0/0 at the ends of a domain.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Any, Generic, Protocol, TypeVar, cast

from qbank.maths.expression import (
    Apply,
    Constant,
    Decimal,
    Differential,
    Evaluated,
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

__all__ = ["FUNCTION_RULES", "NotSettled", "Numbers", "Undefined", "Walk", "rational_value"]

T = TypeVar("T", bound=Any)

HALF = Fraction(1, 2)
#: an exponent, or a number inside one, has at most this many bits
EXPONENT_BITS = 64


class NotSettled(Exception):  # noqa: N818 - an outcome, not a fault
    """A number system cannot carry on: the text says why, in one sentence."""


class Undefined(Exception):  # noqa: N818 - an outcome, not a fault
    """The expression has no real value: division by zero, the logarithm of a negative number, ..."""


class Numbers(Protocol[T]):
    """What a number system offers; its elements also know `+ - * /` with each other and with integers."""

    #: whether its numbers belong to one point, where an expression may have no value
    pointwise: bool

    def number(self, value: Fraction | int) -> T:
        """A rational number."""

    def pi(self) -> T:
        """The circle constant."""

    def letter(self, name: str) -> T:
        """The variable, or another letter."""

    def power(self, base: T, exponent: Fraction) -> T:
        """A real power; with an odd denominator (in lowest terms) the base may be negative."""

    def exp(self, argument: T) -> T:
        """The exponential function."""

    def ln(self, argument: T) -> T:
        """The natural logarithm of a positive argument."""

    def ln_absolute(self, argument: T) -> T:
        """The natural logarithm of the absolute value."""

    def cos_sin(self, angle: T) -> tuple[T, T]:
        """Cosine and sine of an angle in radians."""

    def arctan(self, argument: T) -> T:
        """The inverse tangent, between -pi/2 and pi/2."""

    def arcsin(self, argument: T) -> T:
        """The inverse sine, between -pi/2 and pi/2."""

    def absolute(self, argument: T) -> T:
        """The absolute value."""

    def bounded(self, argument: T) -> T:
        """The same number; at a point it is seen to be bounded, which it is not after a division by zero."""


Rule = Callable[[Any, Any], Any]


def _sqrt(n: Any, u: Any) -> Any:
    return n.power(u, HALF)


def _cosh(n: Any, u: Any) -> Any:
    e = n.exp(u)
    return (e + 1 / e) / 2


def _sinh(n: Any, u: Any) -> Any:
    e = n.exp(u)
    return (e - 1 / e) / 2


def _tanh(n: Any, u: Any) -> Any:
    e = n.exp(u * 2)
    return (e - 1) / (e + 1)


def _tan(n: Any, u: Any) -> Any:
    c, s = n.cos_sin(u)
    return s / c


def _cot(n: Any, u: Any) -> Any:
    c, s = n.cos_sin(u)
    return c / s


def _sec_tan(n: Any, u: Any) -> Any:
    c, s = n.cos_sin(u)
    return s / (c * c)


def _cosec_cot(n: Any, u: Any) -> Any:
    c, s = n.cos_sin(u)
    return -c / (s * s)


def _square(u: Any) -> Any:
    return u * u


def _arcosh(n: Any, u: Any) -> Any:
    # the product of two roots, not the root of a product: it is real for u >= 1 only
    return n.ln(u + _sqrt(n, u - 1) * _sqrt(n, u + 1))


def _arsinh(n: Any, u: Any) -> Any:
    return n.ln(u + _sqrt(n, u * u + 1))


def _artanh(n: Any, u: Any) -> Any:
    return n.ln((1 + u) / (1 - u)) / 2


def _arccos(n: Any, u: Any) -> Any:
    return n.pi() / 2 - n.arcsin(u)


#: name -> (value, derivative), each from the number system and the argument. Formulas: Abramowitz & Stegun
#: 4.3-4.6 (from memory); the tests check every row against an independent library. arccot is the continuous
#: branch pi/2 - arctan, between 0 and pi.
FUNCTION_RULES: dict[str, tuple[Rule, Rule]] = {
    "sin": (lambda n, u: n.cos_sin(u)[1], lambda n, u: n.cos_sin(u)[0]),
    "cos": (lambda n, u: n.cos_sin(u)[0], lambda n, u: -n.cos_sin(u)[1]),
    "tan": (_tan, lambda n, u: 1 / _square(n.cos_sin(u)[0])),
    "sec": (lambda n, u: 1 / n.cos_sin(u)[0], _sec_tan),
    "cosec": (lambda n, u: 1 / n.cos_sin(u)[1], _cosec_cot),
    "cot": (_cot, lambda n, u: -1 / _square(n.cos_sin(u)[1])),
    "arcsin": (lambda n, u: n.arcsin(u), lambda n, u: 1 / _sqrt(n, 1 - u * u)),
    "arccos": (_arccos, lambda n, u: -1 / _sqrt(n, 1 - u * u)),
    "arctan": (lambda n, u: n.arctan(u), lambda n, u: 1 / (1 + u * u)),
    "arcsec": (lambda n, u: _arccos(n, 1 / u), lambda n, u: 1 / (n.absolute(u) * _sqrt(n, u * u - 1))),
    "arccosec": (lambda n, u: n.arcsin(1 / u), lambda n, u: -1 / (n.absolute(u) * _sqrt(n, u * u - 1))),
    "arccot": (lambda n, u: n.pi() / 2 - n.arctan(u), lambda n, u: -1 / (1 + u * u)),
    "sinh": (_sinh, _cosh),
    "cosh": (_cosh, _sinh),
    "tanh": (_tanh, lambda n, u: 1 / _square(_cosh(n, u))),
    "sech": (lambda n, u: 1 / _cosh(n, u), lambda n, u: -_sinh(n, u) / _square(_cosh(n, u))),
    "cosech": (lambda n, u: 1 / _sinh(n, u), lambda n, u: -_cosh(n, u) / _square(_sinh(n, u))),
    "coth": (lambda n, u: 1 / _tanh(n, u), lambda n, u: -1 / _square(_sinh(n, u))),
    "arsinh": (_arsinh, lambda n, u: 1 / _sqrt(n, u * u + 1)),
    "arcosh": (_arcosh, lambda n, u: 1 / (_sqrt(n, u - 1) * _sqrt(n, u + 1))),
    "artanh": (_artanh, lambda n, u: 1 / (1 - u * u)),
    "arsech": (lambda n, u: _arcosh(n, 1 / u), lambda n, u: -1 / (u * _sqrt(n, 1 - u * u))),
    "arcosech": (
        lambda n, u: _arsinh(n, 1 / u),
        lambda n, u: -1 / (n.absolute(u) * _sqrt(n, 1 + u * u)),
    ),
    "arcoth": (lambda n, u: _artanh(n, 1 / u), lambda n, u: 1 / (1 - u * u)),
    "exp": (lambda n, u: n.exp(u), lambda n, u: n.exp(u)),
    "ln": (lambda n, u: n.ln(u), lambda _, u: 1 / u),
    "abs": (lambda n, u: n.absolute(u), lambda n, u: n.absolute(u) / u),
}


class Walk(Generic[T]):
    """One walk: values and slopes of trees in a number system, each node once.

    Args:
        numbers: the number system.
        variable: the letter with respect to which slopes are taken.
        bindings: letters that stand for expressions in the variable (`u` in a substitution).
    """

    def __init__(self, numbers: Numbers[T], variable: Symbol, bindings: Mapping[Symbol, Expression]) -> None:
        self.numbers = numbers
        self.variable = variable
        #: letter -> the walk in which its expression is to be read, and that expression
        self._places: dict[Symbol, tuple[Walk[T], Expression]] = {
            letter: (self, tree) for letter, tree in bindings.items()
        }
        # nodes are kept beside their values: an id is only unique while its node lives
        self._values: dict[int, tuple[Expression, T]] = {}

    def value(self, node: Expression) -> T:
        """The value of a tree.

        Raises:
            Undefined: when it has no real value.
            NotSettled: when the number system cannot tell, or an integral is met.
        """
        found = self._values.get(id(node))
        if found is None:
            found = self._values[id(node)] = (node, self._value(node))
        return found[1]

    def _value(self, node: Expression) -> T:
        n = self.numbers
        match node:
            case Integer(value):
                return n.number(value)
            case Symbol(name):
                place = self._places.get(node)
                return n.letter(name) if place is None else place[0].value(place[1])
            case Product(factors):
                result = self.value(factors[0])
                for factor in factors[1:]:
                    result = result * self.value(factor)
                return result
            case Sum(terms):
                return self._sum(terms)
            case Power(base, exponent):
                return self._power(base, exponent)
            case Quotient(numerator, denominator):
                return self.value(numerator) / self.value(denominator)
            case Negate(operand):
                return -self.value(operand)
            case Apply(function, argument):
                return self._apply(function, argument)
            case Root(radicand, index):
                return n.power(self.value(radicand), Fraction(1, index))
        return self._seldom(node)

    def _sum(self, terms: tuple[Expression, ...]) -> T:
        total = self.value(terms[0])
        for term in terms[1:]:
            if isinstance(term, Negate):
                total = total - self.value(term.operand)
            else:
                total = total + self.value(term)
        return total

    def _apply(self, function: str, argument: Expression) -> T:
        if function == "ln" and isinstance(argument, Apply) and argument.function == "abs":
            return self.numbers.ln_absolute(self.value(argument.argument))
        return cast(T, FUNCTION_RULES[function][0](self.numbers, self.value(argument)))

    def _seldom(self, node: Expression) -> T:
        n = self.numbers
        match node:
            case Decimal():
                return n.number(node.value)
            case Constant("pi"):
                return n.pi()
            case Constant("e"):
                return n.exp(n.number(1))
            case Evaluated(antiderivative, variable, lower, upper):
                over = self.at(variable, upper).value(antiderivative)
                return over - self.at(variable, lower).value(antiderivative)
            case Differential(letter):
                slope = self.slope(letter)
                return n.number(0) if slope is None else slope * n.letter(f"d{self.variable.name}")
        raise NotSettled(_why_not(node))

    def _power(self, base: Expression, exponent: Expression) -> T:
        n = self.numbers
        if base == Constant("e"):
            return n.exp(self.value(exponent))
        fixed = rational_value(exponent)
        if fixed is not None:
            return n.power(self.value(base), fixed)
        return n.exp(self.value(exponent) * n.ln(self.value(base)))

    def at(self, letter: Symbol, place: Expression) -> Walk[T]:
        """The walk in which a bound letter stands for a place of this walk."""
        inner = Walk(self.numbers, self.variable, {})
        inner._places = {**self._places, letter: (self, place)}
        return inner

    def again(self) -> Walk[T]:
        """A new walk over the same letters that remembers no values."""
        fresh = Walk(self.numbers, self.variable, {})
        fresh._places = {letter: (fresh, tree) for letter, (_, tree) in self._places.items()}
        return fresh

    def slope(self, node: Expression) -> T | None:
        """The derivative of a tree with respect to the variable; None when it does not depend on it.

        Raises:
            Undefined: when it has no real value.
            NotSettled: when the number system cannot tell.
        """
        n = self.numbers
        match node:
            case Symbol():
                if node in self._places:
                    walk, tree = self._places[node]
                    return walk.slope(tree)
                return n.number(1) if node == self.variable else None
            case Integer() | Decimal() | Constant():
                return None
            case Sum(terms):
                return _total(self.slope(term) for term in terms)
            case Negate(operand):
                inner = self.slope(operand)
                return None if inner is None else -inner
            case Product(factors):
                return self._product_slope(factors)
            case Quotient(numerator, denominator):
                return self._quotient_slope(node, numerator, denominator)
            case Root(radicand, index):
                inner = self.slope(radicand)
                if inner is None:
                    return None
                return inner * n.power(self.value(radicand), Fraction(1 - index, index)) / index
            case Power(base, exponent):
                return self._power_slope(node, base, exponent)
            case Apply("ln", Apply("abs", argument)):
                inner = self.slope(argument)
                return None if inner is None else inner / self.value(argument)
            case Apply(function, argument):
                inner = self.slope(argument)
                return None if inner is None else inner * FUNCTION_RULES[function][1](n, self.value(argument))
            case Integral(integrand, letter, None, None):
                inner = self.slope(letter)
                return None if inner is None else self.value(integrand) * inner
            case Evaluated(antiderivative, letter, lower, upper):
                over = self.at(letter, upper).slope(antiderivative)
                under = self.at(letter, lower).slope(antiderivative)
                return _total((over, None if under is None else -under))
        raise NotSettled(_why_not(node))

    def _product_slope(self, factors: tuple[Expression, ...]) -> T | None:
        terms: list[T | None] = []
        for place, factor in enumerate(factors):
            inner = self.slope(factor)
            if inner is not None:
                for other in factors[:place] + factors[place + 1 :]:
                    inner = inner * self.value(other)
            terms.append(inner)
        return _total(terms)

    def _quotient_slope(self, node: Expression, numerator: Expression, denominator: Expression) -> T | None:
        over, under = self.slope(numerator), self.slope(denominator)
        if under is not None:
            under = -self.value(node) * under
        total = _total((over, under))
        return None if total is None else total / self.value(denominator)

    def _power_slope(self, node: Expression, base: Expression, exponent: Expression) -> T | None:
        n = self.numbers
        if base == Constant("e"):
            inner = self.slope(exponent)
            return None if inner is None else inner * self.value(node)
        fixed = rational_value(exponent)
        inner = self.slope(base)
        if fixed is not None:
            if inner is None or fixed == 0:
                return None
            return inner * n.power(self.value(base), fixed - 1) * n.number(fixed)
        rate = self.slope(exponent)
        total = _total(
            (
                None if rate is None else rate * n.ln(self.value(base)),
                None if inner is None else inner * self.value(exponent) / self.value(base),
            )
        )
        return None if total is None else total * self.value(node)


def _total(terms: Any) -> Any:
    total = None
    for term in terms:
        if term is not None:
            total = term if total is None else total + term
    return total


def _why_not(node: Expression) -> str:
    if isinstance(node, Integral):
        return "an integral that is still to be done has no value here"
    return "infinity is not a number"


def rational_value(node: Expression) -> Fraction | None:
    """The value of an arithmetic expression of small numbers (an exponent), else None.

    >>> from qbank.maths.expression import rational
    >>> rational_value(rational(1, 2) + 1)
    Fraction(3, 2)
    """
    value: Fraction | None
    match node:
        case Integer(number) | Decimal(value=number):
            value = Fraction(number)
        case Negate(operand):
            inner = rational_value(operand)
            value = None if inner is None else -inner
        case Quotient(numerator, denominator):
            over, under = rational_value(numerator), rational_value(denominator)
            value = None if over is None or not under else over / under
        case Sum(parts) | Product(parts):
            value = rational_value(parts[0])
            for part in parts[1:]:
                other = rational_value(part)
                if value is None or other is None:
                    return None
                value = value + other if isinstance(node, Sum) else value * other
        case Power(base, exponent):
            value = _small_power(rational_value(base), rational_value(exponent))
        case _:
            return None
    if (
        value is not None
        and value.numerator.bit_length() + value.denominator.bit_length() > 2 * EXPONENT_BITS
    ):
        return None
    return value


def _small_power(base: Fraction | None, exponent: Fraction | None) -> Fraction | None:
    if base is None or exponent is None or exponent.denominator != 1 or not base:
        return None
    bits = max(base.numerator.bit_length(), base.denominator.bit_length())
    return base**exponent.numerator if bits * abs(exponent.numerator) <= EXPONENT_BITS else None
