"""An integrand with an inverse circular function in it, written with the angle t that the function is.

x^2 arcsin(x)/sqrt(1 - x^2)    t = arcsin x     t sin^2 t
e^(arctan x)/(1 + x^2)^2       t = arctan x     e^t cos^2 t
e^(arccosec 2x)/x^3            t = arccosec 2x  -4 e^t sin t cos t
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from qbank.maths.constant_factor import ONE, in_front, number, over, split_constant, times
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
    Sum,
    Symbol,
    as_fraction,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, factored, power_tree
from qbank.maths.polynomial import as_polynomial
from qbank.maths.tidying import tidy
from qbank.techniques.circular.circular_powers import CIRCULAR
from qbank.techniques.standard.linear_inner import Inner, as_inner
from qbank.techniques.trigonometric.inverse_kinds import INVERSES, InverseKind
from qbank.techniques.trigonometric.kinds import powers_tree
from qbank.techniques.trigonometric.trigonometric_plan import angle_letter

__all__ = ["InversePlan", "inverse_plan"]

#: larger powers are nobody's exercise
_POWER_LIMIT = 12
_HALF = Fraction(1, 2)


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
        first = solved if _is_pure(self.inner) else Equation(self.inner.tree, g)
        known = [first, Equation(Differential(x), tidy(product(rate.tree(), Differential(self.letter))))]
        if self.under is not None:
            base, size = self.under
            if self.odd:
                root = times(_to_the(size, _HALF), factored(self._of(self.kind.root)))
                known.append(Equation(Root(base), root.tree()))
            else:
                known.append(
                    Equation(base, times(size, factored(Power(self._of(self.kind.root), Integer(2)))).tree())
                )
        return tuple(known)

    def sides(self) -> Mapping[str, Factored]:
        """The six functions of t in x."""
        inner, square = factored(self.inner.tree), self._square()
        root = Factored(coefficient=Fraction(1), powers=((square, _HALF),))
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
                    parts = (_to_the(factored(back(base)), n) for base, n in seen.powers)
                    return times(number(seen.coefficient), *parts).tree()
                case Power(Apply() as base, exponent) if (n := as_fraction(exponent)) is not None:
                    return _to_the(factored(back(base)), n).tree()
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

    >>> from qbank.maths.expression import exp, arcsin
    >>> x = Symbol("x")
    >>> plan, name = inverse_plan(x * exp(arcsin(x)), x)
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
    seen = _Seen(angle=angle, letter=letter, kind=INVERSES[angle.function], inner=inner)
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


@dataclass(slots=True, kw_only=True)
class _Seen:
    """The factors of an integrand, as they are seen one after another.

    Attributes:
        angle: the inverse function.
        letter: t.
        kind: which inverse function it is.
        inner: g.
        constant: what stands in front.
        parts: what the inverse function stands in, t in its place.
        powers: of functions of t.
        under: the quadratic and the multiple of 1 - g^2 that it is.
        odd: whether its root occurs.
    """

    angle: Expression
    letter: Symbol
    kind: InverseKind
    inner: Inner
    constant: list[Factored] = field(default_factory=list)
    parts: list[Factored] = field(default_factory=list)
    powers: dict[str, int] = field(default_factory=dict)
    under: tuple[Expression, Factored] | None = None
    odd: bool = False

    def add(self, base: Expression, n: Fraction) -> bool:
        """See one factor; False where it is no function of t."""
        variable = self.inner.variable
        if variable not in base.symbols():
            self.constant.append(_one(base, n))
            return True
        if self.angle in base.walk():
            moved = _replaced(base, self.angle, self.letter)
            self.parts.append(_one(moved, n))
            return variable not in moved.symbols()
        if abs(n) > _POWER_LIMIT:
            return False
        if base == variable and n.denominator == 1 and _is_pure(self.inner):
            self._power(over(self.inner.slope), n, self.kind.inner, n)
            return True
        size = _multiple(base, self.kind, self.inner)
        if size is None or n.denominator > 2 or (self.under is not None and self.under[0] != base):
            return False
        if n.denominator == 2 and (self.kind.one_sign is None or size.powers or size.coefficient <= 0):
            return False
        self.under, self.odd = (base, size), self.odd or n.denominator == 2
        self._power(size, n, self.kind.root, 2 * n)
        return True

    def outer(self, rate: Mapping[str, int]) -> Expression:
        """The product in t, times what dx brings."""
        names = (*self.powers, *(name for name in rate if name not in self.powers))
        powers = {name: self.powers.get(name, 0) + rate.get(name, 0) for name in names}
        kept = powers_tree({name: n for name, n in powers.items() if n}, self.letter)
        return times(*self.parts, factored(kept)).tree()

    def _power(self, size: Factored, n: Fraction, name: str, exponent: Fraction) -> None:
        self.constant.append(_to_the(size, n))
        self.powers[name] = self.powers.get(name, 0) + int(exponent)


def _one(base: Expression, exponent: Fraction) -> Factored:
    return Factored(coefficient=Fraction(1), powers=((base, exponent),))


def _to_the(size: Factored, n: Fraction) -> Factored:
    if size == ONE:
        return ONE
    if n.denominator == 1:
        return Factored(
            coefficient=size.coefficient ** int(n), powers=tuple((base, e * n) for base, e in size.powers)
        )
    return factored(power_tree(size.tree(), n))


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


def _is_pure(inner: Inner) -> bool:
    """Whether g is a multiple of x, nothing added."""
    return factored(inner.tree).exponent(inner.variable) == 1


def _replaced(tree: Expression, angle: Expression, letter: Symbol) -> Expression:
    return letter if tree == angle else tree.rebuild(lambda child: _replaced(child, angle, letter))


def _multiple(base: Expression, kind: InverseKind, inner: Inner) -> Factored | None:
    """What number of times 1 - g^2 (or the like) the base is; None when it is no multiple of it."""
    if not isinstance(base, Sum):
        return None
    one, squared = kind.signs
    polynomial, g = as_polynomial(base, inner.variable), as_polynomial(inner.tree, inner.variable)
    if polynomial is not None and g is not None:
        shift, slope = g
        wanted = (one + squared * shift**2, 2 * squared * shift * slope, squared * slope**2)
        size = polynomial[-1] / wanted[-1]
        return number(size) if tuple(c * size for c in wanted) == tuple(polynomial) else None
    fixed = [term for term in base.terms if inner.variable not in term.symbols()]
    moving = [term for term in base.terms if inner.variable in term.symbols()]
    if len(fixed) != 1 or len(moving) != 1 or not _is_pure(inner):
        return None
    scale = times(factored(fixed[0]), number(one))
    expected = times(scale, number(squared), _to_the(factored(inner.tree), Fraction(2)))
    seen = factored(moving[0])
    same = seen.coefficient == expected.coefficient and set(seen.powers) == set(expected.powers)
    return scale if same else None
