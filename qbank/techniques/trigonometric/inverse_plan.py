"""An integrand with an inverse circular function in it, written with the angle t that the function is.

x^2 arcsin(x)/sqrt(1 - x^2)    t = arcsin x     t sin^2 t
e^(arctan x)/(1 + x^2)^2       t = arctan x     e^t cos^2 t
e^(arccosec 2x)/x^3            t = arccosec 2x  -4 e^t sin t cos t
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from qbank.maths.constant_factor import in_front, number, over, split_constant, times
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Apply,
    Differential,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Symbol,
    as_fraction,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.tidying import tidy
from qbank.techniques.circular.circular_powers import CIRCULAR
from qbank.techniques.standard.linear_inner import Inner, as_inner
from qbank.techniques.trigonometric.inverse_factors import FactorsSeen, is_pure, raised
from qbank.techniques.trigonometric.inverse_kinds import INVERSES, InverseKind
from qbank.techniques.trigonometric.kinds import powers_tree
from qbank.techniques.trigonometric.trigonometric_plan import angle_letter

__all__ = ["InversePlan", "inverse_plan"]

_HALF = fraction(1, 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class InversePlan:
    """`integrand dx = front outer dt`.

    Attributes:
        variable: x.
        letter: t.
        kind: which inverse function t is.
        inner: g.
        under: the quadratic of the integrand that is a multiple of 1 - g^2 or the like, and the multiple; or None.
        odd: whether its root occurs.
        front: the constant in front.
        outer: the integrand in t.
        bare: the same without what dx brings, for a slip.
    """

    variable: Symbol
    letter: Symbol
    kind: InverseKind
    inner: Inner
    under: tuple[Expression, Factored] | None
    odd: bool
    front: Factored
    outer: Expression
    bare: Expression

    def equations(self) -> tuple[Equation, ...]:
        """What x, dx and the quadratic are in t."""
        slope, g = over(self.inner.slope), self._of(self.kind.inner)
        x = self.variable
        rate = times(slope, number(self.kind.sign), factored(powers_tree(dict(self.kind.rate), self.letter)))
        solved = Equation(x, times(slope, factored(g)).tree())
        first = solved if is_pure(self.inner) else Equation(self.inner.tree, g)
        known = [first, Equation(Differential(x), tidy(product(rate.tree(), Differential(self.letter))))]
        if self.under is not None:
            base, size = self.under
            if self.odd:
                root = times(raised(size, _HALF), factored(self._of(self.kind.root)))
                known.append(Equation(Root(base), root.tree()))
            else:
                known.append(
                    Equation(base, times(size, factored(Power(self._of(self.kind.root), Integer(2)))).tree())
                )
        return tuple(known)

    def sides(self) -> Mapping[str, Factored]:
        """The six functions of t in x."""
        inner, square = factored(self.inner.tree), self._square()
        root = Factored(coefficient=fraction(1, 1), powers=((square, _HALF),))
        return {name: self.kind.side(name, inner, root) for name in CIRCULAR}

    def put_back(self, tree: Expression, angle: Expression) -> Expression:
        """An expression in t written in x again, `angle` standing for t itself."""
        sides, letter = self.sides(), self.letter

        def back(node: Expression) -> Expression:
            if letter not in node.symbols():
                return node
            match node:
                case Symbol():
                    return angle
                case Apply(name, argument) if name in CIRCULAR and argument == letter:
                    return sides[name].tree()
                case Product() | Quotient() | Negate():
                    seen = factored(node)
                    parts = (raised(factored(back(base)), n) for base, n in seen.powers)
                    return times(number(seen.coefficient), *parts).tree()
                case Power(Apply() as base, exponent) if (n := as_fraction(exponent)) is not None:
                    return raised(factored(back(base)), n).tree()
                case Apply("ln", Apply("abs", argument)):
                    return _logarithm(back(argument))
                case _:
                    return node.rebuild(back)

        return tidy(back(tree))

    def _of(self, name: str) -> Expression:
        return Apply(name, self.letter)

    def _square(self) -> Expression:
        """`1 - g^2` or the like, as the integrand has it where it does."""
        if self.under is not None and self.under[1] == number(1):
            return self.under[0]
        one, squared = self.kind.signs
        square = factored(Power(self.inner.tree, Integer(2))).tree()
        terms = [_signed(one, Integer(1)), _signed(squared, square)]
        return sum_of(*(terms if one > 0 else reversed(terms)))


def inverse_plan(integrand: Expression, variable: Symbol) -> tuple[InversePlan, str] | None:
    """The plan of an integrand, and the name of the inverse function; None where it is not of this kind.

    >>> from qbank.maths.expression import exp
    >>> x = Symbol("x")
    >>> plan, name = inverse_plan(x * exp(Apply("arcsin", x)), x)
    >>> name, plan.outer == exp(plan.letter) * Apply("sin", plan.letter) * Apply("cos", plan.letter)
    ('arcsin', True)
    """
    angles = {node for node in integrand.walk() if _is_angle(node, variable)}
    letter = angle_letter(integrand, variable)
    if len(angles) != 1 or letter is None:
        return None
    (angle,) = angles
    assert isinstance(angle, Apply)  # it was seen to be
    inner = as_inner(angle.argument, variable)
    if inner is None:
        return None
    seen = FactorsSeen(angle=angle, letter=letter, kind=INVERSES[angle.function], inner=inner)
    whole = factored(integrand)
    if not all(seen.add(base, n) for base, n in whole.powers) or not seen.parts:
        return None
    kind = seen.kind
    fixed, outer = split_constant(seen.outer(dict(kind.rate)), letter)
    constant = times(number(whole.coefficient), *seen.constant)
    plan = InversePlan(
        variable=variable,
        letter=letter,
        kind=kind,
        inner=inner,
        under=seen.under,
        odd=seen.odd,
        front=times(constant, fixed, over(inner.slope), number(kind.sign)),
        outer=outer.tree(),
        bare=times(constant, factored(seen.outer({}))).tree(),
    )
    return plan, angle.function


def _is_angle(node: Expression, variable: Symbol) -> bool:
    return isinstance(node, Apply) and node.function in INVERSES and variable in node.symbols()


def _logarithm(argument: Expression) -> Expression:
    """`ln|g|`; of a power or root the logarithm of its base, with the exponent in front."""
    seen = factored(argument)
    if seen.coefficient != 1 or len(seen.powers) != 1:
        return Apply("ln", Apply("abs", argument))
    ((base, n),) = seen.powers
    # what stands under an even root is not negative
    return in_front(number(n), Apply("ln", base if n.denominator == 2 else Apply("abs", base)))


def _signed(sign: int, tree: Expression) -> Expression:
    return tree if sign > 0 else Negate(tree)
