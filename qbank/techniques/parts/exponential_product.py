"""An exponential times a function and its derivative: the product rule, read backwards.

int e^x (1/x - 1/x^2) dx    = int e^x/x dx - int e^x/x^2 dx       the first by parts, u = 1/x
                            = e^x/x + int e^x/x^2 dx - int e^x/x^2 dx = e^x/x
int e^(2x) (2 ln x + 1/x) dx = e^(2x) ln x
"""

from __future__ import annotations

from qbank.maths.constant_factor import ONE, before_integral, in_front, number, over, split_constant, times
from qbank.maths.derivative import arranged, derivative
from qbank.maths.expression import Expression, Integral, Sum, Symbol, product, sum_of
from qbank.messages import say
from qbank.techniques.carrying import multiplied
from qbank.techniques.circular.circular_powers import spare_pair
from qbank.techniques.parts.exponential_split import ExponentialSplit, exponential_split
from qbank.techniques.slips import slips_of
from qbank.techniques.standard.standard_sums import plan_as_written
from qbank.techniques.substituting.canonical import canonical, ordered
from qbank.techniques.technique import Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["TECHNIQUE"]

_IDENTIFIER = "exponential-product"


def _work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    seen = exponential_split(integrand, variable)
    return None if seen is None else _worked(integrand, seen)


def _worked(integrand: Expression, seen: ExponentialSplit) -> WorkedSolution:
    working = Working(_IDENTIFIER, integrand, seen.variable)
    front, x = seen.constant, seen.variable
    parts = Sum((seen.multiple, seen.slope))
    if front != ONE or ordered(parts) != ordered(seen.bracket):
        reason = say("Split what stands beside the exponential into a function and its derivative.")
        if seen.rate != ONE:
            reason = say(
                "Split what stands beside the exponential: a function times the slope of the exponent, and its derivative."
            )
        split = before_integral(front, Integral(product(seen.exponential, parts), x))
        working.step(split, "split-bracket", reason)
    rate = derivative(seen.function, x)
    if canonical(ordered(rate), x) != canonical(ordered(seen.slope), x):
        said = say("This is the derivative of the function, simplified.")
        working.aside(rate, seen.slope, "derivative", said)
    first, second = _integral(seen, seen.multiple), _integral(seen, seen.slope)
    working.step(
        multiplied(front, sum_of(first, second)),
        "sum-rule",
        say("Take the two parts by themselves."),
    )
    u, v = spare_pair(sum_of(integrand, x))
    said = say("By parts in the first integral; the second one waits.")
    working.let(u, seen.function, seen.slope, said)
    working.let(v, seen.exponential, in_front(seen.rate, seen.exponential), say("The rest is integrated."))
    answer = _beside(seen, seen.function)
    working.step(
        multiplied(front, sum_of(answer, multiplied(number(-1), second), second)),
        "by-parts",
        say("The integral that is left is the second one with the other sign."),
    )
    working.step(multiplied(front, answer), "collect", say("The two integrals cancel."))
    return working.finish()


def _beside(seen: ExponentialSplit, tree: Expression) -> Expression:
    """Something times the exponential; a sum stays in its bracket."""
    if isinstance(tree, Sum):
        return product(seen.exponential, tree)
    return arranged(product(tree, seen.exponential), seen.variable)


def _integral(seen: ExponentialSplit, tree: Expression) -> Expression:
    constant, moving = split_constant(tree, seen.variable)
    return before_integral(constant, Integral(_beside(seen, moving.tree()), seen.variable))


# What students write (common practice: from the marking of scripts, not from a published table).


def _bracket_kept(seen: ExponentialSplit) -> Expression:
    """The exponential is integrated and the bracket left as it is."""
    return multiplied(times(seen.constant, over(seen.rate)), _beside(seen, seen.bracket))


def _other_part(seen: ExponentialSplit) -> Expression:
    """The derivative is taken for the function."""
    return multiplied(seen.constant, _beside(seen, seen.slope))


def _separately(seen: ExponentialSplit) -> Expression | None:
    plan = plan_as_written(sum_of(seen.multiple, seen.slope), seen.variable)
    if plan is None:
        return None
    return multiplied(times(seen.constant, over(seen.rate)), _beside(seen, plan.answer()))


def _divided_again(seen: ExponentialSplit) -> Expression | None:
    """The slope of the exponent is divided by once more."""
    if seen.rate == ONE:
        return None
    return multiplied(times(seen.constant, over(seen.rate)), _beside(seen, seen.function))


def _multiple_kept(seen: ExponentialSplit) -> Expression | None:
    """The multiple is taken for the function; where that is minus the function, the other slip says it."""
    return None if seen.rate in (ONE, number(-1)) else multiplied(seen.constant, _beside(seen, seen.multiple))


_slip = slips_of("exponential-product", exponential_split)

TECHNIQUE = Technique(
    identifier=_IDENTIFIER,
    title="An exponential times a function and its derivative",
    work=_work,
    slips=(
        _slip(
            "bracket-kept",
            say(
                "What stands beside the exponential is no constant: differentiate your answer by the product rule."
            ),
            _bracket_kept,
        ),
        _slip(
            "derivative-for-function",
            say("The function itself stays beside the exponential in the answer, not its derivative."),
            _other_part,
        ),
        _slip(
            "factors-integrated-separately",
            say("The integral of a product is not the product of the integrals."),
            _separately,
        ),
        _slip(
            "slope-divided-again",
            say(
                "The slope of the exponent stands in the bracket already; it must not be divided by once more."
            ),
            _divided_again,
        ),
        _slip(
            "slope-left-in-function",
            say(
                "The slope of the exponent in the bracket comes from the product rule: it is no part of the function."
            ),
            _multiple_kept,
        ),
    ),
)
