"""The lines of an integral over a biquadratic: each even part by u or by the factors, the odd part with u = x^2.

(x^2 - 1)/(x^4 + 1)     (1 - 1/x^2)/(x^2 + 1/x^2),  u = x + 1/x,  1/(u^2 - 2)
(x^2 + 1)/(x^4 + 1)     1/2 (1/(x^2 - sqrt(2) x + 1) + 1/(x^2 + sqrt(2) x + 1)), the squares completed
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction

from qbank.maths.constant_factor import number
from qbank.maths.derivative import derivative
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    Negate,
    Power,
    Quotient,
    Sum,
    Symbol,
    fraction,
    product,
    rational,
    sum_of,
)
from qbank.maths.notation import plain
from qbank.maths.polynomial import polynomial_tree
from qbank.maths.surds import Surd
from qbank.maths.tidying import scaled, tidy
from qbank.messages import say, together
from qbank.techniques.carrying import carry, multiplied
from qbank.techniques.fractions.biquadratic_parts import EvenPart
from qbank.techniques.quadratics import quadratic_denominator
from qbank.techniques.standard import standard_forms
from qbank.techniques.substituting.substitution_search import put_back
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["OddPart", "even_lines"]

#: what stands around the terms of one part in a line of the whole working
Around = Callable[[Iterable[Expression]], Expression]


#: after the variable comes the next of these, so that a letter before it, from which it came, is left alone
_LETTERS = ("u", "v", "w", "t")


def _next(letter: Symbol) -> Symbol:
    place = _LETTERS.index(letter.name) + 1 if letter.name in _LETTERS else 0
    return Symbol(_LETTERS[place % len(_LETTERS)])


class OddPart:
    """`size (n3 x^3 + n1 x) / under`, with u = x^2.

    Args:
        part: an even part over the same denominator.
        front: what stands in front of the whole.
        odd: n1 and n3, not both 0.
    """

    def __init__(self, part: EvenPart, front: Fraction, odd: tuple[Fraction, Fraction]) -> None:
        self._letter, self._front = part.letter, front
        self._under = part.under
        self.over = polynomial_tree((fraction(0, 1), odd[0], fraction(0, 1), odd[1]), part.letter)
        self._new = _next(part.letter)
        in_square = (part.inner**2, part.middle, part.outer**2)
        self._outer = Quotient(polynomial_tree(odd, self._new), polynomial_tree(in_square, self._new))

    @property
    def pending(self) -> Expression:
        """The integral still to be done."""
        return scaled(self._front, Integral(Quotient(self.over, self._under), self._letter))

    def terms(self) -> tuple[Expression, ...]:
        """The antiderivative."""
        whole = multiplied(number(self._front / 2), self._solution().antiderivative)
        back = put_back(whole, self._new, self._letter**2)
        return back.terms if isinstance(back, Sum) else (back,)

    def lines(self, working: Working, around: Around) -> None:
        """Write the lines from the integral to the logarithm and the inverse function."""
        said = say("The odd powers go with the square of {letter}.", letter=self._letter.name)
        working.let(self._new, self._letter**2, 2 * self._letter, said)
        half = self._front / 2
        said = say("Write everything in {letter}.", letter=self._new.name)
        working.step(around([scaled(half, Integral(self._outer, self._new))]), "substitution", said)
        carry(working, self._solution().lines, lambda line: around([multiplied(number(half), line)]))
        said = say("Put the function back for {letter}.", letter=self._new.name)
        working.step(around(self.terms()), "substitute-back", said)

    def _solution(self) -> WorkedSolution:
        found = standard_forms.TECHNIQUE.work(self._outer, self._new)
        found = found or quadratic_denominator.TECHNIQUE.work(self._outer, self._new)
        assert found is not None  # a line over a quadratic
        return found


def even_lines(
    working: Working, part: EvenPart, under: Expression, around: Around, *, again: bool = False
) -> None:
    """Write the lines of one even part.

    Args:
        working: where they go.
        part: its numbers.
        under: the denominator as it stands in the working.
        around: what stands around its terms.
        again: whether the denominator has been factorised already.
    """
    if part.is_logarithm:
        _substituted(working, part, around)
    elif part.has_real_squares:
        _sums_of_squares(working, part, under, around, again=again)
    else:
        _factorised(working, part, under, around)


def _substituted(working: Working, part: EvenPart, around: Around) -> None:
    x, u = part.letter, _next(part.letter)
    root = part.log_root
    middle = (rational(part.middle),) if part.middle else ()
    below = sum_of(scaled(part.outer**2, x**2), *middle, scaled(part.inner**2, 1 / x**2))
    slope = tidy(derivative(part.inside, x))
    in_square = sum_of(u**2, rational(-part.below))
    said = say("Divide above and below by the square of {letter}.", letter=x.name)
    working.step(around([_integral(part.size, Quotient(slope, below), x)]), "divide-above-and-below", said)
    said = say("Its derivative is what stands above the line.")
    working.let(u, part.inside, slope, said)
    said = say("Square {letter}: what stands below the line is that square and a number.", letter=u.name)
    working.aside(below, in_square, "expand", said)
    said = say("Write everything in {letter}.", letter=u.name)
    working.step(around([_integral(part.size, Quotient(Integer(1), in_square), u)]), "substitution", said)
    ratio = Quotient(sum_of(u, Negate(root.tree())), sum_of(u, root.tree()))
    line = root.reciprocal().times(part.size / 2).in_front_of(Apply("ln", Apply("abs", ratio)))
    said = together(
        say("One over a difference of two squares gives the logarithm of a ratio."),
        say("Divide by twice the number that is squared."),
    )
    working.step(around([line]), "standard-integral", said)
    said = say(
        "Put the function back for {letter} and multiply above and below by {old}: what comes out holds where {old} is 0 as well.",
        letter=u.name,
        old=x.name,
    )
    working.step(around(part.terms()), "substitute-back", said)


def _factorised(working: Working, part: EvenPart, under: Expression, around: Around) -> None:
    """The two inverse tangents, by the factors of the denominator."""
    x, m = part.letter, part.minus
    square, line = Power(part.over, Integer(2)), m.in_front_of(x)
    first, second = part.factor(m.times(-1)), part.factor(m)
    said = together(
        _jump(part), say("Complete the square with the first and the last term: a difference of two squares.")
    )
    difference = sum_of(square, Negate(Power(line, Integer(2))))
    working.found(
        Equation(under, difference),
        Equation(difference, product(first, second)),
        rule="factorise",
        reason=said,
    )
    fractions = [Quotient(Integer(1), factor) for factor in (first, second)]
    said = say("The two factors add up to twice the numerator, so no letters are needed.")
    half = scaled(fraction(1, 2), sum_of(*fractions))
    working.aside(Quotient(part.over, product(first, second)), half, "partial-fractions", said)
    size = part.size / 2
    said = say("Take the fractions one by one.")
    working.step(around([_integral(size, fraction, x) for fraction in fractions]), "partial-fractions", said)
    shift, root = m.times(1 / (2 * part.outer)), part.plus.times(1 / (2 * part.outer))
    inside = [sum_of(x, shift.times(sign).tree()) for sign in (-1, 1)]
    squares = [scaled(part.outer, sum_of(Power(one, Integer(2)), _squared(root))) for one in inside]
    equations = [Equation(*pair) for pair in zip((first, second), squares, strict=True)]
    said = say("Complete the square in each.")
    working.found(*equations, rule="complete-square", reason=said)
    untidy = [one if root == Surd(fraction(1, 1)) else Quotient(one, root.tree()) for one in inside]
    said = together(
        say("One over a sum of two squares gives an inverse tangent."),
        say("Divide by the number that is squared.") if root != Surd(fraction(1, 1)) else "",
    )
    written = around(part.inverse_tangents((untidy[0], untidy[1])))
    working.step(written, "standard-integral", said)
    if around(part.terms()) != written:
        working.step(around(part.terms()), "tidy", say("Tidy up: clear the fractions and the signs."))


def _sums_of_squares(
    working: Working, part: EvenPart, under: Expression, around: Around, *, again: bool
) -> None:
    """The two inverse tangents, where the denominator is a product of two sums of squares."""
    x = part.letter
    lengths = part.lengths()
    factors = [sum_of(x**2, Power(length, Integer(2))) for length in lengths]
    said = together(
        _jump(part), say("Factorise the denominator as a quadratic in the square of {letter}.", letter=x.name)
    )
    if not again:
        working.aside(under, product(*factors), "factorise", said)
    root = (part.plus if part.sign > 0 else part.minus).reciprocal()
    first, second = (Quotient(*pair) for pair in zip(lengths, factors, strict=True))
    other = second if part.sign > 0 else Negate(second)
    said = say("Split it into simple fractions, one for each bracket.")
    split = root.in_front_of(sum_of(first, other))
    working.aside(Quotient(part.over, product(*factors)), split, "partial-fractions", said)
    size = root.times(part.size)
    pending = [
        one.in_front_of(Integral(fraction, x))
        for one, fraction in ((size, first), (size.times(part.sign), second))
    ]
    working.step(around(pending), "partial-fractions", say("Take the fractions one by one."))
    said = say("One over a sum of two squares gives an inverse tangent.")
    working.step(around(part.terms()), "standard-integral", said)


def _jump(part: EvenPart) -> str:
    return say(
        "With {inside} as a new letter an inverse tangent comes out that jumps where {letter} is 0, so factorise instead.",
        inside=plain(part.inside),
        letter=part.letter.name,
    )


def _squared(root: Surd) -> Expression:
    return Integer(1) if root == Surd(fraction(1, 1)) else Power(root.tree(), Integer(2))


def _integral(size: Fraction, integrand: Expression, letter: Symbol) -> Expression:
    return scaled(size, Integral(integrand, letter))
