"""Coefficients of a given form, read back and proved again.

The scoring is tried with the keyed answer, with the same numbers in other fractions, and with wrong ones near them. Each
of these answers is put into the form and differentiated: full marks and a proof have to come together, always.

Decimals are rounded, so that nothing can be proved of them as they stand. The exact coefficients are then found from
rigorous values at points, and proved; the keyed decimals have to be within half a unit of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from itertools import combinations, pairwise
from typing import TypeAlias

from qbank.maths.deciding import decide_antiderivative, derivative_at, enclose
from qbank.maths.equation import Statement
from qbank.maths.expression import Expression, Integral, Symbol, rational
from qbank.maths.verdict import Proved, Refuted
from qbank.packages.finding import Finding
from qbank.packages.parsing import Element
from qbank.packages.processing import Value, correct_response, literal, outcomes, thresholds
from qbank.packages.question import Form, QuestionError, Tried

__all__ = ["asked_by_form", "prove_form", "read_form"]

#: whether numbers in the boxes score full marks
_Scoring: TypeAlias = "Callable[[dict[str, Value]], bool]"

_UPPER, _LOWER, _DECIMAL = "_NUMERATOR", "_DENOMINATOR", "_NUMBER"
_POINTS = tuple(Fraction(n, 17) for n in (5, 9, 13, 19, 25, 37, 53, 83, -3, -7, -11, -21, -39, -67))
_DIGITS = 40
_LARGEST_DENOMINATOR = 10**7
_MOST_LETTERS = 8


def asked_by_form(shown: list[Statement]) -> tuple[Expression, Integral]:
    """The form and the integral that a question asks for: the last two formulas of its first paragraph.

    Args:
        shown: the formulas of that paragraph; the letters of the coefficients come first.

    Raises:
        QuestionError: the question is of another make.
    """
    if len(shown) < 3 or not all(isinstance(one, Expression) for one in shown):
        raise QuestionError("the question shows no form with its integrand")
    *letters, form, integrand = (one for one in shown if isinstance(one, Expression))
    variables = (form.symbols() | integrand.symbols()) - set(letters)
    if len(variables) != 1 or not all(isinstance(one, Symbol) and form.has(one) for one in letters):
        raise QuestionError("the form has other letters than its coefficients and one variable")
    return form, Integral(integrand, *variables)


def read_form(item: Element, form: Expression, boxes: list[str], marks: Fraction) -> Form:
    """What an item scores of the coefficients of a form.

    Args:
        item: the root of the item.
        form: what the coefficients stand in.
        boxes: the response variables, in order.
        marks: full marks.

    Raises:
        QuestionError: the boxes are not those of coefficients.
    """
    exact = all(box.endswith((_UPPER, _LOWER)) for box in boxes)
    if not exact and not all(box.endswith(_DECIMAL) for box in boxes):
        raise QuestionError("the boxes are neither for fractions nor for decimals")
    names = list(dict.fromkeys(box.rsplit("_", 1)[0] for box in boxes))
    wanted = [name + end for name in names for end in ((_UPPER, _LOWER) if exact else (_DECIMAL,))]
    if boxes != wanted or len(names) > _MOST_LETTERS:
        raise QuestionError("the boxes are not one for each part of a coefficient")

    def full(numbers: dict[str, Value]) -> bool:
        return outcomes(item, numbers).get("SCORE") == marks

    keyed = {box: _number(item, box) for box in boxes}
    _refuse_gaps(keyed, full)
    letters = tuple(Symbol(name) for name in names)
    if exact:
        return Form(letters=letters, form=form, tried=tuple(_fractions(names, keyed, full)))
    accepted = tuple(_bounds(item, box, keyed, full) for box in boxes)
    _refuse_wide(item, boxes, accepted)
    return Form(letters=letters, form=form, tried=tuple(_decimals(keyed, accepted, full)), accepted=accepted)


def _number(item: Element, box: str) -> Fraction:
    values = correct_response(item, box)
    if len(values) != 1:
        raise QuestionError(f"the box {box} has no keyed value")
    value = literal(values[0], "float")
    assert isinstance(value, Fraction)
    return value


def _refuse_wide(item: Element, boxes: list[str], accepted: tuple[tuple[Fraction, Fraction], ...]) -> None:
    """Decimals are taken as right within two units of the last decimal that is keyed."""
    places = max(len(correct_response(item, box)[0].partition(".")[2]) for box in boxes)
    if any(upper - lower > Fraction(2, 10**places) for lower, upper in accepted):
        raise QuestionError("numbers score that are far from the keyed ones")


def _refuse_gaps(keyed: Mapping[str, Fraction], full: _Scoring) -> None:
    """A box left empty, or a zero below the line, never scores full marks."""
    for box in keyed:
        if full({**keyed, box: None}) or (box.endswith(_LOWER) and full({**keyed, box: Fraction(0)})):
            raise QuestionError(f"full marks are scored although the box {box} is empty or 0")


def _fractions(names: list[str], keyed: Mapping[str, Fraction], full: _Scoring) -> Iterator[Tried]:
    """The keyed fractions, the same ones written otherwise, and wrong ones."""

    def tried(numbers: dict[str, Value]) -> Tried:
        values = [_ratio(numbers[name + _UPPER], numbers[name + _LOWER]) for name in names]
        return Tried(values=tuple(values), full=full(numbers))

    yield tried({**keyed})
    yield tried({box: -value for box, value in keyed.items()})
    for name in names:
        upper, lower = keyed[name + _UPPER], keyed[name + _LOWER]
        yield tried({**keyed, name + _UPPER: 2 * upper, name + _LOWER: 2 * lower})
        yield tried({**keyed, name + _UPPER: -upper})
        for step in (1, -1):
            yield tried({**keyed, name + _UPPER: upper + step})
            yield tried({**keyed, name + _UPPER: upper * 100 + step, name + _LOWER: lower * 100})
    for one, other in combinations(names, 2):
        for sign in (1, -1):
            # right where the two functions have the same derivative, or opposite ones: sin^2 x and cos^2 x
            more = {one + _UPPER: keyed[one + _UPPER] + keyed[one + _LOWER]}
            more[other + _UPPER] = keyed[other + _UPPER] + sign * keyed[other + _LOWER]
            yield tried({**keyed, **more})
        swap = {one + end: keyed[other + end] for end in (_UPPER, _LOWER)}
        yield tried({**keyed, **swap, **{other + end: keyed[one + end] for end in (_UPPER, _LOWER)}})


def _ratio(upper: Value, lower: Value) -> Fraction:
    assert isinstance(upper, Fraction)
    assert isinstance(lower, Fraction)
    if not lower:
        raise QuestionError("a keyed fraction has a zero below the line")
    return upper / lower


def _bounds(
    item: Element, box: str, keyed: Mapping[str, Fraction], full: _Scoring
) -> tuple[Fraction, Fraction]:
    """The stretch of numbers round the keyed one that score, found by trying one between every two compared with."""
    edges = sorted({*thresholds(item, box, alone=False), keyed[box]})
    ladder = [edges[0]]
    for lower, upper in pairwise(edges):
        ladder += [(lower + upper) / 2, upper]
    scores = [full({**keyed, box: value}) for value in ladder]
    first = last = ladder.index(keyed[box])
    while first > 0 and scores[first - 1]:
        first -= 1
    while last < len(ladder) - 1 and scores[last + 1]:
        last += 1
    if not scores[first] or first == 0 or last == len(ladder) - 1:
        raise QuestionError(f"the numbers that score in the box {box} have no bounds")
    return ladder[first], ladder[last]


def _decimals(
    keyed: Mapping[str, Fraction], accepted: tuple[tuple[Fraction, Fraction], ...], full: _Scoring
) -> Iterator[Tried]:
    """The keyed decimals, both bounds of each, and numbers just outside."""

    def tried(numbers: dict[str, Value]) -> Tried:
        return Tried(
            values=tuple(value for value in numbers.values() if isinstance(value, Fraction)),
            full=full(numbers),
        )

    yield tried({**keyed})
    for box, (lower, upper) in zip(keyed, accepted, strict=True):
        width = upper - lower
        for value in (lower, upper, lower - width, upper + width):
            yield tried({**keyed, box: value})


def prove_form(form: Form, integral: Integral) -> Finding:
    """The keyed coefficients proved, and the scoring held against differentiation.

    Args:
        form: the form with the answers that were tried.
        integral: what is asked for.
    """
    if form.accepted is not None:
        return _prove_decimals(form, form.accepted, integral)
    problems: list[str] = []
    wrong: set[tuple[Fraction, ...]] = set()
    proved = 0
    for place, tried in enumerate(form.tried):
        verdict = decide_antiderivative(_filled(form, tried.values), integral.integrand, integral.variable)
        named = ", ".join(
            f"{name.name} = {value}" for name, value in zip(form.letters, tried.values, strict=True)
        )
        if not isinstance(verdict, Proved | Refuted):
            problems.append(f"{named} could be neither proved nor refuted: {verdict.reason}")
        elif isinstance(verdict, Proved) != tried.full:
            problems.append(
                f"{named} is right, but does not score full marks"
                if isinstance(verdict, Proved)
                else f"{named} is wrong, but scores full marks"
            )
        elif place == 0:
            proved = 1
        elif not tried.full:
            wrong.add(tried.values)
    if not form.tried[0].full:
        problems.append("the keyed answer does not score full marks")
        proved = 0
    return Finding(proved=proved, refuted=len(wrong), problems=tuple(problems))


def _filled(form: Form, values: tuple[Fraction, ...]) -> Expression:
    return form.form.substitute(
        {letter: rational(value) for letter, value in zip(form.letters, values, strict=True)}
    )


def _prove_decimals(
    form: Form, accepted: tuple[tuple[Fraction, Fraction], ...], integral: Integral
) -> Finding:
    exact = _solved(form, integral)
    if exact is None:
        return Finding(problems=("no coefficients could be proved to be right",))
    problems = [
        f"{letter.name} = {value} is not among the numbers that score"
        for letter, value, (lower, upper) in zip(form.letters, exact, accepted, strict=True)
        if not lower <= value <= upper
    ]
    wrong = 0
    for tried in form.tried:
        inside = all(
            lower <= value <= upper for value, (lower, upper) in zip(tried.values, accepted, strict=True)
        )
        if inside != tried.full:
            problems.append("the numbers that score are not those between the bounds")
        wrong += not inside
    return Finding(proved=not problems, refuted=wrong, problems=tuple(dict.fromkeys(problems)))


def _solved(form: Form, integral: Integral) -> tuple[Fraction, ...] | None:
    """The coefficients from rigorous values at points, then proved by differentiation; None when that fails."""
    rows: list[list[Fraction]] = []
    zero = {letter: Fraction(0) for letter in form.letters}
    for point in _POINTS:
        at = {integral.variable: point}
        row = [
            derivative_at(form.form, integral.variable, {**at, **zero, letter: Fraction(1)}, _DIGITS)
            for letter in form.letters
        ]
        value = enclose(integral.integrand, at=at, digits=_DIGITS)
        found = [one for one in (*row, value) if one is not None]
        if len(found) == len(form.letters) + 1:
            rows.append([(one.lower + one.upper) / 2 for one in found])
        if len(rows) == len(form.letters):
            break
    numbers = _eliminated(rows, len(form.letters))
    if numbers is None:
        return None
    exact = tuple(number.limit_denominator(_LARGEST_DENOMINATOR) for number in numbers)
    verdict = decide_antiderivative(_filled(form, exact), integral.integrand, integral.variable)
    return exact if isinstance(verdict, Proved) else None


def _eliminated(rows: list[list[Fraction]], size: int) -> list[Fraction] | None:
    """The solution of linear equations, each row with its right side at the end; None when there is not one."""
    rows = [list(row) for row in rows]
    if len(rows) < size:
        return None
    for column in range(size):
        rows[column:] = sorted(rows[column:], key=lambda row: -abs(row[column]))
        pivot = rows[column][column]
        if abs(pivot) < Fraction(1, 10**20):
            return None
        rows[column] = [number / pivot for number in rows[column]]
        for other in range(size):
            if other != column:
                factor = rows[other][column]
                rows[other] = [a - factor * b for a, b in zip(rows[other], rows[column], strict=True)]
    return [row[-1] for row in rows]
