"""Deciding: is one expression the derivative of another, are two equal? Proved, refuted with a witness, or unsettled.

    a few points in balls      finds nearly every wrong answer at once            -> Refuted
    exact normal form          zero is a proof; not zero is only a sign           -> (proof)
    points over the domain     the proof holds where both sides are real: where
                               is that? a difference anywhere refutes             -> Proved, Refuted
    all points, more bits      when there was no proof                            -> Refuted, Unsettled

The question is asked on the real domain of the right side (or on a stated interval). Other letters are arbitrary real
constants. Nothing hangs: every step has bounds on its size and watches the time budget.
"""

from __future__ import annotations

import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from qbank.maths.decimals import bounds, decimal_text
from qbank.maths.domain import REAL_LINE, Domain
from qbank.maths.enclosing import Enclosure, derivative_at, enclose
from qbank.maths.exact.normal_form import in_exact_system
from qbank.maths.exact.patterns import Ends, same_where_real
from qbank.maths.exact.signs import knows_facts
from qbank.maths.exact.system import Exact
from qbank.maths.exact_values import exact_value
from qbank.maths.expression import Differential, Expression, Symbol
from qbank.maths.forward import Walk
from qbank.maths.number_system import NotSettled, Undefined
from qbank.maths.points import Comparison, Side, Sides, formula_side, slope_side, value_side
from qbank.maths.sampling import letter_values, points_between
from qbank.maths.verdict import SEAL, Proof, Proved, Refuted, Unsettled, Verdict, Witness

__all__ = [
    "Enclosure",
    "decide_antiderivative",
    "decide_equal",
    "decide_same_up_to_constant",
    "derivative_at",
    "enclose",
    "exact_value",
]

NO_BINDINGS: Mapping[Symbol, Expression] = {}
NO_LETTERS: frozenset[Symbol] = frozenset()

#: comparable points wanted before the normal form, and tried after it
QUICK_POINTS = 3
COVERING_POINTS = 14


@dataclass(frozen=True, slots=True, kw_only=True)
class _Question:
    """An identity between two sides, with everything needed to put it to a number system."""

    claim: str
    left: Side
    right: Side
    formula: Side | None
    variable: Symbol
    bindings: Mapping[Symbol, Expression]
    letters: tuple[str, ...]
    positive: frozenset[str]
    ends: Ends
    points: tuple[Fraction, ...]

    def values(self, place: int) -> dict[str, Fraction]:
        return {
            self.variable.name: self.points[place],
            **dict(letter_values(self.letters, self.positive, place)),
        }

    def is_identity(self, walk: Walk[Any]) -> bool:
        """Whether the normal forms agree (asked in the exact system)."""
        if self._agrees(walk):
            return True
        numbers = walk.numbers
        if not isinstance(numbers, Exact) or not knows_facts(numbers.field):
            return False
        # what is known now about signs was not known when the first parts were walked: once more
        return self._agrees(walk.again())

    def _agrees(self, walk: Walk[Any]) -> bool:
        return same_where_real(self.left(walk), self.right(walk), self.variable.name, self.ends)


def decide_antiderivative(
    candidate: Expression,
    integrand: Expression,
    variable: Symbol,
    *,
    domain: Domain | None = None,
    bindings: Mapping[Symbol, Expression] = NO_BINDINGS,
    positive: frozenset[Symbol] = NO_LETTERS,
    budget: float = 1.0,
) -> Verdict:
    """Is the derivative of `candidate` equal to `integrand`?

    Args:
        candidate: the proposed antiderivative, or a line of working such as `1/3 Integral(u^2, u) + x`.
        integrand: what its derivative should be; its real domain is the one that counts.
        variable: the letter to differentiate by.
        domain: where the answer is wanted, if not on the whole real domain of the integrand.
        bindings: letters of a substitution, each with the expression it stands for.
        positive: other letters that stand for positive numbers only; the rest are any real numbers.
        budget: seconds.

    >>> from qbank.maths.expression import *
    >>> x = Symbol("x")
    >>> type(decide_antiderivative(sin(x) ** 2 / 2, sin(x) * cos(x), x)).__name__
    'Proved'
    >>> type(decide_antiderivative(cos(x), sin(x), x)).__name__
    'Refuted'
    """
    trees = (candidate, integrand)
    sides = (slope_side(candidate), value_side(integrand))
    claim = "the derivative of the answer is the integrand"
    return _decide(
        claim, trees, sides, formula_side(candidate), variable, (domain, bindings, positive), budget
    )


def decide_equal(
    left: Expression,
    right: Expression,
    variable: Symbol,
    *,
    domain: Domain | None = None,
    bindings: Mapping[Symbol, Expression] = NO_BINDINGS,
    positive: frozenset[Symbol] = NO_LETTERS,
    budget: float = 1.0,
) -> Verdict:
    """Are two expressions equal as functions of the variable, on the real domain of the right one?

    Args:
        left: one side; a `Differential` stands for its letter's derivative times that of the variable.
        right: the other side.
        variable: the variable.
        domain: where equality is wanted.
        bindings: letters of a substitution.
        positive: other letters that stand for positive numbers only; the rest are any real numbers.
        budget: seconds.

    >>> from qbank.maths.expression import *
    >>> x = Symbol("x")
    >>> type(decide_equal(1 - sin(x) ** 2, cos(x) ** 2, x)).__name__
    'Proved'
    """
    sides = (value_side(left), value_side(right))
    setting = (domain, bindings, positive)
    return _decide("the two sides are equal", (left, right), sides, None, variable, setting, budget)


def decide_same_up_to_constant(
    left: Expression,
    right: Expression,
    variable: Symbol,
    *,
    domain: Domain | None = None,
    bindings: Mapping[Symbol, Expression] = NO_BINDINGS,
    positive: frozenset[Symbol] = NO_LETTERS,
    budget: float = 1.0,
) -> Verdict:
    """Do two expressions differ by a constant only (on each piece of the domain), that is, are their derivatives equal?

    >>> from qbank.maths.expression import *
    >>> x = Symbol("x")
    >>> type(decide_same_up_to_constant(sin(x) ** 2 / 2, -(cos(x) ** 2) / 2, x)).__name__
    'Proved'
    """
    sides = (slope_side(left), slope_side(right))
    setting = (domain, bindings, positive)
    return _decide(
        "the two derivatives are equal", (left, right), sides, formula_side(left), variable, setting, budget
    )


def _decide(
    claim: str,
    trees: tuple[Expression, Expression],
    sides: tuple[Side, Side],
    formula: Side | None,
    variable: Symbol,
    setting: tuple[Domain | None, Mapping[Symbol, Expression], frozenset[Symbol]],
    budget: float,
) -> Verdict:
    deadline = time.monotonic() + budget
    domain, bindings, positive = setting
    try:
        ends = _ends(domain or REAL_LINE)
    except NotSettled as reason:
        return Unsettled(reason=str(reason))
    question = _Question(
        claim=claim,
        left=sides[0],
        right=sides[1],
        formula=formula,
        variable=variable,
        bindings=bindings,
        letters=_other_letters(trees, variable, bindings),
        positive=frozenset(letter.name for letter in positive),
        ends=ends,
        points=points_between(*ends),
    )
    try:
        return _Course(question, deadline).run()
    except NotSettled as reason:
        return Unsettled(reason=str(reason))
    except RecursionError:
        return Unsettled(reason="the expression is nested too deeply")


def _other_letters(
    trees: tuple[Expression, ...], variable: Symbol, bindings: Mapping[Symbol, Expression]
) -> tuple[str, ...]:
    """Names of all letters but the variable, those bound to expressions left out, in alphabetical order."""
    names: set[str] = set()
    for tree in (*trees, *bindings.values()):
        for node in tree.walk():
            if isinstance(node, Symbol) and node not in bindings:
                names.add(node.name)
            elif isinstance(node, Differential):
                names.add(f"d{variable.name}")
    return tuple(sorted(names - {variable.name}))


def _ends(domain: Domain) -> tuple[Fraction | None, Fraction | None]:
    """The ends of a domain as fractions, an irrational one moved inwards by next to nothing."""
    return _end(domain.lower, 1), _end(domain.upper, 0)


def _end(end: Fraction | Expression | None, side: int) -> Fraction | None:
    if end is None or isinstance(end, Fraction):
        return end
    nothing = Symbol("x")
    ball = value_side(end)
    both = Sides(ball, ball, nothing, NO_BINDINGS).compare({}, enough=60)
    if both.outcome != "agree":
        raise NotSettled("an end of the domain has no real value")
    return bounds(both.left)[side]


class _Course:
    """The course of one decision: what has been seen at the points so far."""

    def __init__(self, question: _Question, deadline: float) -> None:
        self.question = question
        self.deadline = deadline
        self.sides = Sides(question.left, question.right, question.variable, question.bindings)
        self.agreed: list[int] = []
        self.undefined: list[int] = []
        self.tried = 0

    def run(self) -> Verdict:
        question = self.question
        refuted = self._look(self._until(lambda: len(self.agreed) < QUICK_POINTS))
        if refuted:
            return refuted
        doubt = self._exact()
        enough = COVERING_POINTS if doubt is None else len(question.points)
        refuted = self._look(self._until(lambda: self.tried < enough))
        if refuted:
            return refuted
        if not self.agreed:
            return self._nowhere(doubt)
        if doubt is None:
            proof = Proof(claim=question.claim, method="normal form", seal=SEAL)
            places = tuple(question.points[place] for place in self.undefined)
            return Proved(proof=proof, undefined_at=places, points=len(self.agreed) + len(self.undefined))
        return self._closely(doubt)

    def _at(self, place: int, enough: int = 30) -> Comparison:
        return self.sides.compare(self.question.values(place), enough=enough)

    def _until(self, more: Any) -> Iterator[int]:
        """Places of points not tried yet, while `more` are wanted."""
        while self.tried < len(self.question.points) and more() and time.monotonic() < self.deadline:
            self.tried += 1
            yield self.tried - 1

    def _look(self, places: Iterator[int]) -> Refuted | None:
        for place in places:
            found = self._at(place)
            if found.outcome == "differ":
                return self._witness(place, found)
            if found.outcome == "agree":
                self.agreed.append(place)
            elif found.outcome == "left undefined":
                self.undefined.append(place)
        return None

    def _exact(self) -> str | None:
        """None when the normal forms agree, else why there is no proof."""
        question = self.question
        left = self.deadline - time.monotonic()
        try:
            same = in_exact_system(
                question.is_identity,
                question.variable,
                question.bindings,
                positive=question.positive,
                seconds=left,
            )
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
        if question.formula is None:
            return True
        sides = Sides(question.formula, question.right, question.variable, question.bindings)
        places = self.undefined[:COVERING_POINTS]
        return any(sides.compare(question.values(place)).outcome == "differ" for place in places)

    def _closely(self, doubt: str) -> Verdict:
        """Look again with many bits at the points that agreed so far."""
        fewest = 10_000
        for place in self.agreed:
            if time.monotonic() > self.deadline:
                break
            found = self._at(place, enough=200)
            if found.outcome == "differ":
                return self._witness(place, found)
            if found.outcome == "agree":
                fewest = min(fewest, _agreeing_digits(found.left, found.right))
        return Unsettled(reason=doubt, points=len(self.agreed), digits=fewest if fewest < 10_000 else 0)

    def _witness(self, place: int, found: Comparison) -> Refuted:
        values = self.question.values(place)
        point = values.pop(self.question.variable.name)
        left, right = _texts(found)
        return Refuted(
            witness=Witness(point=point, left=left, right=right, others=tuple(sorted(values.items())))
        )


def _texts(found: Comparison) -> tuple[str, str]:
    """Both sides of a comparison as decimals that show the difference."""
    right = bounds(found.right)
    if found.outcome == "left undefined":
        return "undefined", _widest(right)
    left = bounds(found.left)
    for digits in range(6, 160):
        texts = decimal_text(*left, digits), decimal_text(*right, digits)
        if texts[0] != texts[1] and None not in texts:
            return str(texts[0]), str(texts[1])
    return _widest(left), _widest(right)


def _widest(ends: tuple[Fraction, Fraction]) -> str:
    """As many digits as the bounds give, 17 at most."""
    texts = (decimal_text(*ends, digits) for digits in range(17, 0, -1))
    return next((text for text in texts if text is not None), "0")


def _agreeing_digits(left: Any, right: Any) -> int:
    """To how many decimal digits two overlapping balls are known to agree."""
    gap = abs(left - right).upper()
    size = abs(right).upper()
    ratio = gap / size if size > 1e-30 else gap
    if ratio <= 0:
        return 150
    return max(0, int(float((-ratio.log() / 2.302585092994046).mid())))
