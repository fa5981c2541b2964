"""Openings that lead nowhere, each judged: none is listed by hand.

useless     a valid step after which no technique finishes
invalid     it leads to an answer that is refuted at a point
unfit       the first step of integrals of another kind, which has nothing here to be applied to

int x^2 e^(x^3) dx      let u = x^3                        leads on
                        by parts, u = x^2, dv = e^(x^3)    useless: no technique finds v
                        take x^2 in front of the integral  invalid
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from qbank.maths.constant_factor import over, times
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.derivative import derivative
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Apply,
    Differential,
    E,
    Expression,
    Integral,
    Power,
    Quotient,
    Root,
    Symbol,
    cos,
    product,
    rational,
    sin,
    tan,
)
from qbank.maths.factors import factored
from qbank.maths.tidying import tidy
from qbank.maths.verdict import Refuted, Witness
from qbank.messages import prose
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.first_step import FirstStep, first_step, fits
from qbank.techniques.misused_rules import misused_rules, moving_factors
from qbank.techniques.opening import Pieces, by_parts_with, leads_on, let
from qbank.techniques.planner import solve
from qbank.techniques.standard.linear_inner import as_inner
from qbank.techniques.undoing import CIRCULAR

__all__ = ["Opening", "invalid_openings", "unfit_openings", "useless_openings"]

#: parts of an integrand that are tried, of each kind
_TRIED = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """An opening that does not lead on.

    Attributes:
        judgement: why.
        name: identifier of the error.
        shown: the step.
        why: what to tell a student who takes it.
        witness: where the answer of an invalid step is wrong; None for the others.
    """

    judgement: Literal["useless", "invalid", "unfit"]
    name: str
    shown: Pieces
    why: Pieces
    witness: Witness | None = None


def useless_openings(integrand: Expression, variable: Symbol) -> Iterator[Opening]:
    """Valid steps after which no technique finishes: substitutions, then choices of parts."""
    yield from _useless_substitutions(integrand, variable)
    yield from _useless_parts(integrand, moving_factors(integrand, variable), variable)


def invalid_openings(integrand: Expression, variable: Symbol) -> Iterator[Opening]:
    """Rules used where they do not hold, each with a point at which the answer that follows is wrong."""
    for misused in misused_rules(integrand, variable):
        verdict = decide_antiderivative(misused.answer, integrand, variable)
        if isinstance(verdict, Refuted):
            yield Opening(
                judgement="invalid",
                name=misused.name,
                shown=misused.shown,
                why=misused.why,
                witness=verdict.witness,
            )


def unfit_openings(integrand: Expression, variable: Symbol) -> Iterator[Opening]:
    """Rules for other integrals, which have nothing here to be applied to."""
    for other, sentence in _strangers(variable):
        if _could_apply(other, integrand) or fits(FirstStep(None, sentence), integrand, variable):
            continue
        why: Pieces = prose(
            "This step is for integrals such as {integral}; it does not apply to this one.",
            integral=Integral(other, variable),
        )
        yield Opening(judgement="unfit", name="step-of-another-integral", shown=(sentence,), why=why)


def _useless_substitutions(integrand: Expression, variable: Symbol) -> Iterator[Opening]:
    letter = spare_letter(integrand)
    for inner in _inner_parts(integrand, variable):
        if any(
            leads_on(let(Equation(letter, part)), integrand, variable) for part in _through(inner, variable)
        ):
            continue
        slope = derivative(inner, variable)
        divisor = factored(slope)
        if not divisor.coefficient:  # a number in disguise, such as x^(1/ln x)
            continue
        beside = times(factored(integrand), over(divisor)).tree()
        left = tidy(beside.replaced(inner, letter))
        if variable in left.symbols():
            rate = Equation(Differential(letter), tidy(product(slope, Differential(variable))))
            why: Pieces = prose(
                "This step is allowed, but it does not help: with {rate} there is still {left} beside {differential},"
                " and the old letter stays in it.",
                rate=rate,
                left=left,
                differential=Differential(letter),
            )
            name, definition = "substitution-that-leaves-the-variable", Equation(letter, inner)
            yield Opening(judgement="useless", name=name, shown=let(definition), why=why)


def _through(inner: Expression, variable: Symbol) -> Iterator[Expression]:
    """A part, and the parts that it is a function of: a power of what leads on leads on as well."""
    while as_inner(inner, variable) is None:
        yield inner
        moving = [part for part in inner.children if variable in part.symbols()]
        if len(moving) != 1:
            return
        inner = moving[0]


def _inner_parts(integrand: Expression, variable: Symbol) -> tuple[Expression, ...]:
    """What could be substituted: parts that are not the whole, and not linear."""
    nodes = dict.fromkeys(integrand.walk())
    found = (
        node
        for node in nodes
        if node != integrand
        and variable in node.symbols()
        and isinstance(node, Apply | Power | Root)
        and as_inner(node, variable) is None
    )
    return tuple(found)[:_TRIED]


def _useless_parts(
    integrand: Expression, moving: tuple[Expression, ...], variable: Symbol
) -> Iterator[Opening]:
    """A part that no technique integrates; or everything differentiated, which leaves more than there was.

    Where a part is integrated, the integral that is left is as elementary as the first one, so that nothing is said of it.
    """
    letter = spare_letter(integrand)
    other = spare_letter(product(integrand, letter))
    splits = [(dv, tidy(product(*moving[:at], *moving[at + 1 :]))) for at, dv in enumerate(moving[:_TRIED])]
    for dv, rest in splits if len(moving) > 1 else ():
        if solve(dv, variable) is None:
            why: Pieces = prose(
                "This step is allowed, but no technique of the course integrates {part}.", part=dv
            )
            yield Opening(
                judgement="useless",
                name="parts-without-an-integral",
                shown=_parts(letter, rest, other, dv, variable),
                why=why,
            )
    shown = _parts(letter, tidy(product(*moving)), other, rational(1), variable)
    if not leads_on(shown, integrand, variable):
        left = tidy(product(variable, derivative(tidy(product(*moving)), variable)))
        why = prose(
            "This step is allowed, but it leaves {integral}, which no technique of the course finishes.",
            integral=Integral(left, variable),
        )
        yield Opening(judgement="useless", name="parts-that-leave-more", shown=shown, why=why)


def _parts(letter: Symbol, u: Expression, other: Symbol, dv: Expression, variable: Symbol) -> Pieces:
    rate = tidy(product(dv, Differential(variable)))
    return by_parts_with(Equation(letter, u), Equation(Differential(other), rate))


@lru_cache(maxsize=8)
def _strangers(variable: Symbol) -> tuple[tuple[Expression, str], ...]:
    """Integrals whose solutions begin with a rule, and that rule."""
    x = variable
    known = (
        sin(x) ** 2,
        cos(x) ** 2,
        sin(x) ** 3,
        cos(x) ** 3,
        tan(x) ** 2,
        sin(3 * x) * cos(x),
        cos(5 * x) * cos(2 * x),
        1 / (x**2 - 1),
        (x**2 + 3) / (x + 1),
    )
    solved = ((one, solve(one, variable)) for one in known)
    begun = ((one, first_step(solution)) for one, solution in solved if solution is not None)
    return tuple((one, step.sentence) for one, step in begun if step.definition is None)


def _could_apply(other: Expression, integrand: Expression) -> bool:
    """Whether a rule for one integrand might have something to do in another, or is too far from it to tempt.

    A rule for circular functions has nothing to do where one of them is missing; one for fractions of polynomials is
    judged by the techniques, which look at the degrees and the roots.
    """
    needed, there = _functions(other), _functions(integrand)
    if needed:
        return needed <= there or not there or not there <= set(CIRCULAR)
    return bool(there) or not integrand.holds(Quotient)


def _functions(tree: Expression) -> set[str]:
    """The functions in a tree; an exponential or a root counts as one."""
    named = {node.function for node in tree.walk() if isinstance(node, Apply)}
    powers = {"exp" for node in tree.walk() if isinstance(node, Power) and node.base == E}
    return named | powers | {"root" for node in tree.walk() if isinstance(node, Root)}
