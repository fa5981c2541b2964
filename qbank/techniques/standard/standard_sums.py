"""A sum of standard forms: recognised as it was written, or after a product has been multiplied out.

    3 cos 2x - 1/x^2      two terms as they stand
    (x^2 + 1)/sqrt(x)     x^(3/2) + x^(-1/2), divided term by term
    (e^x + 1)^2           e^(2x) + 2 e^x + 1, multiplied out

`Plan` is what the working of such a sum is written from; see `standard_terms` for the habits that make a slip of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import in_front, number, split_constant, times
from qbank.maths.expression import (
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
    fraction,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.tidying import scaled, split_coefficient, tidy
from qbank.techniques.standard.linear_inner import as_inner, is_zero
from qbank.techniques.standard.standard_exponentials import (
    ExponentialTerm,
    base_and_exponent,
    exponentials_joined,
    standard_exponential,
)
from qbank.techniques.standard.standard_functions import FunctionTerm, standard_function
from qbank.techniques.standard.standard_letter_powers import LetterPowerTerm, standard_letter_power
from qbank.techniques.standard.standard_secant import standard_secant
from qbank.techniques.standard.standard_squares import standard_square
from qbank.techniques.standard.standard_terms import (
    Habit,
    LogarithmTerm,
    PowerTerm,
    StandardTerm,
)

__all__ = ["Plan", "expanded_plan", "expanded_terms", "plan_as_written", "terms_of"]

#: more terms than this, or a bracket to a higher power, is nobody's exercise
_TERM_LIMIT = 24
_POWER_LIMIT = 8
#: an exponent with a larger numerator or denominator is declined
_EXPONENT_LIMIT = 1000
#: a number in a bracket is not raised to a larger power than this
_NUMBER_POWER_LIMIT = 128
#: integrands whose plans are remembered: many techniques ask whether something is standard
_REMEMBERED = 256


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Standard forms to be integrated term by term.

    Attributes:
        terms: in the order of writing.
        rewritten: whether a term had to be written in another way first, `1/x^3` as `x^-3`.
        expanded: whether a product had to be multiplied out.
    """

    terms: tuple[StandardTerm, ...]
    rewritten: bool = False
    expanded: bool = False

    def integrand(self) -> Expression:
        """The sum of standard forms, before integrating."""
        return tidy(sum_of(*(in_front(term.constant, term.core()) for term in self.terms)))

    def answer(self, habit: Habit = "right") -> Expression:
        """The antiderivative, or what the habit makes of it."""
        if self.expanded and habit == "denominator integrated":
            habit = "right"  # after dividing term by term there is no denominator left to integrate
        return sum_of(*(term.answer(habit) for term in self.terms))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """A term of a sum: its constant factor, the rest, and how it was written (None after multiplying out)."""

    constant: Factored
    moving: Factored
    written: Expression | None


@lru_cache(maxsize=_REMEMBERED)
def plan_as_written(integrand: Expression, variable: Symbol) -> Plan | None:
    """The plan of a sum whose terms are standard forms as they stand; None when they are not.

    >>> from qbank.maths.expression import cos
    >>> x = Symbol("x")
    >>> len(plan_as_written(3 * cos(2 * x) - x, x).terms)
    2
    """
    return _plan(tuple(_pieces(integrand, variable)), variable, as_power=None)


@lru_cache(maxsize=_REMEMBERED)
def expanded_plan(integrand: Expression, variable: Symbol) -> Plan | None:
    """The plan after products of sums have been multiplied out and like terms joined; None when it does not help."""
    written = tuple(_pieces(integrand, variable))
    if len(written) == 1 and _stays(written[0]) and plan_as_written(integrand, variable) is None:
        return None
    pieces = _multiplied_out(written, variable)
    if not pieces:
        return None
    plan = _plan(pieces, variable, as_power=_prefers_powers(integrand))
    return None if plan is None else replace(plan, expanded=True, rewritten=False)


def expanded_terms(integrand: Expression, variable: Symbol) -> tuple[Expression, ...]:
    """The terms after products of sums have been multiplied out; none when that grows too large.

    >>> from qbank.maths.expression import cos, sin
    >>> x = Symbol("x")
    >>> len(expanded_terms((sin(x) + cos(x)) ** 2, x))
    3
    """
    pieces = _multiplied_out(tuple(_pieces(integrand, variable)), variable)
    return tuple(times(p.constant, p.moving).tree() for p in pieces or ())


def terms_of(integrand: Expression, variable: Symbol) -> tuple[Expression, ...]:
    """The terms of a sum, a constant in front of a bracket multiplied in.

    >>> x = Symbol("x")
    >>> len(terms_of(2 * (x + 1) / 3, x))
    2
    """
    return tuple(times(p.constant, p.moving).tree() for p in _pieces(integrand, variable))


def _pieces(tree: Expression, variable: Symbol) -> Iterator[_Piece]:
    match tree:
        case Sum(terms):
            for term in terms:
                yield from _pieces(term, variable)
            return
        case Negate(Sum() as operand):
            for piece in _pieces(operand, variable):
                yield replace(piece, constant=times(number(-1), piece.constant))
            return
        case _:
            pass
    constant, moving = split_constant(tree, variable)
    if not constant.coefficient:
        return
    match moving.powers:
        case ((Sum() as inner, Fraction(numerator=1, denominator=1)),):
            for piece in _pieces(inner, variable):
                yield replace(piece, constant=times(constant, piece.constant))
        case _:
            yield _Piece(constant=constant, moving=moving, written=tree)


def _plan(pieces: tuple[_Piece, ...], variable: Symbol, *, as_power: bool | None) -> Plan | None:
    terms, rewritten = list[StandardTerm](), False
    if not pieces or len(pieces) > _TERM_LIMIT:
        return None
    for piece in pieces:
        term = _standard_term(piece, variable)
        if term is None:
            return None
        if isinstance(term, PowerTerm):
            shown = piece.written is not None and piece.written.has(term.core())
            term = replace(term, as_power=shown if as_power is None else as_power)
        rewritten = rewritten or (piece.written is not None and _differs(term, piece.written, variable))
        terms.append(term)
    return Plan(terms=tuple(terms), rewritten=rewritten)


def _differs(term: StandardTerm, written: Expression, variable: Symbol) -> bool:
    core = term.core()
    if isinstance(term, PowerTerm) and not term.exponent:
        return variable in written.symbols()
    if _occurrences(core, variable) != _occurrences(written, variable):
        return True
    if isinstance(term, LetterPowerTerm):
        return not tidy(written).has(core)
    return isinstance(term, (PowerTerm, ExponentialTerm, FunctionTerm)) and not (
        written.has(core) or _is_flat(term, core, written)
    )


def _is_flat(term: StandardTerm, core: Expression, written: Expression) -> bool:
    """Whether a product of two functions stands in a longer product: `sec x tan x` in `3 sec x tan x`."""
    if not isinstance(term, FunctionTerm) or not isinstance(core, Product):
        return False
    return all(written.has(factor) for factor in core.factors)


def _occurrences(tree: Expression, variable: Symbol) -> int:
    return sum(1 for node in tree.walk() if node == variable)


def _prefers_powers(integrand: Expression) -> bool:
    """Whether fractional powers were written as powers throughout, so that the answer shows no roots."""
    nodes = tuple(integrand.walk())
    fractional = any(
        isinstance(n, Power) and (as_fraction(n.exponent) or fraction(0, 1)).denominator != 1 for n in nodes
    )
    return fractional and not any(isinstance(n, Root) for n in nodes)


def _standard_term(piece: _Piece, variable: Symbol) -> StandardTerm | None:
    constant, moving = piece.constant, piece.moving
    if any(is_zero(base, variable) for base, n in constant.powers if n < 0):
        return None
    if not moving.powers:
        inner = as_inner(variable, variable)
        assert inner is not None
        return PowerTerm(constant=constant, inner=inner, exponent=fraction(0, 1))
    return (
        _power(constant, moving, variable)
        or standard_letter_power(constant, moving, variable)
        or standard_exponential(constant, moving, variable)
        or standard_function(constant, moving, variable)
        or standard_square(constant, moving, variable)
        or standard_secant(constant, moving, variable)
    )


def _power(constant: Factored, moving: Factored, variable: Symbol) -> StandardTerm | None:
    if len(moving.powers) > 1:
        if not any(isinstance(base, (Product, Quotient)) for base, _ in moving.powers):
            return None
        constant, moving = _without_numbers_inside(constant, moving, variable)
    if not moving.powers:
        return _standard_term(_Piece(constant=constant, moving=moving, written=None), variable)
    base, exponent = moving.powers[0]
    inner = as_inner(base, variable) if len(moving.powers) == 1 else None
    if inner is None or max(abs(exponent.numerator), exponent.denominator) > _EXPONENT_LIMIT:
        return None
    if exponent == -1:
        return LogarithmTerm(constant=constant, inner=inner)
    return PowerTerm(constant=constant, inner=inner, exponent=exponent)


def _without_numbers_inside(
    constant: Factored, moving: Factored, variable: Symbol
) -> tuple[Factored, Factored]:
    """`x sqrt(2x)` as `sqrt(2) x^(3/2)`: a positive number leaves the root."""
    parts = [constant]
    kept = list[Factored]()
    for base, exponent in moving.powers:
        size, body = split_coefficient(base)
        leaves = body == variable and size > 0
        if leaves:
            parts.append(_number_to_power(size, exponent))
        kept.append(Factored(coefficient=fraction(1, 1), powers=((body if leaves else base, exponent),)))
    return times(*parts), times(*kept)


def _number_to_power(size: Fraction, exponent: Fraction) -> Factored:
    if exponent.denominator == 1 and abs(exponent) <= _NUMBER_POWER_LIMIT:
        return number(size ** int(exponent))
    if size == 1:
        return number(1)
    return Factored(coefficient=fraction(1, 1), powers=((scaled(size, Integer(1)), exponent),))


def _stays(piece: _Piece) -> bool:
    """Whether a single term is the same after multiplying out: no bracket stands above, and at most one exponential."""
    exponentials = [n for base, n in piece.moving.powers if (base_and_exponent(base) or (None, None))[0] == E]
    brackets = any(isinstance(base, Sum) and n.denominator == 1 and n > 0 for base, n in piece.moving.powers)
    return not brackets and (not exponentials or exponentials == [1])


def _multiplied_out(pieces: tuple[_Piece, ...], variable: Symbol) -> tuple[_Piece, ...] | None:
    """All products multiplied out and like terms joined, highest power first; None when it grows too large."""
    found: dict[frozenset[tuple[Expression, Fraction]], Factored] = {}
    for piece in pieces:
        spread = _spread(times(piece.constant, piece.moving), variable)
        if spread is None:
            return None
        for part in spread:
            key = frozenset(part.powers)
            before = found[key].coefficient if key in found else fraction(0, 1)
            found[key] = replace(part, coefficient=part.coefficient + before)
        if len(found) > _TERM_LIMIT:
            return None
    kept = [part for part in found.values() if part.coefficient]
    if all(all(base == variable for base, _ in part.powers) for part in kept):
        kept.sort(key=lambda part: -part.exponent(variable))
    return tuple(_split(part, variable) for part in kept)


def _split(part: Factored, variable: Symbol) -> _Piece:
    fixed = tuple(pair for pair in part.powers if variable not in pair[0].symbols())
    moving = tuple(pair for pair in part.powers if variable in pair[0].symbols())
    return _Piece(
        constant=Factored(coefficient=part.coefficient, powers=fixed),
        moving=Factored(coefficient=fraction(1, 1), powers=moving),
        written=None,
    )


def _spread(part: Factored, variable: Symbol) -> tuple[Factored, ...] | None:
    """A product with its sums multiplied out, as many factors as needed."""
    result: tuple[Factored, ...] = (number(part.coefficient),)
    for base, exponent in part.powers:
        moves = variable in base.symbols()
        if moves and isinstance(base, Sum) and exponent.denominator == 1 and exponent > 0:
            if exponent > _POWER_LIMIT:
                return None
            inner = _spread_sum(base, variable)
            for _ in range(int(exponent)):
                result = _joined(tuple(times(a, b) for a in result for b in inner))
                if len(result) > _TERM_LIMIT:
                    return None
        else:
            one = Factored(coefficient=fraction(1, 1), powers=((base, exponent),))
            result = tuple(times(a, one) for a in result)
    return tuple(exponentials_joined(part) for part in result)


def _spread_sum(base: Sum, variable: Symbol) -> tuple[Factored, ...]:
    return tuple(factored(term) for term in terms_of(base, variable))


def _joined(parts: tuple[Factored, ...]) -> tuple[Factored, ...]:
    found: dict[frozenset[tuple[Expression, Fraction]], Factored] = {}
    for part in parts:
        key = frozenset(part.powers)
        before = found[key].coefficient if key in found else fraction(0, 1)
        found[key] = replace(part, coefficient=part.coefficient + before)
    return tuple(part for part in found.values() if part.coefficient)
