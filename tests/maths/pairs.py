"""Pairs `antiderivative ; integrand` that are right and pairs that are wrong, for the tests of deciding.

Own examples in the style of every first-year text (common practice); SymPy confirms a sample of them numerically in
`test_deciding.py`, so that this table does not rest on the code it tests.
"""

from __future__ import annotations

__all__ = ["EQUAL", "NOT_EQUAL", "RIGHT", "WRONG", "pairs"]


def pairs(table: str) -> list[tuple[str, str]]:
    """The two texts of each line."""
    rows = [line.split(";") for line in table.strip().splitlines()]
    return [(left.strip(), right.strip()) for left, right in rows]


RIGHT = pairs(
    """
    x^3/3 + C ; x^2
    x^4/4 - 2x^3/3 + 5x ; x^3 - 2x^2 + 5
    (3x + 2)^6/18 ; (3x + 2)^5
    -1/(2x - 1)/2 ; 1/(2x - 1)^2
    2/3 x^(3/2) ; sqrt(x)
    2sqrt(x) ; 1/sqrt(x)
    3/4 x^(4/3) ; x^(1/3)
    3/4 x^(4/3) ; cbrt(x)
    3/2 x^(2/3) ; x^(-1/3)
    5/7 x^(7/5) ; x^(2/5)
    2/9 (3x + 1)^(3/2) ; sqrt(3x + 1)
    ln|x| ; 1/x
    ln x ; 1/x
    1/2 ln(x^2) ; 1/x
    ln|3x| ; 1/x
    1/3 ln|3x + 2| ; 1/(3x + 2)
    ln|x^2 - 1| ; 2x/(x^2 - 1)
    ln|x - 1| + ln|x + 1| ; 2x/(x^2 - 1)
    1/2 ln|(x - 1)/(x + 1)| ; 1/(x^2 - 1)
    -artanh x ; 1/(x^2 - 1)
    x ln x - x ; ln x
    x ln|x| - x ; ln|x|
    x^2/2 ln x - x^2/4 ; x ln x
    (ln x)^2/2 ; ln(x)/x
    ln|ln x| ; 1/(x ln x)
    -(ln x + 1)/x ; ln(x)/x^2
    e^x ; e^x
    e^(3x)/3 ; e^(3x)
    -1/2 e^(-x^2) ; x e^(-x^2)
    (x - 1) e^x ; x e^x
    e^(2x)(x/2 - 1/4) ; x e^(2x)
    2 e^(x/2) ; e^(x/2)
    e^x (sin x - cos x)/2 ; e^x sin x
    e^(2x) (2 sin 3x - 3 cos 3x)/13 ; e^(2x) sin 3x
    ln(1 + e^x) ; e^x/(1 + e^x)
    x - ln(1 + e^x) ; 1/(1 + e^x)
    arctan(e^x) ; 1/(e^x + e^(-x))
    2^x/ln 2 ; 2^x
    4^x/(2 ln 2) ; 2^(2x)
    (1/2)^x/(-ln 2) ; 2^(-x)
    10^(3x)/(3 ln 10) ; 1000^x
    x^x ; x^x (1 + ln x)
    -cos x ; sin x
    sin(3x)/3 ; cos 3x
    -1/2 cos(2x + 1) ; sin(2x + 1)
    -cos(x + pi/4) ; (sin x + cos x)/sqrt(2)
    sin(x - pi/3) ; cos(x)/2 + sqrt(3)/2 sin x
    sin(x)^2/2 ; sin x cos x
    -cos(x)^2/2 ; sin x cos x
    -cos(2x)/4 ; sin x cos x
    x/2 - sin(2x)/4 ; sin^2 x
    x/2 + sin(2x)/4 ; cos^2 x
    x/2 - sin x cos(x)/2 ; sin^2 x
    3x/8 - sin(2x)/4 + sin(4x)/32 ; sin^4 x
    sin x - sin^3 x/3 ; cos^3 x
    cos^3 x/3 - cos x ; sin^3 x
    sin^3 x/3 - sin^5 x/5 ; sin^2 x cos^3 x
    x/8 - sin(4x)/32 ; sin^2 x cos^2 x
    -cos(5x)/10 - cos(x)/2 ; sin 3x cos 2x
    sin(x)/2 + sin(7x)/14 ; cos 3x cos 4x
    tan x ; sec^2 x
    tan x - x ; tan^2 x
    -ln|cos x| ; tan x
    ln|sec x| ; tan x
    1/2 ln(1 + tan^2 x) ; tan x
    ln|sin x| ; cot x
    ln|sec x + tan x| ; sec x
    -ln|sec x - tan x| ; sec x
    ln|tan(x/2 + pi/4)| ; sec x
    1/2 ln|(1 + sin x)/(1 - sin x)| ; sec x
    2 artanh(tan(x/2)) ; sec x
    ln|tan(x/2)| ; cosec x
    -ln|cosec x + cot x| ; cosec x
    ln|cosec x - cot x| ; cosec x
    sec x ; sec x tan x
    -cosec x ; cosec x cot x
    -cot x ; cosec^2 x
    tan^2 x/2 ; tan x sec^2 x
    sec^2 x/2 ; tan x sec^2 x
    tan^3 x/3 - tan x + x ; tan^4 x
    tan x + tan^3 x/3 ; sec^4 x
    (sec x tan x + ln|sec x + tan x|)/2 ; sec^3 x
    tan^2 x/2 + ln|cos x| ; tan^3 x
    -cot^2 x/2 - ln|sin x| ; cot^3 x
    tan(x/2) ; 1/(1 + cos x)
    -cot(x/2) ; 1/(1 - cos x)
    tan x - sec x ; 1/(1 + sin x)
    2/sqrt(3) arctan(tan(x/2)/sqrt(3)) ; 1/(2 + cos x)
    x sin x + cos x ; x cos x
    x^2 sin x + 2x cos x - 2 sin x ; x^2 cos x
    -x cot x + ln|sin x| ; x cosec^2 x
    x/2 (sin(ln x) - cos(ln x)) ; sin(ln x)
    2 sin(sqrt(x)) - 2 sqrt(x) cos(sqrt(x)) ; sin(sqrt(x))
    arctan x ; 1/(1 + x^2)
    -arccot(x) * (-1) * (-1) ; 1/(1 + x^2)
    1/2 arctan(x/2) ; 1/(x^2 + 4)
    1/6 arctan(2x/3) ; 1/(4x^2 + 9)
    arctan(x + 1) ; 1/(x^2 + 2x + 2)
    1/2 ln(x^2 + 2x + 5) + arctan((x + 1)/2) ; (x + 3)/(x^2 + 2x + 5)
    x arctan x - ln(1 + x^2)/2 ; arctan x
    1/4 ln|(1 + x)/(1 - x)| + 1/2 arctan x ; 1/(1 - x^4)
    1/3 ln|x + 1| - 1/6 ln(x^2 - x + 1) + arctan((2x - 1)/sqrt(3))/sqrt(3) ; 1/(x^3 + 1)
    arcsin x ; 1/sqrt(1 - x^2)
    -arccos x ; 1/sqrt(1 - x^2)
    arcsin(x/2) ; 1/sqrt(4 - x^2)
    2 arcsin(sqrt(x)) ; 1/sqrt(x - x^2)
    arcsin(2x - 1) ; 1/sqrt(x - x^2)
    arctan(x/sqrt(1 - x^2)) ; 1/sqrt(1 - x^2)
    arcsin((x - 2)/3) ; 1/sqrt(5 + 4x - x^2)
    x/2 sqrt(9 - x^2) + 9/2 arcsin(x/3) ; sqrt(9 - x^2)
    x arcsin x + sqrt(1 - x^2) ; arcsin x
    arcsin x + sqrt(1 - x^2) ; sqrt((1 - x)/(1 + x))
    -sqrt(4 - x^2) ; x/sqrt(4 - x^2)
    sqrt(x^2 + 2x + 3) - arsinh((x + 1)/sqrt(2)) ; x/sqrt(x^2 + 2x + 3)
    ln|x + sqrt(x^2 + 1)| ; 1/sqrt(x^2 + 1)
    -ln(sqrt(x^2 + 1) - x) ; 1/sqrt(x^2 + 1)
    arsinh x ; 1/sqrt(x^2 + 1)
    arcosh x ; 1/sqrt(x^2 - 1)
    ln|x + sqrt(x^2 - 9)| ; 1/sqrt(x^2 - 9)
    -ln|x - sqrt(x^2 - 9)| ; 1/sqrt(x^2 - 9)
    arcsec x ; 1/(|x| sqrt(x^2 - 1))
    -arccosec x ; 1/(|x| sqrt(x^2 - 1))
    arctan(sqrt(x^2 - 1)) ; 1/(x sqrt(x^2 - 1))
    -ln((1 + sqrt(1 - x^2))/|x|) ; 1/(x sqrt(1 - x^2))
    -arsech x ; 1/(x sqrt(1 - x^2))
    -arcosech x ; 1/(|x| sqrt(1 + x^2))
    sinh x ; cosh x
    ln(cosh x) ; tanh x
    ln|sinh x| ; coth x
    2 arctan(e^x) ; sech x
    ln|tanh(x/2)| ; cosech x
    -sech x ; sech x tanh x
    sinh(2x)/4 - x/2 ; sinh^2 x
    x artanh x + ln(1 - x^2)/2 ; artanh x
    arcoth x ; 1/(1 - x^2)
    x|x|/2 ; |x|
    |x| ; x/|x|
    |x|^3/3 ; x|x|
    2/5 (1 + x)^(5/2) - 2/3 (1 + x)^(3/2) ; x sqrt(1 + x)
    2 sqrt(1 + e^x) - 2 artanh(1/sqrt(1 + e^x)) ; sqrt(1 + e^x)
    sqrt(x^2 - 1) - arctan(sqrt(x^2 - 1)) ; sqrt(x^2 - 1)/x
    2 sqrt(x) - 2 ln(1 + sqrt(x)) ; 1/(1 + sqrt(x))
    sqrt(2 + 2 sin x) * 0 + ln|sin x + cos x| ; (cos x - sin x)/(sin x + cos x)
    -2/3 sqrt(1 - x^3) ; x^2/sqrt(1 - x^3)
    -1/(2(1 + x^2)) ; x/(1 + x^2)^2
    x/(2(1 + x^2)) + arctan(x)/2 ; 1/(1 + x^2)^2
    x tan x + ln|cos x| ; x sec^2 x
    arctan(sin x) ; cos x/(1 + sin^2 x)
    e^(sin x) ; cos x e^(sin x)
    e^(sin^2 x) ; sin 2x e^(sin^2 x)
    ln|ln|x|| ; 1/(x ln|x|)
    a x^2/2 ; a x
    arctan(x/a)/a ; 1/(a^2 + x^2)
    sin(a x)/a ; cos(a x)
    e^(a x) (a sin(b x) - b cos(b x))/(a^2 + b^2) ; e^(a x) sin(b x)
    1/(2a) ln|(x - a)/(x + a)| ; 1/(x^2 - a^2)
    x^(n + 1)/(n + 1) ; x^n
    a^x/ln a ; a^x
    cos(pi/7) x ; cos(pi/7)
    x ; sin(pi/5)^2 + cos(pi/5)^2
    sin(pi/12) x ; (sqrt(6) - sqrt(2))/4
    sin(x)^2 + x ; sin 2x + tan(pi/4)
    """
)

WRONG = pairs(
    """
    x^3 ; x^2
    x^2/2 ; x^2
    cos x ; sin x
    sin x ; -cos x
    -3cos 3x ; sin 3x
    cos(3x)/3 ; sin 3x
    sin(x)^2 ; sin x cos x
    sin(x)^3/3 ; sin^2 x
    x/2 + sin(2x)/4 ; sin^2 x
    x/2 - sin(2x)/2 ; sin^2 x
    sin x + sin^3 x/3 ; cos^3 x
    ln|sin x| ; tan x
    ln|cos x| ; tan x
    ln|sec x - tan x| ; sec x
    tan^3 x/3 ; tan^2 x
    arctan(2x) ; 1/(1 + 4x^2)
    arctan(x/2) ; 1/(x^2 + 4)
    arcsin(x/2)/2 ; 1/sqrt(4 - x^2)
    arccos x ; 1/sqrt(1 - x^2)
    ln|4 - x^2| ; 1/(4 - x^2)
    ln(x^2 + 1) ; 1/(x^2 + 1)
    ln(1 + e^x) ; 1/(1 + e^x)
    e^(x^2)/(2x) ; e^(x^2)
    x e^x ; x e^x
    x ln x ; ln x
    2^x ; 2^x
    x * 2^(x - 1) ; 2^x
    (2x + 1)^5/5 ; (2x + 1)^4
    sqrt(x)/2 ; sqrt(x)
    x^2/2 ; |x|
    sqrt(x^4)/2 ; |x|
    |x| ; 1
    x ; x/|x|
    arcsec x ; 1/(x sqrt(x^2 - 1))
    sqrt(x^2 - 1) - arcsec x ; sqrt(x^2 - 1)/x
    -cosh x ; sinh x
    x + sin(pi x)/10^9 ; 1
    x + sin(2 pi x)/10^12 ; 1 + 0 sin x
    1000000001/2000000000 x^2 ; x
    x^2/2 + x/10^15 ; x
    (1 + 10^(-20)) sin x ; cos x
    sin(x) + 10^(-12) sin(100 x) ; cos x
    e^(-x^2) ; -2x e^(-x^2) + 10^(-9)
    x arctan x ; arctan x
    arctan(1/x) ; 1/(1 + x^2)
    x^(n + 1)/n ; x^n
    sin(a x) ; cos(a x)
    ln|x + a| + x/10^8 ; 1/(x + a)
    cos(x)^20 sin x/20 ; cos(x)^19
    x sin(pi/12) ; 1/4
    """
)

EQUAL = pairs(
    """
    1 - sin^2 x ; cos^2 x
    (1 - cos 2x)/2 ; sin^2 x
    sin 2x ; 2 sin x cos x
    cos(2x + pi) ; -cos 2x
    sin(x - pi) ; -sin x
    cos(x/2 + pi/4)^4 ; (1 + 2 cos(x + pi/2) + (1 + cos(2x + pi))/2)/4
    tan(x + pi) ; tan x
    sin(pi - x) ; sin x
    sin(3pi/2 + x) ; -cos x
    cos 3x ; 4cos^3 x - 3cos x
    tan(x + pi/4) ; (1 + tan x)/(1 - tan x)
    sin(x + pi/6) ; sqrt(3)/2 sin x + cos(x)/2
    sin(x + y) ; sin x cos y + cos x sin y
    sin x sin y ; (cos(x - y) - cos(x + y))/2
    sin x ; 2 sin(x/2) cos(x/2)
    1/cos x - cos x ; sin x tan x
    sin(arctan x) ; x/sqrt(1 + x^2)
    cos(arcsin x) ; sqrt(1 - x^2)
    tan(arcsin x) ; x/sqrt(1 - x^2)
    cos(2 arctan x) ; (1 - x^2)/(1 + x^2)
    sin(2 arcsin x) ; 2x sqrt(1 - x^2)
    sec(arctan x) ; sqrt(1 + x^2)
    arcsin x + arccos x ; pi/2
    arctan x + arccot x ; pi/2
    arctan(-x) ; -arctan x
    ln(x^3) ; 3 ln x
    ln(x^2) ; 2 ln|x|
    ln(x^2) ; 2 ln(-x)
    ln(x/(x + 1)) ; ln x - ln(x + 1)
    ln(12 x) ; ln x + 2 ln 2 + ln 3
    ln sqrt(x) ; ln(x)/2
    e^(2 ln x) ; x^2
    e^(ln(x)/2) ; sqrt(x)
    ln(e^(3x)) ; 3x
    ln(x - sqrt(x^2 - 1)) ; -ln(x + sqrt(x^2 - 1))
    arcosh x ; ln(x + sqrt(x^2 - 1))
    arsinh x ; ln(x + sqrt(x^2 + 1))
    artanh x ; ln((1 + x)/(1 - x))/2
    cosh^2 x - sinh^2 x ; 1
    cosh x + sinh x ; e^x
    sinh 2x ; 2 sinh x cosh x
    tanh x ; (e^(2x) - 1)/(e^(2x) + 1)
    sqrt(x^2) ; |x|
    sqrt(12) x ; 2 sqrt(3) x
    sqrt(x^3) ; x sqrt(x)
    sqrt(x) sqrt(x + 1) ; sqrt(x^2 + x)
    1/sqrt(x) ; sqrt(x)/x
    (x^(1/3))^3 ; x
    cbrt(-x) ; -cbrt(x)
    cbrt(8 x) ; 2 x^(1/3)
    x^(2/6) ; cbrt(x)
    sqrt(sqrt(x)) ; x^(1/4)
    sqrt(1 - cos^2 x) ; |sin x|
    sqrt(tan^2 x + 1) ; |sec x|
    sqrt(1 + cos x) ; sqrt(2) |cos(x/2)|
    sqrt(5 + 2 sqrt(6)) x ; (sqrt(2) + sqrt(3)) x
    |x|^2 ; x^2
    |2x - 4| ; 2|x - 2|
    |x| |x + 1| ; |x^2 + x|
    |x/|x|| ; 1
    cbrt(x/|x|) ; x/|x|
    |x|^(1/3) ; |cbrt(x)|
    ||x| + 1| ; |x| + 1
    (x^2)^(1/4) ; sqrt(|x|)
    (x^2)^(3/2) ; |x|^3
    ||x|| ; |x|
    4^x ; 2^(2x)
    x^n x ; x^(n + 1)
    x^(-2) ; 1/x^2
    1/(1/x) ; x
    (x^2 - 1)/(x - 1) ; x + 1
    0.5 x ; x/2
    sin(2 pi) + x ; x
    cos(pi/5) - cos(2pi/5) ; 1/2
    """
)

NOT_EQUAL = pairs(
    """
    sqrt(x^2) ; x
    |x| ; x
    sqrt(cos^2 x) ; cos x
    sqrt(1 - sin^2 x) ; cos x
    arctan x + arctan(1/x) ; pi/2
    ln(x^2) ; 2 ln x + ln 1.0000001
    arcsin(sin x) ; x
    arctan(tan x) ; x
    arccos(cos x) ; x
    sin(x + y) ; sin x + sin y
    sqrt(x^2 + 1) ; x + 1
    ln(x + 1) ; ln x + ln 1
    e^(x + 1) ; e^x + e
    (x + 1)^2 ; x^2 + 1
    1/(x + 1) ; 1/x + 1
    sin 2x ; 2 sin x
    tan(x + pi/4) ; tan x + 1
    pi x ; 3.14159265358979 x
    e x ; 2.718281828459045 x
    x^(2/3) ; (-x)^(1/3)
    |x + 1| ; |x| + 1
    sin(pi x) ; 0
    cos(2 pi x) ; 1
    x + e^(-40 - x^2) ; x
    """
)
