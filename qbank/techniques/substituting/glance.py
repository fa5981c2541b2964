"""Parts of an integrand that are no g for u = g(x), told at a glance.

To find out whether a part g leaves f(g) beside g' takes a derivative and a division. Most parts need neither:

    2x + 1                g' is a constant
    x^2 in x^2 e^x        2x leaves x behind, which is no whole power of x^2
    sin x beside x        x stands outside the sines and cosines, where neither g nor g' reaches it
    x^2 + 1 beside e^x    x is left in a function of x itself, and in g' there is no function
    x^2 + 3x beside x     2x + 3 is no factor of the integrand, and cannot be written with x^2 + 3x
    arctan x alone        the same of 1 + x^2
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cached_property, lru_cache

from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Negate,
    Number,
    Power,
    Product,
    Root,
    Sum,
    Symbol,
    as_fraction,
    fraction,
)
from qbank.maths.factors import Factored
from qbank.maths.functions import FUNCTIONS
from qbank.maths.letter_exponents import has_letter_exponent
from qbank.maths.polynomial import as_polynomial
from qbank.maths.tidying import tidy
from qbank.techniques.standard.linear_inner import is_linear_by_looks
from qbank.techniques.standard.standard_functions import FUNCTION_POWERS
from qbank.techniques.substituting.atoms import Atoms, atoms_of, atoms_of_derivative, atoms_of_product
from qbank.techniques.substituting.canonical import ordered

__all__ = ["Glance"]

_ONE = fraction(1, 1)
_FAMILIES = frozenset(("circular", "exponential"))


class Glance:
    """An integrand looked at once, for all its parts.

    Args:
        whole: the integrand as a product in the form for comparing.
        variable: the variable.

    >>> from qbank.maths.expression import sin
    >>> from qbank.techniques.substituting.canonical import canonical
    >>> x = Symbol("x")
    >>> glance = Glance(canonical(x * sin(x**2), x), x)
    >>> glance.is_useless(sin(x**2)), glance.is_useless(x**2)
    (True, False)
    """

    def __init__(self, whole: Factored, variable: Symbol) -> None:
        self._whole, self._variable = whole, variable

    def is_useless(self, part: Expression) -> bool:
        """Whether a part is certainly no g: more would be left than a function of it beside its derivative."""
        if self._has_letter_powers:
            return False
        if isinstance(part, Negate):
            return self.is_useless(part.operand)
        if is_linear_by_looks(part, self._variable):
            return True
        is_power = isinstance(part, Power) and as_fraction(part.exponent) is not None
        bare: Expression = part.base if is_power else part  # type: ignore[attr-defined]
        if self._is_alone(bare) or self._leaves_polynomial(bare):
            return True
        function = self._function(bare)
        if function is not None:
            family, argument = function
            if is_linear_by_looks(argument, self._variable) and family in self._seen[0]:
                return True
        elif self._seen[1] and not self._is_root(part) and not any(map(self._function, part.walk())):
            return True
        return self._leaves_atoms(part)

    def _is_alone(self, part: Expression) -> bool:
        """Whether it is such a function as `ln x`, and the integrand is nothing but one: g' stands nowhere in it."""
        powers = self._whole.powers
        return len(powers) == 1 and _has_other_slope(part) and _has_other_slope(powers[0][0])

    def _leaves_polynomial(self, part: Expression) -> bool:
        """Whether it is a polynomial, or the root of one, with a sum in its derivative that is no factor of the integrand."""
        bracket = part.radicand if isinstance(part, Root) else part
        whole = as_polynomial(bracket, self._variable) if isinstance(bracket, Sum | Product) else None
        if whole is None:
            return False
        slope = _without_front(tuple([n * c for n, c in enumerate(whole)][1:]))
        return len(slope) > 1 and slope not in self._polynomials

    @cached_property
    def _polynomials(self) -> frozenset[tuple[Fraction, ...]]:
        """The polynomials among the factors."""
        seen = [
            as_polynomial(base, self._variable) for base, _ in self._whole.powers if isinstance(base, Sum)
        ]
        return frozenset([_without_front(one) for one in seen if one])

    def _leaves_atoms(self, part: Expression) -> bool:
        """Whether something of the integrand is neither used up by g' nor a whole power of g, or nothing is left."""
        told = _told(part, self._variable)
        if told is None:
            return False
        slope, own = told
        left = dict(self._atoms.powers)
        for atom, n in slope.powers.items():
            left[atom] = left.get(atom, 0) - n
        times: Number = 0
        if own:
            first, size = own[0]
            times = _ONE * left.get(first, 0) / size
            loose = first == self._variable and self._has_loose
            if times.denominator != 1 and not loose and not (len(own) == 1 and size == 1):
                return True
            for atom, n in own:
                left[atom] = left.get(atom, 0) - n * times
        rest = [atom for atom, n in left.items() if n]
        if not rest and not times:
            return self._atoms.complete and slope.complete
        return any(self._is_beyond(atom, part) for atom in rest)

    def _is_beyond(self, atom: Expression, part: Expression) -> bool:
        """Whether an atom certainly cannot be written with g alone."""
        if atom == self._variable:
            return not self._has_loose
        argument = atom.exponent if isinstance(atom, Power) else atom.children[0]
        if is_linear_by_looks(argument, self._variable):
            return not self._is_root(part)
        return isinstance(part, Apply) and part.argument == argument

    @cached_property
    def _has_letter_powers(self) -> bool:
        """Whether a power has a letter for exponent: nothing is told of those."""
        return any(
            has_letter_exponent(node, self._variable)
            for base, _ in self._whole.powers
            for node in base.walk()
        )

    @cached_property
    def _has_loose(self) -> bool:
        return any(_is_loose(base, self._variable) for base, _ in self._whole.powers)

    @cached_property
    def _atoms(self) -> Atoms:
        return atoms_of_product(self._whole, self._variable)

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


def _has_other_slope(tree: Expression) -> bool:
    """Whether it is a function with a derivative that is none: a logarithm or an inverse function."""
    return isinstance(tree, Apply) and FUNCTIONS[tree.function].inverse_of is not None


def _without_front(polynomial: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
    """Its coefficients without the number, and without the power of the variable, in front."""
    low = next((n for n, c in enumerate(polynomial) if c), 0)
    return tuple([c / polynomial[-1] for c in polynomial[low:]])


def _is_loose(tree: Expression, variable: Symbol) -> bool:
    """Whether it is a sum of which a power of the variable might be taken out."""
    return isinstance(tree, Sum) and all(variable in term.symbols() for term in tree.terms)


@lru_cache(maxsize=1024)
def _told(part: Expression, variable: Symbol) -> tuple[Atoms, tuple[tuple[Expression, Number], ...]] | None:
    """The atoms of the derivative of a part, and of the part itself; None when they cannot be told."""
    part = ordered(tidy(part))
    slope = atoms_of_derivative(part, variable)
    if slope is None or any(_is_loose(node, variable) for node in part.walk()):
        return None
    return slope, tuple(atoms_of(part, variable).powers.items())
