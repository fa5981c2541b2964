"""Powers of sinh and cosh, of tanh and sech, of coth and cosech: an identity first, as for the circular functions.

sinh^3 x       (cosh^2 x - 1) sinh x            u = cosh x
cosh^2 x       1/2 (cosh 2x + 1)
tanh^3 x       tanh x - tanh x sech^2 x         u = tanh x
sech^4 x       (1 - tanh^2 x) sech^2 x          u = tanh x
"""

from __future__ import annotations

from qbank.maths.expression import Expression, Integral, Symbol
from qbank.messages import say
from qbank.techniques.circular.circular_powers import power_product, spare_letter
from qbank.techniques.circular.even_plan import EvenPlan, even_lines
from qbank.techniques.circular.split_and_substitute import SplitReasons, fact_up_to, split_lines
from qbank.techniques.circular.tangent_powers import TangentPower, tangent_power_lines
from qbank.techniques.hyperbolic.hyperbolic_kinds import hyperbolic_kind
from qbank.techniques.hyperbolic.hyperbolic_slips import SLIPS
from qbank.techniques.hyperbolic.hyperbolic_words import REWRITING, SPLITTING
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "hyperbolic-powers"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    kind = hyperbolic_kind(integrand, variable)
    if kind is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    if not kind.direct or not kind.seen.tidy:
        rewritten = Integral(power_product(kind.seen.angle.tree, kind.powers), variable)
        reason = say("Collect the powers.") if kind.direct else REWRITING[kind.powers[0][0]]
        working.step(kind.seen.before(rewritten), "rewrite", reason)
    plan, letter = kind.plan, spare_letter(integrand)
    if isinstance(plan, TangentPower):
        tangent_power_lines(working, plan, letter)
    elif isinstance(plan, EvenPlan):
        even_lines(working, plan)
    else:
        words = SPLITTING[plan.replaced]
        reasons = SplitReasons(
            save=words.save,
            identity=words.identity,
            substitute=fact_up_to(words.fact, plan.rate, plan.angle.unit),
        )
        split_lines(working, plan, letter, reasons)
    return working.finish()


TECHNIQUE = Technique(identifier=_IDENTIFIER, title="Powers of hyperbolic functions", work=_work, slips=SLIPS)
