"""The course of one decision: points, the normal form, more points; what each of them says and how it ends.

a point in balls          finds nearly every wrong answer at once             -> Refuted
a quick proof             in unreduced quotients; shows most identities       -> (proof)
a few more points         where the functions are not smooth                  -> Refuted
exact normal form         zero is a proof; not zero is only a sign            -> (proof)
points over the domain    a proof holds where both sides are real: where?     -> Proved, Refuted
                          (not asked where the left side is real wherever the right one is by how they are made)
all points, more bits     when there was no proof                             -> Refuted, Unsettled
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from qbank.maths.clock import Deadline
from qbank.maths.decimals import ball_text
from qbank.maths.exact.normal_form import Memory
from qbank.maths.exact.patterns import Ends, same_where_real
from qbank.maths.exact.signs import facts_known
from qbank.maths.exact.system import Exact
from qbank.maths.expression import Expression, Symbol
from qbank.maths.forward import Walk
from qbank.maths.number_system import NotSettled, Undefined
from qbank.maths.points import Comparison, Side, Sides, as_formula
from qbank.maths.samples import Samples
from qbank.maths.verdict import SEAL, Proof, Proved, Refuted, Unsettled, Verdict, Witness

__all__ = ["Course", "Question"]

#: comparable points wanted before the normal form, one of smooth sides; and points tried altogether after a proof
QUICK_POINTS = 3
COVERING_POINTS = 14


class Question(NamedTuple):
    """An identity between two sides, with everything needed to put it to a number system.

    Attributes:
        claim: the identity in words.
        left: the side whose truth is asked about.
        right: the side whose real domain counts.
        variable: the letter to differentiate by.
        bindings: letters that stand for expressions.
        memory: what the exact system remembers of earlier questions.
        ends: the ends of the domain.
        closely: whether points are looked at all over the domain, also when there is a proof.
        points: the sample points.
    """

    claim: str
    left: Side
    right: Side
    variable: Symbol
    bindings: Mapping[Symbol, Expression]
    memory: Memory
    ends: Ends
    closely: bool
    points: Samples

    def is_identity(self, walk: Walk[Any]) -> bool:
        """Whether the normal forms agree (asked in the exact system)."""
        if self._agrees(walk):
            return True
        numbers = walk.numbers
        if not isinstance(numbers, Exact) or not facts_known(numbers.field):
            return False
        # what is known now about signs was not known when the first parts were walked: once more
        return self._agrees(walk.again())

    def _agrees(self, walk: Walk[Any]) -> bool:
        return same_where_real(self.left(walk), self.right(walk), self.variable.name, self.ends)


class Course:
    """The course of one decision: what has been seen at the points so far."""

    def __init__(self, question: Question, deadline: Deadline) -> None:
        self.question = question
        self.deadline = deadline
        self.sides = Sides(question.left, question.right, question.variable, question.bindings)
        self.agreed: list[int] = []
        self.undefined: list[int] = []
        self.tried = 0

    def run(self) -> Verdict:
        """The verdict."""
        question = self.question
        refuted = self._look(self._none_agreed)
        if refuted:
            return refuted
        doubt = None
        if not self._is_shown():
            refuted = self._look(self._few_are_found)
            if refuted:
                return refuted
            doubt = self._exact()
        has_values = not question.closely or self.sides.left_has_values
        enough = question.points.usual if doubt else 0 if has_values else COVERING_POINTS
        refuted = self._look(lambda: self.tried < enough) if self.tried < enough else None
        if refuted:
            return refuted
        if not self.agreed:
            return self._nowhere(doubt)
        if doubt is None:
            proof = Proof(claim=question.claim, method="normal form", seal=SEAL)
            places = tuple(question.points.number(place) for place in self.undefined)
            return Proved(proof=proof, undefined_at=places, points=len(self.agreed) + len(self.undefined))
        return self._closely(doubt)

    def _none_agreed(self) -> bool:
        return not self.agreed and self._few_are_found()

    def _few_are_found(self) -> bool:
        if self.tried < self.question.points.usual:
            return len(self.agreed) < QUICK_POINTS and not (self.agreed and self._one_will_do())
        return len(self.agreed) + len(self.undefined) < QUICK_POINTS

    def _one_will_do(self) -> bool:
        """Whether a proof and one point where the sides agree are enough."""
        return not self.question.closely or self.sides.are_smooth

    def _at(self, place: int, enough: int = 30) -> Comparison:
        return self.sides.compare(self.question.points[place], enough=enough)

    def _look(self, more: Callable[[], bool]) -> Refuted | None:
        """Look at points not tried yet, while `more` are wanted."""
        count = self.question.points.count
        while self.tried < count and more() and not self.deadline.passed():
            place = self.tried
            self.tried += 1
            found = self._at(place)
            if found.outcome == "differ":
                return self._witness(place, found)
            if found.outcome == "agree":
                self.agreed.append(place)
            elif found.outcome == "left undefined":
                self.undefined.append(place)
        return None

    def _is_shown(self) -> bool:
        """Whether the quick system shows the identity; it is asked only where the sides were seen to have values."""
        question = self.question
        return bool(self.agreed) and question.memory.shows_equal(
            question.left, question.right, question.bindings
        )

    def _exact(self) -> str | None:
        """None when the normal forms agree, else why there is no proof."""
        question = self.question
        try:
            same = question.memory.ask(question.is_identity, question.bindings, self.deadline)
        except NotSettled as reason:
            return f"no normal form: {reason}"
        except Undefined:
            return "a side has no real value anywhere"
        return None if same else "the normal forms differ, though no point was found where the values do"

    def _nowhere(self, doubt: str | None) -> Verdict:
        """There is no point where both sides have a value."""
        if not self.undefined:
            return Unsettled(reason=doubt or "the right side has no real value at any sample point")
        if self.question.ends == (None, None) and not self._wrong_as_formula():
            return Unsettled(
                reason="the left side has no real value at any sample point, though the right side has"
            )
        place = self.undefined[0]
        return self._witness(place, self._at(place))

    def _wrong_as_formula(self) -> bool:
        """Whether the derivative, as a formula, differs too where its function has no real value.

        With ln(-1 - x^2) for 2x/(1 + x^2) it does not: a modulus sign is missing, rather than a derivative wrong.
        """
        question = self.question
        formula = as_formula(question.left)
        if formula is None:
            return True
        sides = Sides(formula, question.right, question.variable, question.bindings)
        places = self.undefined[:COVERING_POINTS]
        return any(sides.compare(question.points[place]).outcome == "differ" for place in places)

    def _closely(self, doubt: str) -> Verdict:
        """Look again with many bits at the points that agreed so far."""
        fewest = 10_000
        for place in self.agreed:
            if self.deadline.passed():
                break
            found = self._at(place, enough=200)
            if found.outcome == "differ":
                return self._witness(place, found)
            if found.outcome == "agree":
                fewest = min(fewest, _agreeing_digits(found.left, found.right))
        return Unsettled(reason=doubt, points=len(self.agreed), digits=fewest if fewest < 10_000 else 0)

    def _witness(self, place: int, found: Comparison) -> Refuted:
        values = dict(self.question.points[place].values)
        point = values.pop(self.question.variable.name)
        left, right = _texts(found)
        return Refuted(
            witness=Witness(point=point, left=left, right=right, others=tuple(sorted(values.items())))
        )


def _texts(found: Comparison) -> tuple[str, str]:
    """Both sides of a comparison as decimals that show the difference."""
    if found.outcome == "left undefined":
        return "undefined", _widest(found.right)
    for digits in range(6, 160):
        left, right = ball_text(found.left, digits), ball_text(found.right, digits)
        if left != right and left is not None and right is not None:
            return left, right
    return _widest(found.left), _widest(found.right)


def _widest(ball: Any) -> str:
    """As many digits as a ball gives, 17 at most."""
    texts = (ball_text(ball, digits) for digits in range(17, 0, -1))
    return next((text for text in texts if text is not None), "0")


def _agreeing_digits(left: Any, right: Any) -> int:
    """To how many decimal digits two overlapping balls are known to agree."""
    gap = abs(left - right).upper()
    size = abs(right).upper()
    ratio = gap / size if size > 1e-30 else gap
    if ratio <= 0:
        return 150
    return max(0, int(float((-ratio.log() / 2.302585092994046).mid())))
