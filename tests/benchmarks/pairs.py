"""Typed responses for the benchmark: integrand, response in ordinary typed form, and whether it is right.

The integrals are those of the seven families; the responses are written for this project (invented data).
"""

from __future__ import annotations

PAIRS: tuple[tuple[str, str, bool], ...] = (
    ("(3x + 2)^4", "(3x + 2)^5/15 + C", True),
    ("(3x + 2)^4", "(3x + 2)^5/5 + C", False),
    ("5e^(2x) + 3cos(4x)", "5/2*e^(2x) + 3/4*sin(4x) + C", True),
    ("5e^(2x) + 3cos(4x)", "5/2*e^(2x) - 3/4*sin(4x) + C", False),
    ("4/(3x - 5)", "4/3*ln|3x - 5| + C", True),
    ("4/(3x - 5)", "4*ln|3x - 5| + C", False),
    ("x*(x^2 + 5)^6", "(x^2 + 5)^7/14 + C", True),
    ("x*(x^2 + 5)^6", "(x^2 + 5)^7/7 + C", False),
    ("3x*e^(2x^2 + 1)", "3/4*e^(2x^2 + 1) + C", True),
    ("sin(3x)^5*cos(3x)", "sin(3x)^6/18 + C", True),
    ("sin(3x)^5*cos(3x)", "-sin(3x)^6/18 + C", False),
    ("sin(2x)^3", "-1/2*cos(2x) + 1/6*cos(2x)^3 + C", True),
    ("sin(2x)^3", "-3/8*cos(2x) + 1/24*cos(6x) + C", True),
    ("sin(2x)^3", "1/2*cos(2x) - 1/6*cos(2x)^3 + C", False),
    ("cos(x)^5", "sin(x) - 2/3*sin(x)^3 + 1/5*sin(x)^5 + C", True),
    ("cos(x)^5", "5/8*sin(x) + 5/48*sin(3x) + 1/80*sin(5x) + C", True),
    ("sin(x)^2*cos(x)^3", "sin(x)^3/3 - sin(x)^5/5 + C", True),
    ("sin(3x)^2", "x/2 - 1/12*sin(6x) + C", True),
    ("sin(3x)^2", "x/2 - 1/6*sin(3x)*cos(3x) + C", True),
    ("sin(3x)^2", "x/2 + 1/12*sin(6x) + C", False),
    ("cos(2x)^4", "3x/8 + 1/8*sin(4x) + 1/64*sin(8x) + C", True),
    ("cos(2x)^4", "3x/8 + 1/4*sin(4x) + 1/64*sin(8x) + C", False),
    ("sin(x)^2*cos(x)^2", "x/8 - 1/32*sin(4x) + C", True),
    ("tan(2x)^2", "1/2*tan(2x) - x + C", True),
    ("tan(2x)^2", "1/6*tan(2x)^3 + C", False),
    ("tan(x)^3", "1/2*tan(x)^2 + ln|cos(x)| + C", True),
    ("tan(x)^3", "1/2*sec(x)^2 - ln|sec(x)| + C", True),
    ("tan(x)^2*sec(x)^4", "tan(x)^3/3 + tan(x)^5/5 + C", True),
    ("cot(x)^3", "-1/2*cosec(x)^2 - ln|sin(x)| + C", True),
    ("sec(x)", "ln|sec(x) + tan(x)| + C", True),
    ("sec(x)", "-ln|sec(x) - tan(x)| + C", True),
    ("1/(x^2 + 4x + 13)", "1/3*arctan((x + 2)/3) + C", True),
    ("1/(x^2 + 4x + 13)", "arctan((x + 2)/3) + C", False),
    ("(x + 3)/(x^2 + 2x + 5)", "1/2*ln(x^2 + 2x + 5) + arctan((x + 1)/2) + C", True),
    ("(x + 3)/(x^2 + 2x + 5)", "ln(x^2 + 2x + 5) + arctan((x + 1)/2) + C", False),
    ("1/(x^2 - 9)", "1/6*ln|(x - 3)/(x + 3)| + C", True),
    ("3/sqrt(16 - 6x - x^2)", "3*arcsin((x + 3)/5) + C", True),
    ("3/sqrt(16 - 6x - x^2)", "3*arccos((x + 3)/5) + C", False),
    ("(2x + 1)/sqrt(8 - 2x - x^2)", "-2*sqrt(8 - 2x - x^2) - arcsin((x + 1)/3) + C", True),
    ("1/sqrt(x^2 + 4x + 13)", "ln(x + 2 + sqrt(x^2 + 4x + 13)) + C", True),
)
