"""Roots of even powers of circular or hyperbolic functions, and their moduli, as a sign times a product without roots.

    sqrt(a cos^2 x)         sqrt a |cos x|,       (|cos x|/cos x) times sqrt a cos x
    (1 - sech^2 x)^(3/2)    1 - sech^2 x = tanh^2 x first
    sqrt(a cosec^4 x)       sqrt a cosec^2 x, where no sign is needed
    sqrt(1 + cos 2x)        1 + cos 2x = 2 cos^2 x first

The sign changes only where the function does, at a zero or a pole. What is never negative (sech, cosh) needs none.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import ONE, number, over, split_constant, times
from qbank.maths.expression import Apply, Expression, Integer, Integral, Sum, Symbol, fraction, product
from qbank.maths.factors import Factored, factored
from qbank.maths.positivity import surely_positive
from qbank.maths.surds import square_root, with_one_root
from qbank.techniques.carrying import multiplied
from qbank.techniques.circular.angles import as_angle
from qbank.techniques.circular.circular_powers import CIRCULAR, HYPERBOLIC, POWER_LIMIT
from qbank.techniques.circular.single_squares import SingleSquare, single_square

__all__ = ["FunctionSign", "function_sign"]


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
        two: what the number 2 of a double angle gives in the constant, 1 where there is none.
        closed: the integral without bars, in the whole angle; None where there is none.
        slope: of half the angle, where that is taken.
    """

    variable: Symbol
    constant: Factored
    identities: tuple[SingleSquare, ...]
    taken: Expression
    core: Expression
    inside: tuple[Expression, ...]
    two: Factored = ONE
    closed: Expression | None = None
    slope: Factored = ONE

    @property
    def front(self) -> Factored:
        """The constant with the signs."""
        signs = (
            Factored(
                coefficient=fraction(1, 1), powers=((Apply("abs", f), fraction(1, 1)), (f, fraction(-1, 1)))
            )
            for f in self.inside
        )
        return times(self.constant, *signs)

    def before(self, line: Expression, front: Factored | None = None) -> Expression:
        """A line of the working of the core with the front before it."""
        whole = self.front if front is None else front
        if isinstance(line, Sum):
            return product(whole.tree(), line) if whole.powers or whole.coefficient != 1 else line
        if line.holds(Integral):
            return multiplied(whole, line)
        return _joined(times(whole, factored(line)))


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
    identities, inside = list[SingleSquare](), dict[Expression, int]()
    alone, two = len(moving.powers) == 1, ONE
    for base, n in moving.powers:
        if base not in rooted:
            if n.denominator != 1 or not _function(base, variable):
                return None
            taken.append(_one(base, n))
            plain.append(_one(base, n))
            continue
        seen = _as_power(base, variable, summed=alone and n == fraction(1, 2))
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
            if identity.halved and not isinstance(function, Sum):
                two = times(two, _rooted(number(2), n))
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
        two=two,
        closed=_closed(constant, moving, identities) if inside else None,
        slope=identities[0].slope if identities else ONE,
    )


def _one(base: Expression, exponent: Fraction) -> Factored:
    seen = factored(base) if exponent.denominator == 1 else None
    if seen is not None:
        powers = tuple((b, e * exponent) for b, e in seen.powers if e * exponent)
        return Factored(coefficient=seen.coefficient ** int(exponent), powers=powers)
    return Factored(coefficient=fraction(1, 1), powers=((base, exponent),))


def _rooted(size: Factored, exponent: Fraction) -> Factored:
    """A positive constant to a power of a half: `4a` to 1/2 is 2 times a to 1/2."""
    root = square_root(size.coefficient)
    if root is not None and not size.powers and exponent.denominator == 2:
        return root.to_the(int(2 * exponent)).factor()
    if root is None or exponent.denominator == 1:
        return _one(size.tree(), exponent) if size != number(1) else size
    left = Factored(coefficient=Fraction(root.radicand), powers=size.powers).tree()
    front = number(root.rational ** int(2 * exponent))
    return front if left == Integer(1) else times(front, _one(left, exponent))


def _closed(constant: Factored, moving: Factored, squares: list[SingleSquare]) -> Expression | None:
    """The integral of the root of a sum in the whole angle: `2 sin x/sqrt(1 + cos x)`."""
    if len(squares) != 1 or moving.powers != ((squares[0].whole, fraction(1, 2)),):
        return None
    root = squares[0].root
    return None if root is None else times(constant, root).tree()


def _joined(whole: Factored) -> Expression:
    """`2/sqrt(2)` in front as `sqrt(2)`."""
    roots = [base for base, n in whole.powers if isinstance(base, Integer) and abs(n) == fraction(1, 2)]
    numbers = Factored(
        coefficient=whole.coefficient, powers=tuple(pair for pair in whole.powers if pair[0] in roots)
    )
    front = factored(with_one_root(numbers.tree()))
    return times(front, over(number(whole.coefficient)), whole.without(*roots)).tree()


def _is_modulus(base: Expression) -> bool:
    return isinstance(base, Apply) and base.function == "abs"


def _function(tree: Expression, variable: Symbol) -> bool:
    """Whether it is a circular or hyperbolic function of a linear argument."""
    return (
        isinstance(tree, Apply)
        and (tree.function in CIRCULAR or tree.function in HYPERBOLIC)
        and as_angle(tree.argument, variable) is not None
    )


_Seen = tuple[Factored, Expression, int, SingleSquare | None]


def _as_power(base: Expression, variable: Symbol, *, summed: bool) -> _Seen | None:
    """`size f^even` under a root, or |f|; with the identity by which a sum is one."""
    if isinstance(base, Apply) and base.function == "abs":
        return (number(1), base.argument, 1, None) if _function(base.argument, variable) else None
    if isinstance(base, Sum):
        square = single_square(base, variable, summed=summed)
        if square is None or not (square.halved or _function(square.function, variable)):
            return None
        return square.size, square.function, 2, square
    size, moving = split_constant(base, variable)
    if len(moving.powers) != 1:
        return None
    function, power = moving.powers[0]
    if not _function(function, variable) or power % 2:
        return None
    return size, function, int(power), None
