"""The first lines of a substitution: the letter with its differential, and the integral written in it.

Where a power of the variable is substituted whose derivative does not stand above the line, it is brought there first:

    1/(x^5 + x) = 1/(x (x^4 + 1)) = x^3/(x^4 (x^4 + 1))      u = x^4
"""

from __future__ import annotations

from qbank.maths.constant_factor import before_integral, number, times
from qbank.maths.expression import Expression, Integer, Integral, Power, Quotient, Sum, Symbol, product
from qbank.maths.factors import factored
from qbank.maths.letter_exponents import letter_powers_joined
from qbank.maths.notation import plain
from qbank.messages import Message, say, together
from qbank.techniques.substituting.substitution_search import Outer
from qbank.techniques.working import Working

__all__ = ["substitution_lines"]


def substitution_lines(working: Working, seen: Outer, integrand: Expression) -> None:
    """Write `let u = g, du = g' dx` and the integral in u.

    Args:
        working: where the lines go.
        seen: the parts of the integrand.
        integrand: as it was given.
    """
    _derivative_above(working, seen, integrand)
    whole = seen.rate == number(1)
    working.let(
        seen.letter,
        seen.inner,
        seen.slope,
        say("The derivative of this part stands beside it.")
        if whole
        else say("The derivative of this part stands beside it, up to a constant."),
    )
    working.step(
        before_integral(seen.front, Integral(seen.outer, seen.letter)),
        "substitution",
        together(say("Write everything in {letter}.", letter=seen.letter.name), *_divided_by(seen)),
    )


def _divided_by(seen: Outer) -> tuple[Message, ...]:
    """What letters must not be, when the constant before g' is divided by."""
    return tuple(
        say("Here {letter} must not be zero, for it is divided by.", letter=plain(base))
        for base, n in seen.rate.powers
        if n > 0 and isinstance(base, Symbol)
    )


def _stands_above(integrand: Expression, seen: Outer) -> bool:
    """Whether what du uses up is a factor of the numerator as it is written."""
    if not isinstance(integrand, Quotient):
        return False
    above = factored(integrand.numerator)
    return all(above.exponent(base) >= n for base, n in factored(seen.beside).powers)


def _derivative_above(working: Working, seen: Outer, integrand: Expression) -> None:
    """Multiply above and below by the derivative of a power, where it is needed there."""
    x = seen.variable
    if (
        not isinstance(seen.inner, Power)
        or seen.inner.base != x
        or factored(seen.outer).exponent(seen.letter) >= 0
    ):
        return
    outer = seen.outer.substitute({seen.letter: seen.inner})
    if not isinstance(outer, Quotient) or _stands_above(integrand, seen):
        return
    loose = (node for node in integrand.walk() if isinstance(node, Sum))
    if any(all(x in term.symbols() for term in node.terms) for node in loose):
        bare = letter_powers_joined(times(factored(outer), factored(seen.beside)), x).tree()
        said = say("Factorise the denominator.")
        working.step(before_integral(seen.constant, Integral(bare, x)), "factorise", said)
    above = seen.beside if outer.numerator == Integer(1) else product(seen.beside, outer.numerator)
    line = before_integral(seen.constant, Integral(Quotient(above, outer.denominator), x))
    if line != Integral(integrand, x):
        said = say(
            "Multiply above and below by {factor}: the derivative of {inner} is to stand above, up to a constant.",
            factor=plain(seen.beside),
            inner=plain(seen.inner),
        )
        working.step(line, "extend-fraction", said)
