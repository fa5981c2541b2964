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
from typing import Generic, TypeAlias

from qbank.maths.constant_factor import in_front
from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Quotient, Symbol, product, rational, sum_of
from qbank.maths.factors import power_tree
from qbank.maths.notation import plain
from qbank.maths.parametric import Parametric
from qbank.maths.tidying import scaled
from qbank.messages import say, together
from qbank.techniques.fractions.simple_fractions import Bracket, Scalar, Simple, product_of, without
from qbank.techniques.working import Working

__all__ = ["Sought", "letter_lines", "written"]

_LETTERS = tuple(
    map(Symbol, ("A", "B", "D", "E", "F", "G", "H", "K", "L", "M", "N", "P", "Q", "R", "S", "T"))
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sought(Generic[Scalar]):
    """A fraction over brackets, of which the numerators are sought.

    Attributes:
        letter: the variable.
        over: the numerator, lowest first.
        over_tree: the numerator as it is written.
        brackets: the factors of the denominator.
        simple: the simple fractions that it is the sum of.
        taken: letters that stand for something else.
    """

    letter: Symbol
    over: tuple[Scalar, ...]
    over_tree: Expression
    brackets: tuple[Bracket[Scalar], ...]
    simple: tuple[Simple[Scalar], ...]
    taken: frozenset[Symbol]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Unknown(Generic[Scalar]):
    """A letter: its value, the fraction it belongs to, and by what it is multiplied when the fractions are cleared."""

    letter: Symbol
    value: Scalar
    one: Simple[Scalar]
    beside: tuple[Scalar, ...]


#: a number on the left, and by what each letter is multiplied on the right
_Compared: TypeAlias = tuple[Scalar, dict[Symbol, Scalar]]


def letter_lines(working: Working, plan: Sought[Scalar]) -> None:
    """Write the lines from the fraction over the brackets to the numerators.

    Args:
        working: where they go.
        plan: the numbers.
    """
    unknown = _unknown(plan)
    for one in unknown:
        working.name(one.letter, written(one.value))
    fractions = sum_of(*(Quotient(top, one.below.tree()) for one, top in _tops(plan, unknown)))
    working.aside(
        Quotient(plan.over_tree, product(*(b.tree() for b in plan.brackets))),
        fractions,
        "partial-fractions",
        _reason(plan),
    )
    cleared = sum_of(*(product(top, *_others(plan, one.below)) for one, top in _tops(plan, unknown)))
    working.aside(plan.over_tree, cleared, "clear-fractions", say("Multiply both sides by the denominator."))
    left = _covered_up(working, plan, unknown)
    while left:
        left = _compared(working, plan, unknown, left)


def _unknown(plan: Sought[Scalar]) -> tuple[_Unknown[Scalar], ...]:
    whole = product_of(tuple(b.coefficients() for b in plan.brackets))
    letters = iter([letter for letter in _LETTERS if letter not in plan.taken | {plan.letter}])
    return tuple(
        _Unknown(
            letter=next(letters),
            value=one.top[degree],
            one=one,
            beside=(plan.over[0] * 0,) * degree + without(whole, one.below),
        )
        for one in plan.simple
        for degree in reversed(range(len(one.top)))
    )


def _tops(
    plan: Sought[Scalar], unknown: tuple[_Unknown[Scalar], ...]
) -> list[tuple[Simple[Scalar], Expression]]:
    """Each simple fraction with its numerator in letters."""
    found = []
    for one in plan.simple:
        letters = [u.letter for u in unknown if u.one is one]
        top: Expression = letters[0]
        if len(letters) > 1:
            powers = reversed([power_tree(plan.letter, Fraction(n)) for n in range(1, len(letters))])
            moving = (product(*pair) for pair in zip(letters, powers, strict=False))
            top = sum_of(*moving, letters[-1])
        found.append((one, top))
    return found


def _others(plan: Sought[Scalar], below: Bracket[Scalar]) -> list[Expression]:
    """What is left of the brackets when the denominator of one fraction is cancelled."""
    found = []
    for bracket in plan.brackets:
        left = bracket.exponent - (below.exponent if bracket.factor == below.factor else 0)
        if left:
            found.append(Bracket(factor=bracket.factor, base=bracket.base, exponent=left).tree())
    return found


def _reason(plan: Sought[Scalar]) -> str:
    if any(b.exponent > 1 for b in plan.brackets):
        said = say("Write it as a sum of simple fractions, one for each bracket and each of its powers.")
    else:
        said = say("Write it as a sum of simple fractions, one for each bracket.")
    if any(len(b.factor) > 3 for b in plan.brackets):
        said = together(said, say("Over a fourth power the numerator goes up to the cube."))
    if not any(len(b.factor) == 3 for b in plan.brackets):
        return said
    return together(said, say("Over a quadratic the numerator is linear."))


def _covered_up(
    working: Working, plan: Sought[Scalar], unknown: tuple[_Unknown[Scalar], ...]
) -> list[_Unknown[Scalar]]:
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
            "Put in {letter} = {root}: the other terms vanish.",
            letter=plan.letter.name,
            root=plain(written(root)),
        )
        number = _at(one.beside, root)
        _find(working, [one], [(_at(plan.over, root), {one.letter: number})], reason, "cover-up")
    return left


def _compared(
    working: Working,
    plan: Sought[Scalar],
    unknown: tuple[_Unknown[Scalar], ...],
    left: list[_Unknown[Scalar]],
) -> list[_Unknown[Scalar]]:
    """Find one more letter by comparing coefficients, or all that are left at once."""
    rows: list[_Compared[Scalar]] = []
    for power in reversed(range(max(len(one.beside) for one in unknown))):
        numbers = {one.letter: _entry(one.beside, power) for one in unknown if _entry(one.beside, power)}
        open_ = [one for one in left if one.letter in numbers]
        equation: _Compared[Scalar] = (_entry(plan.over, power), numbers)
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
    letters: list[_Unknown[Scalar]],
    equations: list[_Compared[Scalar]],
    reason: str,
    rule: str,
) -> None:
    values = [Equation(one.letter, written(one.value)) for one in letters]
    # "2 = A, A = 2" says it twice
    kept = [one for one in map(_shown, equations) if one.right != letters[0].letter]
    working.found(*kept, *values, rule=rule, reason=reason)


def _shown(equation: _Compared[Scalar]) -> Equation:
    left, numbers = equation
    return Equation(written(left), sum_of(*(_multiple(c, letter) for letter, c in numbers.items())))


def written(number: Fraction | Parametric) -> Expression:
    """A number as it is written."""
    return rational(number) if isinstance(number, Fraction) else number.tree()


def _multiple(number: Fraction | Parametric, letter: Symbol) -> Expression:
    if isinstance(number, Fraction):
        return scaled(number, letter)
    return in_front(number.factored(), letter)


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


def _entry(coefficients: tuple[Scalar, ...], place: int) -> Scalar:
    return coefficients[place] if place < len(coefficients) else coefficients[0] * 0


def _at(coefficients: tuple[Scalar, ...], place: Scalar) -> Scalar:
    value = coefficients[-1]
    for c in reversed(coefficients[:-1]):
        value = value * place + c
    return value
