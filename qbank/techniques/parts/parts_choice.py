"""Which factor is differentiated and which is integrated, when a product is integrated by parts.

x^2 ln x, arctan x         the logarithm or the inverse function is differentiated
(x + 1) e^(2x), x cos x    the polynomial is differentiated
x e^x sin x                the same; the integral of the rest is found at the side
sinh 2x cos x              as in the next line
e^(2x) sin 3x, sin(ln x)   the circular function is differentiated, twice, and the integral comes back
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from qbank.maths.constant_factor import split_constant
from qbank.maths.derivative import arranged, derivative
from qbank.maths.expression import Apply, Expression, Quotient, Sum, Symbol, fraction
from qbank.maths.factors import Factored, power_tree
from qbank.maths.functions import FUNCTIONS
from qbank.maths.inverse_slope import inverse_slope
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.messages import Message
from qbank.techniques.circular import even_powers, odd_powers, product_to_sum, tangent_secant
from qbank.techniques.circular.angles import as_angle
from qbank.techniques.circular.circular_powers import CIRCULAR, HYPERBOLIC
from qbank.techniques.half_angle import half_angle_substitution
from qbank.techniques.hyperbolic import hyperbolic_exponentials, hyperbolic_powers, rational_hyperbolic
from qbank.techniques.parts.exponential_wave import ExponentialWave, exponential_wave
from qbank.techniques.standard.standard_exceptions import exceptions
from qbank.techniques.standard.standard_exponentials import ExponentialTerm
from qbank.techniques.standard.standard_functions import FunctionTerm
from qbank.techniques.standard.standard_letter_powers import LetterPowerTerm
from qbank.techniques.standard.standard_sums import plan_as_written
from qbank.techniques.standard.standard_terms import PowerTerm, StandardTerm
from qbank.techniques.substituting import substitution as by_substitution
from qbank.techniques.substituting.substitution_search import substitution

__all__ = ["HYPERBOLIC_WAVES", "Choice", "Kind", "choose"]

Kind: TypeAlias = Literal["logarithm", "inverse", "polynomial", "cyclic"]

#: what integrates powers and products of circular and hyperbolic functions
_CIRCULAR_TECHNIQUES = (
    by_substitution.TECHNIQUE,
    odd_powers.TECHNIQUE,
    even_powers.TECHNIQUE,
    product_to_sum.TECHNIQUE,
    tangent_secant.TECHNIQUE,
    hyperbolic_powers.TECHNIQUE,
    hyperbolic_exponentials.TECHNIQUE,
    half_angle_substitution.TECHNIQUE,
    rational_hyperbolic.TECHNIQUE,
)

#: higher powers of a logarithm, and polynomials of a higher degree, are nobody's exercise
_POWER_LIMIT = 6
_DEGREE_LIMIT = 6
_WAVE_DEGREE_LIMIT = 3

#: beside a sine or cosine their integral comes back, as that of an exponential does
HYPERBOLIC_WAVES = frozenset({"sinh", "cosh"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """`u dv`, with v.

    Attributes:
        kind: what u is.
        u: the factor that is differentiated.
        dv: the factor that is integrated.
        v: its integral.
        needed: what letters must not be, so that v is the integral: a sentence for each.
        wave: dv as an exponential times sines and cosines, where that stands beside a polynomial.
    """

    kind: Kind
    u: Expression
    dv: Expression
    v: Expression
    needed: tuple[Message, ...] = ()
    wave: ExponentialWave | None = None


def choose(core: Expression, variable: Symbol) -> Choice | None:
    """The parts of an integrand without a constant in front, or None when it is not for parts.

    >>> from qbank.maths.expression import ln
    >>> x = Symbol("x")
    >>> found = choose(x**2 * ln(x), x)
    >>> found.u == ln(x), found.dv == x**2
    (True, True)
    """
    _, seen = split_constant(core, variable)
    return (
        _inverse(seen, variable)
        or _polynomial(seen, variable)
        or _beside_wave(seen, variable)
        or _cyclic(seen, variable)
    )


def _inverse(seen: Factored, variable: Symbol) -> Choice | None:
    """A logarithm or an inverse function, perhaps to a power, times what has an integral without a logarithm."""
    found = [(base, n) for base, n in seen.powers if _named(base) is not None]
    if len(found) != 1:
        return None
    (base, n), kind = found[0], _named(found[0][0])
    if n.denominator != 1 or not 0 < n <= _POWER_LIMIT or kind is None:
        return None
    # a fraction within a fraction is no simpler derivative: only that of arctan(1/x) and its like is known without one
    within = kind == "inverse" and _has_variable_below(base, variable)
    if within and (n != 1 or inverse_slope(base, variable) is None):
        return None
    dv = seen.without(base).tree()
    plan = plan_as_written(dv, variable)
    if plan is not None and all(_is_for_parts(term, base, dv) for term in plan.terms):
        v = plan.answer()
        if _has_logarithm(v, variable):
            return None
        return Choice(kind=kind, u=power_tree(base, n), dv=dv, v=v, needed=exceptions(plan.terms))
    inner = substitution(dv, variable)
    if inner is None or not all(isinstance(term, PowerTerm) for term in inner.plan.terms):
        return None
    return Choice(kind=kind, u=power_tree(base, n), dv=dv, v=inner.answer())


def _is_for_parts(term: StandardTerm, base: Expression, dv: Expression) -> bool:
    """Whether a term is a power; or a circular function beside the logarithm of another one, `cos x ln(cos x)`.

    Where dv is the derivative of what is inside, that is substituted first.
    """
    if not isinstance(term, FunctionTerm):
        return isinstance(term, PowerTerm | LetterPowerTerm)
    (argument,) = base.children
    variable = term.inner.variable
    functions = {node.function for node in argument.walk() if isinstance(node, Apply)}
    inside = split_constant(derivative(argument, variable), variable)[1]
    return bool(functions & CIRCULAR.keys()) and inside.tree() != split_constant(dv, variable)[1].tree()


def _has_variable_below(tree: Expression, variable: Symbol) -> bool:
    quotients = (node for node in tree.walk() if isinstance(node, Quotient))
    return any(variable in node.denominator.symbols() for node in quotients)


def _named(base: Expression) -> Kind | None:
    if not isinstance(base, Apply):
        return None
    if base.function == "ln":
        return "logarithm"
    return "inverse" if FUNCTIONS[base.function].family.startswith("inverse") else None


def _polynomial(seen: Factored, variable: Symbol) -> Choice | None:
    """A polynomial times an exponential or a circular or hyperbolic function with a standard integral."""
    found = [
        (base, n)
        for base, n in seen.powers
        if (base == variable or isinstance(base, Sum)) and n.denominator == 1 and n > 0
    ]
    trees = [power_tree(base, n) for base, n in found]
    coefficients = [as_polynomial(tree, variable) for tree in trees]
    if not found or any(c is None for c in coefficients):
        return None
    dv = seen.without(*(base for base, _ in found)).tree()
    whole = as_polynomial(Factored(coefficient=fraction(1, 1), powers=tuple(found)).tree(), variable)
    if whole is None or len(whole) > _DEGREE_LIMIT + 1:
        return None
    v = _integral(dv, variable, linear=len(whole) == 2 or (len(whole) == 3 and _is_tangent_like(dv)))
    if v is None or _has_logarithm(v, variable):
        return None
    u = trees[0] if len(trees) == 1 else polynomial_tree(whole, variable)
    return Choice(kind="polynomial", u=u, dv=dv, v=v)


def _beside_wave(seen: Factored, variable: Symbol) -> Choice | None:
    """A polynomial times an exponential times sines and cosines of one angle."""
    if len(seen.powers) < 3:
        return None
    found = tuple(pair for pair in seen.powers if as_polynomial(pair[0], variable) is not None)
    dv = seen.without(*(base for base, _ in found))
    wave = exponential_wave(dv, variable) if found else None
    u = Factored(coefficient=fraction(1, 1), powers=found).tree()
    whole = as_polynomial(u, variable)
    if wave is None or whole is None or len(whole) > _WAVE_DEGREE_LIMIT + 1:
        return None
    return Choice(
        kind="polynomial", u=u, dv=arranged(dv.tree(), variable), v=wave.integral().tree(), wave=wave
    )


def _is_tangent_like(dv: Expression) -> bool:
    """Whether it is a product of tangents and secants, whose integral may be a tangent to a power."""
    functions = [node.function for node in dv.walk() if isinstance(node, Apply)]
    return len(functions) > 1 and set(functions) <= {"tan", "sec", "cot", "cosec"}


def _integral(dv: Expression, variable: Symbol, *, linear: bool) -> Expression | None:
    """The integral of an exponential or a circular function; beside a linear u also of powers and products of these."""
    term = _single(dv, variable)
    if isinstance(term, ExponentialTerm | FunctionTerm):
        return term.answer()
    functions = [node for node in dv.walk() if isinstance(node, Apply)]
    if (
        term is not None
        or not linear
        or any(node.function not in CIRCULAR | HYPERBOLIC for node in functions)
    ):
        return None
    found = (known.work(dv, variable) for known in _CIRCULAR_TECHNIQUES if functions)
    return next((solution.antiderivative for solution in found if solution is not None), None)


def _cyclic(seen: Factored, variable: Symbol) -> Choice | None:
    """An exponential, sinh or cosh times a sine or cosine; or the sine or cosine of a logarithm, times a power."""
    found = [base for base, n in seen.powers if _is_wave(base) and n == 1]
    if len(found) != 1 or not isinstance(found[0], Apply):
        return None
    wave, argument = found[0], found[0].argument
    dv = seen.without(wave).tree()
    term = _single(dv, variable)
    linear = isinstance(term, ExponentialTerm) and as_angle(argument, variable) is not None
    logarithm = isinstance(term, PowerTerm | LetterPowerTerm) and _is_logarithm(argument, variable)
    hyperbolic = _is_hyperbolic_wave(dv) and as_angle(argument, variable) is not None
    if term is None or not (linear or logarithm or hyperbolic):
        return None
    return Choice(kind="cyclic", u=wave, dv=dv, v=term.answer(), needed=exceptions((term,)))


def _is_logarithm(tree: Expression, variable: Symbol) -> bool:
    """Whether it is a number of times the logarithm of a multiple or power of x: its derivative is a constant over x."""
    body = split_constant(tree, variable)[1].tree()
    if not (isinstance(body, Apply) and body.function == "ln"):
        return False
    return split_constant(derivative(tree, variable), variable)[1].powers == ((variable, fraction(-1, 1)),)


def _is_hyperbolic_wave(dv: Expression) -> bool:
    return isinstance(dv, Apply) and dv.function in HYPERBOLIC_WAVES


def _is_wave(base: Expression) -> bool:
    return isinstance(base, Apply) and base.function in ("sin", "cos")


def _single(dv: Expression, variable: Symbol) -> StandardTerm | None:
    plan = plan_as_written(dv, variable)
    return plan.terms[0] if plan is not None and len(plan.terms) == 1 else None


def _has_logarithm(tree: Expression, variable: Symbol) -> bool:
    logarithms = (node for node in tree.walk() if isinstance(node, Apply) and node.function == "ln")
    return any(variable in node.symbols() for node in logarithms)
