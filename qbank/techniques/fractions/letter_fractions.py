"""Fractions with letters for numbers: the numerator in powers of the bracket, or simple fractions, then each by itself.

    x/(a + b x)        x = 1/b (a + b x) - a/b             int (1/b - a/(b (a + b x))) dx
    1/(x (a + b x))    A/x + B/(a + b x), A = 1/a          int (1/(a x) - b/(a (a + b x))) dx
    1/(a + b x^2)^2    int (a - b x^2)/(a + b x^2)^2 dx = x/(a + b x^2)       the quotient rule, read backwards

What must not be zero, and what must be positive, is said where it is divided by or a root of it is taken.
"""

from __future__ import annotations

from fractions import Fraction

from qbank.maths.constant_factor import ONE, before_integral, in_front, times
from qbank.maths.expression import (
    Expression,
    Integer,
    Integral,
    Quotient,
    Sum,
    Symbol,
    product,
    sum_of,
)
from qbank.maths.factors import power_tree
from qbank.maths.notation import plain
from qbank.maths.parametric import Parametric
from qbank.messages import Message, say, together
from qbank.techniques.fractions.fraction_letters import Sought, letter_lines
from qbank.techniques.fractions.letter_fraction_slips import SLIPS
from qbank.techniques.fractions.letter_pieces import completed, polynomial_in
from qbank.techniques.fractions.letter_plan import LetterPlan, letter_plan
from qbank.techniques.fractions.letter_quadratics import numerators, one_over, power_lines, squares
from qbank.techniques.fractions.simple_fractions import Bracket, Simple, simple_fractions
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "letter-fractions"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    plan = letter_plan(integrand, variable)
    if plan is None:
        return None
    working = Working(_IDENTIFIER, integrand, variable)
    _Writer(working, plan, Integral(integrand, variable)).write()
    return working.finish()


class _Writer:
    """Writes the lines of one plan."""

    def __init__(self, working: Working, plan: LetterPlan, start: Integral) -> None:
        self.working, self.plan = working, plan
        self.done: tuple[Expression, ...] = ()
        self.left = plan.open()
        self.told = False
        self.start = start

    def write(self) -> None:
        """From the integrand to the antiderivative."""
        plan = self.plan
        self._split()
        numerators(self.working, self.plan)
        self.done = tuple(plan.at_sight())
        if self.done:
            self._line("integrate", _at_sight_reason(plan))
        while self.left:
            bracket = next(iter(self.left))[0]
            exponent = max(n for one, n in self.left if one is bracket)
            self._quadratic(bracket, exponent, self.left.pop((bracket, exponent)))
        if not self.working.stands(plan.answer()):
            self.working.step(plan.answer(), "collect", say("Collect like terms."))

    def _line(self, rule: str, reason: str) -> None:
        plan = self.plan
        pending = (
            before_integral(
                times(plan.constant, top.factored()),
                one_over(bracket, exponent, plan.variable),
            )
            for (bracket, exponent), top in self.left.items()
        )
        line = sum_of(*self.done, *pending)
        if not self.working.stands(line):
            self.working.step(line, rule, reason)

    def _split(self) -> None:
        """The integrand as a sum, where it is more than one term."""
        plan, working, x = self.plan, self.working, self.plan.variable
        if plan.under_tree != plan.below:
            front = times(plan.constant)
            line = before_integral(front, Integral(Quotient(plan.over_tree, plan.below), x))
            working.step(line, "factorise", say("Factorise the denominator."))
        if len(plan.brackets) == 1 and not plan.whole:
            self._in_powers()
            return
        if plan.whole:
            self._divide()
        if len(plan.brackets) > 1 and plan.pieces:
            over_tree = plan.over_tree if not plan.whole else polynomial_in(plan.rest, x)
            taken = frozenset[Symbol]().union(
                *(tree.symbols() for tree in (plan.over_tree, plan.under_tree, plan.constant.tree()))
            )
            sought = Sought(
                letter=x,
                over=plan.rest,
                over_tree=over_tree,
                brackets=plan.brackets,
                simple=_simple(plan),
                taken=taken,
            )
            letter_lines(working, sought)
        line = before_integral(plan.constant, Integral(plan.shown(), x))
        working.step(line, "partial-fractions", self._conditioned(say("Put this in.")))

    def _divide(self) -> None:
        plan, x = self.plan, self.plan.variable
        whole = polynomial_in(plan.whole, x)
        multiple = plan.below if whole == Integer(1) else product(whole, plan.below)
        right = sum_of(multiple, polynomial_in(plan.rest, x)) if plan.rest else multiple
        if right != plan.over_tree:
            said = say("The numerator is of the same degree or a higher one: divide first.")
            self.working.aside(plan.over_tree, right, "divide", said)

    def _in_powers(self) -> None:
        """The numerator with the one bracket."""
        plan, x = self.plan, self.plan.variable
        bracket = plan.brackets[0]
        if len(plan.over) > 1:
            terms = tuple(
                _over(piece.top, bracket, bracket.exponent - piece.exponent, x) for piece in plan.pieces
            )
            # nested, so that `x = (x + a) - a` keeps its bracket
            split = Sum(terms) if len(terms) > 1 else terms[0]
            if split != plan.over_tree:
                said = say("Write the numerator with the bracket that stands below the line.")
                self.working.aside(plan.over_tree, split, "split-numerator", said)
            said = say("Take the fraction apart: each term has a power of the bracket below the line.")
            line = before_integral(plan.constant, Integral(plan.shown(), x))
            if line != self.start:
                self.working.step(line, "split-numerator", self._conditioned(said))
        elif plan.constant != ONE:
            line = before_integral(plan.constant, Integral(plan.shown(), x))
            self.working.step(line, "constant-factor", say("Take the constants outside the integral."))

    def _quadratic(self, bracket: Bracket[Parametric], exponent: int, top: Parametric) -> None:
        plan = self.plan
        if exponent == 1:
            squares(self.working, bracket, plan.variable, self._conditioned)
            self.done = (*self.done, plan.inverse(bracket, top))
            self._line(
                "inverse-tangent",
                self._conditioned(_inverse_reason(is_sum=completed(bracket, plan.variable).is_sum)),
            )
            return
        power_lines(self.working, bracket, exponent, plan.variable)
        term, rest = plan.lowered(bracket, exponent, top)
        self.done = (*self.done, term)
        key = (bracket, exponent - 1)
        total = self.left.pop(key, rest * 0) + rest
        if total:
            self.left[key] = total
        said = say("Solve this for the integral with the highest power below the line, and put it in.")
        self._line("recurrence", self._conditioned(said))

    def _conditioned(self, said: Message) -> Message:
        """With what must not be zero, for it is divided by; said once."""
        divisors = self.plan.divisors()
        if not divisors or self.told:
            return said
        self.told = True
        if len(divisors) == 1:
            needed = say("Here {letter} must not be zero, for it is divided by.", letter=plain(divisors[0]))
        else:
            listed = ", ".join(map(plain, divisors))
            needed = say("None of {letters} may be zero here, for they are divided by.", letters=listed)
        return together(said, needed)


def _simple(plan: LetterPlan) -> tuple[Simple[Parametric], ...]:
    return simple_fractions(plan.rest, plan.brackets)


def _over(
    top: tuple[Parametric, ...], bracket: Bracket[Parametric], power: int, variable: Symbol
) -> Expression:
    """A term of the numerator: a number or a line times a power of the bracket."""
    raised = power_tree(bracket.base, Fraction(power)) if power else Integer(1)
    if len(top) == 1 or not top[1]:
        return in_front(top[0].factored(), raised)
    line = polynomial_in(top, variable)
    return line if raised == Integer(1) else product(line, raised)


def _at_sight_reason(plan: LetterPlan) -> Message:
    said = list[Message]()
    if plan.whole or any(piece.exponent <= 0 for piece in plan.pieces):
        said.append(say("Integrate the whole part."))
    if any(piece.exponent == 1 and len(piece.bracket.factor) == 2 for piece in plan.pieces):
        said.append(say("The reciprocal of a linear bracket gives a logarithm."))
    if any(piece.exponent > 1 and len(piece.bracket.factor) == 2 for piece in plan.pieces):
        said.append(say("For a power of a bracket raise the exponent by one and divide by it."))
    if any(len(piece.top) == 2 and piece.top[1] for piece in plan.pieces):
        said.append(say("A multiple of the derivative above the line gives a logarithm or a power."))
    if any(len(p.bracket.factor) == 2 and p.exponent and p.bracket.factor[1] != 1 for p in plan.pieces):
        said.append(say("Divide by the coefficient of the variable."))
    return together(*said)


def _inverse_reason(*, is_sum: bool) -> Message:
    if is_sum:
        return say("One over a sum of two squares gives an inverse tangent.")
    return say("One over a difference of two squares gives the logarithm of a quotient.")


TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="Fractions with letters for numbers",
    work=_work,
    slips=SLIPS,
)
