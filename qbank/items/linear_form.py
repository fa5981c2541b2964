"""A form c1 g1(x) + ... + cn gn(x), and the points where its derivative is compared with the integrand.

    candidate points -> derivatives g_j'(x_i) as 17 right digits -> a few points that tell the coefficients apart
                     -> relations between the derivatives, each proved -> a lower bound for what is wrong

With G the square matrix of the derivatives at the chosen points (columns that depend on others left out), any
coefficients that are off by d leave |G d| >= s max|d| at some point, where s = 1/|G^-1| (maximum norms). The matrix is
inverted exactly, from numbers of which every digit is right, so s is a proved bound and not an estimate.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import islice
from math import lcm

from qbank.items.item import Relation, SamplePoint
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.enclosing import derivative_at, enclose
from qbank.maths.expression import Expression, Integer, Symbol, product, rational, sum_of
from qbank.maths.verdict import Proved

__all__ = ["FormRefused", "LinearForm", "linear_form"]

Matrix = list[list[Fraction]]

#: generic places near 0 first, so that numbers stay small
_PLACES = tuple(
    Fraction(n, 16)
    for n in (
        *(3, -3, 5, -5, 7, -7, 9, -9, 11, -11, 13, -13, 15, -15, 17, 19, -19, 21, 23, -23, 25, 29),
        *(-29, 31, 33, 37, -39, 43, 49, 53, 61, -67, 71, 83, 97),
    )
)
#: how many usable places are compared
_ENOUGH = 12
#: steeper places are left out: near a pole the numbers say little of the other functions
_STEEP = 1000
#: squared size of what is left of a row (its largest number being at most 1) that is taken for nothing at first
_NOTHING = 1e-9
#: relations between functions that are asked in schools have small numbers
_DENOMINATORS = 1000
#: the digits of a literal are right to this part of it
_LITERAL = Fraction(1, 10**16)


class FormRefused(Exception):  # noqa: N818 - a refusal is an answer, not an error
    """These functions make no good form; the text says why.

    Attributes:
        accident: whether it is an accident of the numbers drawn, which another draw mends.
    """

    def __init__(self, reason: str, *, accident: bool = False) -> None:
        super().__init__(reason)
        self.accident = accident


@dataclass(frozen=True, slots=True, kw_only=True)
class LinearForm:
    """A form with its points.

    Attributes:
        points: as many as there are independent derivatives.
        relations: the proved relations between the derivatives; all others follow from them.
        separation: coefficients off by d leave at least `separation` times the largest number of d at some point,
            once d is brought to the independent functions with the relations.
        condition: condition number of the points, in row sums.
        largest: the largest row sum of the sizes of the derivatives, and of the integrand.
    """

    points: tuple[SamplePoint, ...]
    relations: tuple[Relation, ...]
    separation: Fraction
    condition: Fraction
    largest: Fraction

    def reduced(self, values: Sequence[Fraction]) -> tuple[Fraction, ...]:
        """The same antiderivative in the independent functions alone."""
        rest = list(values)
        for relation in self.relations:
            part = rest[relation.free]
            rest = [number - part * one for number, one in zip(rest, relation.coefficients, strict=True)]
        return tuple(rest)

    def denominator(self, values: Sequence[Fraction]) -> int:
        """A multiple of every denominator that right values and relations bring into a difference."""
        numbers = [*self.reduced(values), *(one for r in self.relations for one in r.coefficients)]
        return lcm(*(number.denominator for number in numbers))


def linear_form(
    functions: Sequence[Expression],
    key: Expression,
    integrand: Expression,
    variable: Symbol,
    *,
    usable: Callable[[Fraction], bool],
    right: Callable[[Expression], bool],
) -> LinearForm:
    """Choose points for a form, and find how its functions depend on each other.

    Args:
        functions: what the coefficients multiply.
        key: an antiderivative of the form.
        integrand: its derivative.
        variable: the letter.
        usable: whether a place lies in the domain of the question.
        right: whether an expression is proved to be an antiderivative on the whole domain of the question.

    Raises:
        FormRefused: too few usable places, numbers that tell the coefficients apart badly, or functions that seem
            to depend on each other without a proof.
    """
    found = (_point(place, functions, integrand, variable) for place in _PLACES if usable(place))
    candidates = list(islice((point for point in found if point is not None), _ENOUGH))
    points = _spread(candidates)
    if not points:
        raise FormRefused(
            "the functions of the form have no values where the question is asked", accident=True
        )
    rows = [[Fraction(slope) for slope in point.slopes] for point in points]
    kept = _independent(rows)
    inverse = _inverse([[row[column] for column in kept] for row in rows])
    if inverse is None:
        raise FormRefused("no points could be found that tell the coefficients apart", accident=True)
    largest = max(_size([*row, Fraction(point.value)]) for row, point in zip(rows, points, strict=True))
    spread = max(_size(row) for row in inverse)
    separation = 1 / spread - _LITERAL * largest
    size = max(_size([row[column] for column in kept]) for row in rows)
    relations = tuple(
        _relation(column, kept, rows, inverse, functions, variable)
        for column in range(len(functions))
        if column not in kept
    )
    for relation in relations:
        # with a relation added, the key must still be right wherever the question is asked
        if not right(sum_of(key, _combination(relation.coefficients, functions))):
            raise FormRefused("two functions of the form are alike on a part of the domain only")
    return LinearForm(
        points=tuple(points),
        relations=relations,
        separation=separation,
        condition=size * spread,
        largest=largest,
    )


def _size(row: Sequence[Fraction]) -> Fraction:
    return sum(map(abs, row), Fraction(0))


def _point(
    place: Fraction, functions: Sequence[Expression], integrand: Expression, variable: Symbol
) -> SamplePoint | None:
    at = {variable: place}
    value = enclose(integrand, at=at, digits=17)
    if value is None or abs(Fraction(value.decimal)) > _STEEP:
        return None
    slopes = []
    for function in functions:
        slope = derivative_at(function, variable, at, digits=17)
        if slope is None or abs(Fraction(slope.decimal)) > _STEEP:
            return None
        slopes.append(slope.decimal)
    return SamplePoint(at=place, slopes=tuple(slopes), value=value.decimal)


def _spread(candidates: list[SamplePoint]) -> list[SamplePoint]:
    """Points one by one, each the one that the points before it say least about."""
    rest = []
    for point in candidates:
        row = [float(Fraction(slope)) for slope in point.slopes]
        # a steep place says no more than another, but a flat one says less
        size = max(1.0, *map(abs, row))
        rest.append((point, [number / size for number in row]))
    chosen: list[SamplePoint] = []
    for _ in range(len(candidates[0].slopes) if candidates else 0):
        point, direction = max(rest, key=lambda pair: _square(pair[1]))
        square = _square(direction)
        if square < _NOTHING:
            break
        chosen.append(point)
        rest = [(other, _without(row, direction, square)) for other, row in rest]
    return chosen


def _square(row: list[float]) -> float:
    total = 0.0
    for number in row:
        total += number * number
    return total


def _without(row: list[float], direction: list[float], square: float) -> list[float]:
    part = 0.0
    for one, other in zip(row, direction, strict=True):
        part += one * other
    part /= square
    return [one - part * other for one, other in zip(row, direction, strict=True)]


def _independent(rows: Matrix) -> list[int]:
    """Columns, the first ones preferred, that make the rows a square matrix which is not nearly singular."""
    work, kept = [list(row) for row in rows], list[int]()
    for column in range(len(rows[0])):
        if len(kept) == len(rows):
            break
        top = len(kept)
        best = max(range(top, len(work)), key=lambda place: abs(work[place][column]))
        if abs(work[best][column]) < Fraction(1, 10**6):
            continue
        work[top], work[best] = work[best], work[top]
        for below in range(top + 1, len(work)):
            part = work[below][column] / work[top][column]
            work[below] = [a - part * b for a, b in zip(work[below], work[top], strict=True)]
        kept.append(column)
    return kept


def _inverse(square: Matrix) -> Matrix | None:
    """The exact inverse, None where there is none."""
    size = len(square)
    if any(len(row) != size for row in square):
        return None
    work = [[*row, *(Fraction(i == j) for j in range(size))] for i, row in enumerate(square)]
    for column in range(size):
        best = max(range(column, size), key=lambda place: abs(work[place][column]))
        if not work[best][column]:
            return None
        work[column], work[best] = work[best], work[column]
        pivot = work[column][column]
        work[column] = [number / pivot for number in work[column]]
        for other in range(size):
            if other != column and work[other][column]:
                part = work[other][column]
                work[other] = [a - part * b for a, b in zip(work[other], work[column], strict=True)]
    return [row[size:] for row in work]


def _relation(
    column: int,
    kept: list[int],
    rows: Matrix,
    inverse: Matrix,
    functions: Sequence[Expression],
    variable: Symbol,
) -> Relation:
    """The derivative of one function as a sum of the independent ones: read off the numbers, then proved."""
    numbers = [Fraction(int(place == column)) for place in range(len(functions))]
    for place, row in zip(kept, inverse, strict=True):
        part = sum((a * b[column] for a, b in zip(row, rows, strict=True)), Fraction(0))
        numbers[place] = -part.limit_denominator(_DENOMINATORS)
    verdict = decide_antiderivative(_combination(numbers, functions), Integer(0), variable)
    if not isinstance(verdict, Proved):
        raise FormRefused("functions of the form seem to depend on each other, which could not be proved")
    return Relation(free=column, coefficients=tuple(numbers))


def _combination(numbers: Sequence[Fraction], functions: Sequence[Expression]) -> Expression:
    return sum_of(
        *(
            product(rational(number), function)
            for number, function in zip(numbers, functions, strict=True)
            if number
        )
    )
