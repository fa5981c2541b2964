"""A row of factors: where a bracket or a sign of multiplication is needed, and where a thin space is enough.

Common practice in schools: `2x`, `2 sin x`, `x(x + 1)` and `sin x cos x` have no sign; `2 × 3` and `x × 2` have one.
"""

from __future__ import annotations

from qbank.maths.notation.layout import (
    Bars,
    Digits,
    Factors,
    Fraction,
    IntegralOf,
    Joint,
    Layout,
    Letter,
    LimitOf,
    LittleD,
    Named,
    Radical,
    Raised,
    Round,
)
from qbank.maths.notation.names import GREEK

__all__ = ["ends_with_variable", "join"]

#: letters that usually stand for the variable (common practice)
_VARIABLES = frozenset({"x", "y", "z", "t", "u", "v", "w", "theta"})

#: what begins with a name or a sign, and may have no end of its own
_OPERATORS: frozenset[type] = frozenset({Named, IntegralOf, LimitOf})

#: letters that a bracket after them turns into a function of what is inside (common practice)
_LIKE_FUNCTIONS = frozenset("fghFGH")


def join(factors: list[Layout]) -> Factors:
    """Put factors in a row, from the right: each is bracketed or not by what stands after it.

    >>> row = join([Digits("2"), Letter("x", "x"), Digits("3")])
    >>> row.joints
    ('close', 'times')
    """
    if len(factors) == 2:  # as most rows are
        left, right = factors
        if type(left) in _OPERATORS and _runs_into(left, right):
            left = Round(left)
        return Factors((left, right), (_joint(left, right),))
    right = factors[-1]
    row, joints = [right], []
    for factor in factors[-2::-1]:
        left = Round(factor) if type(factor) in _OPERATORS and _runs_into(factor, right) else factor
        joints.append(_joint(left, right))
        row.append(left)
        right = left
    return Factors(tuple(row[::-1]), tuple(joints[::-1]))


def _runs_into(left: Layout, right: Layout) -> bool:
    """Whether the right factor could be taken for a part of the left one, which has a name or a sign in front."""
    if type(left) is not Named:
        return True
    if type(left.argument) is Round or type(right) is LittleD:
        return False
    if type(right) is Named:  # `sin a cos b` is two factors, but `ln 2 cos x` could be one
        return not any(isinstance(box, Letter) for box in left.argument.walk())
    return not (ends_with_variable(left.argument) and _begins_with(right, Round))


def ends_with_variable(argument: Layout) -> bool:
    """Whether an argument is so clearly complete that a bracket after it starts the next factor.

    `cos 2x (1 - sin 2x)` is two factors to every reader, but `ln 2 (x + 1)` and `sin a (x + 1)` could be one.
    """
    last = argument.bodies[-1] if isinstance(argument, Factors) else argument
    return isinstance(last, Letter) and last.name in _VARIABLES


def _begins_with(box: Layout, kind: type[Layout]) -> bool:
    return type(box) is kind or (type(box) is Raised and type(box.base) is kind)


def _joint(left: Layout, right: Layout) -> Joint:
    kind, before = type(right), type(left)
    if kind in _OPERATORS:
        return "times" if before is LittleD else "operator"
    if _needs_sign(left, right):
        return "times"
    if kind is LittleD or before is Named or _is_word(left) or _is_word(right):
        return "thin"
    return "close"


def _needs_sign(left: Layout, right: Layout) -> bool:
    if type(left) is LittleD:
        return type(right) is not LittleD
    if _begins_with(right, Digits) or (type(right) is Radical and right.index != 2):
        return True
    if type(right) is Fraction:
        return right.numeric or type(left) is Fraction or _begins_with(left, Digits)
    if type(left) is Letter and left.name in _LIKE_FUNCTIONS:
        return type(right) is Round
    return type(left) is Bars and _begins_with(right, Bars)


def _is_word(box: Layout) -> bool:
    """A symbol written with several letters, which would run together with its neighbours."""
    return type(box) is Letter and len(box.base) > 1 and box.base not in GREEK
