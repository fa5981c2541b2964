"""Powers of the variable with a letter for exponent, or another constant that is no rational number: `x^n`, `x^pi`.

Such a power is real for every n only where its base is positive; there the laws of powers hold, and `x^n x^(1/2)` is
`x^(n + 1/2)`.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from qbank.maths.expression import (
    Expression,
    Integer,
    Negate,
    Power,
    Sum,
    Symbol,
    as_fraction,
    fraction,
    rational,
    sum_of,
)
from qbank.maths.factors import Factored
from qbank.maths.polynomial import as_linear
from qbank.maths.tidying import scaled, split_coefficient, tidy

__all__ = ["excluded_value", "exponent_sum", "has_letter_exponent", "letter_powers_joined", "whole_multiples"]


def exponent_sum(*terms: Expression) -> Expression:
    """The sum of exponents, brackets multiplied out and like terms joined, a number last.

    >>> n = Symbol("n")
    >>> exponent_sum(n - 1, 2 * (n + 1)) == 3 * n + 1
    True
    """
    found: dict[Expression, Fraction] = {}
    for size, body in (part for term in terms for part in _flat(term, fraction(1, 1))):
        found[body] = found.get(body, fraction(0, 1)) + size
    total = found.pop(Integer(1), fraction(0, 1))
    kept = (scaled(size, body) for body, size in found.items() if size)
    return tidy(sum_of(*kept, rational(total)))


def _flat(tree: Expression, front: Fraction) -> Iterator[tuple[Fraction, Expression]]:
    size, body = split_coefficient(tree)
    if isinstance(body, Sum):
        for term in body.terms:
            yield from _flat(term, front * size)
    else:
        yield front * size, body


def excluded_value(exponent: Expression, value: Fraction) -> tuple[Expression, Fraction] | None:
    """What must not have which value, so that an exponent does not have that one; None where it has no letter.

    >>> n = Symbol("n")
    >>> excluded_value(2 * n + 1, Fraction(-1))
    (Symbol(name='n'), Fraction(-1, 1))
    """
    letters = exponent.symbols()
    if not letters:
        return None
    letter = next(iter(letters))
    line = as_linear(exponent, letter) if len(letters) == 1 else None
    if line is None:
        return (exponent_sum(Negate(exponent)), -value) if _starts_with_minus(exponent) else (exponent, value)
    slope, start = line
    return letter, (value - start) / slope


def _starts_with_minus(exponent: Expression) -> bool:
    return isinstance(exponent.terms[0] if isinstance(exponent, Sum) else exponent, Negate)


def has_letter_exponent(tree: Expression, variable: Symbol) -> bool:
    """Whether it is a power of something with the variable, its exponent a constant that is no rational number.

    >>> x, n = Symbol("x"), Symbol("n")
    >>> has_letter_exponent((x + 1) ** n, x), has_letter_exponent(x**3, x), has_letter_exponent(n**x, x)
    (True, False, False)
    """
    return (
        isinstance(tree, Power)
        and not isinstance(tree.exponent, Integer)
        and variable not in tree.exponent.symbols()
        and variable in tree.base.symbols()
        and as_fraction(tree.exponent) is None
    )


def letter_powers_joined(seen: Factored, variable: Symbol) -> Factored:
    """The same product, each power with a letter for exponent joined with the other powers of its base.

    >>> x, n = Symbol("x"), Symbol("n")
    >>> from qbank.maths.factors import factored
    >>> letter_powers_joined(factored(x ** (n + 1) / x), x).tree() == x**n
    True
    """
    bases = {
        base.base
        for base, _ in seen.powers
        if isinstance(base, Power) and has_letter_exponent(base, variable)
    }
    if not bases:
        return seen
    exponents: dict[Expression, list[Expression]] = {}
    kept = list[tuple[Expression, Fraction]]()
    for base, n in seen.powers:
        match base:
            case Power(root, exponent) if root in bases:
                exponents.setdefault(root, []).append(exponent if n == 1 else scaled(n, exponent))
            case _ if base in bases:
                exponents.setdefault(base, []).append(scaled(n, Integer(1)))
            case _:
                kept.append((base, n))
    joined = (_power(base, _sum(terms)) for base, terms in exponents.items())
    return Factored(coefficient=seen.coefficient, powers=(*(pair for pair in joined if pair[1]), *kept))


def whole_multiples(seen: Factored, variable: Symbol) -> Factored:
    """The same product, its powers with letters for exponents joined, and `x^(2n)` as the square of `x^n`.

    >>> x, n = Symbol("x"), Symbol("n")
    >>> from qbank.maths.factors import factored
    >>> whole_multiples(factored(1 / (x * x ** (2 * n - 1))), x).powers
    ((Power(base=Symbol(name='x'), exponent=Symbol(name='n')), Fraction(-2, 1)),)
    """
    joined = letter_powers_joined(seen, variable)
    if joined is seen:
        return seen
    powers = list[tuple[Expression, Fraction]]()
    for base, n in joined.powers:
        rate, body = (
            split_coefficient(base.exponent)
            if isinstance(base, Power) and has_letter_exponent(base, variable)
            else (fraction(1, 1), base)
        )
        if isinstance(base, Power) and rate != 1 and rate.denominator == 1:
            powers.append((Power(base.base, body), n * rate))
        else:
            powers.append((base, n))
    return Factored(coefficient=joined.coefficient, powers=tuple(powers))


def _sum(terms: list[Expression]) -> Expression:
    """One exponent stays as it was written: `n/2`."""
    return exponent_sum(*terms) if len(terms) > 1 or isinstance(terms[0], Negate) else terms[0]


def _power(base: Expression, exponent: Expression) -> tuple[Expression, Fraction]:
    number = as_fraction(exponent)
    return (Power(base, exponent), fraction(1, 1)) if number is None else (base, number)
