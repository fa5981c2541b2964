"""The six inverse circular functions as substitutions: t = arcsin g, so that g = sin t.

    t = arcsin g    g = sin t    1 - g^2 = cos^2 t      the cosine is not negative
    t = arctan g    g = tan t    1 + g^2 = sec^2 t      the secant is positive
    t = arcsec g    g = sec t    g^2 - 1 = tan^2 t      the tangent has both signs

The ranges are those of NIST DLMF 4.23(ii), and arccot runs from 0 to pi.
"""

from __future__ import annotations

from dataclasses import dataclass

from qbank.maths.constant_factor import ONE, over, times
from qbank.maths.expression import Apply, Expression, fraction
from qbank.maths.factors import Factored
from qbank.messages import Message, say
from qbank.techniques.circular.circular_powers import CIRCULAR
from qbank.techniques.trigonometric.kinds import SECANT, SINE, Kind

__all__ = ["INVERSES", "InverseKind"]


@dataclass(frozen=True, slots=True, kw_only=True)
class InverseKind:
    """One of the six.

    Attributes:
        inner: the function that g is.
        sign: of the derivative of g by t.
        rate: that derivative, as powers of functions.
        signs: 1 - g^2 is (1, -1), 1 + g^2 is (1, 1), g^2 - 1 is (-1, 1).
        root: the function whose square that is.
        one_sign: what is said of the root, which is not negative; None where it has both signs.
        doubled: how double angles are written for the way back.
    """

    inner: str
    sign: int
    rate: tuple[tuple[str, int], ...]
    signs: tuple[int, int]
    root: str
    one_sign: Message | None
    doubled: Kind

    def side(self, name: str, inner: Factored, root: Factored) -> Factored:
        """One of the six functions of t, from g and the root of 1 - g^2, 1 + g^2 or g^2 - 1."""
        sine, cosine = self._sine_and_cosine(inner, root)
        i, j = CIRCULAR[name]
        return times(_raised(sine, i), _raised(cosine, j))

    def _sine_and_cosine(self, inner: Factored, root: Factored) -> tuple[Factored, Factored]:
        if self.signs == (1, -1):
            return (inner, root) if self.inner == "sin" else (root, inner)
        if self.signs == (1, 1):
            leg, other = times(inner, over(root)), over(root)
            return (leg, other) if self.inner == "tan" else (other, leg)
        # the sine of arcsec and the cosine of arccosec are not negative
        leg, other = times(root, over(_modulus(inner))), over(inner)
        return (leg, other) if self.inner == "sec" else (other, leg)


def _raised(base: Factored, n: int) -> Factored:
    return ONE if not n else base if n == 1 else over(base)


def _modulus(inner: Factored) -> Factored:
    tree: Expression = Apply("abs", inner.tree())
    return Factored(coefficient=fraction(1, 1), powers=((tree, fraction(1, 1)),))


#: name -> what is substituted
INVERSES: dict[str, InverseKind] = {
    "arcsin": InverseKind(
        inner="sin",
        sign=1,
        rate=(("cos", 1),),
        signs=(1, -1),
        root="cos",
        one_sign=say("Substitute the angle; it runs from -pi/2 to pi/2, where the cosine is not negative."),
        doubled=SINE,
    ),
    "arccos": InverseKind(
        inner="cos",
        sign=-1,
        rate=(("sin", 1),),
        signs=(1, -1),
        root="sin",
        one_sign=say("Substitute the angle; it runs from 0 to pi, where the sine is not negative."),
        doubled=SECANT,
    ),
    "arctan": InverseKind(
        inner="tan",
        sign=1,
        rate=(("sec", 2),),
        signs=(1, 1),
        root="sec",
        one_sign=say("Substitute the angle; it lies between -pi/2 and pi/2, where the secant is positive."),
        doubled=SECANT,
    ),
    "arccot": InverseKind(
        inner="cot",
        sign=-1,
        rate=(("cosec", 2),),
        signs=(1, 1),
        root="cosec",
        one_sign=say("Substitute the angle; it lies between 0 and pi, where the cosecant is positive."),
        doubled=SINE,
    ),
    "arcsec": InverseKind(
        inner="sec",
        sign=1,
        rate=(("sec", 1), ("tan", 1)),
        signs=(-1, 1),
        root="tan",
        one_sign=None,
        doubled=SECANT,
    ),
    "arccosec": InverseKind(
        inner="cosec",
        sign=-1,
        rate=(("cosec", 1), ("cot", 1)),
        signs=(-1, 1),
        root="cot",
        one_sign=None,
        doubled=SINE,
    ),
}
