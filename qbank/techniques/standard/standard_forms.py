"""Standard forms with a linear function inside; sums and constant multiples of them.

3 cos(2x + 1)      3/2 sin(2x + 1)
1/(2x + 1)^3       -1/(4(2x + 1)^2)
(x^2 + 1)/sqrt(x)  2/5 x^(5/2) + 2 sqrt(x), divided term by term first
"""

from __future__ import annotations

from functools import lru_cache

from qbank.maths.expression import Expression, Power, Sum, Symbol, as_fraction, fraction
from qbank.techniques.slips import HABITS, habit_slip, last_term_lost, sign_of_a_term_lost
from qbank.techniques.standard.standard_lines import standard_lines
from qbank.techniques.standard.standard_sums import Plan, expanded_plan, plan_as_written
from qbank.techniques.substituting.substitution_search import substitution
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "standard-forms"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    plan = _plan(integrand, variable)
    if plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    standard_lines(working, plan, variable)
    return working.finish()


@lru_cache(maxsize=256)
def _plan(integrand: Expression, variable: Symbol) -> Plan | None:
    written = plan_as_written(integrand, variable)
    if written is not None:
        return written
    expanded = expanded_plan(integrand, variable)
    if expanded is None or (_is_long(integrand) and substitution(integrand, variable) is not None):
        return None
    return expanded


def _is_long(integrand: Expression) -> bool:
    """Whether multiplying out is more work than a substitution: a bracket to the third power or more."""
    return any(
        isinstance(node, Power)
        and isinstance(node.base, Sum)
        and (as_fraction(node.exponent) or fraction(0, 1)) > 2
        for node in integrand.walk()
    )


def _seen(solution: WorkedSolution) -> Plan | None:
    return _plan(solution.integrand, solution.variable)


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Standard forms with a linear function inside",
    work=_work,
    slips=(
        *(habit_slip("standard", words, _seen) for words in HABITS),
        sign_of_a_term_lost("standard"),
        last_term_lost("standard"),
    ),
)
