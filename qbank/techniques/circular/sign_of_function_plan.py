"""Roots of even powers of circular or hyperbolic functions, and their moduli, as a sign times a product without roots.

    sqrt(a cos^2 x)         sqrt a |cos x|,       (|cos x|/cos x) times sqrt a cos x
    (1 - sech^2 x)^(3/2)    1 - sech^2 x = tanh^2 x first
    sqrt(a cosec^4 x)       sqrt a cosec^2 x, where no sign is needed

The sign changes only where the function does, at a zero or a pole. What is never negative (sech, cosh) needs none.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import number, split_constant, times
from qbank.maths.equation import Equation
from qbank.maths.expression import Apply, Expression, Integer, Integral, Power, Sum, Symbol, product
from qbank.maths.factors import Factored, factored
from qbank.maths.positivity import surely_positive
from qbank.maths.surds import square_root
from qbank.techniques.carrying import multiplied
from qbank.techniques.circular.angles import as_angle
from qbank.techniques.circular.circular_powers import CIRCULAR, HYPERBOLIC, POWER_LIMIT

__all__ = ["FunctionSign", "function_sign"]

#: of a function f: what 1 - f^2, 1 + f^2 and f^2 - 1 are squares of (NIST DLMF 4.21(i), 4.35(i))
_ONE_LESS = {"sin": "cos", "cos": "sin", "tanh": "sech", "sech": "tanh"}
_ONE_MORE = {"tan": "sec", "cot": "cosec", "sinh": "cosh", "cosech": "coth"}
_LESS_ONE = {"sec": "tan", "cosec": "cot", "cosh": "sinh", "coth": "cosech"}


@dataclass(frozen=True, slots=True, kw_only=True)
class FunctionSign:
    """`integrand = constant * (|f|/f) ... * core`.

    Attributes:
        variable: the variable.
        constant: what stands in front, roots of constants too.
        identities: sums that are squares of functions.
        taken: the integrand without roots, in moduli, without the constant.
        core: the same without moduli.
        inside: the functions whose signs stand in front.
    """

    variable: Symbol
    constant: Factored
    identities: tuple[Equation, ...]
    taken: Expression
    core: Expression
    inside: tuple[Expression, ...]

    @property
    def front(self) -> Factored:
        """The constant with the signs."""
        signs = (
            Factored(coefficient=Fraction(1), powers=((Apply("abs", f), Fraction(1)), (f, Fraction(-1))))
            for f in self.inside
        )
        return times(self.constant, *signs)

    def before(self, line: Expression, front: Factored | None = None) -> Expression:
        """A line of the working of the core with the front before it."""
        whole = self.front if front is None else front
        if isinstance(line, Sum):
            return product(whole.tree(), line) if whole.powers or whole.coefficient != 1 else line
        if any(isinstance(node, Integral) for node in line.walk()):
            return multiplied(whole, line)
        return times(whole, factored(line)).tree()


@lru_cache(maxsize=64)
def function_sign(integrand: Expression, variable: Symbol) -> FunctionSign | None:
    """The plan of an integrand with such a root or modulus, else None.

    >>> from qbank.maths.expression import Root, cos
    >>> x = Symbol("x")
    >>> plan = function_sign(Root(cos(x) ** 2), x)
    >>> plan.core == cos(x), plan.inside == (cos(x),)
    (True, True)
    """
    constant, moving = split_constant(integrand, variable)
    rooted = [base for base, n in moving.powers if n.denominator == 2 or _is_modulus(base)]
    if not rooted:
        return None
    fronts, taken, plain = [constant], list[Factored](), list[Factored]()
    identities, inside = list[Equation](), dict[Expression, int]()
    for base, n in moving.powers:
        if base not in rooted:
            if n.denominator != 1 or not _function(base, variable):
                return None
            taken.append(_one(base, n))
            plain.append(_one(base, n))
            continue
        seen = _as_power(base, variable)
        if seen is None:
            return None
        size, function, even, identity = seen
        power = even * n
        if power.denominator != 1 or abs(power) > POWER_LIMIT:
            return None
        if size.coefficient < 0:
            return None
        fronts.append(_rooted(size, n))
        if identity is not None:
            identities.append(identity)
        odd = power % 2 == 1 and not surely_positive(function)
        taken.append(_one(Apply("abs", function) if odd else function, power))
        plain.append(_one(function, power))
        if odd:
            inside[function] = inside.get(function, 0) + 1
    core = times(*plain)
    if variable not in core.tree().symbols():
        return None
    return FunctionSign(
        variable=variable,
        constant=times(*fronts),
        identities=tuple(identities),
        taken=times(*taken).tree(),
        core=core.tree(),
        inside=tuple(function for function, count in inside.items() if count % 2),
    )


def _one(base: Expression, exponent: Fraction) -> Factored:
    seen = factored(base) if exponent.denominator == 1 else None
    if seen is not None:
        powers = tuple((b, e * exponent) for b, e in seen.powers if e * exponent)
        return Factored(coefficient=seen.coefficient ** int(exponent), powers=powers)
    return Factored(coefficient=Fraction(1), powers=((base, exponent),))


def _rooted(size: Factored, exponent: Fraction) -> Factored:
    """A positive constant to a power of a half: `4a` to 1/2 is 2 times a to 1/2."""
    root = square_root(size.coefficient)
    if root is None or exponent.denominator == 1:
        return _one(size.tree(), exponent) if size != number(1) else size
    left = Factored(coefficient=Fraction(root.radicand), powers=size.powers).tree()
    front = number(root.rational ** int(2 * exponent))
    return front if left == Integer(1) else times(front, _one(left, exponent))


def _is_modulus(base: Expression) -> bool:
    return isinstance(base, Apply) and base.function == "abs"


def _function(tree: Expression, variable: Symbol) -> bool:
    """Whether it is a circular or hyperbolic function of a linear argument."""
    return (
        isinstance(tree, Apply)
        and (tree.function in CIRCULAR or tree.function in HYPERBOLIC)
        and as_angle(tree.argument, variable) is not None
    )


_Seen = tuple[Factored, Expression, int, Equation | None]


def _as_power(base: Expression, variable: Symbol) -> _Seen | None:
    """`size f^even` under a root, or |f|; with the identity by which a sum is one."""
    if isinstance(base, Apply) and base.function == "abs":
        return (number(1), base.argument, 1, None) if _function(base.argument, variable) else None
    identity = None
    if isinstance(base, Sum):
        square = _square(base, variable)
        if square is None:
            return None
        identity, base = Equation(base, square), square
    size, moving = split_constant(base, variable)
    if len(moving.powers) != 1:
        return None
    function, power = moving.powers[0]
    if not _function(function, variable) or power % 2:
        return None
    return size, function, int(power), identity


def _square(base: Sum, variable: Symbol) -> Expression | None:
    """`a - a sin^2 x` as `a cos^2 x`."""
    if len(base.terms) != 2:
        return None
    fixed = [term for term in base.terms if variable not in term.symbols()]
    if len(fixed) != 1:
        return None
    size, moving = split_constant(next(term for term in base.terms if term is not fixed[0]), variable)
    if len(moving.powers) != 1 or moving.powers[0][1] != 2:
        return None
    function, constant = moving.powers[0][0], factored(fixed[0])
    if not isinstance(function, Apply) or constant.powers != size.powers:
        return None
    if abs(constant.coefficient) != abs(size.coefficient):
        return None
    if constant.coefficient == size.coefficient:
        name, front = _ONE_MORE.get(function.function), constant
    elif function.function in _LESS_ONE:
        name, front = _LESS_ONE[function.function], size
    else:
        name, front = _ONE_LESS.get(function.function), constant
    if name is None:
        return None
    square = Power(Apply(name, function.argument), Integer(2))
    return times(front, factored(square)).tree()
