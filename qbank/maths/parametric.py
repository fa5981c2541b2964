"""Numbers with letters in them: quotients of polynomials in letters, reckoned exactly and written in factors.

    (a + b x)^2/(2 a)    as a polynomial in x: a/2, b, b^2/(2a)

The letters stand for any numbers; a quotient is what it is where its denominator is not zero. The arithmetic is FLINT's.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import cache
from typing import Any, TypeAlias

from flint import Ordering, fmpz_mpoly_ctx

from qbank.maths.expression import (
    Constant,
    Expression,
    Negate,
    Power,
    Product,
    Quotient,
    Sum,
    Symbol,
    as_fraction,
    fraction,
    sum_of,
)
from qbank.maths.factors import Factored

__all__ = ["Letters", "Parametric", "TooLargeError"]

_Polynomial: TypeAlias = Any  # fmpz_mpoly: python-flint carries no types

#: higher powers, and polynomials of more terms, are nobody's exercise
_POWER_LIMIT, _TERM_LIMIT = 12, 80


class TooLargeError(Exception):
    """A polynomial has grown beyond what anybody sets."""


@cache
def _ring(size: int) -> Any:
    return fmpz_mpoly_ctx.get([f"g{place}" for place in range(size)], Ordering.lex)


class Parametric:
    """A quotient of polynomials in letters, in lowest terms; immutable."""

    __slots__ = ("den", "letters", "num")

    def __init__(self, letters: Letters, num: _Polynomial, den: _Polynomial) -> None:
        if len(num) + len(den) > _TERM_LIMIT:
            raise TooLargeError
        common = num.gcd(den)
        num, den = num // common, den // common
        sign = -1 if den.leading_coefficient() < 0 else 1
        self.letters, self.num, self.den = letters, num * sign, den * sign

    def __repr__(self) -> str:
        return f"Parametric({self.num}, {self.den})"

    def __bool__(self) -> bool:
        return bool(self.num)

    def __eq__(self, other: object) -> bool:
        if isinstance(other, int | Fraction):
            other = self.letters.number(other)
        return isinstance(other, Parametric) and bool(self.num == other.num and self.den == other.den)

    def __hash__(self) -> int:
        return hash((str(self.num), str(self.den)))

    def __add__(self, other: Parametric | Fraction | int) -> Parametric:
        right = self._same(other)
        return Parametric(self.letters, self.num * right.den + right.num * self.den, self.den * right.den)

    def __sub__(self, other: Parametric | Fraction | int) -> Parametric:
        return self + -self._same(other)

    def __mul__(self, other: Parametric | Fraction | int) -> Parametric:
        right = self._same(other)
        return Parametric(self.letters, self.num * right.num, self.den * right.den)

    def __truediv__(self, other: Parametric | Fraction | int) -> Parametric:
        right = self._same(other)
        if not right:
            raise ZeroDivisionError
        return Parametric(self.letters, self.num * right.den, self.den * right.num)

    def __neg__(self) -> Parametric:
        return Parametric(self.letters, -self.num, self.den)

    __radd__, __rmul__ = __add__, __mul__

    def _same(self, other: Parametric | Fraction | int) -> Parametric:
        return other if isinstance(other, Parametric) else self.letters.number(other)

    @property
    def denominator(self) -> Parametric:
        """What stands below the line."""
        return Parametric(self.letters, self.den, self.den.context().constant(1))

    def as_fraction(self) -> Fraction | None:
        """The rational number that it is, else None."""
        if not self.num.is_constant() or not self.den.is_constant():
            return None
        return Fraction(
            int(self.num.leading_coefficient()) if self.num else 0, int(self.den.leading_coefficient())
        )

    def factored(self) -> Factored:
        """As a number times powers of factors, to stand in front of something.

        >>> a = Symbol("a")
        >>> Letters((a,)).read((a**2 + a) / 2).factored().powers == ((a, 1), (a + 1, 1))
        True
        """
        if not self.num:
            return Factored(coefficient=fraction(0, 1), powers=())
        above, below = self.num.factor(), self.den.factor()
        powers = [(self.letters.tree(base), fraction(n, 1)) for base, n in above[1]]
        powers += [(self.letters.tree(base), fraction(-n, 1)) for base, n in below[1]]
        return Factored(coefficient=fraction(int(above[0]), int(below[0])), powers=tuple(powers))

    def tree(self) -> Expression:
        """Written with one fraction line, the numerator multiplied out where it is a sum."""
        seen = self.factored()
        sums = sum(isinstance(base, Sum) for base, n in seen.powers if n > 0)
        if not sums or not self.den.is_constant() or int(self.den.leading_coefficient()) != 1:
            return seen.tree()
        return self.letters.tree(self.num)


class Letters:
    """The letters that occur, and what is read with them.

    Args:
        atoms: letters and constants such as pi, all different; what comes first is written first.
    """

    def __init__(self, atoms: Sequence[Expression]) -> None:
        self.atoms = tuple(atoms)
        self._ring = _ring(max(len(self.atoms), 1))
        self._one = self._ring.constant(1)

    def number(self, value: Fraction | int) -> Parametric:
        """A rational number."""
        seen = Fraction(value)
        return Parametric(self, self._ring.constant(seen.numerator), self._ring.constant(seen.denominator))

    def read(self, tree: Expression) -> Parametric | None:
        """An expression made of the letters by the four operations and whole powers, else None.

        >>> a, b = Symbol("a"), Symbol("b")
        >>> Letters((a, b)).read((a**2 - b**2) / (a - b)).tree() == a + b
        True
        """
        try:
            return self._read(tree)
        except (TooLargeError, ZeroDivisionError):
            return None

    def _read(self, tree: Expression) -> Parametric | None:
        value = as_fraction(tree)
        if value is not None:
            return self.number(value)
        if isinstance(tree, Symbol | Constant):
            if tree not in self.atoms:
                return None
            return Parametric(self, self._ring.gen(self.atoms.index(tree)), self._one)
        parts = [self._read(child) for child in tree.children]
        known = [part for part in parts if part is not None]
        if len(known) < len(parts) or not known:
            return None
        match tree:
            case Sum() | Product():
                whole = known[0]
                for part in known[1:]:
                    whole = whole + part if isinstance(tree, Sum) else whole * part
                return whole
            case Negate():
                return -known[0]
            case Quotient():
                return known[0] / known[1]
            case Power():
                return self._power(known[0], known[1].as_fraction())
            case _:
                return None

    def _power(self, base: Parametric, exponent: Fraction | None) -> Parametric | None:
        if exponent is None or exponent.denominator != 1 or abs(exponent) > _POWER_LIMIT:
            return None
        whole = self.number(1)
        for _ in range(abs(int(exponent))):
            whole = whole * base
        return self.number(1) / whole if exponent < 0 else whole

    def polynomial(self, tree: Expression, variable: Symbol) -> tuple[Parametric, ...] | None:
        """The coefficients of a polynomial in one of the letters, lowest first; None for anything else.

        >>> a, x = Symbol("a"), Symbol("x")
        >>> [c.tree() == w for c, w in zip(Letters((a, x)).polynomial((a + x) ** 2, x), (a**2, 2 * a))]
        [True, True]
        """
        seen = self.read(tree)
        return None if seen is None else self.coefficients(seen, variable)

    def coefficients(self, seen: Parametric, variable: Symbol) -> tuple[Parametric, ...] | None:
        """The same of what has been read."""
        place = self.atoms.index(variable)
        if seen.den.degrees()[place]:
            return None
        terms: dict[int, dict[tuple[int, ...], int]] = {}
        for exponents, c in seen.num.to_dict().items():
            rest = tuple(0 if i == place else int(n) for i, n in enumerate(exponents))
            terms.setdefault(int(exponents[place]), {})[rest] = c
        size = max(terms, default=-1) + 1
        polynomials = (self._ring.from_dict(terms.get(degree, {})) for degree in range(size))
        return tuple(Parametric(self, one, seen.den) for one in polynomials)

    def factors(self, seen: Parametric) -> tuple[tuple[Parametric, int], ...]:
        """The irreducible factors of a numerator, numbers left out, with their exponents."""
        return tuple((Parametric(self, base, self._one), int(n)) for base, n in seen.num.factor()[1])

    def tree(self, polynomial: _Polynomial) -> Expression:
        """A polynomial as it is written by hand: in the order of the letters, but a term without a minus sign first."""
        terms = [(exponents, int(c)) for exponents, c in polynomial.to_dict().items()]
        first = next((place for place, (_, c) in enumerate(terms) if c > 0), 0)
        ordered = (terms[first], *terms[:first], *terms[first + 1 :])
        return sum_of(*(self._term(exponents, c) for exponents, c in ordered))

    def _term(self, exponents: tuple[Any, ...], coefficient: int) -> Expression:
        powers = tuple(
            (atom, fraction(int(n), 1)) for atom, n in zip(self.atoms, exponents, strict=False) if n
        )
        return Factored(coefficient=fraction(coefficient, 1), powers=powers).tree()
