"""A polynomial over a biquadratic without rational factors: `1/(x^4 + 1)`, `(x^2 - 3)/(x^4 - 2x^2 + 9)`.

integrand -> whole part divided off -> odd powers apart -> multiples of h x^2 + k and of h x^2 - k, one after the other
"""

from __future__ import annotations

from collections.abc import Iterable

from qbank.maths.expression import Expression, Integral, Quotient, Symbol, fraction, sum_of
from qbank.maths.notation import plain
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.tidying import scaled
from qbank.messages import say
from qbank.techniques.fractions.biquadratic_lines import OddPart, even_lines
from qbank.techniques.fractions.biquadratic_parts import EvenPart
from qbank.techniques.fractions.biquadratic_plan import BiquadraticPlan, biquadratic_plan
from qbank.techniques.fractions.biquadratic_slips import biquadratic_slips
from qbank.techniques.quadratics.division_lines import division_lines
from qbank.techniques.quadratics.over_quadratic import Board, antiderivative_terms, over_quadratic
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "biquadratic-denominator"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    plan = biquadratic_plan(integrand, variable)
    if plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    board = Board(working, variable, Integral(integrand, variable))
    if plan.start != over_quadratic(integrand, variable, fraction(1, 1)):
        board.line("cancel", say("Cancel the common factor."), plan.start.integral)
    if plan.whole:
        division_lines(board, plan.start, plan.whole, plan.left)
    if plan.factor != 1:
        said = say("Take out the number in front.")
        board.line(
            "constant-factor", said, board.integral(plan.front, Quotient(plan.left.over_tree, plan.under))
        )
    odd = OddPart(plan.even[0], plan.front, plan.odd) if any(plan.odd) else None
    _split(board, plan, odd)
    done = tuple(antiderivative_terms(plan.whole, variable))
    waiting = [*(_pending(plan, part) for part in plan.even), *((odd.pending,) if odd else ())]
    for place, part in enumerate(plan.even):

        def around(
            terms: Iterable[Expression], done: tuple[Expression, ...] = done, place: int = place
        ) -> Expression:
            return sum_of(*done, *terms, *waiting[place + 1 :])

        even_lines(working, part, plan.under, around, again=place > 0)
        done += part.terms()
    collected = (*antiderivative_terms(plan.whole, variable), *plan.even_terms())
    if collected != done:
        done = collected
        working.step(sum_of(*done, *((odd.pending,) if odd else ())), "collect", say("Collect like terms."))
    if odd is not None:
        odd.lines(working, lambda terms: sum_of(*done, *terms))
    return working.finish()


def _split(board: Board, plan: BiquadraticPlan, odd: OddPart | None) -> None:
    """Write the numerator as a sum of what is worked in different ways."""
    whole = plan.left.over
    even = polynomial_tree(
        tuple(c if not n % 2 else fraction(0, 1) for n, c in enumerate(whole)), plan.letter
    )
    above = even if odd is not None else plan.left.over_tree
    pending = (odd.pending,) if odd is not None else ()
    if odd is not None:
        said = say("Take the even and the odd powers above the line apart.")
        board.line("split-numerator", said, board.integral(plan.front, Quotient(even, plan.under)), *pending)
    parts = [scaled(part.size / plan.front, part.over) for part in plan.even]
    if len(parts) > 1:
        first, second = (plain(part.over) for part in plan.even)
        said = say(
            "Write the numerator as a multiple of {first} and one of {second}: each can be integrated.",
            first=first,
            second=second,
        )
        board.aside(above, sum_of(*parts), "split-numerator", said)
        said = say("Take the two integrals one by one.")
    else:
        said = say("Take out the number in front.")
    board.line("split-numerator", said, *(_pending(plan, part) for part in plan.even), *pending)


def _pending(plan: BiquadraticPlan, part: EvenPart) -> Expression:
    return scaled(part.size, Integral(Quotient(part.over, plan.under), plan.letter))


def _first(integrand: Expression, variable: Symbol) -> bool:
    """One substitution is shorter than partial fractions, where the denominator has rational factors too."""
    plan = biquadratic_plan(integrand, variable)
    return plan is not None and plan.is_pure_logarithm()


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Fourth powers below the line: divide by the square, or factorise with roots",
    work=_work,
    slips=biquadratic_slips(_IDENTIFIER),
    first_for=_first,
)
