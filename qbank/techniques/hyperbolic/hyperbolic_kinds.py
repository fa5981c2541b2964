"""Which way a product of powers of hyperbolic functions of one argument is worked, and the numbers of that way.

sinh^m cosh^n, one power odd     split off one factor, cosh^2 - sinh^2 = 1, u is the other function
sinh^m cosh^n, both even         double arguments, as for sine and cosine with other signs
tanh^m sech^n, n even or m odd   u = tanh or u = sech; so for coth and cosech
tanh^n, coth^n                   tanh^2 = 1 - sech^2 lowers the power

The circular families are worked from the same numbers; only signs differ (Osborn's rule; NIST DLMF 4.35(i), 4.35(iii)).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from qbank.maths.expression import Expression, Symbol, fraction
from qbank.techniques.circular.circular_powers import CircularPowers, circular_powers
from qbank.techniques.circular.double_angles import HYPERBOLIC
from qbank.techniques.circular.even_plan import EvenFamily, EvenPlan
from qbank.techniques.circular.split_and_substitute import Split
from qbank.techniques.circular.tangent_powers import TangentPower
from qbank.techniques.hyperbolic.hyperbolic_words import DOUBLE

__all__ = ["HyperbolicPlan", "Kind", "hyperbolic_kind"]

HyperbolicPlan: TypeAlias = Split | TangentPower | EvenPlan
Powers: TypeAlias = tuple[tuple[str, Fraction], ...]

_FAMILY = EvenFamily(sine="sinh", cosine="cosh", derivative=1, falling=True, words=DOUBLE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """How an integrand is worked.

    Attributes:
        seen: the integrand as it was written.
        powers: the integrand in the functions of the working.
        plan: the numbers of the working.
    """

    seen: CircularPowers
    powers: Powers
    plan: HyperbolicPlan

    @property
    def direct(self) -> bool:
        """Whether it was written with the functions of the working."""
        return self.seen.names <= {name for name, _ in self.powers}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Pair:
    """A function t and its partner s.

    Attributes:
        t: tanh or coth.
        s: sech or cosech.
        sign: of the derivative of t, which is s^2; that of s is -s t.
        of_s: `(first, second)` in s^2 = first + second t^2.
        of_t: `(first, second)` in t^2 = first + second s^2.
    """

    t: str
    s: str
    sign: int
    of_s: tuple[int, int]
    of_t: tuple[int, int]


_TANH = _Pair(t="tanh", s="sech", sign=1, of_s=(1, -1), of_t=(1, -1))
_COTH = _Pair(t="coth", s="cosech", sign=-1, of_s=(-1, 1), of_t=(1, 1))


def hyperbolic_kind(integrand: Expression, variable: Symbol) -> Kind | None:
    """The way of an integrand of this family, else None.

    >>> from qbank.maths.expression import Apply
    >>> x = Symbol("x")
    >>> kind = hyperbolic_kind(Apply("sinh", 2 * x) ** 3, x)
    >>> kind.plan.inner, kind.plan.identity
    ('cosh', (-1, 1))
    """
    seen = circular_powers(integrand, variable, hyperbolic=True)
    if seen is None:
        return None
    for pair in (_TANH, _COTH):
        if seen.names <= {pair.t, pair.s}:
            m = seen.exponent(pair.t)
            found = _of_pair(seen, pair, m, seen.exponent(pair.s), direct=True)
            if found is not None or not seen.whole or _is_odd(m):
                return found
    if not seen.whole and not seen.names <= {"sinh", "cosh"}:
        return None
    sinh, cosh = seen.sine_and_cosine
    if seen.whole and min(sinh, cosh) >= 0 and sinh % 2 == cosh % 2 == 0 and sinh + cosh:
        return _even(seen, int(sinh), int(cosh))
    found = _odd(seen, sinh, cosh)
    if found is not None:
        return found
    pair, m = (_COTH, cosh) if sinh < 0 <= cosh else (_TANH, sinh)
    return _of_pair(seen, pair, m, -sinh - cosh, direct=False)


def _even(seen: CircularPowers, sinh: int, cosh: int) -> Kind:
    plan = EvenPlan(family=_FAMILY, seen=seen, sine=sinh, cosine=cosh, identities=HYPERBOLIC)
    return Kind(seen=seen, powers=_powers("sinh", Fraction(sinh), "cosh", Fraction(cosh)), plan=plan)


def _odd(seen: CircularPowers, sinh: Fraction, cosh: Fraction) -> Kind | None:
    usable = [
        (power, name, other)
        for power, name, other in ((cosh, "cosh", sinh), (sinh, "sinh", cosh))
        if _is_odd(power) and (other or power > 1)
    ]
    if not usable:
        return None
    power, name, other = min(usable, key=lambda choice: choice[0])
    plan = _split(
        seen,
        replaced=name,
        inner="sinh" if name == "cosh" else "cosh",
        pairs=int(power) // 2,
        power=other,
        saved=((name, fraction(1, 1)),),
        identity=(1, 1) if name == "cosh" else (-1, 1),
        sign=1,
    )
    return Kind(seen=seen, powers=_powers("sinh", sinh, "cosh", cosh), plan=plan)


def _of_pair(seen: CircularPowers, pair: _Pair, m: Fraction, n: Fraction, *, direct: bool) -> Kind | None:
    """The way of `t^m s^n`."""
    if not n and m < 0:
        # 1/tanh^2 is coth^2
        pair, m = (_COTH if pair is _TANH else _TANH), -m
    powers = _powers(pair.t, m, pair.s, n)
    if not n:
        if m.denominator != 1 or m < 2:
            return None
        first, second = pair.of_t
        plan = TangentPower(
            coefficient=seen.coefficient,
            angle=seen.angle,
            name=pair.t,
            power=int(m),
            sign=pair.sign,
            scale=seen.angle.slope,
            constants=seen.constants,
            one=first,
            second=second,
        )
        return Kind(seen=seen, powers=powers, plan=plan)
    choices = list[Split]()
    if n.denominator == 1 and n >= 2 and n % 2 == 0 and (n > 2 or m):
        saved: Powers = ((pair.s, fraction(2, 1)),)
        choices.append(
            _split(
                seen,
                replaced=pair.s,
                inner=pair.t,
                pairs=int(n) // 2 - 1,
                power=m,
                saved=saved,
                identity=pair.of_s,
                sign=pair.sign,
            )
        )
    if direct and _is_odd(m) and not m == n == 1:
        saved = ((pair.s, fraction(1, 1)), (pair.t, fraction(1, 1)))
        choices.append(
            _split(
                seen,
                replaced=pair.t,
                inner=pair.s,
                pairs=int(m) // 2,
                power=n - 1,
                saved=saved,
                identity=pair.of_t,
                sign=-1,
            )
        )
    if not choices:
        return None
    return Kind(seen=seen, powers=powers, plan=min(choices, key=lambda split: split.pairs))


def _split(
    seen: CircularPowers,
    *,
    replaced: str,
    inner: str,
    pairs: int,
    power: Fraction,
    saved: Powers,
    identity: tuple[int, int],
    sign: int,
) -> Split:
    return Split(
        coefficient=seen.coefficient,
        angle=seen.angle,
        replaced=replaced,
        pairs=pairs,
        inner=inner,
        power=power,
        saved=saved,
        identity=identity,
        sign=sign,
        scale=seen.angle.slope,
        constants=seen.constants,
    )


def _powers(first: str, m: Fraction, second: str, n: Fraction) -> Powers:
    return tuple((name, power) for name, power in ((first, m), (second, n)) if power)


def _is_odd(power: Fraction) -> bool:
    return power.denominator == 1 and power > 0 and power % 2 == 1
