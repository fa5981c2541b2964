"""From square brackets, and limits of them, to the exact value: the last lines of every way.

    2 [x^3/3]_0^3  ->  2(3^3/3 - 0^3/3)  ->  18              lim [-e^(-x)]_0^b  ->  lim (1 - e^(-b))  ->  1

Brackets are proved by equality. A limit is decided exactly (`qbank.maths.limiting`) and put in; then equality again.
"""

from __future__ import annotations

from collections.abc import Iterator

from qbank.maths.exact_values import exact_value
from qbank.maths.expression import Apply, Evaluated, Expression, Limit, Negate, Power, Sum, Symbol
from qbank.maths.limiting import INFINITE, NoLimit, limit_at
from qbank.maths.notation import plain
from qbank.maths.number_system import Undefined
from qbank.maths.tidying import split_coefficient, tidy
from qbank.maths.verdict import Proof
from qbank.messages import Message, say
from qbank.techniques.definite import DefiniteRefused, at_limits, pi_over, proved_equal
from qbank.techniques.particular import worked_out
from qbank.techniques.working import Line

__all__ = ["number_lines", "without_brackets", "without_limits"]

_NO_LETTER = Symbol("")


def number_lines(total: Expression) -> Iterator[Line]:
    """The lines after an expression of square brackets and numbers, the last with the exact value.

    Args:
        total: what was found; a bracket may stand inside a limit.

    Raises:
        DefiniteRefused: a bracket or a limit has no value, or equality was not proved within the time.
    """
    known, decided = without_limits(total)
    value = _closed(without_brackets(known))
    written = without_brackets(total)
    tidied = pi_over(_tidied(written))
    last = total
    for line, rule, reason in (
        (written, "limits", say("Put in the upper limit, then subtract the value at the lower limit.")),
        (tidied, "tidy", say("Work out the numbers.")),
        (
            value,
            "exact-value" if decided is None else "limit",
            say("Write the exact value.") if decided is None else _told(tidied),
        ),
    ):
        if line == last:
            continue
        # a line with a limit in it says the same as the brackets do; what the limit is, is decided by itself
        proof = proved_equal(without_limits(line)[0], known, _NO_LETTER)
        yield Line(kind="step", statements=(line,), rule=rule, reason=reason, proof=proof)
        last = line


def _told(tree: Expression) -> Message:
    """What tends to what, for one moving term or two; more would be no sentence."""
    limits = [node for node in tree.walk() if isinstance(node, Limit)]
    moving = [(limit, body) for limit in limits for body in _moving(limit.body, limit.variable)]
    try:
        values = [limit_at(body, limit.variable, limit.to, limit.side).value for limit, body in moving]
    except NoLimit:
        values = []
    if not values or len(values) > 2 or any(value in INFINITE for value in values):
        return say("Take the limit.")
    if len(values) == 1:
        return say("{one} tends to {its_limit}.", one=plain(moving[0][1]), its_limit=plain(values[0]))
    return say(
        "{one} tends to {its_limit}, and {other} tends to {limit_of_other}.",
        one=plain(moving[0][1]),
        its_limit=plain(values[0]),
        other=plain(moving[1][1]),
        limit_of_other=plain(values[1]),
    )


def _moving(tree: Expression, letter: Symbol) -> Iterator[Expression]:
    """The terms with a letter in them, without the numbers in front."""
    if letter not in tree.symbols():
        return
    if isinstance(tree, Sum):
        for term in tree.terms:
            yield from _moving(term, letter)
        return
    _, body = split_coefficient(tree)
    if body == tree:
        yield tree
    else:
        yield from _moving(body, letter)


def _closed(constant: Expression) -> Expression:
    """The exact value; with functions of plain radians only where that is short and has no powers of them."""
    plain = worked_out(constant)
    try:
        closed = exact_value(constant)
    except Undefined:
        raise DefiniteRefused("the antiderivative has no value at a limit") from None
    powers = any(isinstance(node, Power) and isinstance(node.base, Apply) for node in closed.walk())
    shorter = sum(1 for _ in closed.walk()) < sum(1 for _ in plain.walk())
    return closed if shorter and not powers else plain


def without_brackets(tree: Expression) -> Expression:
    """Every bracket with limits written as a difference."""
    tree = tree.rebuild(without_brackets)
    if isinstance(tree, Evaluated):
        return at_limits(tree.antiderivative, tree.variable, tree.lower, tree.upper)
    return tree


def without_limits(tree: Expression) -> tuple[Expression, Proof | None]:
    """Every limit replaced by its value, and the proof of the last of them; None where there is none.

    Raises:
        DefiniteRefused: a limit is infinite or was not decided.
    """
    proofs: list[Proof] = []

    def decided(node: Expression) -> Expression:
        if not isinstance(node, Limit):
            return node.rebuild(decided)
        try:
            found = limit_at(without_brackets(node.body), node.variable, node.to, node.side)
        except NoLimit as reason:
            raise DefiniteRefused("the limit could not be decided") from reason
        if found.value in INFINITE:
            raise DefiniteRefused("the limit is infinite")
        proofs.append(found.proof)
        return found.value

    changed = decided(tree)
    return changed, proofs[-1] if proofs else None


def _signs_out(tree: Expression) -> Expression:
    """Sines and cosines of negative numbers by those of positive ones."""
    tree = tree.rebuild(_signs_out)
    match tree:
        case Apply("cos", Negate(inner)):
            return Apply("cos", inner)
        case Apply("sin" | "tan" as name, Negate(inner)):
            return Negate(Apply(name, inner))
        case _:
            return tree


def _tidied(tree: Expression) -> Expression:
    """The numbers of an expression worked out; a limit keeps its place."""
    if isinstance(tree, Limit):
        return Limit(pi_over(tidy(tree.body)), tree.variable, tree.to, tree.side)
    if tree.holds(Limit):
        return tree.rebuild(_tidied)
    return tidy(_signs_out(tidy(tree)))
