"""Deciding: is one expression the derivative of another, are two equal? Proved, refuted with a witness, or unsettled.

The question is asked on the real domain of the right side (or on a stated interval). Other letters are arbitrary real
constants unless they are said to be positive. Nothing hangs: every step has bounds on its size and watches the time
budget. How a decision goes is told in `qbank.maths.identity`.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache

from qbank.maths.clock import PATIENT, Deadline
from qbank.maths.decimals import bounds, is_moderate
from qbank.maths.domain import Domain
from qbank.maths.enclosing import Enclosure, derivative_at, enclose
from qbank.maths.exact.normal_form import Memory
from qbank.maths.exact_values import exact_value
from qbank.maths.expression import INFINITY, Differential, Expression, Integral, Symbol
from qbank.maths.identity import Course, Question
from qbank.maths.number_system import NotSettled
from qbank.maths.points import Side, Sides, slope_side, value_side
from qbank.maths.samples import samples
from qbank.maths.verdict import Unsettled, Verdict

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
_NO_NAMES: frozenset[str] = frozenset()


def decide_antiderivative(
    candidate: Expression,
    integrand: Expression,
    variable: Symbol,
    *,
    domain: Domain | None = None,
    bindings: Mapping[Symbol, Expression] = NO_BINDINGS,
    positive: frozenset[Symbol] = NO_LETTERS,
    budget: float = PATIENT,
    memory: Memory | None = None,
) -> Verdict:
    """Is the derivative of `candidate` equal to `integrand`?

    Args:
        candidate: the proposed antiderivative, or a line of working such as `1/3 Integral(u^2, u) + x`.
        integrand: what its derivative should be; its real domain is the one that counts.
        variable: the letter to differentiate by.
        domain: where the answer is wanted, if not on the whole real domain of the integrand.
        bindings: letters of a substitution, each with the expression it stands for.
        positive: other letters that stand for positive numbers only; the rest are any real numbers.
        budget: seconds of computing; little for what a student typed, see `qbank.maths.clock`.
        memory: of earlier questions about the same integrand, when there are several. A line on the way to the answer is
            then not looked at all over the domain: the answer is.

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
    return _decide(claim, trees, sides, variable, (domain, bindings, positive), budget, memory)


def decide_equal(
    left: Expression,
    right: Expression,
    variable: Symbol,
    *,
    domain: Domain | None = None,
    bindings: Mapping[Symbol, Expression] = NO_BINDINGS,
    positive: frozenset[Symbol] = NO_LETTERS,
    budget: float = PATIENT,
    memory: Memory | None = None,
) -> Verdict:
    """Are two expressions equal as functions of the variable, on the real domain of the right one?

    Args:
        left: one side; a `Differential` stands for its letter's derivative times that of the variable.
        right: the other side.
        variable: the variable.
        domain: where equality is wanted.
        bindings: letters of a substitution.
        positive: other letters that stand for positive numbers only; the rest are any real numbers.
        budget: seconds of computing; little for what a student typed, see `qbank.maths.clock`.
        memory: of earlier questions about the same integrand, when there are several. A line on the way to the answer is
            then not looked at all over the domain: the answer is.

    >>> from qbank.maths.expression import *
    >>> x = Symbol("x")
    >>> type(decide_equal(1 - sin(x) ** 2, cos(x) ** 2, x)).__name__
    'Proved'
    """
    sides = (value_side(left), value_side(right))
    setting = (domain, bindings, positive)
    return _decide("the two sides are equal", (left, right), sides, variable, setting, budget, memory)


def decide_same_up_to_constant(
    left: Expression,
    right: Expression,
    variable: Symbol,
    *,
    domain: Domain | None = None,
    bindings: Mapping[Symbol, Expression] = NO_BINDINGS,
    positive: frozenset[Symbol] = NO_LETTERS,
    budget: float = PATIENT,
    memory: Memory | None = None,
) -> Verdict:
    """Do two expressions differ by a constant only (on each piece of the domain), that is, are their derivatives equal?

    >>> from qbank.maths.expression import *
    >>> x = Symbol("x")
    >>> type(decide_same_up_to_constant(sin(x) ** 2 / 2, -(cos(x) ** 2) / 2, x)).__name__
    'Proved'
    """
    sides = (slope_side(left), slope_side(right))
    setting = (domain, bindings, positive)
    return _decide("the two derivatives are equal", (left, right), sides, variable, setting, budget, memory)


def _decide(
    claim: str,
    trees: tuple[Expression, Expression],
    sides: tuple[Side, Side],
    variable: Symbol,
    setting: tuple[Domain | None, Mapping[Symbol, Expression], frozenset[Symbol]],
    budget: float,
    memory: Memory | None,
) -> Verdict:
    deadline = Deadline(budget)
    try:
        return Course(_question(claim, trees, sides, variable, setting, memory), deadline).run()
    except NotSettled as reason:
        return Unsettled(reason=str(reason))
    except RecursionError:
        return Unsettled(reason="the expression is nested too deeply")


def _question(
    claim: str,
    trees: tuple[Expression, Expression],
    sides: tuple[Side, Side],
    variable: Symbol,
    setting: tuple[Domain | None, Mapping[Symbol, Expression], frozenset[Symbol]],
    memory: Memory | None,
) -> Question:
    domain, bindings, positive = setting
    ends = _ends(domain) if domain is not None else (None, None)
    line, given = trees
    letters, kinds = _read(line)
    on_the_way = Integral in kinds or Differential in kinds or not letters.isdisjoint(bindings)
    letters.update(given.symbols(), *[meaning.symbols() for meaning in bindings.values()])
    letters.difference_update(bindings, (variable,))
    others = [letter.name for letter in letters] if letters else []
    if Differential in kinds or _has_differential(given):
        others.append(f"d{variable.name}")
    names = frozenset([letter.name for letter in positive]) if positive else _NO_NAMES
    return Question(
        claim=claim,
        left=sides[0],
        right=sides[1],
        variable=variable,
        bindings=bindings,
        memory=memory or Memory(variable, positive=names),
        ends=ends,
        closely=memory is None or not on_the_way,
        points=samples(variable.name, tuple(sorted(others)), names, *ends),
    )


def _read(tree: Expression) -> tuple[set[Symbol], set[type[Expression]]]:
    """The letters in a tree, and the kinds of the other nodes.

    A line is new, so nothing is known of it yet: to find all letters at once is less than asking each node for those below.
    """
    letters: set[Symbol] = set()
    kinds: set[type[Expression]] = set()
    nodes = [tree]
    while nodes:
        node = nodes.pop()
        kind = type(node)
        if kind is Symbol:
            letters.add(node)  # type: ignore[arg-type]  # it is one
        else:
            kinds.add(kind)
            nodes += node.children
    return letters, kinds


@lru_cache(maxsize=64)
def _has_differential(tree: Expression) -> bool:
    return tree.holds(Differential)


def _ends(domain: Domain) -> tuple[Fraction | None, Fraction | None]:
    """The ends of a domain as fractions, an irrational one moved inwards by next to nothing."""
    return _end(domain.lower, 1), _end(domain.upper, 0)


def _end(end: Fraction | Expression | None, side: int) -> Fraction | None:
    if end is None or isinstance(end, Fraction) or end in (INFINITY, -INFINITY):
        return end if isinstance(end, Fraction) else None
    ball = value_side(end)
    both = Sides(ball, ball, Symbol("x"), NO_BINDINGS).compare({}, enough=60)
    if both.outcome != "agree" or not is_moderate(both.left):
        raise NotSettled("an end of the domain has no real value")
    return bounds(both.left)[side]
