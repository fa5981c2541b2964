"""The response form "coefficients of a given form", chosen from the key.

    key  27/8 x + 9/16 sin 8x    split    27/8 * x,  9/16 * sin 8x
    form P x + Q sin 8x          points   where the derivatives of x and sin 8x tell P and Q apart
                                 bounds   how large the numbers in the boxes may be, and so how near a wrong one comes

Whether coefficients are right is decided by rational arithmetic. The points serve whoever has numbers only: the
tolerance there is proved to let no wrong fractions through.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from qbank.bank.drawing import Stream
from qbank.items import wording
from qbank.items.distractors import Candidate
from qbank.items.item import Coefficients, CoefficientSlip, DecimalEntry, FractionEntry
from qbank.items.linear_form import FormRefused, LinearForm, linear_form
from qbank.maths.constant_factor import split_constant
from qbank.maths.expression import Expression, Sum, Symbol
from qbank.maths.factors import Factored

__all__ = ["FormQuestion", "coefficients", "split_terms"]

#: runs of letters for coefficients; the variable and the constant of integration can take two of them at most
_RUNS = ("ABCDE", "PQRST", "KLMNU")
#: for so many coefficients, all sets of right ones can still be listed in a file
_MOST = 5
#: what the numbers in the boxes may be at most: the first that is twice as large as needed and lets nothing wrong by
_BOUNDS = (1000, 500, 200, 100, 10_000)
#: a form is refused whose points enlarge an error more than this
_CONDITION = 10_000
#: a decimal place beyond this is not asked for
_PLACES = 9
#: even a reader that lets decimals into the boxes accepts no coefficient that is off by this
_NEAR = Fraction(1, 10_000)


@dataclass(frozen=True, slots=True, kw_only=True)
class FormQuestion:
    """What is known when the form is chosen.

    Attributes:
        key: an antiderivative.
        integrand: its derivative.
        variable: the letter.
        taken: letters that cannot name a coefficient.
        offer: further functions that the form shall have.
        candidates: wrong answers of slips.
        entry: how the coefficients are typed.
        figures: significant figures of the smallest coefficient, for decimals.
        marks: for all coefficients.
    """

    key: Expression
    integrand: Expression
    variable: Symbol
    taken: frozenset[str]
    offer: tuple[Expression, ...]
    candidates: tuple[Candidate, ...]
    entry: str
    figures: int
    marks: int


def coefficients(
    question: FormQuestion,
    stream: Stream,
    *,
    usable: Callable[[Fraction], bool],
    right: Callable[[Expression], bool],
) -> Coefficients:
    """Choose the form of a question, with its points, bounds and recognised slips.

    Args:
        question: the question.
        stream: puts the functions in another order where some are offered that the key does not need.
        usable: whether a place lies in the domain of the question.
        right: whether an expression is proved to be an antiderivative on the whole domain of the question.

    Raises:
        FormRefused: there is no good form.
    """
    parts = split_terms(question.key, question.variable)
    needed = len(parts)
    for tree in question.offer:
        for function in split_terms(tree, question.variable):
            parts.setdefault(function, Fraction(0))
    if len(parts) > _MOST:
        raise FormRefused(f"the form has {len(parts)} coefficients; more than {_MOST} are not asked for")
    order = list(parts) if len(parts) == needed else list(stream.shuffled(tuple(parts)))
    values = tuple(parts[function] for function in order)
    form = linear_form(order, question.key, question.integrand, question.variable, usable=usable, right=right)
    if form.condition > _CONDITION or form.separation <= 0:
        raise FormRefused(
            "the functions of the form are too much alike where the question is asked", accident=True
        )
    entry, tolerance = _entry(question, form, values)
    chosen = Coefficients(
        letters=tuple(map(Symbol, _letters(len(order), question.taken))),
        functions=tuple(order),
        values=values,
        relations=form.relations,
        entry=entry,
        points=form.points,
        tolerance=tolerance,
        condition=form.condition,
        part_marks=_part_marks(values, question.marks) if not form.relations else (0,),
        slips=(),
    )
    return _with_slips(chosen, question)


def split_terms(tree: Expression, variable: Symbol) -> dict[Expression, Fraction]:
    """An expression as rational numbers times functions, in order; terms without the variable are left out.

    >>> from qbank.maths.expression import sin
    >>> x = Symbol("x")
    >>> split_terms(3 * sin(x) / 4 - (x + sin(x)) / 2, x) == {sin(x): Fraction(1, 4), x: Fraction(-1, 2)}
    True
    """
    found: dict[Expression, Fraction] = {}
    for term in tree.terms if isinstance(tree, Sum) else (tree,):
        constant, moving = split_constant(term, variable)
        if not constant.coefficient or not moving.powers:
            continue
        base, exponent = moving.powers[0]
        if len(moving.powers) == 1 and exponent == 1 and isinstance(base, Sum) and not constant.powers:
            inner = split_terms(base, variable)
        else:
            function = Factored(coefficient=Fraction(1), powers=constant.powers + moving.powers).tree()
            inner = {function: Fraction(1)}
        for function, number in inner.items():
            found[function] = found.get(function, Fraction(0)) + constant.coefficient * number
    return {function: number for function, number in found.items() if number}


def _letters(count: int, taken: frozenset[str]) -> str:
    return next(run[:count] for run in _RUNS if not taken & set(run[:count]))


def _entry(
    question: FormQuestion, form: LinearForm, values: tuple[Fraction, ...]
) -> tuple[FractionEntry | DecimalEntry, Fraction]:
    if question.entry == "decimals":
        return _decimals(question, form, values)
    largest = max(max(abs(v.numerator), v.denominator) for v in (*values, *form.reduced(values)))
    bounds = [bound for bound in _BOUNDS if bound >= 2 * largest]
    if not bounds:
        raise FormRefused("the numbers in the coefficients are too large to be typed in boxes", accident=True)
    for bound in bounds:
        tolerance = _tolerance(bound * form.largest, len(values))
        # wrong fractions differ from the right ones, once relations are used, by a fraction with at most this below
        below = bound ** (1 + len(form.relations)) * form.denominator(values)
        if 4 * tolerance <= form.separation * min(Fraction(1, below), _NEAR):
            return FractionEntry(bound=bound), tolerance
    raise FormRefused(
        "wrong fractions would come too near to the right ones to be told apart safely", accident=True
    )


def _tolerance(size: Fraction, count: int) -> Fraction:
    """A power of ten that is eight times what binary64 may lose in a sum of so many products of that size.

    Each product has up to `count + 1` factors and a rounded literal, and `count + 1` products are added: at most
    2 count + 5 roundings, each of 2^-53 (N. J. Higham, Accuracy and Stability of Numerical Algorithms, 2nd ed.,
    section 3.1); twice that is reckoned with.
    """
    loss = 8 * size * (2 * count + 6) / Fraction(2) ** 52
    power = Fraction(1, 10**15)
    while power < loss:
        power *= 10
    return power


def _decimals(
    question: FormQuestion, form: LinearForm, values: tuple[Fraction, ...]
) -> tuple[DecimalEntry, Fraction]:
    if form.relations:
        raise FormRefused("a form with several right answers is answered in fractions, not in decimals")
    if not all(values):
        raise FormRefused("a coefficient that is 0 is asked for in fractions, not in decimals")
    smallest, places = min(map(abs, values)), question.figures - 1
    while smallest < 1:
        smallest, places = smallest * 10, places + 1
    while smallest >= 10 and places:
        smallest, places = smallest / 10, places - 1
    if places > _PLACES:
        raise FormRefused("a coefficient is too small to be asked for as a decimal")
    entry = DecimalEntry(places=places)
    return entry, entry.margin * form.largest


def _part_marks(values: tuple[Fraction, ...], marks: int) -> tuple[int, ...]:
    """Whole marks, rounded down; coefficients that are 0 count only as missing from the full answer."""
    counted = sum(1 for value in values if value)
    whole = tuple(marks * right // len(values) for right in range(counted + 1))
    return whole if len(values) > 1 and any(whole[: len(values)]) else (0,)


def _with_slips(chosen: Coefficients, question: FormQuestion) -> Coefficients:
    taken, slips = [chosen.values], list[CoefficientSlip]()
    for candidate in question.candidates:
        values = _values(split_terms(candidate.answer, question.variable), chosen.functions)
        if values is None or chosen.is_right(values) or not _apart(values, taken, chosen.entry):
            continue
        taken.append(values)
        slips.append(
            CoefficientSlip(
                slip=candidate.slip, values=values, feedback=wording.slip_feedback(candidate.sentence)
            )
        )
    return replace(chosen, slips=tuple(slips))


def _values(
    parts: dict[Expression, Fraction], functions: Sequence[Expression]
) -> tuple[Fraction, ...] | None:
    """The coefficients of an answer in a form; None when it is not of that form."""
    if not set(parts) <= set(functions):
        return None
    return tuple(parts.get(function, Fraction(0)) for function in functions)


def _apart(
    values: tuple[Fraction, ...],
    taken: Iterable[tuple[Fraction, ...]],
    entry: FractionEntry | DecimalEntry,
) -> bool:
    """Whether the boxes can hold these coefficients, and nobody can take them for others."""
    if isinstance(entry, FractionEntry):
        fits = all(max(abs(v.numerator), v.denominator) <= entry.bound for v in values)
        return fits and values not in taken
    return all(
        max(abs(one - two) for one, two in zip(values, other, strict=True)) > 2 * entry.margin
        for other in taken
    )
