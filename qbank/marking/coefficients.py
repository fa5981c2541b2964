"""Marking the coefficients of a given form: rational arithmetic, nothing else.

    typed numbers -> exact fractions -> right, a slip, right in part, or wrong

An answer is right when it differs from a known right one by relations between the functions of the form, each of
which was proved when the form was chosen.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from qbank.items.item import Coefficients, CoefficientSlip, DecimalEntry
from qbank.items.prose_text import prose_text
from qbank.marking.mark import Mark
from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.expression import as_fraction
from qbank.maths.reading import ReadingError, read_response
from qbank.messages import say

__all__ = ["CoefficientsMarker"]


class CoefficientsMarker:
    """Marks answers to one form.

    Args:
        response: the form, with its right answers and its slips.
        marks: for a full answer.
        conventions: of the bank, for reading.

    >>> from qbank.items.item import FractionEntry
    >>> from qbank.maths.expression import Symbol, cos, sin
    >>> x, third = Symbol("x"), Fraction(1, 3)
    >>> form = Coefficients(
    ...     letters=(Symbol("A"), Symbol("B")), functions=(sin(3 * x), cos(x)), values=(third, Fraction(-2)),
    ...     relations=(), entry=FractionEntry(bound=1000), points=(), tolerance=Fraction(1, 10**9),
    ...     condition=Fraction(1), part_marks=(0, 1, 2), slips=(),
    ... )
    >>> marker = CoefficientsMarker(form, 2)
    >>> marker.mark({"A": "2/6", "B": "-2"}).outcome, marker.mark({"A": "1/3", "B": "2"}).score
    ('correct', 0.5)
    """

    def __init__(self, response: Coefficients, marks: int, *, conventions: Conventions = DEFAULT) -> None:
        self._response = response
        self._marks = marks
        self._conventions = conventions

    def mark(self, typed: Mapping[str, str]) -> Mark:
        """Mark one answer.

        Args:
            typed: for each letter what was typed: `1/8`, `-3`, `0.125`; letters may be missing.
        """
        values = tuple(self._number(typed.get(letter.name, "")) for letter in self._response.letters)
        given = tuple(value for value in values if value is not None)
        if len(given) == len(values):
            if self._is_right(given):
                return Mark(outcome="correct", score=1.0, message=say("Right."), proof=self._proof)
            slip = next((slip for slip in self._response.slips if self._is(slip, given)), None)
            if slip is not None:
                return Mark(
                    outcome="incorrect",
                    score=self._share(self._response.part(slip.values)),
                    message=prose_text(slip.feedback, self._conventions),
                    slip=slip.slip,
                    proof=self._proof,
                )
        part = self._response.part(values)
        if not part and len(given) < len(values):
            missing = [
                letter.name
                for letter, value in zip(self._response.letters, values, strict=True)
                if value is None
            ]
            message = say("No number was read for {letters}.", letters=", ".join(missing))
            return Mark(outcome="unreadable", score=None, message=message)
        return Mark(
            outcome="incorrect",
            score=self._share(part),
            message=say("Some of the numbers are right, but not all.") if part else say("Not right."),
            proof=self._proof,
        )

    @property
    def _proof(self) -> str:
        if isinstance(self._response.entry, DecimalEntry):
            return f"within half a unit of decimal place {self._response.entry.places} of the exact numbers, or not"
        return "rational arithmetic with the proved key" + (
            " and the proved relations between the functions" if self._response.relations else ""
        )

    def _is_right(self, values: tuple[Fraction, ...]) -> bool:
        if isinstance(self._response.entry, DecimalEntry):
            return all(self._response.is_alone_right(place, value) for place, value in enumerate(values))
        return self._response.is_right(values)

    def _is(self, slip: CoefficientSlip, values: tuple[Fraction, ...]) -> bool:
        entry = self._response.entry
        margin = entry.margin if isinstance(entry, DecimalEntry) else 0
        return all(abs(one - other) <= margin for one, other in zip(values, slip.values, strict=True))

    def _share(self, part: int) -> float:
        return part / self._marks

    def _number(self, typed: str) -> Fraction | None:
        """The exact value of a number as typed; None for anything else."""
        if not typed.strip():
            return None
        try:
            tree = read_response(typed, conventions=self._conventions).tree
        except ReadingError:
            return None
        return as_fraction(tree)
