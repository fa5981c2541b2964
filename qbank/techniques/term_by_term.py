"""A sum whose terms need different techniques: each term is worked by its own, in one chain of lines.

    int (x e^(x^2) + sin^2 x) dx
      = int x e^(x^2) dx + int sin^2 x dx          each term by itself
      = 1/2 e^(x^2) + int sin^2 x dx               the lines of the first, the others waiting
      = ...                                        the lines of the second, the first done

Terms that are standard forms are integrated at once, in the first line.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from qbank.maths.constant_factor import ONE, before_integral, in_front, split_constant, times
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Differential,
    Expression,
    Integer,
    Integral,
    Product,
    Sum,
    Symbol,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.tidying import split_coefficient, tidy
from qbank.techniques.slips import last_term_lost, sign_of_a_term_lost
from qbank.techniques.standard_lines import integrating_reason
from qbank.techniques.standard_sums import Plan, expanded_terms, plan_as_written, terms_of
from qbank.techniques.technique import Technique
from qbank.techniques.working import Line, WorkedSolution, Working

__all__ = ["term_by_term"]

_IDENTIFIER = "term-by-term"

Solver = Callable[[Expression, Symbol], WorkedSolution | None]

#: more terms than this are nobody's exercise
_TERM_LIMIT = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """One term: `constant * core`, and how it is integrated: as standard forms, or by lines of its own."""

    constant: Factored
    core: Expression
    plan: Plan | None
    solution: WorkedSolution | None

    def times(self, line: Expression) -> Expression:
        """A line of the core's working, with the constant in front of each of its terms."""
        if self.constant == ONE:
            return line
        terms = line.terms if isinstance(line, Sum) else (line,)
        return sum_of(*(_multiplied(self.constant, term) for term in terms))


def _multiplied(constant: Factored, term: Expression) -> Expression:
    """A constant before a term; the number before an integral still to be done joins it."""
    number, body = split_coefficient(term)
    whole = times(constant, Factored(coefficient=number, powers=()))
    match body:
        case Integral():
            return before_integral(whole, body)
        case Product((*factors, Integral() as last)):
            return before_integral(times(whole, factored(product(*factors))), last)
        case _:
            return in_front(whole, body)


def term_by_term(solve: Solver) -> Technique:
    """The technique for sums, given what solves a single term."""

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        parts = _parts(integrand, variable, solve)
        return None if parts is None else _worked(integrand, variable, parts)

    return Technique(
        identifier=_IDENTIFIER,
        title="Sums, term by term",
        work=work,
        slips=(sign_of_a_term_lost("sum"), last_term_lost("sum")),
    )


def _parts(integrand: Expression, variable: Symbol, solve: Solver) -> tuple[_Part, ...] | None:
    """The terms as they stand, or after multiplying out, each with what integrates it."""
    written = terms_of(integrand, variable)
    if len(written) > 1:
        return _solved(written, variable, solve)
    return _solved(expanded_terms(integrand, variable), variable, solve)


def _solved(terms: tuple[Expression, ...], variable: Symbol, solve: Solver) -> tuple[_Part, ...] | None:
    if not 1 < len(terms) <= _TERM_LIMIT:
        return None
    parts = list[_Part]()
    for term in terms:
        part = _part(term, variable, solve)
        if part is None:
            return None
        parts.append(part)
    return tuple(parts) if any(part.solution is not None for part in parts) else None


def _part(term: Expression, variable: Symbol, solve: Solver) -> _Part | None:
    plan = plan_as_written(term, variable)
    if plan is not None:
        return _Part(constant=ONE, core=term, plan=plan, solution=None)
    constant, moving = split_constant(term, variable)
    for front, core in ((ONE, term), (constant, moving.tree())):
        solution = solve(core, variable)
        if solution is not None:
            return _Part(constant=front, core=core, plan=None, solution=solution)
    return None


def _worked(integrand: Expression, variable: Symbol, parts: tuple[_Part, ...]) -> WorkedSolution | None:
    if _letters(parts) & integrand.symbols():
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    state = [_pending(part, variable) for part in parts]
    reason = (
        "Take each term by itself."
        if isinstance(integrand, Sum)
        else "Multiply out; take each term by itself."
    )
    working.step(sum_of(*state), "sum-rule", reason)
    plans = [part.plan for part in parts if part.plan is not None]
    if plans:
        state = [
            shown if part.plan is None else part.plan.answer()
            for part, shown in zip(parts, state, strict=True)
        ]
        together = Plan(terms=tuple(term for plan in plans for term in plan.terms))
        working.step(sum_of(*state), "standard-integral", integrating_reason(together))
    for place, part in enumerate(parts):
        if part.solution is not None:
            for line in part.solution.lines:
                _carry(working, line, part, state, place)
    return working.finish()


def _pending(part: _Part, variable: Symbol) -> Expression:
    """The integral of a term, its constant in front."""
    if part.constant != ONE:
        return before_integral(part.constant, Integral(part.core, variable))
    constant, moving = split_constant(part.core, variable)
    return before_integral(constant, Integral(moving.tree(), variable))


def _letters(parts: tuple[_Part, ...]) -> set[Symbol]:
    lines = (line for part in parts if part.solution is not None for line in part.solution.lines)
    first = (line.statements[0] for line in lines if line.kind == "let")
    return {
        statement.left
        for statement in first
        if isinstance(statement, Equation) and isinstance(statement.left, Symbol)
    }


def _carry(working: Working, line: Line, part: _Part, state: list[Expression], place: int) -> None:
    """One line of a term's own working, written into the chain of the whole sum."""
    match line.kind, line.statements:
        case "step", (Expression() as step,):
            state[place] = part.times(step)
            working.step(sum_of(*state), line.rule, line.reason)
        case "let", (Equation(Symbol() as letter, meaning), Equation(_, rate)):
            working.let(letter, meaning, _without_differential(rate), line.reason)
        case _, (Equation(left, right),):
            working.aside(left, right, line.rule, line.reason)
        case _:
            raise AssertionError(f"a line of an unknown shape: {line!r}")


def _without_differential(tree: Expression) -> Expression:
    if isinstance(tree, Differential):
        return Integer(1)
    return tidy(tree.rebuild(_without_differential))
