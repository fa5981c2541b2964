"""The table of notation: plain text written by hand, and the tree it stands for.

`goldens.txt` beside this file holds what the other writers make of each row; every row there was read by a person.
"""

from __future__ import annotations

from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import (
    INFINITY,
    PI,
    Apply,
    Decimal,
    Differential,
    E,
    Evaluated,
    Expression,
    Integer,
    Integral,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    cos,
    exp,
    ln,
    rational,
    sin,
    sqrt,
    tan,
)

__all__ = ["CASES"]

x, u, t, a, b, n, f, C = map(Symbol, ("x", "u", "t", "a", "b", "n", "f", "C"))
theta, C_1, x2 = Symbol("theta"), Symbol("C_1"), Symbol("x2")
two, three = Integer(2), Integer(3)
half = rational(1, 2)


def modulus(argument: Expression) -> Expression:
    return Apply("abs", argument)


def sec(argument: Expression) -> Expression:
    return Apply("sec", argument)


def arctan(argument: Expression) -> Expression:
    return Apply("arctan", argument)


CASES: dict[str, Statement] = {
    # leaves
    "7": Integer(7),
    "0.50": Decimal("0.50"),
    "theta": theta,
    "C_1": C_1,
    "x2": x2,
    "pi": PI,
    "Omega": Symbol("Omega"),
    # sums and signs
    "x + 1": x + 1,
    "-3": rational(-3),
    "-x + 1": Sum((Negate(x), Integer(1))),
    "a - b": a - b,
    "a - (b + x)": a - (b + x),
    "a - (-b)": a - Negate(b),
    "-(-x)": Negate(Negate(x)),
    "-(x + 1)": Negate(x + 1),
    "a + (b + x)": Sum((a, Sum((b, x)))),
    # products
    "3x": 3 * x,
    "2 pi x": two * PI * x,
    "a b x": a * b * x,
    "2 * 3": two * three,
    "x * 2": x * two,
    "2 * 3x": two * three * x,
    "(-3) x": Product((Negate(three), x)),
    "-3x": Negate(3 * x),
    "2x (x + 1)": 2 * x * (x + 1),
    "(x + 1) (x - 1)": (x + 1) * (x - 1),
    "(2x) x": Product((2 * x, x)),
    "f * (x + 1)": f * (x + 1),
    "f a": f * a,
    "x * (1/2)": x * half,
    "2 * (x/3)": two * (x / 3),
    "1/2 * (1/3)": half * rational(1, 3),
    "1/2 * (x/3)": half * (x / 3),
    "(x/2) sin x": (x / 2) * sin(x),
    "2 sqrt(3)": two * sqrt(three),
    "x * ³√(a)": x * Root(a, 3),
    "abs(x) * abs(a)": modulus(x) * modulus(a),
    # fractions
    "x/3": x / 3,
    "x^3/3 + C": x**3 / 3 + C,
    "1/x^2": 1 / x**2,
    "(2x)/3": 2 * x / 3,
    "(-1)/2": Quotient(Negate(Integer(1)), two),
    "-1/2": rational(-1, 2),
    "(x + 1)/(x - 1)": (x + 1) / (x - 1),
    "(1/2)/3": half / 3,
    "1/(1 + 1/x)": 1 / (1 + 1 / x),
    "(sin x)/x": sin(x) / x,
    "1/sqrt(1 - x^2)": 1 / sqrt(1 - x**2),
    "15/16": rational(15, 16),
    "3/4 x": rational(3, 4) * x,
    # powers
    "x^2": x**2,
    "x^n": x**n,
    "x^(-1)": x ** rational(-1),
    "x^(1/2)": x**half,
    "x^(-3/2)": x ** rational(-3, 2),
    "x^(n + 1)": x ** (n + 1),
    "(-x)^2": Power(Negate(x), two),
    "-x^2": Negate(x**2),
    "(2x)^3": (2 * x) ** 3,
    "(x + 1)^4": (x + 1) ** 4,
    "(1/2)^2": half**2,
    "(x^2)^3": (x**2) ** 3,
    "x^(2^n)": x ** (two**n),
    "(sqrt(x))^3": sqrt(x) ** 3,
    "2^x": two**x,
    "e^x": exp(x),
    "e^(2x)": exp(2 * x),
    "e^(-x/2)": exp(-(x / 2)),
    "e^(sin x)": exp(sin(x)),
    "(e^x)^2": exp(x) ** 2,
    "e^2 * x": E**2 * x,
    "2e^x sin x": 2 * exp(x) * sin(x),
    # roots
    "sqrt(x)": sqrt(x),
    "³√(x + 1)": Root(x + 1, 3),
    "¹²√(x)": Root(x, 12),
    "sqrt(1 + sqrt(x))": sqrt(1 + sqrt(x)),
    # functions
    "sin x": sin(x),
    "sin 3x": sin(3 * x),
    "cos(2x + 1)": cos(2 * x + 1),
    "sin(-x)": sin(Negate(x)),
    "sin(x^2)": sin(x**2),
    "sin(x/2)": sin(x / 2),
    "sin(pi/6)": sin(PI / 6),
    "ln(sqrt(x))": ln(sqrt(x)),
    "ln((x - 1)/(x + 1))": ln((x - 1) / (x + 1)),
    "ln x": ln(x),
    "ln|x|": ln(modulus(x)),
    "ln|cos x|": ln(modulus(cos(x))),
    "ln(abs(x + abs(a)))": ln(modulus(x + modulus(a))),
    "abs(x - 1)": modulus(x - 1),
    "exp(x)": Apply("exp", x),
    "arctan x": arctan(x),
    "1/2 arctan(x/2) + C": half * arctan(x / 2) + C,
    "arccosec x": Apply("arccosec", x),
    "arsinh 2x": Apply("arsinh", 2 * x),
    "cosech x": Apply("cosech", x),
    "sin(cos x)": sin(cos(x)),
    # powers of functions
    "sin^2 x": sin(x) ** 2,
    "1/2 sin^2 3x + C": half * sin(3 * x) ** 2 + C,
    "sin^3(2x + 1)": sin(2 * x + 1) ** 3,
    "(sin x)^(-1)": sin(x) ** rational(-1),
    "(sin x)^(1/2)": sin(x) ** half,
    "(sin x)^n": sin(x) ** n,
    "(ln x)^2": ln(x) ** 2,
    "(arctan x)^2": arctan(x) ** 2,
    "(sin^2 x)^3": (sin(x) ** 2) ** 3,
    "tanh^2 x": Apply("tanh", x) ** 2,
    "abs(x)^3": modulus(x) ** 3,
    # products with functions
    "x ln x": x * ln(x),
    "2 sin x cos x": 2 * sin(x) * cos(x),
    "sin 2x cos 3x": sin(2 * x) * cos(3 * x),
    "(sin x) x": sin(x) * x,
    "(sin x) * 2": sin(x) * two,
    "(cos x) e^x": cos(x) * exp(x),
    "e^x cos x": exp(x) * cos(x),
    "cos x * (1 - sin^2 x)": cos(x) * (1 - sin(x) ** 2),
    "(1 - sin^2 x) cos x": (1 - sin(x) ** 2) * cos(x),
    "sin x * (cos x) x": sin(x) * cos(x) * x,
    "sin x * (ln x)^2": sin(x) * ln(x) ** 2,
    "sin(x + 1) * (x + 1)": sin(x + 1) * (x + 1),
    "1/2 (1 - cos 2x)": half * (1 - cos(2 * x)),
    "-1/3 cos^3 x + C": Negate(rational(1, 3) * cos(x) ** 3) + C,
    "1/2 tan^2 x + C": half * tan(x) ** 2 + C,
    "-ln|cos x| + C": Negate(ln(modulus(cos(x)))) + C,
    "ln|sec x + tan x| + C": ln(modulus(sec(x) + tan(x))) + C,
    "(sin^2 x)/2 - (cos 2x)/4": sin(x) ** 2 / 2 - cos(2 * x) / 4,
    # lines of working
    "u = cos x": Equation(u, cos(x)),
    "du = -sin x dx": Equation(Differential(u), Negate(Product((sin(x), Differential(x))))),
    "du = 2x dx": Equation(Differential(u), Product((two, x, Differential(x)))),
    "du/dx = 3": Equation(Quotient(Differential(u), Differential(x)), three),
    "∫ sin x dx": Integral(sin(x), x),
    "∫ (x + 1) dx": Integral(x + 1, x),
    "∫ 1/x dx = ln|x| + C": Equation(Integral(1 / x, x), ln(modulus(x)) + C),
    "1/2 ∫ cos u du": half * Integral(cos(u), u),
    "-∫ u^2 du": Negate(Integral(u**2, u)),
    "∫_0^(pi/2) sin^3 x cos x dx": Integral(sin(x) ** 3 * cos(x), x, Integer(0), PI / 2),
    "∫_0^infinity e^(-x) dx": Integral(exp(Negate(x)), x, Integer(0), INFINITY),
    "[x^3/3]_0^1": Evaluated(x**3 / 3, x, Integer(0), Integer(1)),
    "[(sin^2 x)/2]_0^(pi/4)": Evaluated(sin(x) ** 2 / 2, x, Integer(0), PI / 4),
    "∫ sin theta dtheta": Integral(sin(theta), theta),
}
