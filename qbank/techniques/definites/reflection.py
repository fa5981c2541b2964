"""The reflection x -> a + b - x: the integral with itself written backwards, added.

    I = int_a^b f(x) dx = int_a^b f(a + b - x) dx,   2I = int_a^b (f(x) + f(a + b - x)) dx

It helps where the sum is simpler than the integrand: a number, as with sin^n/(sin^n + cos^n) from 0 to pi/2 or with
f(x)/(f(x) + f(a - x)); nothing; or the integrand without its factor x, as with x sin x/(1 + cos^2 x) from 0 to pi, or without
such a weight as 1/(1 + e^x) between -a and a.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from qbank.maths.deciding import decide_equal, exact_value
from qbank.maths.domain import Domain
from qbank.maths.equation import Equation
from qbank.maths.expression import (
    INFINITY,
    Apply,
    Expression,
    Integer,
    Integral,
    Negate,
    Power,
    Product,
    Quotient,
    Sum,
    Symbol,
    difference,
    fraction,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.notation import plain
from qbank.maths.number_system import Undefined
from qbank.maths.polynomial import as_polynomial
from qbank.maths.verdict import Proof, Proved
from qbank.messages import say
from qbank.techniques.definite import pi_over
from qbank.techniques.definites.chain import Chain
from qbank.techniques.definites.leaf import ends, leaves
from qbank.techniques.definites.mirror import Mirror, linear
from qbank.techniques.definites.opened import go_on
from qbank.techniques.definites.reflection_slips import SLIPS, TURNED_ROUND, reflection_wrongs
from qbank.techniques.definites.way import Way, WorkedValue
from qbank.techniques.working import Line

__all__ = ["HIGH_POWER", "REFLECTION", "bracket_power"]

_IDENTIFIER = "reflection"
_NAME = Symbol("I")
_NOUGHT = Integer(0)
#: a bracket to this power is worth a reflection rather than multiplying out
HIGH_POWER = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sum:
    """What the integrand and its reflection add up to: a number times an integrand.

    Attributes:
        factor: the number.
        left: what is still to be integrated; None for nothing but the number.
        proof: that the two add up to it.
    """

    factor: Expression
    left: Expression | None
    proof: Proof


def _work(integral: Integral) -> WorkedValue | None:
    lower, upper = ends(integral)
    f, variable = integral.integrand, integral.variable
    if (
        lower.symbols() | upper.symbols()
        or INFINITY in (*lower.walk(), *upper.walk())
        or _NAME in f.symbols()
    ):
        return None
    polynomial = as_polynomial(f, variable) is not None and bracket_power(f) < HIGH_POWER
    if variable not in f.symbols() or polynomial:
        return None
    total = pi_over(exact_value(sum_of(lower, upper)))
    mirrored = Mirror(variable, total).of(f)
    between = Domain(lower=lower, upper=upper)
    backwards = decide_equal(
        mirrored, f.substitute({variable: difference(total, variable)}), variable, domain=between
    )
    if not isinstance(backwards, Proved):
        return None
    found = (
        _constant(integral, mirrored)
        or _without_linear_factor(integral, mirrored, total)
        or _without_weight(integral, mirrored, total)
    )
    if found is None:
        return _backwards(integral, mirrored, total, backwards.proof)
    chain = Chain(_IDENTIFIER, integral)
    chain.note(
        "statement",
        Equation(_NAME, Integral(mirrored, variable, lower, upper)),
        rule="reflection",
        reason=say(
            "Call the integral I. Replacing {x} by {mirror} runs through the interval backwards and leaves I as it is.",
            x=variable.name,
            mirror=plain(Negate(variable) if total == _NOUGHT else difference(total, variable)),
        ),
        proof=backwards.proof,
    )
    doubled = _twice(chain, integral, found)
    if doubled is None:
        return None
    value = pi_over(exact_value(doubled / 2))
    half = decide_equal(product(Integer(2), value), doubled, variable)
    if not isinstance(half, Proved):
        return None
    chain.note("statement", Equation(_NAME, value), rule="halved", reason=say("Halve it."), proof=half.proof)
    return chain.finish(value, reflection_wrongs(integral, found.factor, value, constant=found.left is None))


def _backwards(
    integral: Integral, mirrored: Expression, total: Expression, proof: Proof
) -> WorkedValue | None:
    """The reflected integral is simpler: x(1 - x)^99 from 0 to 1 becomes (1 - x) x^99."""
    powers = bracket_power(mirrored) < bracket_power(integral.integrand) >= HIGH_POWER
    if not powers and next(leaves(integral), None) is not None:
        return None
    lower, upper = ends(integral)
    other = Integral(mirrored, integral.variable, lower, upper)
    if next(leaves(other), None) is None:
        return None

    def begin() -> Chain:
        chain = Chain(_IDENTIFIER, integral)
        reason = say(
            "Replace {x} by {mirror}: that runs through the interval backwards, and the powers change places.",
            x=integral.variable.name,
            mirror=plain(difference(total, integral.variable)),
        )
        chain.step(other, "reflection", reason, proof)
        return chain

    gone_on = go_on(begin, other)
    if gone_on is None:
        return None
    chain, onward, value = gone_on
    return chain.finish(value, (TURNED_ROUND.leads_to(lambda: Negate(value)), *onward.wrongs()))


def bracket_power(tree: Expression) -> int:
    """The highest whole power of a sum in a tree, 1 where there is none.

    >>> bracket_power(Symbol("x") * (1 - Symbol("x")) ** 5)
    5
    """
    powers = (node.exponent for node in tree.walk() if isinstance(node, Power) and isinstance(node.base, Sum))
    return max((power.value for power in powers if isinstance(power, Integer)), default=1)


def _twice(chain: Chain, integral: Integral, found: _Sum) -> Expression | None:
    """Write twice the integral, down to its value."""
    lower, upper = ends(integral)
    twice = product(Integer(2), _NAME)
    reason = say("Add the two forms of I and simplify the sum.")
    if found.left is None:
        whole = Integral(found.factor, integral.variable, lower, upper)
        chain.note("statement", Equation(twice, whole), rule="added", reason=reason, proof=found.proof)
        value = pi_over(exact_value(product(found.factor, difference(upper, lower))))
        verdict = decide_equal(value, product(found.factor, difference(upper, lower)), integral.variable)
        if not isinstance(verdict, Proved):
            return None
        told = (
            say("Nothing is left.")
            if value == _NOUGHT
            else say("The sum is constant: multiply it by the length of the interval.")
        )
        line = Line(kind="step", statements=(value,), rule="constant", reason=told, proof=verdict.proof)
        chain.add((line,))
        return value
    left = Integral(found.left, integral.variable, lower, upper)

    def place(tree: Expression) -> Expression:
        if isinstance(tree, Negate):
            return Negate(place(tree.operand))
        return tree if found.factor == Integer(1) else product(found.factor, tree)

    whole = Integral(product(found.factor, found.left), integral.variable, lower, upper)
    gone_on = go_on(lambda: Chain(_IDENTIFIER, whole), left, place)
    if gone_on is None:
        return None
    inner, _, value = gone_on
    chain.note("statement", Equation(twice, place(left)), rule="added", reason=reason, proof=found.proof)
    chain.add(inner.finish(value).lines)
    return value


def _constant(integral: Integral, mirrored: Expression) -> _Sum | None:
    """The sum is a number: its value at an end or in the middle, and proved everywhere."""
    lower, upper = ends(integral)
    summed, between = sum_of(integral.integrand, mirrored), Domain(lower=lower, upper=upper)
    for place in (lower, (lower + upper) / 2):
        try:
            value = exact_value(summed.substitute({integral.variable: place}))
        except Undefined:
            continue
        for left, right in (_in_letters(summed, value), (summed, value)):
            # letters are no functions on the interval
            domain = between if left is summed else None
            verdict = decide_equal(left, right, integral.variable, domain=domain)
            if isinstance(verdict, Proved) and not verdict.undefined_at:
                return _Sum(factor=value, left=None, proof=verdict.proof)
    return None


def _in_letters(summed: Expression, value: Expression) -> tuple[Expression, Expression]:
    """Circular functions of one angle in two letters, so that high powers of them stay short."""
    sine, cosine = Symbol("s"), Symbol("c")
    forms = {
        "sin": sine,
        "cos": cosine,
        "tan": sine / cosine,
        "cot": cosine / sine,
        "sec": 1 / cosine,
        "cosec": 1 / sine,
    }

    def change(node: Expression) -> Expression:
        if isinstance(node, Apply) and node.function in forms:
            return forms[node.function]
        return node.rebuild(change)

    angles = {node.argument for node in summed.walk() if isinstance(node, Apply) and node.function in forms}
    return (change(summed), value) if len(angles) == 1 else (summed, value)


def _without_linear_factor(integral: Integral, mirrored: Expression, total: Expression) -> _Sum | None:
    """`x h(x)` where h is the same backwards: the sum is `(a + b) h(x)`."""
    found = _linear_factor(integral.integrand, integral.variable)
    if found is None:
        return None
    slope, shift, rest = found
    factor = exact_value(sum_of(product(slope, total), shift, shift))
    return _proved(integral, mirrored, factor, rest)


def _proved(integral: Integral, mirrored: Expression, factor: Expression, left: Expression) -> _Sum | None:
    """That a number times what is left is the sum, proved between the limits; nothing is left of 0 times it."""
    lower, upper = ends(integral)
    summed = sum_of(integral.integrand, mirrored)
    between = Domain(lower=lower, upper=upper)
    verdict = decide_equal(product(factor, left), summed, integral.variable, domain=between)
    if not isinstance(verdict, Proved) or verdict.undefined_at:
        return None
    return _Sum(factor=factor, left=None if factor == _NOUGHT else left, proof=verdict.proof)


def _without_weight(integral: Integral, mirrored: Expression, total: Expression) -> _Sum | None:
    """`h(x) w(x)` where h is the same backwards and w and its reflection add up to a number: `x^2/(1 + e^x)` from -1 to 1."""
    variable, (lower, upper) = integral.variable, ends(integral)
    mirror, seen = Mirror(variable, total), factored(integral.integrand)
    same = tuple(
        (base, n) for base, n in seen.powers if variable in base.symbols() and _is_same(mirror, base, n)
    )
    left = Factored(coefficient=fraction(1, 1), powers=same).tree()
    weight = seen.without(*(base for base, _ in same)).tree()
    if not same or variable not in weight.symbols():
        return None
    try:
        # anywhere: if the sum is a number, it is this one
        factor = exact_value(sum_of(weight, mirror.of(weight)).substitute({variable: (lower + upper) / 2}))
    except Undefined:
        return None
    return None if factor == _NOUGHT else _proved(integral, mirrored, factor, left)


def _is_same(mirror: Mirror, base: Expression, n: Fraction) -> bool:
    """Whether a power of something is the same backwards; an even power of what changes its sign is."""
    backwards = mirror.of(base)
    meant = (base, Negate(base)) if n.numerator % 2 == 0 else (base,)
    return any(isinstance(decide_equal(backwards, tree, mirror.variable), Proved) for tree in meant)


def _linear_factor(tree: Expression, variable: Symbol) -> tuple[Expression, Expression, Expression] | None:
    """Slope and shift of the first linear factor of a product or numerator, and the tree without it."""
    match tree:
        case Quotient(top, bottom):
            found = _linear_factor(top, variable)
            if found is None:
                line = linear(top, variable)
                return None if line is None else (*line, Quotient(Integer(1), bottom))
            return (*found[:2], Quotient(found[2], bottom))
        case Product(factors):
            for place, factor in enumerate(factors):
                line = linear(factor, variable)
                if line is not None and line[0] != _NOUGHT:
                    return (*line, product(*factors[:place], *factors[place + 1 :]))
            return None
        case _:
            return None


REFLECTION = Way(
    identifier=_IDENTIFIER,
    title=say("The integral reflected and added to itself"),
    work=_work,
    slips=SLIPS,
)
