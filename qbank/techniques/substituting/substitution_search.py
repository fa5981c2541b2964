"""Finding u = g(x): the integrand is a constant times f(g) times g'.

Every part of the integrand is tried as g: the integrand is divided by g', and what is left must be written with g
alone. Among those that work a teacher takes the one that leaves the simplest integral.

    x e^(x^2)           g = x^2          left e^u, in front 1/2
    sec^2 x tan^3 x     g = tan x        left u^3
    e^x/(1 + e^(2x))    g = e^x          left 1/(1 + u^2)
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import number, over, split_constant, times
from qbank.maths.derivative import derivative
from qbank.maths.expression import (
    Apply,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
    fraction,
    rational,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.letter_exponents import has_letter_exponent, whole_multiples
from qbank.maths.positivity import without_needless_modulus
from qbank.maths.root_logarithm import root_logarithm_slope
from qbank.maths.tidying import scaled, split_coefficient, tidy
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.standard.standard_functions import FunctionTerm
from qbank.techniques.standard.standard_sums import Plan, expanded_plan, plan_as_written
from qbank.techniques.standard.standard_terms import Habit
from qbank.techniques.substituting.canonical import canonical, ordered, sums_divided
from qbank.techniques.substituting.glance import Glance
from qbank.techniques.substituting.inner_candidates import inner_candidates

__all__ = ["Outer", "Substitution", "outer_forms", "put_back", "substitution"]

#: longer integrands are not searched
_SIZE_LIMIT = 150
#: so many terms may come of multiplying out in u
_TERM_LIMIT = 4
#: larger powers of u are nobody's exercise
_POWER_LIMIT = 128


@dataclass(frozen=True, slots=True, kw_only=True)
class Outer:
    """`integrand = constant * beside * f(g)` with `g' = rate * beside`.

    Attributes:
        variable: x.
        letter: u.
        inner: g, as it was written.
        slope: g', as a teacher writes it.
        constant: the constant in front of the integrand.
        rate: the constant in front of g'.
        beside: what du uses up, without a constant.
        outer: f(u), without a constant.
    """

    variable: Symbol
    letter: Symbol
    inner: Expression
    slope: Expression
    constant: Factored
    rate: Factored
    beside: Expression
    outer: Expression

    @property
    def front(self) -> Factored:
        """The constant in front of the integral in u."""
        return times(self.constant, over(self.rate))


@dataclass(frozen=True, slots=True, kw_only=True)
class Substitution:
    """A substitution that leaves standard forms.

    Attributes:
        seen: the parts of the integrand.
        plan: the standard forms of the integral in u, constants included.
    """

    seen: Outer
    plan: Plan

    def answer(self, habit: Habit = "right", front: Factored | None = None) -> Expression:
        """The antiderivative in the variable; with a wrong habit or another constant in front, a slip."""
        plan = self.plan if front is None else _plan(self.seen, front)
        assert plan is not None
        return put_back(plan.answer(habit), self.seen.letter, self.seen.inner)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Inner:
    """A part of an integrand as a function g to be substituted: what does not depend on the integrand.

    Attributes:
        slope: g', as a teacher writes it.
        rate: the constant in front of g'.
        beside: g' without it.
        divisor: g', in the form for comparing.
        tree: g, its sums in order.
        seen: g, in the form for comparing.
        parts: the bases of both.
    """

    slope: Expression
    rate: Factored
    beside: Factored
    divisor: Factored
    tree: Expression
    seen: Factored
    parts: frozenset[Expression]


@lru_cache(maxsize=256)
def substitution(integrand: Expression, variable: Symbol) -> Substitution | None:
    """The best substitution that leaves standard forms, or None.

    >>> from qbank.maths.expression import exp
    >>> x = Symbol("x")
    >>> found = substitution(x * exp(x**2), x)
    >>> found.seen.inner == x**2, found.seen.front.coefficient
    (True, Fraction(1, 2))
    """
    found = [
        (
            (plan.expanded, *_clumsiness(seen), place),
            seen,
            plan,
        )
        for place, seen in enumerate(outer_forms(integrand, variable))
        if (plan := _plan(seen, seen.front)) is not None
    ]
    if not found:
        return None
    _, seen, plan = min(found, key=lambda one: one[0])
    return Substitution(seen=seen, plan=plan)


@lru_cache(maxsize=256)
def outer_forms(integrand: Expression, variable: Symbol) -> tuple[Outer, ...]:
    """Every part g of an integrand that leaves f(g) beside g', in order of appearance."""
    nodes = tuple(integrand.walk())
    if len(nodes) > _SIZE_LIMIT or _is_plain(integrand, variable):
        return ()
    whole = canonical(ordered(tidy(integrand)), variable)
    if not whole.coefficient:
        return ()
    letter = spare_letter(integrand)
    glance = Glance(whole, variable)
    parts = (part for part in inner_candidates(nodes, variable) if not glance.is_useless(part))
    tried = (_try(whole, part, variable, letter) for part in parts)
    return tuple(seen for seen in tried if seen is not None)


def _plan(seen: Outer, front: Factored) -> Plan | None:
    tree = times(front, factored(seen.outer)).tree()
    written = plan_as_written(tree, seen.letter)
    if written is not None:
        return written
    expanded = expanded_plan(tree, seen.letter)
    # when u leaves a long product to multiply out, it is no help
    return expanded if expanded is not None and len(expanded.terms) <= _TERM_LIMIT else None


def _clumsiness(seen: Outer) -> tuple[bool, int, bool, bool]:
    """What a teacher would rather avoid, the worst first: a root as g, a long integral in u, numbers in g, a minus."""
    size = sum(1 for _ in seen.outer.walk())
    has_number = abs(split_coefficient(seen.inner)[0]) != 1
    return _is_root(seen.inner), size, has_number, seen.front.coefficient < 0


def _is_root(inner: Expression) -> bool:
    """Whether g is the root of a bracket: the bracket itself is the simpler choice."""
    match inner:
        case Root(Sum()):
            return True
        case Power(Sum(), exponent):
            return (as_fraction(exponent) or fraction(1, 1)).denominator != 1
        case _:
            return False


def _is_plain(integrand: Expression, variable: Symbol) -> bool:
    """Whether it is a sum of powers, exponentials and the like as it stands: there is nothing to substitute."""
    plan = plan_as_written(integrand, variable)
    return plan is not None and not any(isinstance(term, FunctionTerm) for term in plan.terms)


@lru_cache(maxsize=1024)
def _inner(inner: Expression, variable: Symbol) -> _Inner | None:
    """What is known of g; None when it is a constant."""
    slope = root_logarithm_slope(inner, variable) or derivative(inner, variable)
    rate, beside = split_constant(slope, variable)
    if not beside.powers:
        return None
    divisor = sums_divided(canonical(ordered(slope), variable), variable)
    tree = ordered(tidy(inner))
    seen = sums_divided(canonical(tree, variable), variable)
    parts = frozenset(base for base, _ in (*divisor.powers, *seen.powers) if base != variable)
    return _Inner(slope=slope, rate=rate, beside=beside, divisor=divisor, tree=tree, seen=seen, parts=parts)


def _try(whole: Factored, inner: Expression, variable: Symbol, letter: Symbol) -> Outer | None:
    g = _inner(inner, variable)
    if g is None:
        return None
    outer = _outer(sums_divided(whole, variable, g.parts), g, variable, letter)
    if outer is None and isinstance(inner, Power) and inner.base == variable:
        outer = _outer(sums_divided(whole, variable), g, variable, letter)
    if outer is None:
        return None
    front, body = split_constant(outer.tree(), letter)
    if not body.powers:
        return None
    return Outer(
        variable=variable,
        letter=letter,
        inner=inner,
        slope=g.slope,
        constant=times(front, g.rate),
        rate=g.rate,
        beside=g.beside.tree(),
        outer=body.tree(),
    )


def _outer(whole: Factored, g: _Inner, variable: Symbol, letter: Symbol) -> Factored | None:
    """An integrand over g', written with the letter for g."""
    left = whole_multiples(times(whole, over(g.divisor)), variable)
    return _in_letter(left, g.tree, g.seen, variable, letter)


def _in_letter(
    left: Factored, inner: Expression, seen: Factored, variable: Symbol, letter: Symbol
) -> Factored | None:
    """A product written with the letter alone, else None; `seen` is the inner function as a product."""
    moving = tuple((b, n) for b, n in seen.powers if variable in b.symbols())
    power = fraction(0, 1)
    rest = left
    if moving:
        power = left.exponent(moving[0][0]) / moving[0][1]
        whole_number = power.denominator == 1
        simple = len(moving) == 1 and moving[0][1] == 1 and len(seen.powers) == 1 and seen.coefficient == 1
        if not (whole_number or simple) or abs(power) > _POWER_LIMIT:
            return None
        inverse = Factored(
            coefficient=fraction(1, 1), powers=tuple((b, -n * power) for b, n in seen.powers if n * power)
        )
        size = number(1 / seen.coefficient ** int(power)) if whole_number else number(1)
        rest = times(left, inverse, size)
    parts = [Factored(coefficient=fraction(1, 1), powers=((letter, power),) if power else ())]
    for base, exponent in rest.powers:
        written = _written(base, inner, variable, letter)
        if variable in written.symbols():
            return None
        parts.append(Factored(coefficient=fraction(1, 1), powers=(_exponential_power(written, exponent),)))
    return times(number(rest.coefficient), *parts)


def _exponential_power(base: Expression, exponent: Fraction) -> tuple[Expression, Fraction]:
    """A power of an exponential as one exponential: `(e^u)^-1` is `e^-u`."""
    match base:
        case Power(constant, inner) if constant == E:
            return Power(E, tidy(scaled(exponent, inner))), fraction(1, 1)
        case _:
            return base, exponent


def _written(tree: Expression, inner: Expression, variable: Symbol, letter: Symbol) -> Expression:
    """The tree with the inner function, and whole powers of it, replaced by the letter."""
    if variable not in tree.symbols():
        return tree
    if tree == inner:
        return letter
    if _is_minus(tree, inner) or _is_minus(inner, tree):
        return Negate(letter)
    ratio = _ratio(tree, inner, variable)
    if ratio is not None and ratio.denominator == 1 and ratio > 0:
        return Power(letter, rational(ratio)) if ratio != 1 else letter
    return tree.rebuild(lambda child: _written(child, inner, variable, letter))


def _is_minus(tree: Expression, other: Expression) -> bool:
    return isinstance(tree, Negate) and tree.operand == other


def _ratio(tree: Expression, inner: Expression, variable: Symbol) -> Fraction | None:
    """N where the tree is the n-th power of the inner function, both powers of the variable or of e."""
    of_tree, of_inner = _level(tree, variable), _level(inner, variable)
    if of_tree is None or of_inner is None or of_tree[0] != of_inner[0]:
        return None
    return of_tree[1] / of_inner[1]


def _level(tree: Expression, variable: Symbol) -> tuple[Expression, Fraction] | None:
    match tree:
        case Symbol() if tree == variable:
            return variable, fraction(1, 1)
        case Root(radicand, index) if radicand == variable:
            return variable, fraction(1, index)
        case Power(base, exponent) if base == variable and (n := as_fraction(exponent)) is not None:
            return (variable, n) if n else None
        case Power(Apply() as base, Integer(n)):
            return base, fraction(n, 1)
        case Power(base, exponent) if variable not in base.symbols() or has_letter_exponent(tree, variable):
            rate, body = split_coefficient(exponent)
            return (Power(base, body), rate) if rate else None
        case _:
            return None


def put_back(tree: Expression, letter: Symbol, inner: Expression) -> Expression:
    """The inner function for the letter: powers of powers joined, no modulus where nothing can be negative.

    >>> x, u = Symbol("x"), Symbol("u")
    >>> put_back(u**3, u, Root(x)) == x ** Fraction(3, 2)
    True
    """
    whole = _joined(tree.substitute({letter: inner}))
    return without_needless_modulus(tidy(whole))


def _joined(tree: Expression) -> Expression:
    tree = tree.rebuild(_joined)
    match tree:
        case Power(Power(base, inner), exponent) if base == E or _is_whole(exponent):
            n = as_fraction(exponent)
            return tree if n is None else _power(base, scaled(n, inner))
        case Power(Root(radicand, index), exponent) if _is_whole(exponent):
            n = as_fraction(exponent)
            return tree if n is None else _power(radicand, rational(n / index))
        case Power(Quotient(Integer(1), under), exponent) if _is_whole(exponent):
            return Quotient(Integer(1), _joined(Power(under, exponent)))
        case _:
            return tree


def _is_whole(tree: Expression) -> bool:
    value = as_fraction(tree)
    return value is not None and value.denominator == 1


def _power(base: Expression, exponent: Expression) -> Expression:
    return base if exponent == Integer(1) else Power(base, exponent)
