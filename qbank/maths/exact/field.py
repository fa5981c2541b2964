"""Elements of the exact system: quotients of integer polynomials in generators tied by relations.

A generator is made when it is first needed and stands for a real number or function: the variable, a letter, pi,
a root, the tangent of a half angle, an exponential, a logarithm. Later generators are larger in the lexicographic
order, and a relation says what a power of a generator is in terms of earlier ones (`r^2 = x`), so that reducing
a polynomial once from the latest generator to the earliest leaves a normal form modulo all relations.

Cost is bounded beforehand: a product, power or cancellation that would grow past the limits raises `NotSettled`
instead of being tried, and so does any step after the deadline.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import comb
from typing import Any

from flint import Ordering, fmpz_mpoly_ctx

from qbank.maths.clock import Deadline
from qbank.maths.number_system import NotSettled, Undefined
from qbank.maths.rationals import fraction

__all__ = ["Element", "Field", "Generator", "OutOfGenerators", "Polynomial", "ring"]

Polynomial = Any  # fmpz_mpoly: python-flint carries no types

#: bounds on one operation: terms of a result, terms going into a greatest common divisor, bits of a number
MOST_TERMS = 6000
MOST_PAIRS = 300_000
MOST_GCD_TERMS = 700
MOST_BITS = 60_000
#: pairs of terms multiplied between two looks at the clock
UNCHECKED_PAIRS = 2000


class OutOfGenerators(Exception):  # noqa: N818 - a signal between the system and its caller
    """The context has no generator left: start again in a larger one."""


@cache
def ring(size: int) -> Any:
    """The ring of polynomials in so many generators g0 > g1 > ..."""
    return fmpz_mpoly_ctx.get([f"g{place}" for place in range(size)], Ordering.lex)


@dataclass(frozen=True, slots=True, kw_only=True)
class Generator:
    """One generator.

    Attributes:
        index: its place in the context; the lower, the larger in the order.
        kind: `letter`, `pi`, `half tangent`, `exponential`, `root`, `sign`, `logarithm`, `arctan`, `arcsin`, ...
        meaning: the element it was made from, None for a letter and pi.
        unit: the rational number that goes with `meaning` (an angle is `unit * meaning`), else 1.
        constant: whether it is a number, free of all letters.
        positive: whether it takes positive values only.
    """

    index: int
    kind: str
    meaning: Any
    unit: Fraction = Fraction(1)
    constant: bool = False
    positive: bool = False


class Field:
    """The generators in use, their relations, and the bounds on cost.

    Args:
        size: how many generators there is room for.
        deadline: when work stops.
    """

    def __init__(self, size: int, deadline: Deadline) -> None:
        self.size = size
        self.deadline = deadline
        self.context = ring(size)
        self.generators: list[Generator] = []
        #: index -> (degree, polynomial that is zero and whose leading term is that power of the generator)
        self.relations: dict[int, tuple[int, Polynomial]] = {}
        self._order: list[int] = []
        self._unchecked = UNCHECKED_PAIRS
        self.one_polynomial = self.context.constant(1)
        self.zero = Element(self, self.context.constant(0), self.one_polynomial)
        self.one = Element(self, self.one_polynomial, self.one_polynomial)

    def number(self, value: Fraction | int) -> Element:
        """A rational number as an element."""
        if isinstance(value, int):
            if value == 1:
                return self.one
            return Element(self, self.context.constant(value), self.one_polynomial)
        return Element(self, self.context.constant(value.numerator), self.context.constant(value.denominator))

    def add_generator(self, kind: str, meaning: Any = None, **facts: Any) -> Generator:
        """Make the next generator, larger than all before it."""
        index = self.size - 1 - len(self.generators)
        if index < 0:
            raise OutOfGenerators
        generator = Generator(index=index, kind=kind, meaning=meaning, **facts)
        self.generators.append(generator)
        return generator

    def generator_at(self, index: int) -> Generator:
        """The generator with this index in the context."""
        return self.generators[self.size - 1 - index]

    def find(self, kind: str, matches: Callable[[Generator], bool]) -> Generator | None:
        """The generator of a kind for which `matches` holds."""
        return next((g for g in self.generators if g.kind == kind and matches(g)), None)

    def element(self, generator: Generator) -> Element:
        """A generator as an element."""
        return Element(self, self.context.gen(generator.index), self.one_polynomial)

    def relate(self, generator: Generator, degree: int, polynomial: Polynomial) -> None:
        """State that a polynomial, led by a power of the generator, is zero."""
        self.relations[generator.index] = (degree, polynomial)
        self._order = sorted(self.relations)

    def reduce(self, polynomial: Polynomial) -> Polynomial:
        """The normal form of a polynomial modulo the relations."""
        if not self._order:
            return polynomial
        degrees = polynomial.degrees()
        for index in self._order:
            degree, relation = self.relations[index]
            if degrees[index] >= degree:
                self.check_product(polynomial, relation, degrees[index])
                polynomial = polynomial % relation
                degrees = polynomial.degrees()
        return polynomial

    def check_time(self) -> None:
        """Stop when the budget is used up."""
        if self.deadline.passed():
            raise NotSettled("the time budget is used up")

    def check_product(self, left: Polynomial, right: Polynomial, times: int = 1) -> None:
        """Refuse a product that would be too large, and look at the clock now and then: that costs time too."""
        pairs = len(left) * len(right) * times
        if pairs > MOST_PAIRS:
            raise NotSettled("the expanded form grows too large")
        self._unchecked += pairs + 10
        if self._unchecked > UNCHECKED_PAIRS:
            self._unchecked = 0
            self.check_time()

    def times(self, left: Polynomial, right: Polynomial) -> Polynomial:
        """The reduced product of two polynomials."""
        self.check_product(left, right)
        result = left * right
        if self._order:
            result = self.reduce(result)
        if len(result) > MOST_TERMS:
            raise NotSettled("the expanded form grows too large")
        return result

    def gcd(self, left: Polynomial, right: Polynomial) -> Polynomial:
        """The greatest common divisor, of polynomials small enough to ask for it."""
        if len(left) + len(right) > MOST_GCD_TERMS and min(len(left), len(right)) > 1:
            raise NotSettled("the expanded form grows too large")
        return left.gcd(right)

    def cancelled(self, num: Polynomial, den: Polynomial) -> tuple[Polynomial, Polynomial]:
        """Two polynomials without their common factor."""
        if den.is_one() or num.is_one():
            return num, den
        common = self.gcd(num, den)
        return (num, den) if common.is_one() else (num // common, den // common)

    def quotient(self, num: Polynomial, den: Polynomial) -> Element:
        """The element num/den in lowest terms, the leading number of `den` positive.

        Raises:
            Undefined: when `den` is zero.
        """
        if not den:
            raise Undefined("division by zero")
        if not num:
            return self.zero
        if den.is_one():
            return Element(self, num, den)
        if self._order and not den.is_constant():
            num, den = self._clear_monomial(num, den)
        num, den = self.cancelled(num, den)
        if den.leading_coefficient() < 0:
            num, den = -num, -den
        return Element(self, num, den)

    def _clear_monomial(self, num: Polynomial, den: Polynomial) -> tuple[Polynomial, Polynomial]:
        """Multiply up so that no root or sign divides the denominator: `1/r` becomes `r/x` when `r^2 = x`."""
        powers = den.term_content().degrees()
        for index in self._order:
            degree, _ = self.relations[index]
            if powers[index]:
                missing = self.context.gen(index) ** (degree - powers[index] % degree)
                num, den = self.times(num, missing), self.times(den, missing)
                if not den:
                    raise Undefined("division by zero")
                powers = den.term_content().degrees()
        return num, den


class Element:
    """A quotient of two polynomials; immutable. Two forms of one function differ at most by the relations."""

    __slots__ = ("den", "field", "num")

    def __init__(self, field: Field, num: Polynomial, den: Polynomial) -> None:
        self.field = field
        self.num = num
        self.den = den

    def __repr__(self) -> str:
        return f"({self.num})/({self.den})"

    def is_zero(self) -> bool:
        """Whether it is zero modulo the relations known now."""
        return not self.num or not self.field.reduce(self.num)

    def same(self, other: Element) -> bool:
        """Whether two elements are equal modulo the relations known now."""
        if self.den == other.den:
            return bool(self.num == other.num) or (self - other).is_zero()
        field = self.field
        left, right = field.times(self.num, other.den), field.times(other.num, self.den)
        return bool(left == right) or not field.reduce(left - right)

    def as_fraction(self) -> Fraction | None:
        """The rational number it is, else None."""
        if self.num.is_constant() and self.den.is_constant():
            return (
                Fraction(int(self.num.leading_coefficient()), int(self.den.leading_coefficient()))
                if self.num
                else fraction(0, 1)
            )
        return None

    def is_constant(self) -> bool:
        """Whether it is a number, free of all letters."""
        return all(generator.constant for generator in self.used())

    def used(self) -> list[Generator]:
        """The generators that occur."""
        above, below = self.num.degrees(), self.den.degrees()
        return [g for g in self.field.generators if above[g.index] or below[g.index]]

    def __neg__(self) -> Element:
        return Element(self.field, -self.num, self.den)

    def __add__(self, other: Element | int) -> Element:
        if isinstance(other, int):
            return Element(self.field, self.num + self.den * other, self.den)
        field = self.field
        if self.den == other.den:
            return field.quotient(self.num + other.num, self.den)
        if self.den.is_one():
            return Element(field, field.times(self.num, other.den) + other.num, other.den)
        if other.den.is_one():
            return Element(field, field.times(other.num, self.den) + self.num, self.den)
        common = field.gcd(self.den, other.den)
        mine, theirs = self.den // common, other.den // common
        num = field.times(self.num, theirs) + field.times(other.num, mine)
        return field.quotient(num, field.times(mine, other.den))

    __radd__ = __add__

    def __sub__(self, other: Element | int) -> Element:
        return self + (-other)

    def __rsub__(self, other: int) -> Element:
        return -self + other

    def __mul__(self, other: Element | int) -> Element:
        field = self.field
        if isinstance(other, int):
            other = field.number(other)
        if not self.num or not other.num:
            return field.zero
        if other is field.one:
            return self
        if self is field.one:
            return other
        a, b, c, d = self.num, self.den, other.num, other.den
        whole = b.is_one() and d.is_one()
        if not whole:
            a, d = field.cancelled(a, d)
            c, b = field.cancelled(c, b)
        num = field.times(a, c)
        if whole or (b.is_one() and d.is_one()):
            return Element(field, num, b)
        den = field.times(b, d)
        if field.relations:
            return field.quotient(num, den)
        return Element(field, num, den)

    __rmul__ = __mul__

    def inverse(self) -> Element:
        """One over it.

        Raises:
            Undefined: when it is zero.
        """
        field = self.field
        num = field.reduce(self.num)
        if not num:
            raise Undefined("division by zero")
        return field.quotient(self.den, num)

    def __truediv__(self, other: Element | int) -> Element:
        if isinstance(other, int):
            return self._over(other)
        return self * other.inverse()

    def _over(self, number: int) -> Element:
        """A whole number below."""
        field = self.field
        if not number:
            raise Undefined("division by zero")
        return field.quotient(self.num, self.den * number)

    def __rtruediv__(self, other: int) -> Element:
        return self.inverse() * other

    def to_the(self, exponent: int) -> Element:
        """A whole power."""
        if exponent < 0:
            return self.inverse().to_the(-exponent)
        field = self.field
        num, den = _power(field, self.num, exponent), _power(field, self.den, exponent)
        return field.quotient(num, den) if field.relations else Element(field, num, den)


def _power(field: Field, base: Polynomial, exponent: int) -> Polynomial:
    terms = len(base)
    if terms == 0 or exponent == 0:
        return field.context.constant(int(exponent == 0))
    if base.is_one() or exponent == 1:
        return base
    bits = max(abs(c).bit_length() for c in map(int, base.coeffs())) + terms.bit_length()
    if exponent > MOST_BITS or bits * exponent > MOST_BITS:
        raise NotSettled("a power is too large to expand")
    if terms > 1:
        _check_terms(base, terms, exponent)
    field.check_time()
    if terms > 2 and field.relations:
        return _stepwise_power(field, base, exponent)
    return field.reduce(base**exponent)


def _check_terms(base: Polynomial, terms: int, exponent: int) -> None:
    dense = 1
    for degree in base.degrees():
        dense *= degree * exponent + 1
    if min(dense, comb(exponent + terms - 1, terms - 1)) > MOST_TERMS:
        raise NotSettled("a power is too large to expand")


def _stepwise_power(field: Field, base: Polynomial, exponent: int) -> Polynomial:
    """Square and multiply, reducing on the way."""
    result = base
    for bit in bin(exponent)[3:]:
        result = field.times(result, result)
        if bit == "1":
            result = field.times(result, base)
    return result
