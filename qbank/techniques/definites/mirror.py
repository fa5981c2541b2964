"""A function with its letter x replaced by c - x, as a teacher writes it: sin(pi/2 - x) is cos x at once."""

from __future__ import annotations

from dataclasses import dataclass

from qbank.maths.deciding import exact_value
from qbank.maths.expression import (
    PI,
    Apply,
    Expression,
    Integer,
    Negate,
    Power,
    Quotient,
    Sum,
    Symbol,
    as_fraction,
    product,
    rational,
    sum_of,
)
from qbank.maths.tidying import scaled, split_coefficient
from qbank.techniques.definite import pi_over

__all__ = ["Mirror", "linear"]

_NOUGHT = Integer(0)
#: sin(quarter turns - x) and the like: quarter turns modulo 4 -> function, sign
_TURNED = {
    ("sin", 1): ("cos", 1),
    ("sin", 2): ("sin", 1),
    ("sin", 3): ("cos", -1),
    ("sin", 0): ("sin", -1),
    ("cos", 1): ("sin", 1),
    ("cos", 2): ("cos", -1),
    ("cos", 3): ("sin", -1),
    ("cos", 0): ("cos", 1),
    ("tan", 1): ("cot", 1),
    ("tan", 0): ("tan", -1),
    ("cot", 1): ("tan", 1),
    ("cot", 0): ("cot", -1),
}


@dataclass(frozen=True, slots=True)
class Mirror:
    """The replacement of a letter by a number less the letter.

    Attributes:
        variable: the letter.
        total: the number, from which it is subtracted.
    """

    variable: Symbol
    total: Expression

    def of(self, tree: Expression) -> Expression:
        """A tree with the letter replaced.

        >>> from qbank.maths.expression import sin
        >>> x = Symbol("x")
        >>> Mirror(x, PI / 2).of(sin(x) ** 3)
        Power(base=Apply(function='cos', argument=Symbol(name='x')), exponent=Integer(value=3))
        >>> Mirror(x, Integer(4)).of(4 - x)
        Symbol(name='x')
        """
        if self.variable not in tree.symbols():
            return tree
        line = linear(tree, self.variable)
        if line is not None:
            slope, shift = line
            return self._written(Negate(slope), sum_of(shift, product(slope, self.total)))
        if isinstance(tree, Apply):
            turned = self._turned(tree)
            if turned is not None:
                return turned
        changed = tree.rebuild(self.of)
        if isinstance(changed, Power) and isinstance(changed.base, Negate):
            exponent = as_fraction(changed.exponent)
            if exponent is not None and exponent % 2 == 0:
                return Power(changed.base.operand, changed.exponent)
        return changed

    def _turned(self, tree: Apply) -> Expression | None:
        """A circular function of a multiple of the letter, when the number makes quarter turns of it."""
        line = linear(tree.argument, self.variable)
        if line is None or exact_value(line[1]) != _NOUGHT:
            return None
        quarters = as_fraction(exact_value(Quotient(product(line[0], self.total, Integer(2)), PI)))
        if quarters is None or quarters.denominator != 1:
            return None
        # tangent and cotangent repeat after two quarter turns
        turns = int(quarters) % (2 if tree.function in ("tan", "cot") else 4)
        found = _TURNED.get((tree.function, turns))
        if found is None:
            return None
        function, sign = found
        turned = Apply(function, tree.argument)
        return turned if sign > 0 else Negate(turned)

    def _written(self, slope: Expression, shift: Expression) -> Expression:
        """A line with its constant in front, when that is what makes it begin without a minus."""
        size, constant = as_fraction(exact_value(slope)), pi_over(exact_value(shift))
        assert size is not None
        moving = scaled(size, self.variable)
        if constant == _NOUGHT:
            return moving
        return sum_of(constant, moving) if size < 0 else sum_of(moving, constant)


def linear(tree: Expression, variable: Symbol) -> tuple[Expression, Expression] | None:
    """Slope and shift of `m x + n` with a rational slope, of the terms as they are written; None for anything else.

    >>> x = Symbol("x")
    >>> linear(PI - 2 * x, x)
    (Negate(operand=Integer(value=2)), Constant(name='pi'))
    """
    slope, shift = rational(0), list[Expression]()
    for term in tree.terms if isinstance(tree, Sum) else (tree,):
        size, body = split_coefficient(term)
        if body == variable:
            total = as_fraction(exact_value(sum_of(slope, rational(size))))
            assert total is not None
            slope = rational(total)
        elif variable in term.symbols():
            return None
        else:
            shift.append(term)
    return None if slope == _NOUGHT else (slope, sum_of(*shift))
