"""Which wrong values stand beside the value of a definite integral, so that its place among them tells nothing.

Numbers can be sorted. Where the wrong ones are whatever slips come first, the right one is mostly in the middle, and a
student who cannot integrate takes that one. So a place is drawn for it among all, each equally likely, one among their
sizes without the sign, and one among their looks, from the most like the others to the least. Those slips are taken with
which it stands there, as nearly as there are such; two slips in one answer widen what there is to choose from. Some other
option has its sign where that can be, since a sign can often be told without integrating.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain, combinations, islice

from qbank.bank.drawing import Stream
from qbank.items import wording
from qbank.items.distractors import Candidate, is_plain
from qbank.items.pairing import both
from qbank.maths.enclosing import enclose
from qbank.maths.expression import Expression
from qbank.maths.notation import plain
from qbank.techniques.definite import DefiniteSolution, limit_slips, value_of_wrong, wrong_value
from qbank.techniques.definites.way import WorkedValue
from qbank.techniques.planner import technique

__all__ = ["double_values", "likeness", "placed", "way_doubles"]

#: so many values with one slip are looked at, and so many in all, for three wrong options and for four
_SINGLES, _ALL = 9, {3: 17, 4: 13}
#: what it costs to be a place away from the one drawn, among all, among sizes and among looks; a sign that stands alone;
#: and to come late in the order of preference
_PLACE, _SIZE, _LOOK, _SIGN, _ORDER = 200, 80, 40, 250, 1


@dataclass(frozen=True, slots=True)
class _Value:
    """A candidate with its size; the right value has no candidate."""

    candidate: Candidate | None
    lower: Fraction
    upper: Fraction


def double_values(worked: DefiniteSolution, stream: Stream) -> Iterator[Candidate]:
    """Values with two slips in them: two of the technique, or one of the technique and one with the limits.

    Args:
        worked: the integral, evaluated.
        stream: draws their order.
    """
    solution = worked.solution
    singles = [
        Candidate(slip=wrong.slip, sentence=wrong.sentence, answer=wrong.answer)
        for wrong in technique(solution.technique).wrong_answers(solution)
        if wrong.answer.symbols() <= {solution.variable} and is_plain(wrong.answer, solution.antiderivative)
    ]
    together = (both(one, other, solution.antiderivative) for one, other in combinations(singles, 2))
    with_limits = (
        Candidate(
            slip=f"{single.slip} + {slip.slip}",
            sentence=wording.two_slips(single.sentence, slip.sentence),
            answer=slip.answer,
        )
        for single in singles
        for slip in limit_slips(worked, single.answer)
    )
    of_technique = (
        Candidate(slip=pair.slip, sentence=pair.sentence, answer=worked.written(pair.answer))
        for pair in together
        if pair is not None
    )
    alone = [bounds for single in singles if (bounds := enclose(worked.written(single.answer), at={}))]
    for written in stream.shuffled((*of_technique, *with_limits)):
        bounds = enclose(written.answer, at={})
        # two slips with the effect of one are that one
        if bounds is None or any(one.lower <= bounds.upper and bounds.lower <= one.upper for one in alone):
            continue
        value = value_of_wrong(worked, written.answer)
        if value is not None:
            yield Candidate(slip=written.slip, sentence=written.sentence, answer=value)


def way_doubles(worked: WorkedValue, stream: Stream) -> Iterator[Candidate]:
    """The same for an integral that a way has worked, with the pairs of slips that the way knows.

    Args:
        worked: the integral, evaluated.
        stream: draws their order.
    """
    for first, second in stream.shuffled(worked.pairs):
        written = second.written()
        value = None if written is None else wrong_value(written, worked.enclosure)
        if value is not None:
            yield Candidate(
                slip=f"{first.slip} + {second.slip}",
                sentence=wording.two_slips(first.sentence, second.sentence),
                answer=value,
            )


def placed(
    singles: Iterable[Candidate], doubles: Iterable[Candidate], key: Expression, wanted: int, stream: Stream
) -> Iterator[Candidate]:
    """The candidates, those first with which the key stands at a place that is drawn.

    Args:
        singles: values with one slip, in order of preference.
        doubles: values with two.
        key: the right value.
        wanted: how many stand beside it.
        stream: draws the place.
    """
    place, size, look = (stream.below(wanted + 1) for _ in range(3))
    pool = chain(islice(singles, _SINGLES), doubles)
    known = list(islice(_different(pool, key), _ALL[wanted] + 1))
    right, *wrong = known
    alike = likeness([key, *(one.candidate.answer for one in wrong if one.candidate is not None)])

    below = [one.lower < right.lower for one in known]
    smaller = [abs(one.lower) < abs(right.lower) for one in known]
    same_sign = [(one.lower > 0) == (right.lower > 0) for one in known]

    def cost(chosen: tuple[int, ...]) -> int:
        off_place = abs(sum(below[one] for one in chosen) - place)
        off_size = abs(sum(smaller[one] for one in chosen) - size)
        mine = sum(alike[0][one] for one in chosen)
        liker = sum(
            alike[one][0] + sum(alike[one][other] for other in chosen) > mine + 1000 for one in chosen
        )
        alone = not any(same_sign[one] for one in chosen)
        off = _PLACE * off_place + _SIZE * off_size + _LOOK * abs(liker - look)
        return off + _SIGN * alone + _ORDER * sum(chosen)

    best = min(combinations(range(1, len(known)), wanted), key=cost, default=())
    order = (*best, *(place for place in range(1, len(known)) if place not in best))
    return (candidate for one in order if (candidate := known[one].candidate) is not None)


def likeness(answers: Sequence[Expression]) -> list[list[int]]:
    """How like each other answers look, up to 1000: the share of signs, names and numbers that two have in common."""
    parts = [Counter(re.findall(r"[a-z]+|\d+|\S", plain(answer))) for answer in answers]
    return [[1000 * (a & b).total() // max(a.total(), b.total()) for b in parts] for a in parts]


def _different(candidates: Iterable[Candidate], key: Expression) -> Iterator[_Value]:
    """The key and the candidates that are certainly different from it and from each other."""
    found: list[_Value] = []
    answers = chain(((None, key),), ((candidate, candidate.answer) for candidate in candidates))
    for candidate, answer in answers:
        value = _value(candidate, answer)
        if value is not None and all(
            value.upper < other.lower or other.upper < value.lower for other in found
        ):
            found.append(value)
            yield value


def _value(candidate: Candidate | None, tree: Expression) -> _Value | None:
    bounds = enclose(tree, at={}, digits=20)
    return None if bounds is None else _Value(candidate, bounds.lower, bounds.upper)
