"""Single steps that all applications share: proved lines, places in an interval, and integrals of wrong functions."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache

from qbank.maths.clock import PATIENT
from qbank.maths.covering import defined_between
from qbank.maths.crossings import ZerosUnknown, signs_between, zeros_from_to
from qbank.maths.deciding import decide_equal, enclose, exact_value
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import (
    PI,
    Apply,
    Expression,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
    difference,
    fraction,
    product,
    rational,
    sum_of,
)
from qbank.maths.number_system import Undefined
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.tidying import split_coefficient, tidy
from qbank.maths.verdict import Proof, Proved
from qbank.techniques.applications.asked import ApplicationRefused
from qbank.techniques.planner import solve
from qbank.techniques.working import Line, LineKind, WorkedSolution

__all__ = [
    "collected",
    "ends_of",
    "equal",
    "integrated",
    "line",
    "place_inside",
    "require_continuous",
    "value_at",
]

_DIGITS = 30
#: a value with more parts than this is no plainer than what it is worked out from
_SHORT = 5


def equal(left: Expression, right: Expression, variable: Symbol) -> Proof:
    """The proof that two expressions are equal.

    Raises:
        ApplicationRefused: there is none.
    """
    verdict = decide_equal(left, right, variable, budget=PATIENT)
    if not isinstance(verdict, Proved):
        raise ApplicationRefused("a line of the set-up could not be proved")
    return verdict.proof


def line(*statements: Statement, reason: str, rule: str, proof: Proof, kind: LineKind = "statement") -> Line:
    """A line of working, by default one that stands for itself."""
    return Line(kind=kind, statements=statements, rule=rule, reason=reason, proof=proof)


def collected(tree: Expression, variable: Symbol) -> Expression:
    """Like terms collected: a polynomial put in order, other sums without the brackets that a sign alone stands before.

    >>> x = Symbol("x")
    >>> collected((4 * x - x**2) - (x - 3), x) == collected(3 + 3 * x - x**2, x)
    True
    >>> from qbank.maths.expression import exp
    >>> collected(Negate(exp(x) - 2), x) == Negate(exp(x)) + 2
    True
    """
    coefficients = as_polynomial(tree, variable)
    if coefficients is not None:
        return polynomial_tree(coefficients, variable)
    sizes: dict[Expression, Fraction] = {}
    for sign, term in _terms(tree):
        size, body = split_coefficient(tidy(term))
        sizes[body] = sizes.get(body, fraction(0, 1)) + sign * size
    return sum_of(*(_times(size, body) for body, size in sizes.items() if size))


def _terms(tree: Expression, sign: int = 1) -> Iterator[tuple[int, Expression]]:
    """The terms of a sum with their signs, brackets with a sign alone before them taken off."""
    match tree:
        case Negate(operand):
            yield from _terms(operand, -sign)
        case Sum(terms):
            for term in terms:
                yield from _terms(term, sign)
        case _:
            yield sign, tree


def _times(size: Fraction, body: Expression) -> Expression:
    whole = tidy(product(rational(abs(size)), body))
    return whole if size > 0 else Negate(whole)


def ends_of(lower: Expression, upper: Expression) -> tuple[Fraction, Fraction]:
    """An interval of fractions that holds the one between two constants, larger by next to nothing.

    Raises:
        ApplicationRefused: one of them is no number, or the second is not the larger.
    """
    low, high = enclose(lower, at={}, digits=_DIGITS), enclose(upper, at={}, digits=_DIGITS)
    if low is None or high is None or not low.upper < high.lower:
        raise ApplicationRefused("the limits are not two numbers, the smaller first")
    return low.lower, high.upper


def require_continuous(tree: Expression, variable: Symbol, lower: Expression, upper: Expression) -> None:
    """Make sure that a function is defined from one limit to the other.

    Raises:
        ApplicationRefused: it is not certain.
    """
    try:
        certain = _is_continuous(tree, variable, lower, upper)
    except ZerosUnknown:
        certain = False
    if not certain:
        raise ApplicationRefused("a curve is not certain to be defined from one limit to the other")


def _is_continuous(tree: Expression, variable: Symbol, lower: Expression, upper: Expression) -> bool:
    """Covered by balls, or, where the domain ends at a limit as that of a root does, part by part."""
    if as_polynomial(tree, variable) is not None or defined_between(tree, variable, *ends_of(lower, upper)):
        return True
    if not all(_is_continuous(part, variable, lower, upper) for part in tree.children):
        return False
    match tree:
        case Sum() | Negate() | Apply("exp" | "sin" | "cos" | "arctan" | "sinh" | "cosh" | "tanh", _):
            return True
        case Power(base, exponent) if not base.symbols() or as_fraction(exponent) is None:
            return not base.symbols()
        case Power(base, exponent):
            power = as_fraction(exponent) or fraction(0, 1)
            inside = power.denominator == 1 or -1 not in signs_between(base, variable, lower, upper).signs
            return inside and (power > 0 or not zeros_from_to(base, variable, lower, upper))
        case Root(radicand, index):
            return index % 2 == 1 or -1 not in signs_between(radicand, variable, lower, upper).signs
        case Quotient(_, below):
            return not zeros_from_to(below, variable, lower, upper)
        case _:
            return tree.symbols() == frozenset() or isinstance(tree, Product)


def place_inside(lower: Expression, upper: Expression) -> Expression:
    """A friendly place strictly between two constants.

    >>> place_inside(rational(0), rational(3)), place_inside(rational(0), PI) == PI / 2
    (Integer(value=2), True)
    """
    low, high = ends_of(lower, upper)
    if lower.has(PI) or upper.has(PI):
        return exact_value((lower + upper) / 2)
    middle, width = (low + high) / 2, high - low
    for below in range(1, 1000):
        near = Fraction(round(middle * below), below)
        if low + width / 4 <= near <= high - width / 4:
            return rational(near)
    return rational(middle)


def value_at(tree: Expression, variable: Symbol, place: Expression) -> Statement:
    """The value of a function at a place: the numbers put in, and worked out where that makes it plainer."""
    written = tree.substitute({variable: place})
    try:
        value = exact_value(written, budget=PATIENT)
    except Undefined:
        raise ApplicationRefused("a curve has no value between the limits") from None
    short = as_fraction(value) is not None or sum(1 for _ in value.walk()) <= _SHORT
    return Equation(written, value) if short and value != written else written


@lru_cache(maxsize=64)
def _solved(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    """Several slips of a question meet the same integrand."""
    return solve(integrand, variable)


def integrated(
    integrand: Expression, variable: Symbol, lower: Expression, upper: Expression
) -> Expression | None:
    """An integral that a slip leads to, its antiderivative between the limits as written; None where none is found."""
    if not integrand.symbols():
        return integrand * difference(upper, lower)
    solution = _solved(collected(integrand, variable), variable)
    if solution is None:
        return None
    end, start = (solution.antiderivative.substitute({variable: limit}) for limit in (upper, lower))
    return difference(end, start)
