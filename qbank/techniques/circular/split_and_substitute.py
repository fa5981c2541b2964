"""The one idea behind odd powers and behind tangents with secants: save a factor, use an identity, substitute.

    integrand = coefficient * replaced^(2k) * inner^p * saved      replaced^2 = first + second * inner^2
    u = inner,  du = rate * saved dx
    integral  = coefficient / rate * int (first + second u^2)^k u^p du

    sin^3 2x        replaced sin, inner cos, saved sin 2x          sin^2 = 1 - cos^2      rate -2
    tan x sec^4 x   replaced sec, inner tan, saved sec^2 x         sec^2 = 1 + tan^2      rate 1
    tan^3 x sec x   replaced tan, inner sec, saved sec x tan x     tan^2 = -1 + sec^2     rate 1
    sinh^3 x        replaced sinh, inner cosh, saved sinh x        sinh^2 = -1 + cosh^2   rate 1

`Split` holds these few numbers. The working writes its lines from them; a slip changes one of them and runs on
to the end, so that the wrong answer follows from the wrong line as it does on a student's page.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import comb

from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Integral,
    Power,
    Quotient,
    Symbol,
    fraction,
    product,
    rational,
    sum_of,
)
from qbank.maths.factors import power_tree
from qbank.maths.tidying import scaled
from qbank.messages import Message, say
from qbank.techniques.circular.angles import ONE, Angle, Constants
from qbank.techniques.circular.circular_powers import power_product
from qbank.techniques.circular.power_terms import PowerRule, Term, bracket, integrated, term_tree
from qbank.techniques.working import Working

__all__ = [
    "Split",
    "SplitReasons",
    "differential_rate",
    "fact_up_to",
    "split_lines",
]


#: functions whose square is that of the partner less 1
_FALLING = frozenset(("tan", "cot", "sinh", "cosech"))


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
        return self.replaced in _FALLING

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
        terms = tuple(Term(coefficient=fraction(c, 1), exponent=self.power + 2 * j) for j, c in numbers)
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
        say("Write everything in {letter}.", letter=letter.name),
    )
    expanded = sum_of(
        *(
            scaled(t.coefficient, power_tree(letter, t.exponent) if t.exponent else Integer(1))
            for t in split.expanded()
        )
    )
    if split.pairs > 1 or (split.pairs and split.power):
        working.step(
            split.constants.in_front(split.front, Integral(expanded, letter)), "expand", say("Multiply out.")
        )
    working.step(
        bracket(split.front, split.constants, split.integrated(), letter), "power-rule", _power_reason(split)
    )
    working.step(
        split.answer(), "substitute-back", say("Put the function back for {letter}.", letter=letter.name)
    )


def _in_letter(split: Split, letter: Symbol) -> Expression:
    """`u^p (1 - u^2)^k`: the single power first, or below the fraction line."""
    power = power_tree(letter, split.power)
    if not split.pairs:
        return power
    bracket_power = _raised(_identity_tree(split, letter), split.pairs)
    return (
        product(power, bracket_power) if split.power > 0 else _over_power(bracket_power, letter, split.power)
    )


def _power_reason(split: Split) -> str:
    if all(t.exponent for t in split.integrated()):
        if len(split.integrated()) == 1:
            return say("Raise the power by one and divide by the new power.")
        return say("Raise each power by one and divide by the new power.")
    if len(split.integrated()) == 1:
        return say("The integral of a reciprocal is the logarithm of the modulus.")
    return say("Raise each power by one and divide by the new power; the reciprocal gives a logarithm.")


def differential_rate(rate: Fraction, unit: Expression, saved: Expression) -> Expression:
    """What stands before dx in du: the rate and the unit times the saved factors."""
    return scaled(rate, saved if unit == ONE else product(unit, saved))


def fact_up_to(fact: Message, rate: Fraction, unit: Expression) -> Message:
    """A fact about a derivative as a sentence, with the remark that it holds only up to a sign or a number.

    Args:
        fact: a sentence without its full stop.
        rate: what the derivative is multiplied by.
        unit: what else it is multiplied by.

    >>> fact_up_to(say("The sine is the derivative of the cosine"), Fraction(-1), ONE)
    'The sine is the derivative of the cosine, up to the sign.'
    """
    if unit != ONE or abs(rate) != 1:
        return say("{fact}, up to a number.", fact=fact)
    return say("{fact}.", fact=fact) if rate == 1 else say("{fact}, up to the sign.", fact=fact)


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
