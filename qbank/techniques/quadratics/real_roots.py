"""A fraction whose denominator has rational roots: two simple fractions, or powers of one bracket.

(x + 3)/((x - 1)(x + 1))  =  2/(x - 1) - 1/(x + 1)         2 ln|x - 1| - ln|x + 1|
(x + 3)/(x + 1)^2         =  1/(x + 1) + 2/(x + 1)^2       ln|x + 1| - 2/(x + 1)
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm

from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    Power,
    Quotient,
    fraction,
    product,
    sum_of,
)
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.surds import square_root
from qbank.maths.tidying import scaled
from qbank.messages import say, together
from qbank.techniques.quadratics.completed_square import primitive
from qbank.techniques.quadratics.over_quadratic import (
    Board,
    Coefficients,
    OverQuadratic,
    antiderivative_terms,
    bracket_times,
)

__all__ = ["DoubleRootPlan", "TwoRootsPlan", "real_root_plan"]

#: a bracket as coefficients, lowest first
Bracket = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoRootsPlan:
    """`front * (first/bracket + second/bracket)`, and the whole part before it.

    Attributes:
        seen: the fraction after any division.
        whole: the whole part of the division.
        leading: what the product of the brackets is multiplied by in the denominator.
        brackets: the two linear factors with whole coefficients, the one with the larger root first.
        tops: the two numerators, whole numbers without common factor.
        front: the number in front of both fractions.
        ends: what each logarithm is multiplied by, besides `front`.
    """

    seen: OverQuadratic
    whole: Coefficients
    leading: Fraction
    brackets: tuple[Bracket, Bracket]
    tops: tuple[int, int]
    front: Fraction
    ends: tuple[Fraction, Fraction]

    def answer(self) -> Expression:
        """The antiderivative."""
        return sum_of(*self.whole_terms(), *self.log_terms())

    def whole_terms(self) -> tuple[Expression, ...]:
        """The integral of the whole part."""
        return tuple(antiderivative_terms(self.whole, self.seen.letter))

    def log_terms(self, *, together: bool = True) -> tuple[Expression, ...]:
        """The logarithms; `together` as one of a ratio where the numbers in front are opposite."""
        trees = [polynomial_tree(bracket, self.seen.letter) for bracket in self.brackets]
        numbers = [self.front * end for end in self.ends]
        if together and numbers[0] == -numbers[1]:
            ratio = Quotient(*(trees if numbers[0] > 0 else reversed(trees)))
            return (scaled(abs(numbers[0]), Apply("ln", Apply("abs", ratio))),)
        pairs = tuple((n, tree) for n, tree in zip(numbers, trees, strict=True) if n)
        ordered = pairs if pairs[0][0] > 0 else pairs[::-1]
        return tuple(scaled(n, Apply("ln", Apply("abs", tree))) for n, tree in ordered)

    def lines(self, board: Board) -> None:
        """Write the lines from the fraction (its whole part done) to the answer."""
        letter = self.seen.letter
        first, second = (polynomial_tree(bracket, letter) for bracket in self.brackets)
        factors = scaled(self.leading, product(first, second))
        if self.leading != 1 or self.seen.under_tree not in (product(first, second), product(second, first)):
            board.aside(self.seen.under_tree, factors, "factorise", say("Factorise the denominator."))
        fractions = _sum_of_fractions(self.tops, (first, second))
        inside = self.front / self.seen.front
        below = factors if self.leading.denominator == 1 else self.seen.under_tree
        reason = say(
            "Split into two fractions; each numerator follows by putting in the root of its bracket."
        )
        board.aside(
            Quotient(self.seen.over_tree, below),
            scaled(inside, fractions),
            "partial-fractions",
            reason if all(self.tops) else say("One bracket cancels."),
        )
        board.line("partial-fractions", say("Put this in."), scaled(self.front, Integral(fractions, letter)))
        board.line(
            "logarithm",
            _log_reason(self.brackets),
            *self.log_terms(together=False),
        )
        board.line(
            "logarithm-laws", say("The difference of two logarithms is one of a ratio."), *self.log_terms()
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubleRootPlan:
    """`front * (simple/bracket + double/bracket^2)`, and the whole part before it.

    Attributes:
        seen: the fraction after any division.
        whole: the whole part of the division.
        leading: what the square of the bracket is multiplied by in the denominator.
        bracket: the linear factor with whole coefficients.
        simple: the numerator over the bracket.
        double: the numerator over its square.
        log: what the logarithm is multiplied by at the end.
        power: what the power of the bracket is multiplied by at the end.
        exponent: that power.
    """

    seen: OverQuadratic
    whole: Coefficients
    leading: Fraction
    bracket: Bracket
    simple: Fraction
    double: Fraction
    log: Fraction
    power: Fraction
    exponent: int = 1

    def answer(self) -> Expression:
        """The antiderivative."""
        return sum_of(*self.whole_terms(), *self.terms())

    def whole_terms(self) -> tuple[Expression, ...]:
        """The integral of the whole part."""
        return tuple(antiderivative_terms(self.whole, self.seen.letter))

    def terms(self) -> tuple[Expression, ...]:
        """The logarithm and the reciprocal, where they occur."""
        base = polynomial_tree(self.bracket, self.seen.letter)
        below = base if self.exponent == 1 else Power(base, Integer(self.exponent))
        logarithm = scaled(self.log, Apply("ln", Apply("abs", base)))
        return tuple(
            term for number, term in ((self.log, logarithm), (self.power, _over(self.power, below))) if number
        )

    def lines(self, board: Board) -> None:
        """Write the lines from the fraction (its whole part done) to the answer."""
        letter = self.seen.letter
        base = polynomial_tree(self.bracket, letter)
        square = Power(base, Integer(2))
        factors = scaled(self.leading, square)
        board.aside(self.seen.under_tree, factors, "factorise", say("The denominator is a perfect square."))
        front = self.seen.front / self.leading
        if self.simple:
            size, tops = _common((self.simple, self.double))
            split = _sum_of_fractions(tops, (base, square))
            bracket = bracket_times(self.simple, base, self.double)
            board.aside(
                self.seen.over_tree,
                bracket,
                "split-numerator",
                say("Write the numerator with the same bracket."),
            )
            line = scaled(front * size, Integral(split, letter))
            board.line("split-numerator", say("Divide term by term."), line)
        else:
            body = Quotient(Integer(1), square)
            board.line("factorise", say("Put this in."), scaled(front * self.double, Integral(body, letter)))
        board.line("power-rule", _double_reason(self), *self.terms())


def real_root_plan(seen: OverQuadratic, whole: Coefficients) -> TwoRootsPlan | DoubleRootPlan | None:
    """The numbers for a denominator with rational roots; None when its roots are not rational."""
    _, b, a = seen.under
    root = square_root(seen.discriminant) if seen.discriminant >= 0 else None
    if root is None or root.radicand != 1:
        return None
    if not root.rational:
        return _double_root(seen, whole)
    roots = ((-b + root.rational) / (2 * a), (-b - root.rational) / (2 * a))
    first, second = (primitive(-r, fraction(1, 1))[1] for r in roots)
    leading = a / (first[1] * second[1])
    # the numerators over first and second: put in the root of each
    over = tuple(seen.line[0] + seen.line[1] * root for root in roots)
    tops = (
        over[0] / (leading * (second[0] + second[1] * roots[0])),
        over[1] / (leading * (first[0] + first[1] * roots[1])),
    )
    size, whole_tops = _common(tops)
    return TwoRootsPlan(
        seen=seen,
        whole=whole,
        leading=leading,
        brackets=(first, second),
        tops=whole_tops,
        front=seen.front * size,
        ends=(Fraction(whole_tops[0], first[1]), Fraction(whole_tops[1], second[1])),
    )


def _double_root(seen: OverQuadratic, whole: Coefficients) -> DoubleRootPlan:
    _, b, a = seen.under
    bracket = primitive(b / (2 * a), fraction(1, 1))[1]
    leading = a / bracket[1] ** 2
    simple = seen.line[1] / bracket[1]
    double = seen.line[0] - simple * bracket[0]
    front = seen.front / leading
    return DoubleRootPlan(
        seen=seen,
        whole=whole,
        leading=leading,
        bracket=bracket,
        simple=simple,
        double=double,
        log=front * simple / bracket[1],
        power=-front * double / bracket[1],
    )


def _common(tops: tuple[Fraction, Fraction]) -> tuple[Fraction, tuple[int, int]]:
    """Two numbers as a positive number times whole numbers without common factor."""
    below = lcm(tops[0].denominator, tops[1].denominator)
    first, second = int(tops[0] * below), int(tops[1] * below)
    above = gcd(first, second)
    return Fraction(above, below), (first // above, second // above)


def _sum_of_fractions(tops: tuple[int, int], below: tuple[Expression, Expression]) -> Expression:
    pairs = tuple((Fraction(n), tree) for n, tree in zip(tops, below, strict=True) if n)
    ordered = pairs if pairs[0][0] > 0 else pairs[::-1]
    return sum_of(*(_over(n, tree) for n, tree in ordered))


def _over(number: Fraction, below: Expression) -> Expression:
    """`-3/(2(x + 1))`, the minus sign in front."""
    return scaled(number, Quotient(Integer(1), below))


def _log_reason(brackets: tuple[Bracket, ...]) -> str:
    return together(say("The reciprocal of a linear bracket gives a logarithm."), _divided_by(brackets))


def _double_reason(plan: DoubleRootPlan) -> str:
    after = _divided_by((plan.bracket,))
    if not plan.simple:
        return together(say("Raise the power of the bracket by one and divide by it."), after)
    if not plan.double:
        return _log_reason((plan.bracket,))
    both = say(
        "The reciprocal gives a logarithm; for the other fraction raise the power of the bracket by one and divide by it."
    )
    return together(both, after)


def _divided_by(brackets: tuple[Bracket, ...]) -> str:
    plain = all(bracket[1] == 1 for bracket in brackets)
    return "" if plain else say("Divide by the coefficient of the variable.")
