"""Integration by parts, round after round, until an integral is left that others can do, or the first one comes back.

u v - int v du                      one round
u v - u' w + int w u'' dx           two, for a polynomial of degree two
(1 + k) I = ...                     I comes back with -k in front
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from qbank.maths.constant_factor import ONE, before_integral, number, split_constant, times
from qbank.maths.derivative import derivative
from qbank.maths.expression import Apply, Expression, Integral, Sum, Symbol, fraction, sum_of
from qbank.maths.factors import Factored, factored
from qbank.maths.inverse_slope import inverse_slope
from qbank.maths.letter_exponents import letter_powers_joined
from qbank.maths.polynomial import as_polynomial, polynomial_tree
from qbank.maths.root_logarithm import root_logarithm_slope
from qbank.maths.surds import square_root
from qbank.techniques.carrying import Solver, multiplied
from qbank.techniques.parts.exponential_wave import found_at_the_side
from qbank.techniques.parts.parts_choice import HYPERBOLIC_WAVES, Choice, choose
from qbank.techniques.parts.parts_tidying import cycle_answer, divided_by, tidied_up
from qbank.techniques.standard.standard_sums import expanded_terms
from qbank.techniques.working import WorkedSolution

__all__ = ["PartsRun", "Round", "parts_run"]

_ROUND_LIMIT = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Round:
    """One round: `front * int u dv = done + left * int core dx`.

    Attributes:
        front: the constant before the integral.
        choice: u, dv and v.
        du: the derivative of u.
        unsimplified: the same as the rules give it, where much of it cancels.
        done: `front * u v`.
        left: the constant before the integral that is left, the minus sign in it.
        core: the integrand that is left.
    """

    front: Factored
    choice: Choice
    du: Expression
    done: Expression
    left: Factored
    core: Expression
    unsimplified: Expression | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsRun:
    """The rounds for one integrand without a constant in front.

    Attributes:
        core: that integrand.
        variable: the variable.
        rounds: at least one.
        solution: how the integral that is left is worked; None when it is the first one again.
    """

    core: Expression
    variable: Symbol
    rounds: tuple[Round, ...]
    solution: WorkedSolution | None

    @property
    def last(self) -> Round:
        """The last round."""
        return self.rounds[-1]

    @property
    def back(self) -> Factored:
        """K, when the first integral comes back with -k in front."""
        return times(self.last.left, number(-1))

    @property
    def share(self) -> Expression:
        """`1 + k`, by which everything is divided then."""
        if not self.back.powers:
            return number(1 + self.back.coefficient).tree()
        return sum_of(number(1).tree(), self.back.tree())

    def parts(self) -> tuple[Expression, ...]:
        """The term of each round, and what the integral that is left contributes."""
        done = tuple(one.done for one in self.rounds)
        if self.solution is None:
            return done
        return (*done, multiplied(self.last.left, self.solution.antiderivative))

    def raw(self) -> Expression:
        """The antiderivative, before anything is collected; for a cycle still to be divided by `share`."""
        return sum_of(*self.parts())

    def answer(self) -> Expression:
        """The antiderivative as it is written at the end."""
        first = self.rounds[0].choice
        if self.solution is None and isinstance(first.dv, Apply) and first.dv.function in HYPERBOLIC_WAVES:
            return divided_by(self.raw(), self.back)
        if self.solution is None:
            return cycle_answer(first, self.variable)
        raw = self.raw()
        if first.kind == "polynomial" and isinstance(first.v, Sum):
            raw = sum_of(*expanded_terms(raw, self.variable))
        return tidied_up(raw, self.core, self.variable)

    def pending(self, place: int) -> Expression:
        """The line after so many rounds."""
        done = (one.done for one in self.rounds[:place])
        one = self.rounds[place - 1]
        return sum_of(*done, before_integral(one.left, Integral(one.core, self.variable)))


def parts_run(core: Expression, variable: Symbol, solve: Solver) -> PartsRun | None:
    """The rounds for an integrand without a constant in front, or None when they lead nowhere.

    Args:
        core: the integrand.
        variable: the variable.
        solve: what works the integral that is left.
    """
    rounds = list[Round]()
    start = letter_powers_joined(split_constant(core, variable)[1], variable)
    for one in _rounds(core, variable):
        rounds.append(one)
        if _same(factored(one.core), start):
            back = one.left.powers == () and one.left.coefficient == 1
            return (
                None if back else PartsRun(core=core, variable=variable, rounds=tuple(rounds), solution=None)
            )
    if not rounds or rounds[-1].choice.kind == "cyclic" or len(rounds) == _ROUND_LIMIT:
        return None
    left = rounds[-1].core
    solution = found_at_the_side(left, variable) if rounds[-1].choice.wave else solve(left, variable)
    if solution is None:
        return None
    return PartsRun(core=core, variable=variable, rounds=tuple(rounds), solution=solution)


def _rounds(core: Expression, variable: Symbol) -> Iterator[Round]:
    front, at_the_side = ONE, False
    for _ in range(_ROUND_LIMIT):
        choice = choose(core, variable)
        if choice is None or (at_the_side and choice.wave is None):
            return
        at_the_side = choice.wave is not None
        rate = derivative(choice.u, variable)
        simplified = _simplified(choice, variable)
        du = _plain(simplified or rate, variable)
        pair = (du, choice.v) if choice.kind == "polynomial" else (choice.v, du)
        fixed, moving = split_constant(times(*map(factored, pair)).tree(), variable)
        left, rest = times(front, fixed, number(-1)), letter_powers_joined(moving, variable).tree()
        yield Round(
            front=front,
            choice=choice,
            du=du,
            done=_done(front, choice),
            left=left,
            core=rest,
            unsimplified=rate if simplified else None,
        )
        front, core = left, rest


def _simplified(choice: Choice, variable: Symbol) -> Expression | None:
    """The derivative of u in a form that the rules alone do not give."""
    match choice.kind:
        case "logarithm":
            return root_logarithm_slope(choice.u, variable)
        case "inverse":
            return inverse_slope(choice.u, variable)
        case _:
            return None


def _done(front: Factored, choice: Choice) -> Expression:
    """`front * u v`, a polynomial or an exponential first."""
    pair = (choice.u, choice.v) if choice.kind == "polynomial" else (choice.v, choice.u)
    return times(front, *map(factored, pair)).tree()


def _plain(du: Expression, variable: Symbol) -> Expression:
    """A derivative in which `1 + (2x)^2` is `4x^2 + 1`, and `1 + (x/3)^2` is cleared of its fraction."""
    parts = [number(1)]
    seen = factored(du)
    for base, n in seen.powers:
        whole = as_polynomial(base, variable) if isinstance(base, Sum) else None
        if whole is None or sum(map(bool, whole)) != 2:
            parts.append(Factored(coefficient=fraction(1, 1), powers=((base, n),)))
            continue
        below = lcm(*(c.denominator for c in whole))
        root = square_root(Fraction(below)) if n.denominator == 2 else None
        if n.denominator > 2 or (root is not None and root.radicand != 1):
            return du
        size = below if root is None else root.rational
        cleared = polynomial_tree(tuple(c * below for c in whole), variable)
        power = n.numerator
        parts.append(Factored(coefficient=Fraction(size) ** -power, powers=((cleared, n),)))
    return times(number(seen.coefficient), *parts).tree()


def _same(one: Factored, other: Factored) -> bool:
    return one.coefficient == other.coefficient == fraction(1, 1) and set(one.powers) == set(other.powers)
