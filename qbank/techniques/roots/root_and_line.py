"""The root of a quadratic beside a power of a linear expression, both seen: `sqrt(q)/g^n` and `1/(g^n sqrt(q))`."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.expression import Expression, Sum, Symbol
from qbank.maths.factors import Factored, factored
from qbank.maths.polynomial import as_linear, as_polynomial

__all__ = ["RootAndLine", "root_and_line"]

_COEFFICIENTS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class RootAndLine:
    """`constant * q^(n/2)/g^power`, q a quadratic and g linear.

    Attributes:
        under: q.
        linear: g.
        slope: of g.
        shift: the number in g.
        numbers: of q as a polynomial in g, the constant first.
        power: of g below the line.
        constant: what stands in front.
    """

    under: Expression
    linear: Expression
    slope: Fraction
    shift: Fraction
    numbers: tuple[Fraction, Fraction, Fraction]
    power: int
    constant: Factored


def root_and_line(
    integrand: Expression, variable: Symbol, *, root: Fraction, most: int
) -> RootAndLine | None:
    """See an integrand of this kind, else None.

    Args:
        integrand: any expression.
        variable: the variable.
        root: the exponent of the quadratic, 1/2 or -1/2.
        most: the highest power of the linear expression.

    >>> from qbank.maths.expression import sqrt
    >>> x = Symbol("x")
    >>> found = root_and_line(sqrt(x**2 + 1) / (x + 1), x, root=Fraction(1, 2), most=1)
    >>> [int(c) for c in found.numbers]
    [2, -2, 1]
    """
    seen = factored(integrand)
    moving = [(base, n) for base, n in seen.powers if variable in base.symbols()]
    roots = [base for base, n in moving if n == root and isinstance(base, Sum)]
    lines = [(base, n) for base, n in moving if n in range(-most, 0)]
    if len(roots) != 1 or len(lines) != 1 or len(moving) > len(roots) + len(lines):
        return None
    (under,), ((linear, n),) = roots, lines
    quadratic, line = as_polynomial(under, variable), as_linear(linear, variable)
    if quadratic is None or len(quadratic) != _COEFFICIENTS or line is None or not line[0]:
        return None
    (c, b, a), (slope, shift) = quadratic, line
    return RootAndLine(
        under=under,
        linear=linear,
        slope=slope,
        shift=shift,
        # at x = (g - shift)/slope
        numbers=(
            a * shift**2 / slope**2 - b * shift / slope + c,
            b / slope - 2 * a * shift / slope**2,
            a / slope**2,
        ),
        power=-int(n),
        constant=seen.without(under, linear),
    )
