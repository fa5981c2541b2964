"""An integrand in which a letter and the variable come together as squares: measured in units of the letter.

    sqrt(a^2 - x^2)          |a| sqrt(1 - s^2)            s = x/|a|
    a^2/(a^2 + x^2)^(3/2)    1/|a| 1/(1 + s^2)^(3/2)

On the way back each part of the antiderivative in s gets the power of |a| that belongs to its degree.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.constant_factor import ONE, number, split_constant, times
from qbank.maths.expression import (
    Apply,
    Expression,
    Power,
    Sum,
    Symbol,
    as_fraction,
    fraction,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.polynomial import polynomial_tree

__all__ = ["Scaling", "scaling"]

#: letters for the ratio, the first that does not occur is taken
_LETTERS = tuple(map(Symbol, ("s", "w", "y", "z", "t")))
_TWO = fraction(2, 1)


class NotHomogeneousError(Exception):
    """Something has no degree."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scaling:
    """`integrand dx = front outer ds` with `s = x/|a|`.

    Attributes:
        variable: x.
        scale: a.
        letter: s.
        bases: the sums of squares in s, each with the sum in x and a that it stands for.
        front: the constant in front.
        outer: the integrand in s.
    """

    variable: Symbol
    scale: Symbol
    letter: Symbol
    bases: tuple[tuple[Expression, Expression], ...]
    front: Factored
    outer: Expression

    @property
    def unit(self) -> Expression:
        """|a|."""
        return Apply("abs", self.scale)

    def put_back(self, in_letter: Expression) -> Expression:
        """An antiderivative in s written in x and a, the constant in front; a constant inside a logarithm is left out.

        Raises:
            NotHomogeneousError: a part has no degree.
        """
        terms = in_letter.terms if isinstance(in_letter, Sum) else (in_letter,)
        return sum_of(*(self._term(term) for term in terms))

    def _term(self, term: Expression) -> Expression:
        constant, moving = split_constant(term, self.letter)
        body = moving.tree()
        match body:
            case Apply("ln", Apply("abs", inside)):
                logarithm = Apply("ln", Apply("abs", self._homogeneous(inside)[1]))
                return times(self.front, constant, factored(logarithm)).tree()
            case Apply("ln", inside):
                logarithm = Apply("ln", self._homogeneous(inside)[1])
                return times(self.front, constant, factored(logarithm)).tree()
            case _:
                pass
        degree, tree = self._homogeneous(body)
        return times(_with_power(self.scale, self.front, -degree), constant, factored(tree)).tree()

    def _homogeneous(self, tree: Expression) -> tuple[Fraction, Expression]:
        """`(d, g)` where the tree is g in x and a, divided by |a|^d."""
        if self.letter not in tree.symbols():
            return fraction(0, 1), tree
        if tree == self.letter:
            return fraction(1, 1), self.variable
        for in_letter, in_variable in self.bases:
            if tree == in_letter:
                return _TWO, in_variable
        match tree:
            case Sum(terms):
                return self._sum(terms)
            case Apply(name, argument) if name != "ln":
                degree, inside = self._homogeneous(argument)
                below = _with_power(self.scale, ONE, -degree)
                return fraction(0, 1), Apply(name, times(factored(inside), below).tree())
            case Power(_, exponent) if as_fraction(exponent) is None:
                raise NotHomogeneousError
            case _:
                seen = factored(tree)
                if seen.powers == ((tree, fraction(1, 1)),):
                    raise NotHomogeneousError
        total, parts = fraction(0, 1), [number(seen.coefficient)]
        for base, n in seen.powers:
            degree, inside = self._homogeneous(base)
            total += degree * n
            if n.denominator == 1:
                known = factored(inside)
                parts.append(
                    Factored(
                        coefficient=known.coefficient ** int(n),
                        powers=tuple((b, e * n) for b, e in known.powers),
                    )
                )
            else:
                parts.append(Factored(coefficient=fraction(1, 1), powers=((inside, n),)))
        return total, times(*parts).tree()

    def _sum(self, terms: tuple[Expression, ...]) -> tuple[Fraction, Expression]:
        found = [self._homogeneous(term) for term in terms]
        highest = max(degree for degree, _ in found)
        raised = (
            times(_with_power(self.scale, ONE, highest - degree), factored(part)).tree()
            for degree, part in found
        )
        return highest, sum_of(*raised)


def scaling(integrand: Expression, variable: Symbol) -> Scaling | None:
    """The scaling of an integrand of this kind, else None.

    >>> from qbank.maths.expression import sqrt
    >>> x, a = Symbol("x"), Symbol("a")
    >>> found = scaling(sqrt(a**2 - x**2), x)
    >>> found.letter.name, found.outer == sqrt(1 - found.letter**2)
    ('s', True)
    """
    seen = factored(integrand)
    scale = next((a for base, _ in seen.powers if (a := _letter_of(base, variable)) is not None), None)
    letter = next((one for one in _LETTERS if one not in integrand.symbols() | {variable}), None)
    if scale is None or letter is None:
        return None
    front, degree, bases = [number(seen.coefficient)], fraction(1, 1), list[tuple[Expression, Expression]]()
    outer: list[Factored] = []
    for base, n in seen.powers:
        if variable not in base.symbols():
            front.append(Factored(coefficient=fraction(1, 1), powers=((base, n),)))
        elif base == variable and n.denominator == 1:
            degree += n
            outer.append(Factored(coefficient=fraction(1, 1), powers=((letter, n),)))
        else:
            numbers = _squares(base, variable, scale)
            if numbers is None:
                return None
            fixed, moving = numbers
            in_letter = polynomial_tree((fixed, fraction(0, 1), moving), letter)
            if fixed > 0 > moving:
                in_letter = sum_of(*reversed(in_letter.terms)) if isinstance(in_letter, Sum) else in_letter
            bases.append((in_letter, base))
            degree += 2 * n
            outer.append(Factored(coefficient=fraction(1, 1), powers=((in_letter, n),)))
    constant, rest = split_constant(times(*outer).tree(), letter)
    return Scaling(
        variable=variable,
        scale=scale,
        letter=letter,
        bases=tuple(bases),
        front=_with_power(scale, times(*front, constant), degree),
        outer=rest.tree(),
    )


def _with_power(scale: Symbol, constant: Factored, n: Fraction) -> Factored:
    """A constant times a power of |a|; the modulus stays where the power is odd."""
    unit = Apply("abs", scale)
    total = constant.exponent(unit) + n
    bare = constant.exponent(scale)
    if total % 2 and bare and bare % 2 == 0:
        total, bare = total + bare, fraction(0, 1)
    elif total % 2 == 0:
        total, bare = fraction(0, 1), bare + total
    known = constant.without(unit, scale)
    powers = tuple((base, m) for base, m in ((scale, bare), (unit, total)) if m)
    return times(known, Factored(coefficient=fraction(1, 1), powers=powers))


def _letter_of(base: Expression, variable: Symbol) -> Symbol | None:
    """The letter whose square is added to or taken from that of the variable."""
    if not isinstance(base, Sum) or variable not in base.symbols():
        return None
    fixed = [term for term in base.terms if variable not in term.symbols()]
    if len(fixed) != 1:
        return None
    powers = factored(fixed[0]).powers
    if len(powers) != 1 or powers[0][1] != _TWO or not isinstance(powers[0][0], Symbol):
        return None
    return powers[0][0]


def _squares(base: Expression, variable: Symbol, scale: Symbol) -> tuple[Fraction, Fraction] | None:
    """`(q, p)` of `q a^2 + p x^2`."""
    if not isinstance(base, Sum) or len(base.terms) != 2:
        return None
    found = dict[Expression, Fraction]()
    for term in base.terms:
        seen = factored(term)
        if len(seen.powers) != 1 or seen.powers[0][1] != _TWO:
            return None
        found[seen.powers[0][0]] = seen.coefficient
    return (found[scale], found[variable]) if set(found) == {scale, variable} else None
