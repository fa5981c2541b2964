"""Limits decided exactly: of an elementary expression as its letter tends to a number from one side, or to infinity.

    F(t), t -> a      continuous there                       F(a)
                      a part that dies away in its expansion  0
                      an expansion with an exact constant     that constant
                      logarithms against each other           one logarithm of a quotient, whose limit is asked for
                      else                                    from the limits of the parts, by the laws of limits

Elementary functions are continuous wherever they have a value, at an end of their domain from within. How fast things
grow is told by the expansions of `qbank.maths.tails`, whose rest is bounded all the way to the end.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import gcd
from typing import Any

from flint import fmpq_poly

from qbank.maths.complex_balls import OutsideTheLanguage
from qbank.maths.ends import BadLimit, End, as_limit
from qbank.maths.exact_values import exact_value
from qbank.maths.expansions import Algebra, Expansion
from qbank.maths.expression import (
    INFINITY,
    PI,
    Apply,
    Expression,
    Integer,
    Negate,
    Power,
    Quotient,
    Sum,
    Symbol,
    fraction,
    product,
    rational,
    sum_of,
)
from qbank.maths.growth import ONE, Beyond, Growth, TooSoon, Undecided, exact, sign
from qbank.maths.number_system import Undefined
from qbank.maths.tails import expand
from qbank.maths.tidying import scaled, split_coefficient, tidy
from qbank.maths.verdict import SEAL, Proof

__all__ = ["INFINITE", "Found", "NoLimit", "limit_at", "tree_of"]

#: what a limit may be beside a number
INFINITE = (INFINITY, Negate(INFINITY))

#: from where on expansions are tried
_STARTS = (2**7, 2**20, 2**80)


class NoLimit(ArithmeticError):  # noqa: N818 - an outcome, not a fault
    """No limit was decided; the text says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A limit.

    Attributes:
        value: exact, or plus or minus infinity.
        proof: that it is the limit.
    """

    value: Expression
    proof: Proof


def limit_at(body: Expression, variable: Symbol, to: Expression, side: int = 0) -> Found:
    """The limit of an expression.

    Args:
        body: an elementary expression in the variable alone.
        variable: the letter that tends to something.
        to: what it tends to, a constant or plus or minus infinity.
        side: 1 from above, -1 from below; of no account at an infinity.

    Raises:
        NoLimit: none was decided.

    >>> from qbank.maths.expression import ln
    >>> t = Symbol("t")
    >>> limit_at(Apply("arctan", t), t, INFINITY).value == PI / 2
    True
    >>> limit_at(t * ln(t), t, Integer(0), 1).value
    Integer(value=0)
    """
    try:
        value = _Course(variable, to, side).of(body)
    except (BadLimit, OutsideTheLanguage) as reason:
        raise NoLimit(str(reason)) from reason
    claim = f"the limit as {variable.name} tends to the end of the interval"
    return Found(value=value, proof=Proof(claim=claim, method="limit laws", seal=SEAL))


class _Course:
    """One letter on its way to one end."""

    def __init__(self, variable: Symbol, to: Expression, side: int) -> None:
        self._variable = variable
        self._to = to
        self._end: End = as_limit(to)
        self._side = side

    def of(self, tree: Expression) -> Expression:
        """The limit of a tree."""
        if self._variable not in tree.symbols():
            return _closed(tree)
        for rule in (self._continuous, self._by_growth, self._by_joined_logarithms):
            value = rule(tree)
            if value is not None:
                return value
        return self._by_parts(tree)

    def _continuous(self, tree: Expression) -> Expression | None:
        """The value itself, where there is one; x^x and the like are left to the other rules."""
        if self._end.infinite or any(
            isinstance(node, Power) and self._variable in node.exponent.symbols() and self._moves(node.base)
            for node in tree.walk()
        ):
            return None
        try:
            return exact_value(tree.substitute({self._variable: self._to}))
        except Undefined:
            return None

    def _moves(self, tree: Expression) -> bool:
        return self._variable in tree.symbols()

    def _by_growth(self, tree: Expression) -> Expression | None:
        """Nought, an infinity or an exact constant, where the expansion tells; None where it does not."""
        for start in _STARTS:
            try:
                found = self._expansion(tree, Algebra(Beyond(start)))
            except TooSoon:
                continue
            except Undecided:
                return None
            return _settled(found)
        return None

    def _expansion(self, tree: Expression, algebra: Algebra) -> Expansion:
        if self._end.infinite:
            x = Expansion(((Growth(power=fraction(1, 1)), exact(self._end.infinite)),))
        else:
            step = Expansion(((Growth(power=fraction(-1, 1)), exact(self._side)),))
            x = algebra.add(algebra.constant(self._end.at), step)
        return expand(tree, self._variable, x, algebra)

    def _by_joined_logarithms(self, tree: Expression) -> Expression | None:
        """`ln(b) - ln(b + 1)` as one logarithm of a quotient, when each by itself has no limit."""
        if not isinstance(tree, Sum):
            return None
        logarithms: list[tuple[Fraction, Expression]] = []
        others: list[Expression] = []
        for term in tree.terms:
            size, body = split_coefficient(term)
            if isinstance(body, Apply) and body.function == "ln" and self._moves(body):
                logarithms.append((size, body.argument))
            else:
                others.append(term)
        if len(logarithms) < 2:
            return None
        common = _measure([size for size, _ in logarithms])
        raised = [(int(size / common), argument) for size, argument in logarithms]
        inside = self.of(Quotient(_powers(raised, 1), _powers(raised, -1)))
        if inside in (*INFINITE, Integer(0)):
            raise NoLimit("logarithms grow against each other")
        joined = tidy(product(rational(common), Apply("ln", inside)))
        return self._added([joined, *(self.of(term) for term in others)])

    def _by_parts(self, tree: Expression) -> Expression:
        """From the limits of the parts, all of them finite; a sum may have infinite ones of one sign."""
        if isinstance(tree, Sum):
            return self._added([self.of(term) for term in tree.terms])
        if isinstance(tree, Power) and self._moves(tree.base) and self._moves(tree.exponent):
            raise NoLimit("a power whose base and exponent both move")
        changed = tree.rebuild(self.of)
        if any(INFINITY in part.walk() for part in changed.children):
            raise NoLimit("a part without bound")
        return _closed(changed)

    def _added(self, parts: list[Expression]) -> Expression:
        endless = [part for part in parts if part in INFINITE]
        if endless:
            if all(part == endless[0] for part in endless):
                return endless[0]
            raise NoLimit("parts without bound against each other")
        return _closed(sum_of(*parts))


def _closed(tree: Expression) -> Expression:
    try:
        return exact_value(tree)
    except Undefined:
        raise NoLimit("a part without a value") from None


def _settled(found: Expansion) -> Expression | None:
    """What an expansion says of the limit."""
    lead = found.lead
    if lead is None or lead.trend < 0:
        return Integer(0)
    if not found.terms or (found.rest is not None and found.rest[0].trend >= 0):
        return None
    coefficient = found.terms[0][1]
    if lead.trend > 0:
        return INFINITY if sign(coefficient) > 0 else Negate(INFINITY)
    if lead != ONE or not isinstance(coefficient, fmpq_poly):
        return None
    return _closed(tree_of(coefficient))


def tree_of(coefficient: Any) -> Expression:
    """A polynomial in pi with rational coefficients (see `qbank.maths.growth`) as a tree.

    >>> tree_of(exact(1, 2))
    Sum(terms=(Integer(value=1), Product(factors=(Integer(value=2), Constant(name='pi')))))
    """
    powers: Callable[[int], Expression] = lambda n: PI if n == 1 else Power(PI, Integer(n))  # noqa: E731
    terms = (
        (n, Fraction(int(part.p), int(part.q))) for n, part in enumerate(coefficient.coeffs()) if part != 0
    )
    return sum_of(*(scaled(size, powers(n)) if n else rational(size) for n, size in terms))


def _measure(sizes: list[Fraction]) -> Fraction:
    """The largest fraction of which all sizes are whole multiples."""
    under = 1
    for size in sizes:
        under = under * size.denominator // gcd(under, size.denominator)
    return Fraction(gcd(*(abs(int(size * under)) for size in sizes)), under)


def _powers(raised: list[tuple[int, Expression]], wanted: int) -> Expression:
    """The product of the arguments whose power has the wanted sign."""
    chosen = [(abs(power), argument) for power, argument in raised if power * wanted > 0]
    return product(
        *(argument if power == 1 else Power(argument, Integer(power)) for power, argument in chosen)
    )
