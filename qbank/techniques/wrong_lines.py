"""What a slip makes of one line of a working (common practice: from the marking of scripts).

Only the line itself is changed here, from the line before it; whether it is wrong is decided elsewhere.

    1/2 int e^u du      after u = x^2     int e^u du          the constant of du forgotten
    1/4 u^4             after int u^3 du  u^4                 not divided by the new power
    1/4 (x^2 + 1)^4     for u             1/4 x^4             the letter put back alone
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from qbank.maths.constant_factor import before_integral, number, over, split_constant, times
from qbank.maths.derivative import derivative
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import (
    Differential,
    Expression,
    Integral,
    Product,
    Sum,
    Symbol,
    fraction,
    opposite,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.tidying import scaled, split_coefficient, tidy
from qbank.messages import say
from qbank.techniques.carrying import multiplied
from qbank.techniques.slips import HABITS
from qbank.techniques.standard.standard_sums import plan_as_written
from qbank.techniques.substituting.substitution_search import put_back

__all__ = ["Place", "WrongLine", "integral_terms", "wrong_differentials", "wrong_steps"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A line of the chain, and what stands before it.

    Attributes:
        before: the line of the chain before it.
        line: the line.
        rule: by which it was written.
        bindings: the letters of substitutions so far, each with what it stands for.
        differentiated: those of them whose differential was found by differentiating.
        variable: of integration.
    """

    before: Expression
    line: Expression
    rule: str
    bindings: Mapping[Symbol, Expression]
    differentiated: frozenset[Symbol]
    variable: Symbol


@dataclass(frozen=True, slots=True, kw_only=True)
class WrongLine:
    """A line with a slip in it.

    Attributes:
        slip: identifier of the slip.
        sentence: what to tell the student.
        statements: what the slip makes of the line.
        ratio: by which the line has become wrong, where it is multiplied by a number; the lines after it are multiplied too.
    """

    slip: str
    sentence: str
    statements: tuple[Statement, ...]
    ratio: Factored | None = None


def wrong_steps(at: Place) -> Iterator[WrongLine]:
    """What slips make of a line of the chain."""
    for wrong in (*_fronts(at), *_integrated(at), *_signs(at), *_put_back(at), *_terms_lost(at)):
        if wrong.statements != (at.line,):
            yield wrong


def wrong_differentials(statements: tuple[Statement, ...], variable: Symbol) -> Iterator[WrongLine]:
    """What slips make of `let u = g(x), du = g'(x) dx`."""
    match statements:
        case (Equation(Symbol() as letter, meaning) as definition, Equation(left, right)):
            letters = meaning.symbols()
        case _:
            return
    if variable not in letters or letter in letters:
        return
    seen = factored(right)
    size, rest = split_coefficient(meaning)
    beside = Factored(coefficient=fraction(1, 1), powers=seen.powers).tree()
    copied = tidy(product(meaning, Differential(variable)))
    compare = say("Differentiate the first equation: it does not give the second.")
    for name, sentence, first, rate in (
        ("function-not-differentiated", compare, definition, copied),
        ("number-of-the-function-lost", compare, Equation(letter, rest if size != 1 else meaning), right),
        (
            "sign-of-du-lost",
            say("Check the sign of the derivative: it belongs to the differential."),
            definition,
            tidy(scaled(-1, right)),
        ),
        (
            "constant-of-du-lost",
            say("The chain rule brings a number: it belongs to the differential."),
            definition,
            tidy(beside),
        ),
        (
            "constant-of-du-doubled",
            say("Differentiate once more: the number in front of the differential is another one."),
            definition,
            tidy(scaled(2, right)),
        ),
    ):
        found = (first, Equation(left, rate))
        if found != statements:
            yield WrongLine(slip=name, sentence=sentence, statements=found)


# ---- the number in front of an integral


def integral_terms(line: Expression) -> tuple[tuple[Factored, Integral] | Expression, ...]:
    """The terms of a line; one with an integral still to be done is taken apart into its constant and the integral."""
    return tuple(_apart(term) for term in (line.terms if isinstance(line, Sum) else (line,)))


def _apart(term: Expression) -> tuple[Factored, Integral] | Expression:
    size, body = split_coefficient(term)
    match body:
        case Integral() as integral:
            return number(size), integral
        case Product((*factors, Integral() as integral)):
            return times(number(size), factored(product(*factors))), integral
        case _:
            return term


def _together(terms: tuple[tuple[Factored, Integral] | Expression, ...]) -> Expression:
    return sum_of(*(one if isinstance(one, Expression) else before_integral(*one) for one in terms))


def _fronts(at: Place) -> Iterator[WrongLine]:
    terms = integral_terms(at.line)
    integrals = [one for one in terms if not isinstance(one, Expression)]
    if len(integrals) != 1:
        return
    ((front, integral),) = integrals
    old = [
        times(one[0], split_constant(one[1].integrand, one[1].variable)[0])
        for one in integral_terms(at.before)
        if not isinstance(one, Expression)
    ]

    def changed(constant: Factored) -> tuple[Statement, ...]:
        return (_together(tuple((constant, integral) if one == (front, integral) else one for one in terms)),)

    meaning = at.bindings.get(integral.variable)
    if at.rule == "substitution" and integral.variable in at.differentiated and meaning is not None:
        inner = next(
            (letter for letter in (at.variable, *at.bindings) if letter in meaning.symbols()), at.variable
        )
        rate = split_constant(derivative(meaning, inner), inner)[0]
        size = Factored(coefficient=abs(rate.coefficient), powers=rate.powers)
        yield WrongLine(
            slip="constant-of-du-forgotten",
            sentence=say(
                "The differential brings a number or constant: divide by it in front of the integral."
            ),
            statements=changed(times(front, size)),
            ratio=size,
        )
        yield WrongLine(
            slip="constant-of-du-multiplied",
            sentence=say(
                "Divide by the constant that the differential brings; it belongs to the other side."
            ),
            statements=changed(times(front, size, size)),
            ratio=times(size, size),
        )
        if rate.coefficient < 0:
            yield WrongLine(
                slip="sign-of-du-lost",
                sentence=say(
                    "The derivative of the substituted function is negative: the minus sign goes in front of the "
                    "integral."
                ),
                statements=changed(times(front, number(-1))),
                ratio=number(-1),
            )
    elif len(old) == len(terms) == 1 and old[0] != front:
        # a number that only comes out of the integral is not one that this step brings
        yield WrongLine(
            slip="number-in-front-lost",
            sentence=say("This step brings a number in front of the integral; it is missing."),
            statements=changed(old[0]),
            ratio=times(old[0], over(front)),
        )


# ---- integrals done at sight


def _integrated(at: Place) -> Iterator[WrongLine]:
    if at.line.holds(Integral):
        return
    for words in HABITS:
        if words.habit == "differentiated":
            continue  # nobody differentiates in the middle of a working
        parts = []
        for one in integral_terms(at.before):
            if isinstance(one, Expression):
                parts.append(one)
                continue
            front, integral = one
            plan = plan_as_written(integral.integrand, integral.variable)
            if plan is None:
                return
            parts.append(multiplied(front, plan.answer(words.habit)))
        wrong = sum_of(*parts)
        if wrong != at.before:
            yield WrongLine(slip=words.name, sentence=words.sentence, statements=(wrong,))


# ---- signs and terms


def _signs(at: Place) -> Iterator[WrongLine]:
    """The sign of the last term of a sum that is new in this line turned."""
    old = {node for node in at.before.walk() if isinstance(node, Sum)}
    for node in dict.fromkeys(node for node in at.line.walk() if isinstance(node, Sum)):
        if node in old:
            continue
        *first, last = node.terms
        turned = opposite(last)
        sentence = _SIGNS.get(at.rule) or say(
            "Check the sign of every term of this line against the line before."
        )
        yield WrongLine(
            slip="sign-of-a-term-turned",
            sentence=sentence,
            statements=(at.line.replaced(node, sum_of(*first, turned)),),
        )


_SIGNS = {
    "pythagorean-identity": say("Check the sign in the identity by putting in a value."),
    "double-angle": say("Check the sign in the identity by putting in a value."),
    "product-to-sum": say("Check the sign between the two terms of the identity by putting in equal angles."),
    "by-parts": say("By parts, the integral that is left is subtracted."),
}


def _terms_lost(at: Place) -> Iterator[WrongLine]:
    """The last term of a new sum left out, once the integrals are done."""
    match at.line:
        case Sum((*first, _)) if at.line != at.before and not any(
            isinstance(node, Integral) for node in at.line.walk()
        ):
            yield WrongLine(
                slip="term-lost",
                sentence=say("Every term of the sum must be carried on; one is missing."),
                statements=(sum_of(*first),),
            )
        case _:
            return


def _put_back(at: Place) -> Iterator[WrongLine]:
    used = [
        letter for letter in at.bindings if letter in at.before.symbols() and letter not in at.line.symbols()
    ]
    if at.rule != "substitute-back" or len(used) != 1:
        return
    (letter,) = used
    yield WrongLine(
        slip="letter-put-back-alone",
        sentence=say("The letter stands for a whole function: put all of it back, not the variable alone."),
        statements=(put_back(at.before, letter, at.variable),),
    )
