"""Published antiderivatives put to deciding, as they are and with one coefficient changed by a millionth."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from flint import acb, arb

from qbank.maths.complex_balls import ball_function
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.expression import Expression, Negate, Quotient, Sum, Symbol, product, rational
from qbank.maths.verdict import Proved, Refuted, Unsettled, Verdict
from tests.reference.rows import ReadingError, Row

#: the change of a coefficient that must never go unnoticed
PERTURBATION = Fraction(1_000_001, 1_000_000)

#: the share of right rows that must be proved, measured; a fall is a fault: of the project's own files, and of all rows
SHARES = {
    "own dlmf": 1.0,
    "own abramowitz_stegun": 1.0,
    "own thompson": 1.0,
    "own rubi": 0.99,
    "all tables": 0.995,
    "all openstax": 0.99,
    "all rubi": 0.99,
}

#: where an independent numerical check found the row right on the real line
RIGHT = ("ok", "ok_real")


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What became of a row.

    Attributes:
        row: the row.
        verdict: on the published antiderivative; None when the row is outside the language.
        perturbed: on the changed copy.
        seconds: the time of the first verdict.
    """

    row: Row
    verdict: Verdict | None = None
    perturbed: Verdict | None = None
    seconds: float = 0.0

    @property
    def word(self) -> str:
        """The verdict in a word; `not real` for an unsettled answer that is real nowhere the integrand is."""
        if isinstance(self.verdict, Unsettled) and is_nowhere_real(self.row):
            return "not real"
        return word(self.verdict)


def is_nowhere_real(row: Row) -> bool:
    """Whether the published antiderivative has no real value at any sample point where the integrand has one.

    Tables made for complex variables hold such answers: artanh of a number larger than 1 for arcoth. Nothing can be
    proved of them on the real line. The samples here are those of this module, not of deciding.
    """
    values = dict(zip(sorted(row.letters, key=lambda letter: letter.name), _LETTERS, strict=False))
    integrand, antiderivative = (tree.substitute(values) for tree in row.trees())
    f, g = ball_function(integrand, row.variable), ball_function(antiderivative, row.variable)
    points = [acb(arb(k) / 7) for k in range(-56, 57)]
    real = [point for point in points if f(point, False).is_finite()]
    return bool(real) and not any(g(point, False).is_finite() for point in real)


#: values of parameters, as in the numerical check of the files
_LETTERS = (rational(7, 5), rational(11, 13), rational(9, 4), rational(3, 7), rational(5, 3))


def word(verdict: Verdict | None) -> str:
    """A verdict in a word."""
    match verdict:
        case Proved():
            return "proved"
        case Refuted():
            return "refuted"
        case Unsettled():
            return "unsettled"
        case None:
            return "outside"


def perturbed(tree: Expression, variable: Symbol) -> Expression:
    """The tree with the coefficient of its first term that varies made larger by a millionth."""
    if not tree.has(variable):  # the integral of 0: there is no coefficient, so a wrong term is added
        return tree + variable * rational(PERTURBATION - 1)
    match tree:
        case Negate(operand):
            return Negate(perturbed(operand, variable))
        case Quotient(numerator, denominator) if not denominator.has(variable):
            return Quotient(perturbed(numerator, variable), denominator)
        case Sum(terms):
            place = next(i for i, term in enumerate(terms) if term.has(variable))
            return Sum((*terms[:place], perturbed(terms[place], variable), *terms[place + 1 :]))
        case _:
            return product(rational(PERTURBATION), tree)


def outcomes(rows: Iterable[Row]) -> Iterator[Outcome]:
    """Every row with its verdicts."""
    for row in rows:
        try:
            integrand, antiderivative = row.trees()
        except ReadingError:
            yield Outcome(row=row)
            continue
        start = time.perf_counter()
        verdict = decide_antiderivative(antiderivative, integrand, row.variable, positive=row.letters)
        seconds = time.perf_counter() - start
        changed = decide_antiderivative(
            perturbed(antiderivative, row.variable), integrand, row.variable, positive=row.letters
        )
        yield Outcome(row=row, verdict=verdict, perturbed=changed, seconds=seconds)


def tally(found: Iterable[Outcome]) -> Counter[tuple[str, str]]:
    """How many rows of each status got each verdict."""
    return Counter((outcome.row.status, outcome.word) for outcome in found)


def wrongly_refuted(found: Iterable[Outcome]) -> list[str]:
    """The rows that are right and were refuted."""
    return [o.row.name for o in found if o.word == "refuted" and o.row.status in RIGHT]


def wrongly_proved(found: Iterable[Outcome]) -> list[str]:
    """The rows whose changed copy was proved."""
    return [o.row.name for o in found if isinstance(o.perturbed, Proved)]


def share_proved(found: Iterable[Outcome]) -> float:
    """Of the right rows in the language whose answer is real somewhere, the share proved."""
    right = [o for o in found if o.row.status in RIGHT and o.word not in ("outside", "not real")]
    return sum(o.word == "proved" for o in right) / len(right)
