"""Parts of an integrand that are no g for u = g(x), told at a glance.

To find out whether a part g leaves f(g) beside g' takes a derivative and a division. Most parts need neither:

    2x + 1                g' is a constant
    x^2 beside x^2 ...    beside 2x a power x^1 is left, which is no power of x^2
    sin x beside x        x stands outside the sines and cosines, where neither g nor g' reaches it
    x^2 + 1 beside e^x    x is left in a function of x itself, and in g' there is no function
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from qbank.maths.expression import Apply, Expression, Integer, Negate, Power, Root, Symbol, as_fraction
from qbank.maths.factors import Factored
from qbank.maths.polynomial import as_monomial
from qbank.techniques.standard.linear_inner import is_linear_by_looks
from qbank.techniques.standard.standard_functions import FUNCTION_POWERS

__all__ = ["Glance"]

_FAMILIES = frozenset(("circular", "exponential"))


class Glance:
    """An integrand looked at once, for all its parts.

    Args:
        whole: the integrand as a product in the form for comparing.
        variable: the variable.

    >>> from qbank.maths.expression import sin
    >>> from qbank.techniques.substituting.canonical import canonical
    >>> x = Symbol("x")
    >>> glance = Glance(canonical(x * sin(x), x), x)
    >>> glance.is_useless(sin(x)), glance.is_useless(sin(x**2))
    (True, False)
    """

    def __init__(self, whole: Factored, variable: Symbol) -> None:
        self._whole, self._variable = whole, variable

    def is_useless(self, part: Expression) -> bool:
        """Whether a part is certainly no g: more would be left than a function of it beside its derivative."""
        if isinstance(part, Negate):
            return self.is_useless(part.operand)
        if is_linear_by_looks(part, self._variable):
            return True
        is_power = isinstance(part, Power) and as_fraction(part.exponent) is not None
        function = self._function(part.base if is_power else part)  # type: ignore[attr-defined]
        if function is not None:
            family, argument = function
            return is_linear_by_looks(argument, self._variable) and family in self._seen[0]
        if any(self._function(node) for node in part.walk()):
            return False
        return self._leaves_a_power(part) or (self._seen[1] and not self._is_root(part))

    def _leaves_a_power(self, part: Expression) -> bool:
        monomial = as_monomial(part)
        if monomial is None or monomial[1] != self._variable:
            return False
        return ((self._whole.exponent(self._variable) + 1) / monomial[2]).denominator != 1

    def _is_root(self, part: Expression) -> bool:
        """Whether it is a power of the variable by which the variable itself might be written."""
        match part:
            case Root(base) | Power(base, _) if base == self._variable:
                return not isinstance(part, Power) or not isinstance(part.exponent, Integer)
            case _:
                return False

    def _function(self, node: Expression) -> tuple[str, Expression] | None:
        """The family of a function of the variable, and its argument."""
        match node:
            case Apply(name, argument) if self._variable in argument.symbols():
                return (
                    "circular" if name in FUNCTION_POWERS else "exponential" if name == "exp" else name,
                    argument,
                )
            case Power(base, exponent) if self._variable in exponent.symbols():
                return "power" if self._variable in base.symbols() else "exponential", exponent
            case _:
                return None

    @cached_property
    def _seen(self) -> tuple[frozenset[str], bool]:
        """The families outside whose functions the variable stands, and whether it stands in a function of a line."""
        places = [place for base, _ in self._whole.powers for place in self._places(base, (), of_line=False)]
        within = (frozenset(families) for families, _ in places)
        return _FAMILIES - _FAMILIES.intersection(*within), any(of_line for _, of_line in places)

    def _places(
        self, tree: Expression, families: tuple[str, ...], *, of_line: bool
    ) -> Iterator[tuple[tuple[str, ...], bool]]:
        """For each place of the variable: the families of the functions around it, and whether one is of a line."""
        if tree == self._variable:
            yield families, of_line
            return
        function = self._function(tree)
        if function is not None:
            families = (*families, function[0])
            of_line = of_line or is_linear_by_looks(function[1], self._variable)
        for child in tree.children:
            yield from self._places(child, families, of_line=of_line)
