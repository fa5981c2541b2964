"""Forward mode: the one walk over a tree that yields its value and its derivative in any number system.

A number system says what numbers, letters, powers, exponentials, logarithms and circular functions are; the
rules of differentiation stand here once. Exact quotients (`qbank.maths.exact`) and rigorous balls
(`qbank.maths.balls`) walk by the same rules, so a proof and a witness speak of the same function.

    tree --Walk(numbers, variable, bindings)--> value(tree), slope(tree)

A slope is the derivative with respect to the variable; None stands for one that is zero because the variable
does not occur, which saves work and avoids 0/0 at the ends of a domain.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any, ClassVar, Generic, TypeVar

from qbank.maths.exponents import exponent_value
from qbank.maths.expression import (
    Apply,
    Constant,
    Decimal,
    Differential,
    E,
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
    fraction,
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
        if found is not None:
            return found[1]
        value: T = self._VALUES[type(node)](self, node)
        self._values[id(node)] = node, value
        return value

    def _number(self, node: Integer | Decimal) -> T:
        return self.numbers.number(node.value)

    def _letter(self, node: Symbol) -> T:
        place = self._places.get(node) if self._places else None
        return self.numbers.letter(node.name) if place is None else place[0].value(place[1])

    def _constant(self, node: Constant) -> T:
        if node.name == "infinity":
            raise NotSettled("infinity is not a number")
        return self.numbers.pi() if node.name == "pi" else self.numbers.exp(self.numbers.number(1))

    def _product(self, node: Product) -> T:
        first, second, *others = node.factors
        result = self._times(self.value(second), first)
        for factor in others:
            result = self._times(result, factor)
        return result

    def _times(self, number: T, factor: Expression) -> T:
        """A number times a factor; a whole one, which every number system takes as it is, is not made a number first."""
        return number * (factor.value if isinstance(factor, Integer) else self.value(factor))

    def _negated(self, node: Negate) -> T:
        return -self.value(node.operand)

    def _root(self, node: Root) -> T:
        return self.numbers.power(self.value(node.radicand), fraction(1, node.index))

    def _sum(self, node: Sum) -> T:
        total = self.value(node.terms[0])
        for term in node.terms[1:]:
            # a subtracted term is one operation, not two
            total = total - self.value(term.operand) if isinstance(term, Negate) else total + self.value(term)
        return total

    def _quotient(self, node: Quotient) -> T:
        numerator, denominator = node.numerator, node.denominator
        if isinstance(denominator, Integer):
            under = denominator.value
            if isinstance(numerator, Integer) and under:
                return self.numbers.number(fraction(numerator.value, under))
            return self.value(numerator) / under
        return self.value(numerator) / self.value(denominator)

    def _apply(self, node: Apply) -> T:
        argument = node.argument
        if node.function == "ln" and isinstance(argument, Apply) and argument.function == "abs":
            return self.numbers.ln_absolute(self.value(argument.argument))
        found: T = FUNCTION_RULES[node.function][0](self.numbers, self.value(argument))
        return found

    def _between(self, node: Evaluated) -> T:
        over = self.at(node.variable, node.upper).value(node.antiderivative)
        return over - self.at(node.variable, node.lower).value(node.antiderivative)

    def _differential(self, node: Differential) -> T:
        slope = self.slope(node.variable)
        letter = f"d{self.variable.name}"
        return self.numbers.number(0) if slope is None else slope * self.numbers.letter(letter)

    def _integral(self, _: Integral) -> T:
        raise NotSettled(_UNDONE)

    def _power(self, node: Power) -> T:
        n, base, exponent = self.numbers, node.base, node.exponent
        if base == E:
            return n.exp(self.value(exponent))
        fixed = exponent_value(exponent)
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
        found: T | None = self._SLOPES[type(node)](self, node)
        return found

    def _no_slope(self, node: Expression) -> None:
        """That of a number."""

    def _letter_slope(self, node: Symbol) -> T | None:
        if self._places and node in self._places:
            walk, tree = self._places[node]
            return walk.slope(tree)
        return self.numbers.number(1) if node.name == self.variable.name else None

    def _sum_slope(self, node: Sum) -> T | None:
        return _total(map(self.slope, node.terms))

    def _negated_slope(self, node: Negate) -> T | None:
        inner = self.slope(node.operand)
        return None if inner is None else -inner

    def _root_slope(self, node: Root) -> T | None:
        inner, index = self.slope(node.radicand), node.index
        if inner is None:
            return None
        return inner * self.numbers.power(self.value(node.radicand), fraction(1 - index, index)) / index

    def _apply_slope(self, node: Apply) -> T | None:
        argument = node.argument
        if node.function == "ln" and isinstance(argument, Apply) and argument.function == "abs":
            # (ln|u|)' = u'/u: the sign of u is not needed
            argument = argument.argument
        inner = self.slope(argument)
        if inner is None:
            return None
        rate: T = FUNCTION_RULES[node.function][1](self.numbers, self.value(argument))
        return inner * rate

    def _integral_slope(self, node: Integral) -> T | None:
        if node.lower is not None:
            raise NotSettled(_UNDONE)
        inner = self.slope(node.variable)
        return None if inner is None else self.value(node.integrand) * inner

    def _between_slope(self, node: Evaluated) -> T | None:
        over = self.at(node.variable, node.upper).slope(node.antiderivative)
        under = self.at(node.variable, node.lower).slope(node.antiderivative)
        return _total((over, None if under is None else -under))

    def _differential_slope(self, _: Differential) -> T | None:
        raise NotSettled("a differential has no derivative here")

    def _product_slope(self, node: Product) -> T | None:
        """One factor after another, (u v)' = u' v + u v', so that the work grows with the number of factors only."""
        still: list[Expression] = []
        moving: list[tuple[Expression, T]] = []
        for factor in node.factors:
            slope = None if isinstance(factor, Integer) else self.slope(factor)
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
            total = self._times(total, factor)
        return total

    def _quotient_slope(self, node: Quotient) -> T | None:
        numerator, denominator = node.numerator, node.denominator
        if isinstance(denominator, Integer):
            inner = None if isinstance(numerator, Integer) else self.slope(numerator)
            return None if inner is None else inner / denominator.value
        if self._is_sign(numerator, denominator):
            return None
        over, under = self.slope(numerator), self.slope(denominator)
        if under is not None:
            under = -self.value(node) * under
        total = _total((over, under))
        return None if total is None else total / self.value(denominator)

    def _is_sign(self, numerator: Expression, denominator: Expression) -> bool:
        """Whether a quotient is |g|/g but for constants: its slope is 0 wherever it has a value."""
        over, under = _factors(numerator), _factors(denominator)
        for modulus in over:
            if isinstance(modulus, Apply) and modulus.function == "abs" and modulus.argument in under:
                moving = [factor for factor in (*over, *under) if self.slope(factor) is not None]
                return moving == [modulus, modulus.argument]
        return False

    def _power_slope(self, node: Power) -> T | None:
        n, base, exponent = self.numbers, node.base, node.exponent
        if base == E:
            inner = self.slope(exponent)
            return None if inner is None else inner * self.value(node)
        fixed = exponent_value(exponent)
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

    #: kind of node -> how its value is found
    _VALUES: ClassVar[dict[type[Expression], Callable[[Any, Any], Any]]] = {
        Integer: _number,
        Decimal: _number,
        Symbol: _letter,
        Constant: _constant,
        Sum: _sum,
        Product: _product,
        Negate: _negated,
        Quotient: _quotient,
        Power: _power,
        Root: _root,
        Apply: _apply,
        Integral: _integral,
        Evaluated: _between,
        Differential: _differential,
    }
    #: kind of node -> how its slope is found
    _SLOPES: ClassVar[dict[type[Expression], Callable[[Any, Any], Any]]] = {
        Integer: _no_slope,
        Decimal: _no_slope,
        Constant: _no_slope,
        Symbol: _letter_slope,
        Sum: _sum_slope,
        Product: _product_slope,
        Negate: _negated_slope,
        Quotient: _quotient_slope,
        Power: _power_slope,
        Root: _root_slope,
        Apply: _apply_slope,
        Integral: _integral_slope,
        Evaluated: _between_slope,
        Differential: _differential_slope,
    }


def _factors(tree: Expression) -> tuple[Expression, ...]:
    return tree.factors if isinstance(tree, Product) else (tree,)


def _total(terms: Iterable[T | None]) -> T | None:
    total: T | None = None
    for term in terms:
        if term is not None:
            total = term if total is None else total + term
    return total


_UNDONE = "an integral that is still to be done has no value here"
