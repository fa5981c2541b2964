"""Powers of a substituted function, integrated term by term, and how they are written.

1 - u^2  ->  u - u^3/3        2 (1 - sin^2)  ->  2 sin - 2/3 sin^3
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, TypeAlias

from qbank.maths.expression import Apply, Expression, Integer, Negate, Quotient, Symbol, fraction, sum_of
from qbank.maths.factors import power_tree
from qbank.maths.tidying import scaled
from qbank.techniques.circular.angles import Constants
from qbank.techniques.standard.standard_terms import logarithm

__all__ = ["PowerRule", "Term", "bracket", "integrated", "term_tree"]


NO_CONSTANTS = Constants()

#: what is done to the powers of u: raised by one and divided by the new power, or a slip
PowerRule: TypeAlias = Literal["raised", "not divided", "divided by the old", "differentiated"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """`coefficient * g^exponent`; as a term of an antiderivative, the exponent 0 stands for ln|g|."""

    coefficient: Fraction
    exponent: Fraction


def integrated(terms: tuple[Term, ...], rule: PowerRule) -> tuple[Term, ...]:
    """The antiderivatives of powers, or what a student writes for them.

    >>> integrated((Term(coefficient=Fraction(2), exponent=Fraction(3)),), "raised")
    (Term(coefficient=Fraction(1, 2), exponent=Fraction(4, 1)),)
    """
    if rule == "differentiated":
        lowered = (Term(coefficient=t.coefficient * t.exponent, exponent=t.exponent - 1) for t in terms)
        return tuple(t for t in lowered if t.coefficient and t.exponent)
    return tuple(
        Term(coefficient=t.coefficient / _divisor(t.exponent, rule), exponent=t.exponent + 1) for t in terms
    )


def _divisor(exponent: Fraction, rule: PowerRule) -> Fraction:
    by = {"raised": exponent + 1, "divided by the old": exponent}.get(rule, fraction(1, 1))
    # 1/u gives the logarithm, and a number its multiple of u, whatever the student does to powers
    return by if by and exponent != -1 else fraction(1, 1)


#: a negative power of one of these is written as a power of its reciprocal
_RECIPROCAL = {
    "tan": "cot",
    "cot": "tan",
    "sec": "cos",
    "cosec": "sin",
    "tanh": "coth",
    "coth": "tanh",
    "sech": "cosh",
    "cosech": "sinh",
}


def term_tree(
    coefficient: Fraction, base: Expression, exponent: Fraction, constants: Constants = NO_CONSTANTS
) -> Expression:
    """A term of an antiderivative: a power with its number in front, or ln|base| for the exponent 0, times constants.

    >>> term_tree(Fraction(-2), Symbol("u"), Fraction(0))
    Negate(operand=Product(factors=(Integer(value=2), Apply(function='ln', argument=Apply(function='abs', argument=Symbol(name='u'))))))
    """
    if isinstance(base, Apply) and exponent < 0 and base.function in _RECIPROCAL:
        base, exponent = Apply(_RECIPROCAL[base.function], base.argument), -exponent
    body = power_tree(base, exponent) if exponent else logarithm(base)
    return scaled(coefficient, constants.applied(body))


def _bracket_term(coefficient: Fraction, letter: Symbol, exponent: Fraction) -> Expression:
    """Inside the bracket after integrating a power the new exponent is written below it: `u^3/3`."""
    if exponent > 0 and abs(coefficient.numerator) == 1 and coefficient.denominator > 1:
        whole = Quotient(power_tree(letter, exponent), Integer(coefficient.denominator))
        return Negate(whole) if coefficient < 0 else whole
    return term_tree(coefficient, letter, exponent)


def bracket(front: Fraction, constants: Constants, terms: tuple[Term, ...], letter: Symbol) -> Expression:
    """The antiderivative in the letter, the number still in front; two minus signs in a row are merged."""
    if len(terms) == 1:
        return term_tree(front * terms[0].coefficient, letter, terms[0].exponent, constants)
    if terms[0].coefficient < 0:
        terms = tuple(replace(t, coefficient=-t.coefficient) for t in terms)
        front = -front
    return constants.in_front(
        front, sum_of(*(_bracket_term(t.coefficient, letter, t.exponent) for t in terms))
    )
