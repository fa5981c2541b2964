"""A sum whose terms need different techniques: each term is worked by its own, in one chain of lines.

    int (x e^(x^2) + sin^2 x) dx
      = int x e^(x^2) dx + int sin^2 x dx          each term by itself
      = 1/2 e^(x^2) + int sin^2 x dx               the lines of the first, the others waiting
      = ...                                        the lines of the second, the first done

Terms that are standard forms are integrated at once, in the first line.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import ONE, before_integral, split_constant
from qbank.maths.expression import Expression, Integral, Sum, Symbol, fraction, sum_of
from qbank.maths.factors import Factored, factored
from qbank.messages import say
from qbank.techniques.carrying import Solver, carry, letters_of, multiplied
from qbank.techniques.slips import last_term_lost, sign_of_a_term_lost
from qbank.techniques.standard.standard_lines import integrating_reason
from qbank.techniques.standard.standard_sums import Plan, expanded_terms, plan_as_written, terms_of
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["collected", "term_by_term"]

_IDENTIFIER = "term-by-term"

#: more terms than this are nobody's exercise
_TERM_LIMIT = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """One term, `constant * core`.

    Attributes:
        constant: what the core's working is multiplied by.
        core: what is worked.
        plan: set when the term is a standard form, which needs no lines of its own.
        solution: the worked solution of the core.
    """

    constant: Factored
    core: Expression
    plan: Plan | None
    solution: WorkedSolution

    def pending(self) -> Expression:
        """The integral still to be done, constants in front."""
        fixed, moving = split_constant(multiplied(self.constant, self.core), self.solution.variable)
        return before_integral(fixed, Integral(moving.tree(), self.solution.variable))

    def answer(self, wrong: Expression | None = None) -> Expression:
        """The antiderivative of the term, or what a slip makes of it."""
        return multiplied(self.constant, self.solution.antiderivative if wrong is None else wrong)


def term_by_term(
    solve: Solver, families: tuple[Technique, ...], in_one: tuple[Technique, ...] = ()
) -> Technique:
    """The technique for sums.

    Args:
        solve: what solves a single term.
        families: whose slips may occur in it.
        in_one: techniques that are used once, for the whole, where they fit that too.
    """

    @lru_cache(maxsize=64)
    def parts_of(integrand: Expression, variable: Symbol) -> tuple[_Part, ...] | None:
        parts = _parts(integrand, variable, solve)
        used = {part.solution.technique for part in parts or ()}
        long = [which for which in in_one if which.identifier in used]
        return None if long and any(which.work(integrand, variable) for which in in_one) else parts

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        parts = parts_of(integrand, variable)
        return None if parts is None else _worked(integrand, variable, parts)

    def carried(slip: Slip, family: str) -> Slip:
        def answer(solution: WorkedSolution) -> Expression | None:
            parts = parts_of(solution.integrand, solution.variable) or ()
            wrong = [slip.answer(p.solution) if p.solution.technique == family else None for p in parts]
            if all(term is None for term in wrong):
                return None
            whole = collected(sum_of(*(p.answer(term) for p, term in zip(parts, wrong, strict=True))))
            return None if whole == solution.antiderivative else whole

        return Slip(identifier=f"sum-{slip.identifier}", sentence=slip.sentence, answer=answer)

    return Technique(
        identifier=_IDENTIFIER,
        title="Sums, term by term",
        work=work,
        slips=(
            *(carried(slip, family.identifier) for family in families for slip in family.slips),
            sign_of_a_term_lost("sum"),
            last_term_lost("sum"),
        ),
    )


def _parts(integrand: Expression, variable: Symbol, solve: Solver) -> tuple[_Part, ...] | None:
    """The terms as they stand, or after multiplying out, each with what integrates it."""
    written = terms_of(integrand, variable)
    return _solved(
        written if len(written) > 1 else expanded_terms(integrand, variable), integrand, variable, solve
    )


def _solved(
    terms: tuple[Expression, ...], integrand: Expression, variable: Symbol, solve: Solver
) -> tuple[_Part, ...] | None:
    if not 1 < len(terms) <= _TERM_LIMIT:
        return None
    parts = list[_Part]()
    for term in terms:
        part = _part(term, variable, solve)
        if part is None or letters_of(part.solution) & integrand.symbols():
            return None
        parts.append(part)
    return tuple(parts) if any(part.plan is None for part in parts) else None


def _part(term: Expression, variable: Symbol, solve: Solver) -> _Part | None:
    constant, moving = split_constant(term, variable)
    for front, core in ((ONE, term), (constant, moving.tree())):
        solution = solve(core, variable)
        if solution is not None:
            return _Part(constant=front, core=core, plan=plan_as_written(core, variable), solution=solution)
    return None


def _worked(integrand: Expression, variable: Symbol, parts: tuple[_Part, ...]) -> WorkedSolution:
    working = Working(_IDENTIFIER, integrand, variable)
    state = [part.pending() for part in parts]
    out = len(terms_of(integrand, variable)) > 1
    working.step(
        sum_of(*state),
        "sum-rule",
        say("Take each term by itself.") if out else say("Multiply out, then take each term by itself."),
    )
    plans = [part.plan for part in parts if part.plan is not None]
    if plans:
        for place, part in enumerate(parts):
            state[place] = state[place] if part.plan is None else part.answer()
        together = Plan(terms=tuple(term for plan in plans for term in plan.terms))
        working.step(sum_of(*state), "standard-integral", integrating_reason(together))
    for place, part in enumerate(parts):
        if part.plan is None:
            _work_term(working, part, state, place)
    whole = sum_of(*state)
    if collected(whole) != whole:
        working.step(collected(whole), "collect", say("Collect like terms."))
    return working.finish()


def _work_term(working: Working, part: _Part, state: list[Expression], place: int) -> None:
    """The lines of one term, the others standing around it."""

    def around(line: Expression) -> Expression:
        state[place] = multiplied(part.constant, line)
        return sum_of(*state)

    carry(working, part.solution.lines, around)


def collected(tree: Expression) -> Expression:
    """Terms that differ by a number only, added up."""
    found: dict[tuple[tuple[Expression, Fraction], ...], list[Expression]] = {}
    for term in tree.terms if isinstance(tree, Sum) else (tree,):
        found.setdefault(factored(term).powers, []).append(term)
    kept = list[Expression]()
    for powers, terms in found.items():
        if len(terms) == 1:
            kept.append(terms[0])
            continue
        total = sum((factored(term).coefficient for term in terms), fraction(0, 1))
        if total:
            kept.append(Factored(coefficient=total, powers=powers).tree())
    return sum_of(*kept)
