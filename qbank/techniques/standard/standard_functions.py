"""Standard forms of the circular and the hyperbolic functions: one table for each family.

A product of functions of one argument is seen as powers of sine and cosine, so that `sec^2`, `1/cos^2` and
`tan^2/sin^2` are one row. The tables are those of any handbook (NIST DLMF 4.26(i), 4.40(i)).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, TypeAlias

from qbank.maths.constant_factor import in_front, number, over, times
from qbank.maths.derivative import derivative
from qbank.maths.expression import Apply, Expression, Integer, Power, Quotient, Symbol, fraction, sum_of
from qbank.maths.factors import Factored
from qbank.maths.tidying import tidy
from qbank.messages import say, together
from qbank.techniques.standard.linear_inner import Inner, as_inner
from qbank.techniques.standard.standard_terms import Habit, logarithm, slope_factor

__all__ = ["FUNCTION_POWERS", "FunctionTerm", "Kind", "function_exponents", "standard_function"]

Kind: TypeAlias = Literal["circular", "hyperbolic"]

#: every function as a family and its exponents (of sine, of cosine)
FUNCTION_POWERS: dict[str, tuple[Kind, int, int]] = {
    "sin": ("circular", 1, 0),
    "cos": ("circular", 0, 1),
    "tan": ("circular", 1, -1),
    "sec": ("circular", 0, -1),
    "cosec": ("circular", -1, 0),
    "cot": ("circular", -1, 1),
    "sinh": ("hyperbolic", 1, 0),
    "cosh": ("hyperbolic", 0, 1),
    "tanh": ("hyperbolic", 1, -1),
    "sech": ("hyperbolic", 0, -1),
    "cosech": ("hyperbolic", -1, 0),
    "coth": ("hyperbolic", -1, 1),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One standard form.

    Attributes:
        names: the functions it is written with, each with its exponent.
        sign: of the antiderivative.
        result: the antiderivative without its sign, of the inner function.
        says: what the teacher says.
    """

    names: tuple[tuple[str, int], ...]
    sign: int
    result: Callable[[Expression], Expression]
    says: str


def _f(name: str) -> Callable[[Expression], Expression]:
    return lambda u: Apply(name, u)


def _log(*names: str) -> Callable[[Expression], Expression]:
    return lambda u: logarithm(sum_of(*(Apply(name, u) for name in names)))


def _row(
    names: str | tuple[tuple[str, int], ...],
    sign: int,
    result: Callable[[Expression], Expression],
    says: str,
) -> _Row:
    written = ((names, 1),) if isinstance(names, str) else names
    return _Row(names=written, sign=sign, result=result, says=says)


_ROWS: tuple[_Row, ...] = (
    _row("sin", -1, _f("cos"), say("The integral of the sine is minus the cosine.")),
    _row("cos", 1, _f("sin"), say("The integral of the cosine is the sine.")),
    _row("tan", 1, _log("sec"), say("The integral of the tangent is the logarithm of the secant.")),
    _row("cot", 1, _log("sin"), say("The integral of the cotangent is the logarithm of the sine.")),
    _row(
        "sec",
        1,
        _log("sec", "tan"),
        say("The integral of the secant is the logarithm of secant plus tangent."),
    ),
    _row(
        "cosec",
        -1,
        _log("cosec", "cot"),
        say("The integral of the cosecant is minus the logarithm of cosecant plus cotangent."),
    ),
    _row((("sec", 2),), 1, _f("tan"), say("Secant squared is the derivative of the tangent.")),
    _row((("cosec", 2),), -1, _f("cot"), say("Cosecant squared is minus the derivative of the cotangent.")),
    _row(
        (("sec", 1), ("tan", 1)), 1, _f("sec"), say("Secant times tangent is the derivative of the secant.")
    ),
    _row(
        (("cosec", 1), ("cot", 1)),
        -1,
        _f("cosec"),
        say("Cosecant times cotangent is minus the derivative of the cosecant."),
    ),
    _row("sinh", 1, _f("cosh"), say("The integral of sinh is cosh.")),
    _row("cosh", 1, _f("sinh"), say("The integral of cosh is sinh.")),
    _row("tanh", 1, _log("cosh"), say("The integral of tanh is the logarithm of cosh.")),
    _row("coth", 1, _log("sinh"), say("The integral of coth is the logarithm of sinh.")),
    _row(
        "sech", 1, lambda u: Apply("arctan", Apply("sinh", u)), say("The integral of sech is arctan of sinh.")
    ),
    _row(
        "cosech",
        1,
        lambda u: logarithm(Apply("tanh", _half(u))),
        say("The integral of cosech is the logarithm of tanh of half the angle."),
    ),
    _row((("sech", 2),), 1, _f("tanh"), say("Sech squared is the derivative of tanh.")),
    _row((("cosech", 2),), -1, _f("coth"), say("Cosech squared is minus the derivative of coth.")),
    _row((("sech", 1), ("tanh", 1)), -1, _f("sech"), say("Sech times tanh is minus the derivative of sech.")),
    _row(
        (("cosech", 1), ("coth", 1)),
        -1,
        _f("cosech"),
        say("Cosech times coth is minus the derivative of cosech."),
    ),
)


def _half(tree: Expression) -> Expression:
    return tidy(Quotient(tree, Integer(2)))


def _exponents(names: Iterable[tuple[str, int]]) -> tuple[Kind, Fraction, Fraction]:
    kind: Kind = "circular"
    sine = cosine = fraction(0, 1)
    for name, n in names:
        kind, of_sine, of_cosine = FUNCTION_POWERS[name]
        sine, cosine = sine + n * of_sine, cosine + n * of_cosine
    return kind, sine, cosine


_TABLE = {_exponents(row.names): row for row in _ROWS}


@dataclass(frozen=True, slots=True, kw_only=True)
class FunctionTerm:
    """`constant` times a standard form of circular or hyperbolic functions.

    Attributes:
        constant: the constant in front.
        inner: the argument.
        kind: the family.
        sine: the exponent of sine when everything is written with sine and cosine.
        cosine: the exponent of cosine.
    """

    constant: Factored
    inner: Inner
    kind: Kind
    sine: Fraction
    cosine: Fraction

    @property
    def _row(self) -> _Row:
        return _TABLE[self.kind, self.sine, self.cosine]

    @property
    def reason(self) -> str:
        """What the teacher says."""
        says = self._row.says
        return says if self.inner.plain else together(says, say("Divide by the slope of what is inside."))

    def core(self) -> Expression:
        """The standard form."""
        powers = tuple((Apply(name, self.inner.tree), fraction(n, 1)) for name, n in self._row.names)
        return Factored(coefficient=fraction(1, 1), powers=powers).tree()

    def draft(self) -> Expression | None:
        """Nothing in between."""
        return None

    def answer(self, habit: Habit = "right") -> Expression:
        """The antiderivative, divided by the slope."""
        row = self._row
        if habit == "differentiated":
            return in_front(self.constant, derivative(self.core(), self.inner.variable))
        if habit == "function raised":
            return self._raised()
        sign = number(-row.sign if habit == "sign changed" else row.sign)
        by = slope_factor(self.inner, habit)
        return in_front(times(self.constant, sign, by), row.result(self.inner.tree))

    def _raised(self) -> Expression:
        """`sec^2 x` taken to `1/3 sec^3 x`, as if the function were the variable."""
        (name, n), *others = self._row.names
        if n == 1 or others:
            return self.answer()
        front = times(self.constant, over(self.inner.slope), number(fraction(1, n + 1)))
        return in_front(front, Power(Apply(name, self.inner.tree), Integer(n + 1)))


def function_exponents(
    base: Expression, exponent: Fraction
) -> tuple[Kind, Expression, Fraction, Fraction] | None:
    """A power of a function as powers of sine and cosine of its argument; None for other bases.

    >>> from qbank.maths.expression import tan
    >>> function_exponents(tan(Symbol("x")), Fraction(2))[2:]
    (Fraction(2, 1), Fraction(-2, 1))
    """
    if not isinstance(base, Apply) or base.function not in FUNCTION_POWERS:
        return None
    kind, sine, cosine = FUNCTION_POWERS[base.function]
    return kind, base.argument, sine * exponent, cosine * exponent


def standard_function(constant: Factored, moving: Factored, variable: Symbol) -> FunctionTerm | None:
    """A product of functions of one linear argument as a standard form, else None."""
    kind: Kind | None = None
    argument: Expression | None = None
    sine = cosine = fraction(0, 1)
    for base, exponent in moving.powers:
        seen = function_exponents(base, exponent)
        if seen is None or (kind or seen[0], argument or seen[1]) != seen[:2]:
            return None
        kind, argument, of_sine, of_cosine = seen
        sine, cosine = sine + of_sine, cosine + of_cosine
    inner = None if argument is None else as_inner(argument, variable)
    if kind is None or inner is None or (kind, sine, cosine) not in _TABLE:
        return None
    return FunctionTerm(constant=constant, inner=inner, kind=kind, sine=sine, cosine=cosine)
