"""What can be proved of a wrong answer that no catalogued slip explains: how near it comes to a right one.

    with exact fractions for its decimals it is right   rounded-number
    its derivative is -1/3 times the integrand          off-by-a-factor
    without one of its terms it would be right          a-term-too-many
    with another number before one term, likewise       a-term-with-another-factor
    one term of the answer is not there                 a-term-missing

A number is guessed from a witness and then proved; without a proof nothing is said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from qbank.maths.conventions import Conventions
from qbank.maths.derivative import derivative
from qbank.maths.expression import Decimal, Expression, Negate, Sum, Symbol, rational, sum_of
from qbank.maths.notation import plain
from qbank.maths.tidying import scaled
from qbank.maths.verdict import Proved, Refuted, Verdict
from qbank.messages import say
from qbank.techniques.technique import SlipAnswer

__all__ = ["Decide", "nearly"]

#: whether the first is an antiderivative of the second
Decide = Callable[[Expression, Expression], Verdict]

#: factors with a larger denominator or numerator explain nothing
_LARGEST = 200
#: answers with more terms, and longer ones, are not taken apart
_MOST_TERMS = 8
_MOST_NODES = 120
_NEAR = 1e-4
#: a decimal of so many digits may be a fraction rounded, with at most this number below the line
_ROUNDED_DIGITS = 2
_LARGEST_UNDER = 40


def nearly(
    answer: Expression,
    integrand: Expression,
    key: Expression | None,
    variable: Symbol,
    decide: Decide,
    conventions: Conventions,
) -> SlipAnswer | None:
    """How near a wrong answer comes, or None.

    Args:
        answer: whose derivative is not the integrand.
        integrand: what was to be integrated.
        key: an antiderivative, where one is known.
        variable: with respect to what.
        decide: whether one expression is an antiderivative of another.
        conventions: of the bank, for a term that is named.
    """
    if variable not in answer.symbols() or sum(1 for _ in answer.walk()) > _MOST_NODES:
        return None
    found = next(_findings(answer, integrand, key, variable, decide, conventions), None)
    return None if found is None else SlipAnswer(slip=found[0], sentence=found[1], answer=answer)


def _findings(
    answer: Expression,
    integrand: Expression,
    key: Expression | None,
    variable: Symbol,
    decide: Decide,
    conventions: Conventions,
) -> Iterator[tuple[str, str]]:
    exact = _with_fractions(answer)
    if exact != answer and isinstance(decide(exact, integrand), Proved):
        yield (
            "rounded-number",
            say("A number here is rounded. Keep it exact: a fraction such as 1/3, not 0.33."),
        )
    factor = _factor(answer, integrand, decide)
    if factor is not None:
        yield (
            "off-by-a-factor",
            say("The derivative of this answer is {factor} times the integrand.", factor=str(factor)),
        )
    terms = _terms(answer, variable)
    for place, term in enumerate(terms if len(terms) > 1 else ()):
        rest = sum_of(*terms[:place], *terms[place + 1 :])
        named = plain(term, conventions)
        if isinstance(decide(rest, integrand), Proved):
            yield (
                "a-term-too-many",
                say("All is right but for {term}, which is one term too many.", term=named),
            )
        wanted = sum_of(integrand, Negate(derivative(rest, variable)))
        if _factor(term, wanted, decide) is not None:
            yield (
                "a-term-with-another-factor",
                say(
                    "All is right but for one term: look again at the number before it in {term}.", term=named
                ),
            )
    for missing in _terms(key, variable) if key is not None else ():
        if isinstance(decide(sum_of(answer, missing), integrand), Proved):
            yield "a-term-missing", say("What is here is right; one term is missing.")


def _with_fractions(tree: Expression) -> Expression:
    """The tree with the simplest fraction near it in place of each decimal of two digits or more."""
    if isinstance(tree, Decimal):
        return _fraction(tree)
    return tree.rebuild(_with_fractions)


def _fraction(decimal: Decimal) -> Expression:
    """The simplest fraction that a decimal may be, rounded or cut off; itself where it has few digits or is exact."""
    digits = len(decimal.text.partition(".")[2])
    if digits < _ROUNDED_DIGITS:
        return decimal
    for under in range(1, _LARGEST_UNDER + 1):
        near = Fraction(round(decimal.value * under), under)
        beyond = (near - decimal.value) * 10**digits
        if -1 <= 2 * beyond < 2:  # rounded down or up, or cut off
            return rational(near)
    return decimal


def _terms(answer: Expression, variable: Symbol) -> tuple[Expression, ...]:
    """The terms that hold the variable; none of a long answer."""
    terms = answer.terms if isinstance(answer, Sum) else (answer,)
    return tuple(term for term in terms if variable in term.symbols()) if len(terms) <= _MOST_TERMS else ()


def _factor(answer: Expression, wanted: Expression, decide: Decide) -> Fraction | None:
    """The number by which the derivative of an answer is more than what is wanted, proved; None without one."""
    verdict = decide(answer, wanted)
    if not isinstance(verdict, Refuted):
        return None
    try:
        found, right = float(verdict.witness.left), float(verdict.witness.right)
        ratio = found / right
    except (ValueError, ZeroDivisionError):
        return None
    if not 1 / _LARGEST <= abs(ratio) <= _LARGEST:
        return None
    factor = Fraction(ratio).limit_denominator(_LARGEST)
    if abs(float(factor) - ratio) > _NEAR * abs(ratio):
        return None
    return factor if isinstance(decide(answer, scaled(factor, wanted)), Proved) else None
