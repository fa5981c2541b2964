"""The antiderivative that has a given value at a point, and its value at another: a constant found, then a number.

    F(x) = G(x) + C, F(p) = q   ->   G(p) + C = q   ->   C = ...   ->   G(r) + C = ...   inside the enclosure?

The number comes from the antiderivative G, and has to lie in q plus the rigorous integral from p to r, which knows of
the integrand alone. Both functions are shown to be continuous from p to r, so that one constant holds all the way.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.clock import PATIENT
from qbank.maths.covering import defined_between
from qbank.maths.deciding import decide_equal, enclose, exact_value
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    PI,
    Apply,
    Expression,
    Negate,
    Power,
    Sum,
    Symbol,
    as_fraction,
    difference,
    rational,
    sum_of,
)
from qbank.maths.functions import FUNCTIONS
from qbank.maths.number_system import Undefined
from qbank.maths.quadrature import Enclosed, integrate_rigorously
from qbank.maths.tidying import split_coefficient, tidy
from qbank.maths.verdict import Proof, Proved
from qbank.messages import say
from qbank.techniques.working import Line

__all__ = ["Particular", "ParticularRefused", "changed_by", "work_particular", "worked_out"]

_DIGITS = 40
#: a closed form may have so many times the parts of the numbers as they stand
_LONGER = 2


class ParticularRefused(Exception):  # noqa: N818 - a refusal is an answer, not an error
    """The value cannot be shown to be right; the text says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Particular:
    """The value of the antiderivative through a point, with the working that leads to it.

    Attributes:
        lines: what follows the antiderivative and its constant, every line proved.
        constant: the value of the constant of integration.
        value: the exact value asked for.
        enclosure: rigorous bounds of it, found without the antiderivative.
        proof: that it is the given value and what the antiderivative changes by.
    """

    lines: tuple[Line, ...]
    constant: Expression
    value: Expression
    enclosure: tuple[Fraction, Fraction]
    proof: Proof


def work_particular(
    antiderivative: Expression,
    integrand: Expression,
    variable: Symbol,
    constant: Symbol,
    *,
    point: Expression,
    given: Fraction,
    at: Expression,
) -> Particular:
    """Find the constant from a given value, and the value at another place.

    Args:
        antiderivative: a proved antiderivative, without a constant.
        integrand: its derivative.
        variable: the letter.
        constant: the letter of the constant of integration.
        point: where the value is given, a constant expression.
        given: the value there.
        at: where the value is wanted.

    Raises:
        ParticularRefused: one of the functions is not certain to be defined all the way, quadrature refuses the
            integral or contradicts the value, or a line could not be proved within the time.

    >>> from qbank.maths.expression import Integer, ln
    >>> x = Symbol("x")
    >>> two, three = Integer(2), Integer(3)
    >>> worked = work_particular(ln(x), 1 / x, x, Symbol("C"), point=two, given=Fraction(1), at=three)
    >>> float(round(worked.enclosure[0], 6))
    1.405465
    """
    lower, upper = _stretch(point, at)
    for tree in (integrand, antiderivative):
        if not defined_between(tree, variable, lower, upper):
            raise ParticularRefused("there is no one piece of the domain with both places")
    change = integrate_rigorously(integrand, variable, point, at)
    if not isinstance(change, Enclosed):
        raise ParticularRefused(change.reason)
    enclosure = (given + change.lower, given + change.upper)
    begin, end = (antiderivative.substitute({variable: place}) for place in (point, at))
    wanted = sum_of(rational(given), difference(end, begin))
    bounds = enclose(wanted, at={}, digits=_DIGITS)
    if bounds is None or bounds.upper < enclosure[0] or bounds.lower > enclosure[1]:
        raise ParticularRefused("the antiderivative and quadrature disagree")
    found = worked_out(_less(given, begin))
    value = worked_out(sum_of(end, _less(given, begin)))
    lines = tuple(_lines(begin, end, given, found, value, variable, constant))
    return Particular(
        lines=lines, constant=found, value=value, enclosure=enclosure, proof=_proved(value, wanted, variable)
    )


def changed_by(
    tree: Expression, variable: Symbol, point: Expression, given: Fraction, at: Expression
) -> Expression:
    """The value at a place of an expression that is made to have a given value at a point, its numbers worked out.

    >>> from qbank.maths.expression import Integer
    >>> x = Symbol("x")
    >>> changed_by(x**2, x, Integer(0), Fraction(3), Integer(2))
    Integer(value=7)
    """
    begin, end = (tree.substitute({variable: place}) for place in (point, at))
    return worked_out(sum_of(end, _less(given, begin)))


def worked_out(constant: Expression) -> Expression:
    """A constant with its numbers worked out: in closed form where that is not much longer than what stands there.

    Closed forms of circular functions of whole numbers are powers of those of a common angle, which nobody wants; so
    where there are such functions without pi, only what is known at 0 is put in.

    >>> from qbank.maths.expression import Integer, cos, sin
    >>> worked_out(sin(PI / 6) + 1)
    Quotient(numerator=Integer(value=3), denominator=Integer(value=2))
    >>> worked_out(sin(2 * Integer(3)) + cos(2 * Integer(0)))
    Sum(terms=(Apply(function='sin', argument=Integer(value=6)), Integer(value=1)))
    """
    plain = tidy(_known_at_nought(constant))
    if _in_radians(plain):
        return plain
    try:
        closed = exact_value(constant, budget=PATIENT)
    except Undefined:
        return plain
    return closed if _size(closed) <= _LONGER * _size(plain) else plain


def _less(number: Fraction, tree: Expression) -> Expression:
    """A number less an expression, term by term."""
    terms = tree.terms if isinstance(tree, Sum) else (tree,)
    return sum_of(rational(number), *(Negate(term) for term in terms))


def _size(tree: Expression) -> int:
    return sum(1 for _ in tree.walk())


def _in_radians(tree: Expression) -> bool:
    circular = (
        node.argument
        for node in tree.walk()
        if isinstance(node, Apply) and FUNCTIONS[node.function].family == "circular"
    )
    return any(not _is_multiple_of_pi(argument) for argument in circular)


def _is_multiple_of_pi(argument: Expression) -> bool:
    return split_coefficient(argument)[1] == PI or _is_nought(argument)


def _is_nought(tree: Expression) -> bool:
    return as_fraction(tidy(tree)) == 0


def _known_at_nought(tree: Expression) -> Expression:
    """Functions and powers with 0 inside replaced by their values, where they have one."""
    tree = tree.rebuild(_known_at_nought)
    inside = tree.argument if isinstance(tree, Apply) else tree.exponent if isinstance(tree, Power) else None
    if inside is None or not _is_nought(inside):
        return tree
    try:
        return exact_value(tree)
    except Undefined:
        return tree


def _stretch(point: Expression, at: Expression) -> tuple[Fraction, Fraction]:
    """The interval with both places, as fractions outside it or at its ends."""
    places = [enclose(place, at={}, digits=_DIGITS) for place in (point, at)]
    known = [place for place in places if place is not None]
    if len(known) != len(places):
        raise ParticularRefused("a place is not a number")
    return min(place.lower for place in known), max(place.upper for place in known)


def _lines(
    begin: Expression,
    end: Expression,
    given: Fraction,
    found: Expression,
    value: Expression,
    variable: Symbol,
    constant: Symbol,
) -> Iterator[Line]:
    """The condition for the constant, the constant, and the value; a line that would repeat the last is left out."""
    condition = Equation(sum_of(begin, constant), rational(given))
    yield Line(
        kind="statement",
        statements=(condition,),
        rule="given-value",
        reason=say(
            "Put in the value of {letter} at which the antiderivative is given.", letter=variable.name
        ),
        proof=_proved(sum_of(begin, found), rational(given), variable),
    )
    yield Line(
        kind="statement",
        statements=(Equation(constant, found),),
        rule="constant-found",
        reason=say("Solve for the constant."),
        proof=_proved(found, difference(rational(given), begin), variable),
    )
    written = sum_of(end, found)
    wanted = sum_of(rational(given), difference(end, begin))
    yield Line(
        kind="statement",
        statements=(written,),
        rule="value-wanted",
        reason=say("Put in the other value of {letter}, with this constant.", letter=variable.name),
        proof=_proved(written, wanted, variable),
    )
    if value != written:
        yield Line(
            kind="step",
            statements=(value,),
            rule="exact-value",
            reason=say("Work out the numbers."),
            proof=_proved(value, wanted, variable),
        )


def _proved(left: Expression, right: Expression, variable: Symbol) -> Proof:
    """Equality of two constants.

    Mostly they are the same sums of the same functions of numbers, so these are taken for letters first: the functions
    themselves, brought to those of a common angle, can be very long.
    """
    letters: dict[Expression, Expression] = {}
    in_letters = [_in_letters(tidy(_known_at_nought(side)), letters) for side in (left, right)]
    for one, other in (in_letters, (left, right)):
        verdict = decide_equal(one, other, variable, budget=PATIENT)
        if isinstance(verdict, Proved):
            return verdict.proof
    raise ParticularRefused("a line of the working could not be proved")


def _in_letters(tree: Expression, letters: dict[Expression, Expression]) -> Expression:
    """A constant with a letter for each function of a number, the same for the same."""
    if isinstance(tree, Apply):
        return letters.setdefault(tree, Symbol(f"f{len(letters)}"))
    return tree.rebuild(lambda child: _in_letters(child, letters))
