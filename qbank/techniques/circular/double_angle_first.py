"""The sine of twice an angle beside a function of the sine or cosine of the angle: the identity makes a substitution of it.

e^(sin x) sin 2x            2 e^(sin x) sin x cos x           u = sin x
sin 2x/sqrt(9 - cos^4 x)    2 sin x cos x/sqrt(9 - cos^4 x)   u = cos^2 x

Powers beside it are for the products with the sine of twice the angle.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from qbank.maths.constant_factor import number, times
from qbank.maths.expression import Apply, Expression, Integer, Integral, Symbol, fraction, product
from qbank.maths.factors import Factored, factored
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.circular.angles import as_angle
from qbank.techniques.slips import differentiated_instead, last_term_lost, sign_of_a_term_lost
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["double_angle_first"]

_IDENTIFIER = "double-angle-first"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """`beside * sin 2A`.

    Attributes:
        double: the sine of twice the angle.
        angle: A.
        beside: everything else.
    """

    double: Expression
    angle: Expression
    beside: Factored

    @property
    def identity(self) -> Expression:
        """`2 sin A cos A`."""
        return product(Integer(2), Apply("sin", self.angle), Apply("cos", self.angle))

    def integrand(self) -> Expression:
        """The integrand with the identity in it."""
        return times(self.beside, factored(self.identity)).tree()


def double_angle_first(solve: Solver) -> Technique:
    """The technique, given what solves the integral in functions of the single angle."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> tuple[_Seen, WorkedSolution] | None:
        seen = _seen(integrand, variable)
        solution = None if seen is None else solved_beside(integrand, solve, seen.integrand(), variable)
        if seen is None or solution is None:
            return None
        return seen, solution

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, *found)

    def two_lost(solution: WorkedSolution) -> Expression | None:
        return multiplied(number(fraction(1, 2)), solution.antiderivative)

    return Technique(
        identifier=_IDENTIFIER,
        title="The sine of twice the angle: the identity first, then a substitution",
        work=work,
        slips=(
            Slip(
                identifier="double-first-two-lost",
                sentence=say(
                    "The sine of twice an angle is two times sine times cosine: do not lose the two."
                ),
                answer=two_lost,
            ),
            sign_of_a_term_lost("double-first"),
            last_term_lost("double-first"),
            differentiated_instead("double-first"),
        ),
    )


def _seen(integrand: Expression, variable: Symbol) -> _Seen | None:
    whole = factored(integrand)
    doubles = [
        base for base, n in whole.powers if isinstance(base, Apply) and base.function == "sin" and n == 1
    ]
    for double in doubles:
        twice = as_angle(double.argument, variable)
        beside = whole.without(double)
        functions = (node for base, _ in beside.powers for node in base.walk() if isinstance(node, Apply))
        for node in functions:
            angle = as_angle(node.argument, variable) if node.function in ("sin", "cos") else None
            if twice is not None and angle is not None and twice.same_as(angle.times(2)):
                return _Seen(double=double, angle=node.argument, beside=beside)
    return None


def _worked(integrand: Expression, variable: Symbol, seen: _Seen, solution: WorkedSolution) -> WorkedSolution:
    working = Working(_IDENTIFIER, integrand, variable)
    said = say("One angle is twice the other: the sine of the double angle is two times sine times cosine.")
    working.aside(seen.double, seen.identity, "double-angle", said)
    working.step(Integral(seen.integrand(), variable), "double-angle", say("Put this in."))
    carry(working, solution.lines, lambda line: line)
    return working.finish()
