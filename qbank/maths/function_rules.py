"""The value and the derivative of every named function, written once for all number systems.

Formulas: Abramowitz & Stegun 4.3 to 4.6 (from memory); the tests check every row against an independent library.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

__all__ = ["FUNCTION_RULES", "Rule"]

#: from a number system and an argument to a number
Rule = Callable[[Any, Any], Any]

HALF = Fraction(1, 2)


def _sqrt(n: Any, u: Any) -> Any:
    return n.power(u, HALF)


def _cosh(n: Any, u: Any) -> Any:
    e = n.exp(u)
    return (e + 1 / e) / 2


def _sinh(n: Any, u: Any) -> Any:
    e = n.exp(u)
    return (e - 1 / e) / 2


def _tanh(n: Any, u: Any) -> Any:
    e = n.exp(u * 2)
    return (e - 1) / (e + 1)


def _tan(n: Any, u: Any) -> Any:
    c, s = n.cos_sin(u)
    return s / c


def _cot(n: Any, u: Any) -> Any:
    c, s = n.cos_sin(u)
    return c / s


def _sec_tan(n: Any, u: Any) -> Any:
    c, s = n.cos_sin(u)
    return s / (c * c)


def _cosec_cot(n: Any, u: Any) -> Any:
    c, s = n.cos_sin(u)
    return -c / (s * s)


def _square(u: Any) -> Any:
    return u * u


def _arcosh(n: Any, u: Any) -> Any:
    # the product of two roots, not the root of a product: it is real for u >= 1 only
    return n.ln(u + _sqrt(n, u - 1) * _sqrt(n, u + 1))


def _arsinh(n: Any, u: Any) -> Any:
    return n.ln(u + _sqrt(n, u * u + 1))


def _artanh(n: Any, u: Any) -> Any:
    return n.ln((1 + u) / (1 - u)) / 2


def _arccos(n: Any, u: Any) -> Any:
    return n.pi() / 2 - n.arcsin(u)


#: name -> (value, derivative). arccot is the continuous branch pi/2 - arctan, between 0 and pi.
FUNCTION_RULES: dict[str, tuple[Rule, Rule]] = {
    "sin": (lambda n, u: n.cos_sin(u)[1], lambda n, u: n.cos_sin(u)[0]),
    "cos": (lambda n, u: n.cos_sin(u)[0], lambda n, u: -n.cos_sin(u)[1]),
    "tan": (_tan, lambda n, u: 1 / _square(n.cos_sin(u)[0])),
    "sec": (lambda n, u: 1 / n.cos_sin(u)[0], _sec_tan),
    "cosec": (lambda n, u: 1 / n.cos_sin(u)[1], _cosec_cot),
    "cot": (_cot, lambda n, u: -1 / _square(n.cos_sin(u)[1])),
    "arcsin": (lambda n, u: n.arcsin(u), lambda n, u: 1 / _sqrt(n, 1 - u * u)),
    "arccos": (_arccos, lambda n, u: -1 / _sqrt(n, 1 - u * u)),
    "arctan": (lambda n, u: n.arctan(u), lambda _, u: 1 / (1 + u * u)),
    "arcsec": (lambda n, u: _arccos(n, 1 / u), lambda n, u: 1 / (n.absolute(u) * _sqrt(n, u * u - 1))),
    "arccosec": (lambda n, u: n.arcsin(1 / u), lambda n, u: -1 / (n.absolute(u) * _sqrt(n, u * u - 1))),
    "arccot": (lambda n, u: n.pi() / 2 - n.arctan(u), lambda _, u: -1 / (1 + u * u)),
    "sinh": (_sinh, _cosh),
    "cosh": (_cosh, _sinh),
    "tanh": (_tanh, lambda n, u: 1 / _square(_cosh(n, u))),
    "sech": (lambda n, u: 1 / _cosh(n, u), lambda n, u: -_sinh(n, u) / _square(_cosh(n, u))),
    "cosech": (lambda n, u: 1 / _sinh(n, u), lambda n, u: -_cosh(n, u) / _square(_sinh(n, u))),
    "coth": (lambda n, u: 1 / _tanh(n, u), lambda n, u: -1 / _square(_sinh(n, u))),
    "arsinh": (_arsinh, lambda n, u: 1 / _sqrt(n, u * u + 1)),
    "arcosh": (_arcosh, lambda n, u: 1 / (_sqrt(n, u - 1) * _sqrt(n, u + 1))),
    "artanh": (_artanh, lambda _, u: 1 / (1 - u * u)),
    "arsech": (lambda n, u: _arcosh(n, 1 / u), lambda n, u: -1 / (u * _sqrt(n, 1 - u * u))),
    "arcosech": (
        lambda n, u: _arsinh(n, 1 / u),
        lambda n, u: -1 / (n.absolute(u) * _sqrt(n, 1 + u * u)),
    ),
    "arcoth": (lambda n, u: _artanh(n, 1 / u), lambda _, u: 1 / (1 - u * u)),
    "exp": (lambda n, u: n.exp(u), lambda n, u: n.exp(u)),
    "ln": (lambda n, u: n.ln(u), lambda _, u: 1 / u),
    "abs": (lambda n, u: n.absolute(u), lambda n, u: n.absolute(u) / u),
}
