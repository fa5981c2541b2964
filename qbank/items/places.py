"""Places where a value is given and asked for: numbers that a student puts in with ease, the friendliest first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from qbank.bank.drawing import Stream
from qbank.maths.expression import PI, Apply, Expression, Integer, Quotient, Symbol, as_fraction, rational
from qbank.maths.functions import FUNCTIONS
from qbank.maths.tidying import tidy

__all__ = ["pairs", "places"]

_NUMBERS = tuple(
    rational(Fraction(number))
    for number in (
        *(
            "0",
            "1",
            "2",
            "3",
            "-1",
            "-2",
            "1/2",
            "-1/2",
            "3/2",
            "4",
            "-3",
            "5",
            "-4",
            "6",
            "-5",
            "5/2",
            "-3/2",
        ),
        *("1/4", "1/5", "1/10", "3/10", "2/5", "3/4", "7", "-6", "8", "-7", "9", "-8", "10", "-9", "-10"),
    )
)
_ANGLES = (
    Integer(0),
    *(Quotient(PI, Integer(part)) for part in (6, 4, 3, 2, 12, 8)),
    Quotient(2 * PI, Integer(3)),
    PI,
)
#: pairs that differ by less in friendliness are drawn without regard to it
_TIER = 5


def places(integrand: Expression, variable: Symbol) -> tuple[tuple[Expression, ...], ...]:
    """Kinds of places for an integrand, the more fitting first.

    These are parts of pi, where the angles of all circular functions are multiples of the variable, and numbers.

    >>> from qbank.maths.expression import sin
    >>> x = Symbol("x")
    >>> places(sin(3 * x), x)[0][2] == PI / 4
    True
    >>> places(sin(3 * x + 1), x)[0][2]
    Integer(value=2)
    """
    arguments = [
        node.argument
        for node in integrand.walk()
        if isinstance(node, Apply) and FUNCTIONS[node.function].family == "circular"
    ]
    at_nought = (tidy(argument.substitute({variable: Integer(0)})) for argument in arguments)
    if arguments and all(as_fraction(angle) == 0 for angle in at_nought):
        return _ANGLES, _NUMBERS
    return (_NUMBERS,)


def pairs(kinds: Iterable[Sequence[Expression]], stream: Stream) -> Iterator[tuple[Expression, Expression]]:
    """Ordered pairs of different places of one kind, friendly ones first and otherwise as drawn.

    Args:
        kinds: places of each kind, the friendliest first.
        stream: what to draw from.
    """
    for usable in kinds:
        count = len(usable)
        every = tuple((one, other) for one in range(count) for other in range(count) if one != other)
        drawn = sorted(stream.shuffled(every), key=lambda pair: sum(pair) // _TIER)
        yield from ((usable[one], usable[other]) for one, other in drawn)
