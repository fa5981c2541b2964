"""The bracket beside an exponential split into a multiple of a function and the derivative of that function.

    e^x (tan x + sec^2 x)         f = tan x         e^x (f + f')
    e^x (1 + sin x)/(1 + cos x)   f = sin x/(1 + cos x)
    x e^x/(x + 1)^2               f = 1/(x + 1)     x = (x + 1) - 1
    e^(2x) (2 ln x + 1/x)         f = ln x          e^(2x) (2f + f')
    e^x/x + e^x ln x              the same where each term has the exponential

A quotient of polynomials has at most one such f, which `maths.exponential_fraction` finds. In anything else the terms of the
bracket are tried, some of them as the multiple of f and the others as its derivative; equality is decided. Where the rest of the
bracket is a fraction, a fraction may have to be added to f: `e^x (ln x + 1/x^2)`, f = ln x - 1/x.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import combinations

from qbank.maths.constant_factor import ONE, number, over, split_constant, times
from qbank.maths.deciding import decide_equal
from qbank.maths.derivative import arranged, derivative
from qbank.maths.exponential_fraction import as_letter_fraction, factor_beside, factored_fraction
from qbank.maths.expression import Apply, E, Expression, Power, Sum, Symbol, fraction, sum_of
from qbank.maths.factors import Factored, factored
from qbank.maths.letter_fraction import polynomial
from qbank.maths.polynomial import as_polynomial
from qbank.maths.tidying import scaled, tidy
from qbank.maths.verdict import Proved
from qbank.techniques.standard.linear_inner import as_inner
from qbank.techniques.standard.standard_sums import expanded_terms

__all__ = ["ExponentialSplit", "exponential_split"]

#: so many terms in a bracket are tried
_TERM_LIMIT = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class ExponentialSplit:
    """`integrand = constant * e^(k x) * bracket` with `bracket = k f + f'`.

    Attributes:
        variable: x.
        constant: the constant in front.
        exponential: e^(k x), above the line.
        rate: k.
        bracket: what stands beside the exponential, as it was written.
        multiple: k f, as it is shown.
        function: f.
        slope: f', as it is shown.
    """

    variable: Symbol
    constant: Factored
    exponential: Expression
    rate: Factored
    bracket: Expression
    multiple: Expression
    function: Expression
    slope: Expression


@lru_cache(maxsize=256)
def exponential_split(integrand: Expression, variable: Symbol) -> ExponentialSplit | None:
    """The split of an integrand, or None where it is not of this kind.

    >>> from qbank.maths.expression import exp
    >>> x = Symbol("x")
    >>> exponential_split(x * exp(x) / (x + 1) ** 2, x).function == 1 / (x + 1)
    True
    """
    constant, moving = split_constant(integrand, variable)
    found = _exponential(_taken_out(moving, variable), variable)
    if found is None or not constant.coefficient:
        return None
    exponential, rest = found
    inner = as_inner(_exponent(exponential), variable)
    bracket = rest.tree()
    if inner is None or as_polynomial(bracket, variable) is not None:
        return None
    pair = next(_splits(rest, bracket, inner.slope, variable), None)
    if pair is None:
        return None
    multiple, slope = pair
    return ExponentialSplit(
        variable=variable,
        constant=constant,
        exponential=exponential,
        rate=inner.slope,
        bracket=bracket,
        multiple=multiple,
        function=_divided(multiple, inner.slope),
        slope=slope,
    )


def _taken_out(moving: Factored, variable: Symbol) -> Factored:
    """The exponential that every term of a sum holds, before a bracket: `e^x/x + e^x ln x`."""
    whole = moving.tree()
    if not isinstance(whole, Sum):
        return moving
    terms = [factored(term) for term in whole.terms]
    shared = [pair for pair in terms[0].powers if _is_exponential(pair[0], variable)]
    if len(shared) != 1 or any(shared[0] not in term.powers for term in terms):
        return moving
    bracket = sum_of(*(term.without(shared[0][0]).tree() for term in terms))
    return Factored(coefficient=fraction(1, 1), powers=(shared[0], (bracket, fraction(1, 1))))


def _exponential(moving: Factored, variable: Symbol) -> tuple[Expression, Factored] | None:
    """The only exponential, above the line, and the other factors."""
    found = [(base, n) for base, n in moving.powers if _is_exponential(base, variable)]
    if len(found) != 1 or len(moving.powers) < 2:
        return None
    (base, n) = found[0]
    rest = moving.without(base)
    if isinstance(base, Power) and base.base != E:
        return None
    if any(_is_exponential(node, variable) for part, _ in rest.powers for node in part.walk()):
        return None
    exponent = tidy(scaled(n, _exponent(base)))
    return (Apply("exp", exponent) if isinstance(base, Apply) else Power(E, exponent)), rest


def _is_exponential(tree: Expression, variable: Symbol) -> bool:
    match tree:
        case Power(_, exponent):
            return variable in exponent.symbols()
        case Apply("exp", argument):
            return variable in argument.symbols()
        case _:
            return False


def _exponent(exponential: Expression) -> Expression:
    return exponential.exponent if isinstance(exponential, Power) else exponential.children[0]


def _splits(
    rest: Factored, bracket: Expression, rate: Factored, variable: Symbol
) -> Iterator[tuple[Expression, Expression]]:
    """K f and f'."""
    whole_fraction = as_letter_fraction(rest, variable)
    if whole_fraction is not None:
        found = None if rate.powers else factor_beside(whole_fraction, rate.coefficient)
        if found is not None:
            whole = found.times(polynomial(rate.coefficient))
            rest_of_it = whole_fraction.plus(whole.times(polynomial(-1)))
            yield factored_fraction(whole, variable).tree(), factored_fraction(rest_of_it, variable).tree()
        return
    terms = expanded_terms(bracket, variable)
    if not 2 <= len(terms) <= _TERM_LIMIT:
        return
    written = tuple(arranged(term, variable) for term in terms)
    places = range(len(terms))
    for size in range(1, len(terms)):
        for chosen in combinations(places, size):
            multiple = sum_of(*(written[place] for place in chosen))
            slope = sum_of(*(written[place] for place in places if place not in chosen))
            if _is_derivative(slope, _divided(multiple, rate), variable):
                yield multiple, slope
    if not rate.powers:
        yield from _with_fraction(written, rate.coefficient, variable)


def _with_fraction(
    terms: tuple[Expression, ...], rate: Fraction, variable: Symbol
) -> Iterator[tuple[Expression, Expression]]:
    """F is what is no fraction of polynomials, and a fraction found beside it: `ln x - 1/x` for `ln x + 1/x^2`."""
    seen = [as_letter_fraction(factored(term), variable) for term in terms]
    others = tuple(term for term, one in zip(terms, seen, strict=True) if one is None)
    slope_tree = derivative(_divided(sum_of(*others), number(rate)), variable)
    slope = as_letter_fraction(factored(slope_tree), variable)
    if not others or slope is None:
        return
    rest = slope.times(polynomial(-1))
    for one in seen:
        rest = rest if one is None else rest.plus(one)
    found = factor_beside(rest, rate)
    if found is None or not found.over:
        return
    beside = found.times(polynomial(rate))
    left = factored_fraction(rest.plus(beside.times(polynomial(-1))), variable)
    yield sum_of(*others, factored_fraction(beside, variable).tree()), sum_of(slope_tree, left.tree())


def _is_derivative(slope: Expression, function: Expression, variable: Symbol) -> bool:
    if variable not in function.symbols():
        return False
    return isinstance(decide_equal(slope, derivative(function, variable), variable), Proved)


def _divided(multiple: Expression, rate: Factored) -> Expression:
    """The multiple without its number in front."""
    if rate == ONE:
        return multiple
    terms = multiple.terms if isinstance(multiple, Sum) else (multiple,)
    return sum_of(*(times(over(rate), factored(term)).tree() for term in terms))
