"""The numerators of simple fractions found line by line: letters, the cover-up rule, comparing coefficients.

    (5x + 1)/((x - 1)(x + 2)) = A/(x - 1) + B/(x + 2)
    5x + 1 = A (x + 2) + B (x - 1)
    6 = 3A, A = 2                           x = 1
    -9 = -3B, B = 3                         x = -2

The numbers are known beforehand, so each of these lines is proved; the letters leave out C, the usual constant of
integration.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Quotient, Symbol, product, rational, sum_of
from qbank.maths.tidying import scaled
from qbank.messages import say, together
from qbank.techniques.fractions.partial_fractions_plan import PartialPlan
from qbank.techniques.fractions.simple_fractions import Bracket, Simple, product_of, without
from qbank.techniques.working import Working

__all__ = ["letter_lines"]

_LETTERS = tuple(
    map(Symbol, ("A", "B", "D", "E", "F", "G", "H", "K", "L", "M", "N", "P", "Q", "R", "S", "T"))
)
#: a number on the left, and by what each letter is multiplied on the right
_Compared: TypeAlias = tuple[Fraction, dict[Symbol, Fraction]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Unknown:
    """A letter: its value, the fraction it belongs to, and by what it is multiplied when the fractions are cleared."""

    letter: Symbol
    value: Fraction
    one: Simple
    beside: tuple[Fraction, ...]


def letter_lines(working: Working, plan: PartialPlan) -> None:
    """Write the lines from the fraction over the brackets to the numerators.

    Args:
        working: where they go.
        plan: the numbers.
    """
    unknown = _unknown(plan)
    for one in unknown:
        working.name(one.letter, rational(one.value))
    fractions = sum_of(*(Quotient(top, one.below.tree(plan.letter)) for one, top in _tops(plan, unknown)))
    working.aside(Quotient(plan.left.over_tree, plan.below()), fractions, "partial-fractions", _reason(plan))
    cleared = sum_of(*(product(top, *_others(plan, one.below)) for one, top in _tops(plan, unknown)))
    working.aside(
        plan.left.over_tree, cleared, "clear-fractions", say("Multiply both sides by the denominator.")
    )
    left = _covered_up(working, plan, unknown)
    while left:
        left = _compared(working, plan, unknown, left)


def _unknown(plan: PartialPlan) -> tuple[_Unknown, ...]:
    whole = product_of(tuple(b.coefficients() for b in plan.brackets))
    used = plan.start.over_tree.symbols() | plan.start.under_tree.symbols() | {plan.letter}
    letters = iter([letter for letter in _LETTERS if letter not in used])
    return tuple(
        _Unknown(
            letter=next(letters),
            value=one.top[degree] * plan.size,
            one=one,
            beside=(Fraction(0),) * degree + without(whole, one.below),
        )
        for one in plan.simple
        for degree in reversed(range(len(one.top)))
    )


def _tops(plan: PartialPlan, unknown: tuple[_Unknown, ...]) -> list[tuple[Simple, Expression]]:
    """Each simple fraction with its numerator in letters."""
    found = []
    for one in plan.simple:
        letters = [u.letter for u in unknown if u.one is one]
        top: Expression = letters[0]
        if len(letters) == 2:
            top = sum_of(product(letters[0], plan.letter), letters[1])
        found.append((one, top))
    return found


def _others(plan: PartialPlan, below: Bracket) -> list[Expression]:
    """What is left of the brackets when the denominator of one fraction is cancelled."""
    found = []
    for bracket in plan.brackets:
        left = bracket.exponent - (below.exponent if bracket.factor == below.factor else 0)
        if left:
            found.append(Bracket(factor=bracket.factor, exponent=left).tree(plan.letter))
    return found


def _reason(plan: PartialPlan) -> str:
    if any(b.exponent > 1 for b in plan.brackets):
        said = say("Write it as a sum of simple fractions, one for each bracket and each of its powers.")
    else:
        said = say("Write it as a sum of simple fractions, one for each bracket.")
    if not any(len(b.factor) == 3 for b in plan.brackets):
        return said
    return together(said, say("Over a quadratic the numerator is linear."))


def _covered_up(working: Working, plan: PartialPlan, unknown: tuple[_Unknown, ...]) -> list[_Unknown]:
    """Put in the root of each linear bracket; the letters that are not found in this way are left."""
    left = []
    highest = {b.factor: b.exponent for b in plan.brackets}
    for one in unknown:
        below = one.one.below
        root = below.root
        if root is None or below.exponent < highest[below.factor]:
            left.append(one)
            continue
        reason = say(
            "Put in {letter} = {root}: the other terms vanish.", letter=plan.letter.name, root=str(root)
        )
        number = _at(one.beside, root)
        _find(working, [one], [(_at(plan.left.over, root), {one.letter: number})], reason, "cover-up")
    return left


def _compared(
    working: Working, plan: PartialPlan, unknown: tuple[_Unknown, ...], left: list[_Unknown]
) -> list[_Unknown]:
    """Find one more letter by comparing coefficients, or all that are left at once."""
    rows: list[_Compared] = []
    for power in reversed(range(max(len(one.beside) for one in unknown))):
        numbers = {one.letter: _entry(one.beside, power) for one in unknown if _entry(one.beside, power)}
        open_ = [one for one in left if one.letter in numbers]
        equation: _Compared = (_entry(plan.left.over, power), numbers)
        if len(open_) == 1:
            _find(working, open_, [equation], _compare(power, plan.letter.name), "compare-coefficients")
            return [one for one in left if one is not open_[0]]
        if open_:
            rows.append(equation)
    reason = say("Compare the coefficients of each power of {letter}.", letter=plan.letter.name)
    working.found(*map(_shown, rows), rule="compare-coefficients", reason=reason)
    _find(working, left, [], say("Solve these equations."), "solve-equations")
    return []


def _find(
    working: Working,
    letters: list[_Unknown],
    equations: list[_Compared],
    reason: str,
    rule: str,
) -> None:
    values = [Equation(one.letter, rational(one.value)) for one in letters]
    # "2 = A, A = 2" says it twice
    kept = [one for one in map(_shown, equations) if one.right != letters[0].letter]
    working.found(*kept, *values, rule=rule, reason=reason)


def _shown(equation: _Compared) -> Equation:
    left, numbers = equation
    return Equation(rational(left), sum_of(*(scaled(c, letter) for letter, c in numbers.items())))


def _compare(power: int, letter: str) -> str:
    match power:
        case 0:
            return say("Compare the constant terms.")
        case 1:
            return say("Compare the coefficients of {letter}.", letter=letter)
        case 2:
            return say("Compare the coefficients of {letter} squared.", letter=letter)
        case 3:
            return say("Compare the coefficients of {letter} cubed.", letter=letter)
        case 4:
            return say("Compare the coefficients of the fourth power of {letter}.", letter=letter)
        case 5:
            return say("Compare the coefficients of the fifth power of {letter}.", letter=letter)
        case _:
            return say(
                "Compare the coefficients of {letter} to the power {power}.", letter=letter, power=str(power)
            )


def _entry(coefficients: tuple[Fraction, ...], place: int) -> Fraction:
    return coefficients[place] if place < len(coefficients) else Fraction(0)


def _at(coefficients: tuple[Fraction, ...], place: Fraction) -> Fraction:
    value = Fraction(0)
    for c in reversed(coefficients):
        value = value * place + c
    return value
