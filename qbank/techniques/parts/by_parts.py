"""Integration by parts, once or again and again; also where the first integral comes back.

int x e^(2x) dx = 1/2 x e^(2x) - 1/2 int e^(2x) dx           the polynomial is differentiated
int arctan x dx = x arctan x - int x/(1 + x^2) dx            what is left is for another technique
int arctan(1/x) dx                                           the derivative is -1/(x^2 + 1) once it is simplified
int e^x sin x dx = e^x sin x - e^x cos x - int e^x sin x dx  twice the integral stands alone
int x e^x sin x dx = x E - int E dx                           E is the integral of e^x sin x, found at the side
"""

from __future__ import annotations

from functools import lru_cache

from qbank.maths.constant_factor import ONE, before_integral, split_constant
from qbank.maths.expression import Apply, E, Expression, Integral, Power, Symbol, fraction, sum_of
from qbank.maths.factors import Factored, factored
from qbank.maths.tidying import scaled, tidy
from qbank.messages import say, together
from qbank.techniques.carrying import Solver, carry, letters_of, multiplied, renamed
from qbank.techniques.circular.circular_powers import spare_letter, spare_pair
from qbank.techniques.parts.exponential_wave import side_lines
from qbank.techniques.parts.parts_run import PartsRun, Round, parts_run
from qbank.techniques.parts.parts_slips import parts_slips
from qbank.techniques.technique import Technique
from qbank.techniques.working import Line, WorkedSolution, Working

__all__ = ["by_parts", "exponentials_above"]

_IDENTIFIER = "by-parts"

_FIRST = {
    "logarithm": say("By parts: the logarithm becomes simpler when it is differentiated."),
    "inverse": say("By parts: the inverse function becomes simpler when it is differentiated."),
    "polynomial": say("By parts: the polynomial becomes simpler when it is differentiated."),
}


_SIMPLIFIED = {
    "logarithm": say("This is the derivative of the logarithm: over one line above, the bracket cancels."),
    "inverse": say("This is the derivative of the inverse function, simplified."),
}


def by_parts(solve: Solver) -> Technique:
    """The technique, given what solves the integral that is left."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> tuple[Factored, PartsRun] | None:
        constant, moving = split_constant(integrand, variable)
        if not constant.coefficient or variable not in integrand.symbols():
            return None
        run = parts_run(exponentials_above(moving).tree(), variable, solve)
        clash = (
            run is not None and run.solution is not None and letters_of(run.solution) & integrand.symbols()
        )
        return None if run is None or clash else (constant, run)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, *found)

    return Technique(identifier=_IDENTIFIER, title="Integration by parts", work=work, slips=parts_slips(find))


def _worked(integrand: Expression, variable: Symbol, constant: Factored, run: PartsRun) -> WorkedSolution:
    working = Working(_IDENTIFIER, integrand, variable)
    if constant != ONE:
        line = before_integral(constant, Integral(run.core, variable))
        working.step(line, "constant-factor", say("Take the constant out."))
    elif run.core != integrand and _has_exponential_below(integrand):
        working.step(Integral(run.core, variable), "rewrite", say("Write the exponential above the line."))
    letters = spare_pair(sum_of(integrand, variable))
    for place, one in enumerate(run.rounds, start=1):
        _let(working, one, letters, again=place > 1)
        if one.choice.wave is not None and place == 1:
            side_lines(working, one.choice.wave, variable)
        if one.unsimplified is not None:
            working.aside(one.unsimplified, one.du, "derivative", _SIMPLIFIED[one.choice.kind])
        rule = say(
            "The integral of {u} d{v} is {u} {v} less the integral of {v} d{u}.",
            u=letters[0].name,
            v=letters[1].name,
        )
        working.step(multiplied(constant, run.pending(place)), "by-parts", rule)
    if run.solution is None:
        again = before_integral(factored(run.share), Integral(run.core, variable))
        reason = say("The first integral has come back: bring it to the left side.")
        working.balance(again, run.raw(), rule="bring-over", reason=reason)
    else:
        done = tuple(one.done for one in run.rounds)
        carry(
            working,
            _with_other_letters(run.solution, letters, integrand, variable),
            lambda line: multiplied(constant, sum_of(*done, multiplied(run.last.left, line))),
        )
    answer = multiplied(constant, run.answer())
    if run.solution is None:
        working.step(answer, "divide", say("Divide by the number in front of the integral."))
    elif answer != multiplied(constant, run.raw()):
        working.step(answer, "collect", say("Collect the terms."))
    return working.finish()


def exponentials_above(moving: Factored) -> Factored:
    """`cos x / e^x` as `e^(-x) cos x`."""
    powers = tuple(
        (Power(E, tidy(scaled(n, base.exponent))), fraction(1, 1))
        if _is_exponential(base) and isinstance(base, Power)
        else (base, n)
        for base, n in moving.powers
    )
    if powers == moving.powers:
        return moving
    # a polynomial, then the exponential, then other functions
    order = sorted(powers, key=lambda pair: 2 * isinstance(pair[0], Apply) + _is_exponential(pair[0]))
    return Factored(coefficient=moving.coefficient, powers=tuple(order))


def _is_exponential(base: Expression) -> bool:
    return isinstance(base, Power) and base.base == E


def _has_exponential_below(integrand: Expression) -> bool:
    return any(_is_exponential(base) and n < 0 for base, n in factored(integrand).powers)


def _let(working: Working, one: Round, letters: tuple[Symbol, Symbol], *, again: bool) -> None:
    u, v = letters
    if again:
        reason = say("By parts again.")
    elif one.choice.kind == "cyclic":
        reason = say("By parts, twice, with the same kind of {u}: the integral will come back.", u=u.name)
    else:
        reason = _FIRST[one.choice.kind]
    working.let(u, one.choice.u, one.du, reason)
    needed = () if again else one.choice.needed
    said = together(say("The rest is integrated."), *needed)
    if one.choice.wave is not None:
        said = say("The rest is integrated at the side.")
    working.let(v, one.choice.v, one.choice.dv, said)


def _with_other_letters(
    solution: WorkedSolution, taken: tuple[Symbol, Symbol], integrand: Expression, variable: Symbol
) -> tuple[Line, ...]:
    """The lines for the integral that is left, u and v being in use."""
    clashing = letters_of(solution).intersection(taken)
    if not clashing:
        return solution.lines
    used = sum_of(integrand, variable, *taken, *sorted(letters_of(solution), key=lambda letter: letter.name))
    new: dict[Symbol, Symbol] = {}
    for letter in sorted(clashing, key=lambda letter: letter.name):
        new[letter] = spare_letter(sum_of(used, *new.values()))
    return renamed(solution.lines, new)
