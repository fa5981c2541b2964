"""A function of g times the derivative of g, up to a constant: substitute u = g.

x e^(x^2)       u = x^2       1/2 int e^u du
cos x sin^4 x   u = sin x     int u^4 du
x^2/(x^3 + 1)   u = x^3 + 1   1/3 int 1/u du
"""

from __future__ import annotations

from collections.abc import Callable

from qbank.maths.constant_factor import in_front, number, times
from qbank.maths.derivative import arranged
from qbank.maths.expression import Expression, Symbol, product
from qbank.maths.factors import Factored
from qbank.messages import say
from qbank.techniques.slips import HABITS, habit_slip
from qbank.techniques.standard.standard_lines import standard_lines
from qbank.techniques.standard.standard_sums import plan_as_written
from qbank.techniques.substituting.substitution_lines import substitution_lines
from qbank.techniques.substituting.substitution_search import Substitution, put_back, substitution
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "substitution"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    found = substitution(integrand, variable)
    if found is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    substitution_lines(working, found.seen, integrand)
    answer = standard_lines(working, found.plan, found.seen.letter)
    working.step(
        put_back(answer, found.seen.letter, found.seen.inner),
        "substitute-back",
        say("Put the function back for {letter}.", letter=found.seen.letter.name),
    )
    return working.finish()


# What students write (common practice: from the marking of scripts, not from a published table).


def _slip(name: str, sentence: str, wrong: Callable[[Substitution], Expression | None]) -> Slip:
    def answer(solution: WorkedSolution) -> Expression | None:
        found = substitution(solution.integrand, solution.variable)
        changed = None if found is None else wrong(found)
        return None if changed is None or changed == solution.antiderivative else changed

    return Slip(identifier=f"substitution-{name}", sentence=sentence, answer=answer)


def _size(constant: Factored) -> Factored:
    return Factored(coefficient=abs(constant.coefficient), powers=constant.powers)


def _rate_forgotten(found: Substitution) -> Expression | None:
    """The constant of du is not divided by; its sign is kept, that is a slip of its own."""
    return found.answer(front=times(found.seen.front, _size(found.seen.rate)))


def _rate_multiplied(found: Substitution) -> Expression | None:
    size = _size(found.seen.rate)
    return found.answer(front=times(found.seen.front, size, size))


def _sign_lost(found: Substitution) -> Expression | None:
    if found.seen.rate.coefficient > 0:
        return None
    return found.answer(front=times(found.seen.front, number(-1)))


def _derivative_kept(found: Substitution) -> Expression | None:
    """`x e^(x^2)` taken to `1/2 x e^(x^2)`: what du uses up is written again."""
    if len(found.plan.terms) != 1:
        return None
    return arranged(product(found.seen.beside, found.answer()), found.seen.variable)


def _each_factor(found: Substitution) -> Expression | None:
    """Each factor integrated by itself: `x e^(x^2)` taken to `1/2 x^2 e^(x^2)`."""
    seen = found.seen
    beside = plan_as_written(seen.beside, seen.variable)
    if beside is None or len(found.plan.terms) != 1 or len(beside.terms) != 1:
        return None
    return arranged(product(beside.answer(), found.answer(front=seen.constant)), seen.variable)


def _not_integrated(found: Substitution) -> Expression | None:
    """The integrand in u is put back as it is, not integrated."""
    seen = found.seen
    return put_back(in_front(seen.front, seen.outer), seen.letter, seen.inner)


def _seen(solution: WorkedSolution) -> Substitution | None:
    return substitution(solution.integrand, solution.variable)


#: habits of the integral in u; numbers inside a bracket hardly occur there
_OUTER_HABITS = tuple(words for words in HABITS if words.habit not in ("slope ignored", "slope multiplied"))

TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Substitution: a function and its derivative",
    work=_work,
    slips=(
        _slip(
            "constant-of-du-forgotten",
            say("The differential brings a number or constant: divide by it in front of the integral."),
            _rate_forgotten,
        ),
        _slip(
            "constant-of-du-multiplied",
            say("Divide by the constant that the differential brings; it belongs to the other side."),
            _rate_multiplied,
        ),
        _slip(
            "sign-of-du-lost",
            say(
                "The derivative of the substituted function is negative: the minus sign goes in front of the integral."
            ),
            _sign_lost,
        ),
        _slip(
            "derivative-kept",
            say(
                "The factor that becomes part of the differential is used up; it does not stay in the answer."
            ),
            _derivative_kept,
        ),
        _slip(
            "factors-integrated-separately",
            say("The integral of a product is not the product of the integrals."),
            _each_factor,
        ),
        _slip(
            "outer-function-not-integrated",
            say("After the substitution the function of the new letter must still be integrated."),
            _not_integrated,
        ),
        *(habit_slip("substitution", words, _seen) for words in _OUTER_HABITS),
    ),
)
