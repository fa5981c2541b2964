"""The one idea behind odd powers and behind tangents with secants: save a factor, use an identity, substitute.

    integrand = coefficient * replaced^(2k) * inner^p * saved      replaced^2 = first + second * inner^2
    u = inner,  du = rate * saved dx
    integral  = coefficient / rate * int (first + second u^2)^k u^p du

    sin^3 2x        replaced sin, inner cos, saved sin 2x          sin^2 = 1 - cos^2      rate -2
    tan x sec^4 x   replaced sec, inner tan, saved sec^2 x         sec^2 = 1 + tan^2      rate 1
    tan^3 x sec x   replaced tan, inner sec, saved sec x tan x     tan^2 = -1 + sec^2     rate 1

`Split` holds these few numbers. The working writes its lines from them; a slip changes one of them and runs on
to the end, so that the wrong answer follows from the wrong line as it does on a student's page.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import comb
from typing import Literal, TypeAlias

from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    Negate,
    Power,
    Quotient,
    Symbol,
    product,
    rational,
    sum_of,
)
from qbank.maths.factors import power_tree
from qbank.maths.tidying import scaled
from qbank.techniques.circular.angles import ONE, Angle, Constants
from qbank.techniques.circular.circular_powers import power_product
from qbank.techniques.working import Working

__all__ = [
    "PowerRule",
    "Split",
    "SplitReasons",
    "Term",
    "bracket",
    "differential_rate",
    "integrated",
    "split_lines",
    "term_tree",
    "up_to",
]


NO_CONSTANTS = Constants()

#: what is done to the powers of u: raised by one and divided by the new power, or a slip
PowerRule: TypeAlias = Literal["raised", "not divided", "divided by the old", "differentiated"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """`coefficient * g^exponent`; as a term of an antiderivative, the exponent 0 stands for ln|g|."""

    coefficient: Fraction
    exponent: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """The numbers of one working: see the module's head for the meaning.

    Attributes:
        coefficient: the number in front of the integral.
        angle: the common angle.
        replaced: the function whose even power the identity replaces.
        pairs: k, half of that power; 0 when nothing needs replacing.
        inner: the function that becomes u.
        power: p, the exponent that u has besides.
        saved: the functions that du uses up, with their exponents.
        identity: `(first, second)` in replaced^2 = first + second * inner^2.
        sign: 1, or -1 where the derivative of the inner function brings a minus sign.
        scale: the slope of the angle.
        constants: what is not rational in front of the integral, and the unit of the angle:
            du = sign * scale * unit * saved dx.
        middle: False for a square or cube expanded term by term, without its middle terms (a slip).
        powers: what is done to the powers of u; anything but "raised" is a slip.
        restored: the function written for u at the end, the inner one unless there is a slip.
    """

    coefficient: Fraction
    angle: Angle
    replaced: str
    pairs: int
    inner: str
    power: Fraction
    saved: tuple[tuple[str, Fraction], ...]
    identity: tuple[int, int]
    sign: int
    scale: Fraction
    constants: Constants
    middle: bool = True
    powers: PowerRule = "raised"
    restored: str = ""

    @property
    def rate(self) -> Fraction:
        """The number in du = rate * unit * saved dx."""
        return self.sign * self.scale

    @property
    def falling(self) -> bool:
        """Whether `u^2 - 1` is written rather than `1 - u^2`, and so the highest power first."""
        return self.replaced in ("tan", "cot")

    @property
    def front(self) -> Fraction:
        """The number in front of the integral in u."""
        return self.coefficient / self.rate

    def expanded(self) -> tuple[Term, ...]:
        """The integrand in u multiplied out, without the number in front."""
        first, second = self.identity
        k = self.pairs
        if self.middle or k < 2:
            rising = tuple(comb(k, j) * first ** (k - j) * second**j for j in range(k + 1))
            numbers = tuple(enumerate(rising))
        else:
            numbers = ((0, first), (k, second))
        terms = tuple(Term(coefficient=Fraction(c), exponent=self.power + 2 * j) for j, c in numbers)
        return terms[::-1] if self.falling else terms

    def integrated(self) -> tuple[Term, ...]:
        """The antiderivative in u, without the number in front."""
        return integrated(self.expanded(), self.powers)

    def answer(self) -> Expression:
        """The antiderivative in the variable, multiplied out."""
        g = Apply(self.restored or self.inner, self.angle.tree)
        terms = self.integrated()
        return sum_of(*(term_tree(self.front * t.coefficient, g, t.exponent, self.constants) for t in terms))

    def outcome(self) -> tuple[str, Constants, frozenset[tuple[Fraction, Fraction]]]:
        """What two plans have in common exactly when they lead to one answer."""
        values = frozenset((self.front * t.coefficient, t.exponent) for t in self.integrated())
        return self.restored or self.inner, self.constants, values


def integrated(terms: tuple[Term, ...], rule: PowerRule) -> tuple[Term, ...]:
    """The antiderivatives of powers, or what a student writes for them.

    >>> integrated((Term(coefficient=Fraction(2), exponent=Fraction(3)),), "raised")
    (Term(coefficient=Fraction(1, 2), exponent=Fraction(4, 1)),)
    """
    if rule == "differentiated":
        lowered = (Term(coefficient=t.coefficient * t.exponent, exponent=t.exponent - 1) for t in terms)
        return tuple(t for t in lowered if t.coefficient and t.exponent)
    return tuple(
        Term(coefficient=t.coefficient / _divisor(t.exponent, rule), exponent=t.exponent + 1) for t in terms
    )


def _divisor(exponent: Fraction, rule: PowerRule) -> Fraction:
    by = {"raised": exponent + 1, "divided by the old": exponent}.get(rule, Fraction(1))
    # 1/u gives the logarithm, and a number its multiple of u, whatever the student does to powers
    return by if by and exponent != -1 else Fraction(1)


#: a negative power of one of these is written as a power of its reciprocal
_RECIPROCAL = {"tan": "cot", "cot": "tan", "sec": "cos", "cosec": "sin"}


def term_tree(
    coefficient: Fraction, base: Expression, exponent: Fraction, constants: Constants = NO_CONSTANTS
) -> Expression:
    """A term of an antiderivative: a power with its number in front, or ln|base| for the exponent 0, times constants.

    >>> term_tree(Fraction(-2), Symbol("u"), Fraction(0))
    Negate(operand=Product(factors=(Integer(value=2), Apply(function='ln', argument=Apply(function='abs', argument=Symbol(name='u'))))))
    """
    if isinstance(base, Apply) and exponent < 0 and base.function in _RECIPROCAL:
        base, exponent = Apply(_RECIPROCAL[base.function], base.argument), -exponent
    body = power_tree(base, exponent) if exponent else Apply("ln", Apply("abs", base))
    return scaled(coefficient, constants.applied(body))


def _bracket_term(coefficient: Fraction, letter: Symbol, exponent: Fraction) -> Expression:
    """Inside the bracket after integrating a power the new exponent is written below it: `u^3/3`."""
    if exponent > 0 and abs(coefficient.numerator) == 1 and coefficient.denominator > 1:
        whole = Quotient(power_tree(letter, exponent), Integer(coefficient.denominator))
        return Negate(whole) if coefficient < 0 else whole
    return term_tree(coefficient, letter, exponent)


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitReasons:
    """What the teacher says at the lines that differ between the kinds.

    Attributes:
        save: why some factors are set aside.
        identity: which identity replaces the even power.
        substitute: why this substitution works.
    """

    save: str
    identity: str
    substitute: str


def split_lines(working: Working, split: Split, letter: Symbol, reasons: SplitReasons) -> None:
    """Write the lines from the integrand (already a product of powers) to the answer.

    Args:
        working: where the lines go.
        split: the numbers.
        letter: the letter of the substitution.
        reasons: what to say.
    """
    variable = split.angle.variable
    inner = Apply(split.inner, split.angle.tree)
    saved = power_product(split.angle.tree, split.saved)
    if split.pairs:
        square = Power(Apply(split.replaced, split.angle.tree), Integer(2))
        for body, rule, reason in (
            (square, "split-off-factor", reasons.save),
            (_identity_tree(split, inner), "pythagorean-identity", reasons.identity),
        ):
            line = product(_over_power(_raised(body, split.pairs), inner, split.power), saved)
            working.step(
                split.constants.whole().in_front(split.coefficient, Integral(line, variable)), rule, reason
            )
    working.let(letter, inner, differential_rate(split.rate, split.angle.unit, saved), reasons.substitute)
    in_letter = _in_letter(split, letter)
    working.step(
        split.constants.in_front(split.front, Integral(in_letter, letter)),
        "substitution",
        f"Write everything in {letter.name}.",
    )
    expanded = sum_of(
        *(
            scaled(t.coefficient, power_tree(letter, t.exponent) if t.exponent else Integer(1))
            for t in split.expanded()
        )
    )
    if split.pairs > 1 or (split.pairs and split.power):
        working.step(
            split.constants.in_front(split.front, Integral(expanded, letter)), "expand", "Multiply out."
        )
    working.step(
        bracket(split.front, split.constants, split.integrated(), letter), "power-rule", _power_reason(split)
    )
    working.step(split.answer(), "substitute-back", f"Put the function back for {letter.name}.")


def _in_letter(split: Split, letter: Symbol) -> Expression:
    """`u^p (1 - u^2)^k`: the single power first, or below the fraction line."""
    power = power_tree(letter, split.power)
    if not split.pairs:
        return power
    bracket_power = _raised(_identity_tree(split, letter), split.pairs)
    return (
        product(power, bracket_power) if split.power > 0 else _over_power(bracket_power, letter, split.power)
    )


def bracket(front: Fraction, constants: Constants, terms: tuple[Term, ...], letter: Symbol) -> Expression:
    """The antiderivative in the letter, the number still in front; two minus signs in a row are merged."""
    if len(terms) == 1:
        return term_tree(front * terms[0].coefficient, letter, terms[0].exponent, constants)
    if front < 0 and terms[0].coefficient < 0:
        terms = tuple(replace(t, coefficient=-t.coefficient) for t in terms)
        front = -front
    return constants.in_front(
        front, sum_of(*(_bracket_term(t.coefficient, letter, t.exponent) for t in terms))
    )


def _power_reason(split: Split) -> str:
    if all(t.exponent for t in split.integrated()):
        which = "the" if len(split.integrated()) == 1 else "each"
        return f"Raise {which} power by one and divide by the new power."
    if len(split.integrated()) == 1:
        return "The integral of a reciprocal is the logarithm of the modulus."
    return "Raise each power by one and divide by the new power; the reciprocal gives a logarithm."


def differential_rate(rate: Fraction, unit: Expression, saved: Expression) -> Expression:
    """What stands before dx in du: the rate and the unit times the saved factors."""
    return scaled(rate, saved if unit == ONE else product(unit, saved))


def up_to(rate: Fraction, unit: Expression) -> str:
    """What to add when a factor is a derivative only up to a sign or a number; empty when it is exactly that."""
    if unit == ONE and abs(rate) == 1:
        return "" if rate == 1 else ", up to the sign"
    return ", up to a number"


def _identity_tree(split: Split, base: Expression) -> Expression:
    """What stands for the square of the replaced function: `1 - g^2`, `1 + g^2` or `g^2 - 1`."""
    first, second = split.identity
    square = scaled(second, Power(base, Integer(2)))
    return sum_of(square, rational(first)) if split.falling else sum_of(rational(first), square)


def _raised(body: Expression, exponent: int) -> Expression:
    return body if exponent == 1 else Power(body, Integer(exponent))


def _over_power(body: Expression, base: Expression, exponent: Fraction) -> Expression:
    """`body * base^exponent`, with a negative exponent as a fraction."""
    if exponent < 0:
        return Quotient(body, power_tree(base, -exponent))
    return product(body, power_tree(base, exponent)) if exponent else body
