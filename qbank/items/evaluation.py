"""The response form "evaluation": the antiderivative with F(p) = q, and its value F(r) as a number.

The number is the same in whatever form a student writes F, so any system can mark it. The places p and r are small
friendly numbers of one piece of the domain, and q a small whole number, tried in an order drawn for the item until

    the value      is neither zero nor q, not on the border of rounding, and neither tiny nor huge
    every slip     gives a number that is clearly another, by rigorous bounds, and no two slips the same one
    the working    is proved, and quadrature agrees (`qbank.techniques.particular`)

A slip's number is what its wrong antiderivative makes of the given value. A slip that gives no number (a logarithm of a
negative one) cannot be typed, and one that is right in fact is none.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, partial
from itertools import chain, islice

from qbank.bank.drawing import Stream
from qbank.items.distractors import Candidate
from qbank.items.item import Numeric, Through
from qbank.items.numeric import BORDERLINE, ZERO, numeric_slip
from qbank.items.places import pairs, places
from qbank.items.rounding import Rounded, overlap, round_between
from qbank.maths.covering import defined_between
from qbank.maths.enclosing import enclose
from qbank.maths.expression import (
    Expression,
    Negate,
    Symbol,
    difference,
    rational,
    sum_of,
)
from qbank.messages import say
from qbank.techniques.particular import Particular, ParticularRefused, changed_by, work_particular, worked_out

__all__ = ["Evaluated", "EvaluationQuestion", "EvaluationRefused", "evaluation"]

#: given values, and those where an antiderivative changes by much
_GIVEN, _ROUND = (1, 2, 3, 4, 5, -1, -2), (10, 20, 50, 100, 200, 500)
_MUCH = 100
#: so many given values are tried at two places
_GIVEN_TRIED = 3
#: pairs that are looked at, and those in one piece of the domain that are tried
_LOOKED_AT, _TRIED = 500, 80
#: the size of a value that is asked for
_SMALLEST, _LARGEST = Fraction(1, 100), 100_000
#: digits of the values, far beyond the figures that are asked for
_DIGITS = 25

#: rational bounds of a number
Bounds = tuple[Fraction, Fraction]


class EvaluationRefused(Exception):  # noqa: N818 - a refusal is an answer, not an error
    """No places do; the text says what was in the way most often."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EvaluationQuestion:
    """What is known when the places are chosen.

    Attributes:
        key: an antiderivative.
        integrand: its derivative.
        variable: the letter.
        constant: the letter of the constant of integration.
        candidates: wrong antiderivatives.
        figures: significant figures asked for.
    """

    key: Expression
    integrand: Expression
    variable: Symbol
    constant: Symbol
    candidates: tuple[Candidate, ...]
    figures: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Evaluated:
    """The places, the response and the working."""

    through: Through
    response: Numeric
    particular: Particular


def evaluation(
    question: EvaluationQuestion,
    stream: Stream,
    *,
    usable: Callable[[Fraction], bool],
    right: Callable[[Expression], bool],
    same: Callable[[Expression, Expression], bool],
) -> Evaluated:
    """Choose where the value is given and where it is asked for.

    Args:
        question: the question.
        stream: draws the order in which places are tried.
        usable: whether a place lies in the domain of the question.
        right: whether an expression is proved to be an antiderivative.
        same: whether two expressions are proved to differ by a constant only.

    Raises:
        EvaluationRefused: no places do.
    """
    return _Search(question, usable, right, same).first(stream)


class _Unfit(Exception):  # noqa: N818 - a way out, caught in this module
    """These places will not do; the text says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wrong:
    """A wrong value: bounds of it, and how it is written, worked out only when it is wanted.

    Attributes:
        slip: identifier of the slip.
        sentence: what to tell the student.
        bounds: rational bounds.
        written: works out the number.
        answer: the wrong antiderivative; None for a slip with the given value.
    """

    slip: str
    sentence: str
    bounds: Bounds
    written: Callable[[], Expression]
    answer: Expression | None = None


class _Search:
    """The places tried one after the other, with the values of every antiderivative kept."""

    def __init__(
        self,
        question: EvaluationQuestion,
        usable: Callable[[Fraction], bool],
        right: Callable[[Expression], bool],
        same: Callable[[Expression, Expression], bool],
    ) -> None:
        self._key, self._integrand, self._variable = question.key, question.integrand, question.variable
        self._constant, self._figures = question.constant, question.figures
        self._usable, self._right, self._same = usable, cache(right), cache(same)
        self._broken: list[Bounds] = []
        self._values: dict[tuple[Expression, Expression], Bounds | None] = {}
        # in the order of preference; a slip that turns out to be right, or the same as one before it, goes
        self._slips = [c for c in question.candidates if c.answer.symbols() <= {question.variable}]

    def first(self, stream: Stream) -> Evaluated:
        reasons: Counter[str] = Counter()
        drawn = islice(pairs(places(self._integrand, self._variable), stream), _LOOKED_AT)
        for point, at in islice((pair for pair in drawn if self._is_usable(*pair)), _TRIED):
            for given in self._given(point, at, stream):
                try:
                    return self._tried(Through(point=point, value=Fraction(given), at=at))
                except _Unfit as unfit:
                    reasons[str(unfit)] += 1
        why = f", most often because {reasons.most_common(1)[0][0]}" if reasons else ""
        raise EvaluationRefused(f"no places with small numbers do for an evaluation{why}")

    def _given(self, point: Expression, at: Expression, stream: Stream) -> tuple[int, ...]:
        """Values to be given, of a size that matters beside what the antiderivative changes by."""
        change = self._change(self._key, point, at)
        assert change is not None
        return stream.shuffled(_GIVEN if abs(change[0]) < _MUCH else _ROUND)[:_GIVEN_TRIED]

    def _is_usable(self, point: Expression, at: Expression) -> bool:
        """Whether two places lie in one piece of the domain; what holds a stretch that is not in one is not either."""
        begin, end = (_number(place) for place in (point, at))
        lower, upper = min(begin[0], end[0]), max(begin[1], end[1])
        if not (self._usable(lower) and self._usable(upper)):
            return False
        if any(lower <= start and stop <= upper for start, stop in self._broken):
            return False
        whole = all(
            defined_between(tree, self._variable, lower, upper) for tree in (self._integrand, self._key)
        )
        if not whole:
            self._broken.append((lower, upper))
        return whole

    def _value(self, tree: Expression, place: Expression) -> Bounds | None:
        """Bounds of an expression at a place; None where there is no value."""
        if (tree, place) not in self._values:
            found = enclose(tree.substitute({self._variable: place}), at={}, digits=_DIGITS)
            self._values[tree, place] = None if found is None else (found.lower, found.upper)
        return self._values[tree, place]

    def _change(self, tree: Expression, point: Expression, at: Expression) -> Bounds | None:
        begin, end = (self._value(tree, place) for place in (point, at))
        return None if begin is None or end is None else (end[0] - begin[1], end[1] - begin[0])

    def _tried(self, through: Through) -> Evaluated:
        change = self._change(self._key, through.point, through.at)
        assert change is not None
        rounded = self._good(_moved(change, through.value), through)
        wrong = chain(self._of_technique(through, rounded), self._of_condition(through))
        slips = self._told_apart(wrong, rounded)
        try:
            particular = work_particular(
                self._key,
                self._integrand,
                self._variable,
                self._constant,
                point=through.point,
                given=through.value,
                at=through.at,
            )
        except ParticularRefused as refusal:
            raise _Unfit(str(refusal)) from refusal
        response = Numeric(
            value=particular.value,
            decimal=rounded.text,
            figures=self._figures,
            lower=rounded.lower,
            upper=rounded.upper,
            slips=tuple(
                numeric_slip(Candidate(slip=one.slip, sentence=one.sentence, answer=one.written()), own)
                for one, own in slips
            ),
        )
        return Evaluated(through=through, response=response, particular=particular)

    def _good(self, value: Bounds, through: Through) -> Rounded:
        rounded = round_between(*value, self._figures)
        if rounded is None:
            raise _Unfit(ZERO)
        if rounded.borderline:
            raise _Unfit(BORDERLINE)
        if not _SMALLEST <= abs(value[0]) <= _LARGEST:
            raise _Unfit("the value is tiny or huge")
        if not _clear((through.value, through.value), rounded):
            raise _Unfit("the value is nearly the one that is given")
        return rounded

    def _of_technique(self, through: Through, rounded: Rounded) -> Iterator[_Wrong]:
        """What the slips of the technique make of the given value; those that turn out to be right are dropped."""
        place = (self._variable, through.point, through.value, through.at)
        for candidate in tuple(self._slips):
            change = self._change(candidate.answer, through.point, through.at)
            if change is None:
                continue
            bounds = _moved(change, through.value)
            if not _clear(bounds, rounded) and self._right(candidate.answer):
                self._slips.remove(candidate)
                continue
            yield _Wrong(
                slip=candidate.slip,
                sentence=candidate.sentence,
                bounds=bounds,
                written=partial(changed_by, candidate.answer, *place),
                answer=candidate.answer,
            )

    def _of_condition(self, through: Through) -> Iterator[_Wrong]:
        """What students do with the given value (common practice: from the marking of scripts)."""
        begin, end = (self._key.substitute({self._variable: place}) for place in (through.point, through.at))
        given = rational(through.value)
        for slip, sentence, tree in (
            (
                "constant-not-found",
                say("The constant of integration is not zero: find it from the value that is given."),
                end,
            ),
            (
                "given-value-not-added",
                say("That is by how much the antiderivative changes: add the value that is given."),
                difference(end, begin),
            ),
            (
                "constant-with-wrong-sign",
                say(
                    "Mind the sign of the constant: what is given is the antiderivative with the constant added."
                ),
                sum_of(end, begin, Negate(given)),
            ),
            (
                "places-exchanged",
                say("The two places have been exchanged: the value is given at one and wanted at the other."),
                sum_of(given, difference(begin, end)),
            ),
        ):
            found = enclose(tree, at={}, digits=_DIGITS)
            if found is not None:
                yield _Wrong(
                    slip=slip,
                    sentence=sentence,
                    bounds=(found.lower, found.upper),
                    written=partial(worked_out, tree),
                )

    def _told_apart(self, slips: Iterable[_Wrong], rounded: Rounded) -> list[tuple[_Wrong, Rounded]]:
        """The slips, each with the bounds in which it is recognised: all clearly wrong and each clearly another.

        A slip that is the same as one before it, or that only with this given value gives the number of a slip of the
        technique, is left out.
        """
        taken: list[tuple[_Wrong, Rounded]] = []
        for wrong in slips:
            own = round_between(*wrong.bounds, self._figures)
            if not _clear(wrong.bounds, rounded) or (own is not None and overlap(own, rounded)):
                raise _Unfit(f"the slip {wrong.slip} gives nearly the right value")
            if own is None and wrong.answer is not None:
                raise _Unfit(f"the slip {wrong.slip} gives zero")
            if own is None or self._is_known(wrong, [other for other, its in taken if overlap(own, its)]):
                continue
            taken.append((wrong, own))
        return taken

    def _is_known(self, wrong: _Wrong, clashing: list[_Wrong]) -> bool:
        """Whether a slip is among those with the same number, rightly so."""
        for other in clashing:
            mine, its = wrong.answer, other.answer
            if mine is None or its is None or wrong.sentence == other.sentence or self._same(mine, its):
                return True
            raise _Unfit(f"the slips {other.slip} and {wrong.slip} give nearly the same value")
        return False


def _number(place: Expression) -> Bounds:
    found = enclose(place, at={}, digits=_DIGITS)
    assert found is not None
    return found.lower, found.upper


def _moved(change: Bounds, given: Fraction) -> Bounds:
    return given + change[0], given + change[1]


def _clear(value: Bounds, right: Rounded) -> bool:
    """Whether a value is certainly a unit of the last figure, at least, beyond what is accepted."""
    unit = right.upper - right.lower
    return value[1] < right.lower - unit or right.upper + unit < value[0]
