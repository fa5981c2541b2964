"""Forward mode: the one walk over a tree that yields its value and its derivative in any number system.

A number system says what numbers, letters, powers, exponentials, logarithms and circular functions are; the
rules of differentiation stand here once. Exact quotients (`qbank.maths.exact`) and rigorous balls
(`qbank.maths.balls`) walk by the same rules, so a proof and a witness speak of the same function.

    tree --Walk(numbers, variable, bindings)--> value(tree), slope(tree)

A slope is the derivative with respect to the variable; None stands for one that is zero because the variable
does not occur, which saves work and avoids 0/0 at the ends of a domain.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Generic, TypeVar, cast

from qbank.maths.exponents import rational_value
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
from qbank.maths.function_rules import FUNCTION_RULES
from qbank.maths.number_system import Arithmetic, NotSettled, Numbers, Undefined

__all__ = ["NotSettled", "Numbers", "Undefined", "Walk"]

T = TypeVar("T", bound=Arithmetic)


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
                return self._quotient(numerator, denominator)
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
            # a subtracted term is one operation, not two
            total = total - self.value(term.operand) if isinstance(term, Negate) else total + self.value(term)
        return total

    def _quotient(self, numerator: Expression, denominator: Expression) -> T:
        if isinstance(denominator, Integer):
            under = denominator.value
            if isinstance(numerator, Integer) and under:
                return self.numbers.number(Fraction(numerator.value, under))
            return self.value(numerator) / under
        return self.value(numerator) / self.value(denominator)

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
            case Apply(function, argument):
                return self._apply_slope(function, argument)
        return self._seldom_slope(node)

    def _apply_slope(self, function: str, argument: Expression) -> T | None:
        if function == "ln" and isinstance(argument, Apply) and argument.function == "abs":
            # (ln|u|)' = u'/u: the sign of u is not needed
            argument = argument.argument
        inner = self.slope(argument)
        return (
            None if inner is None else inner * FUNCTION_RULES[function][1](self.numbers, self.value(argument))
        )

    def _seldom_slope(self, node: Expression) -> T | None:
        match node:
            case Integral(integrand, letter, None, None):
                inner = self.slope(letter)
                return None if inner is None else self.value(integrand) * inner
            case Evaluated(antiderivative, letter, lower, upper):
                over = self.at(letter, upper).slope(antiderivative)
                under = self.at(letter, lower).slope(antiderivative)
                return _total((over, None if under is None else -under))
        raise NotSettled(_why_not(node))

    def _product_slope(self, factors: tuple[Expression, ...]) -> T | None:
        """One factor after another, (u v)' = u' v + u v', so that the work grows with the number of factors only."""
        still: list[Expression] = []
        moving: list[tuple[Expression, T]] = []
        for factor in factors:
            slope = self.slope(factor)
            if slope is None:
                still.append(factor)
            else:
                moving.append((factor, slope))
        if not moving:
            return None
        first, total = moving[0]
        before: T | None = None
        for factor, slope in moving[1:]:
            before = self.value(first) if before is None else before * self.value(first)
            total = total * self.value(factor) + before * slope
            first = factor
        for factor in still:
            total = total * self.value(factor)
        return total

    def _quotient_slope(self, node: Expression, numerator: Expression, denominator: Expression) -> T | None:
        over, under = self.slope(numerator), self.slope(denominator)
        if under is not None:
            under = -self.value(node) * under
        total = _total((over, under))
        if total is None:
            return None
        return total / (denominator.value if isinstance(denominator, Integer) else self.value(denominator))

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


def _total(terms: Iterable[T | None]) -> T | None:
    total: T | None = None
    for term in terms:
        if term is not None:
            total = term if total is None else total + term
    return total


def _why_not(node: Expression) -> str:
    if isinstance(node, Integral):
        return "an integral that is still to be done has no value here"
    return "infinity is not a number"
