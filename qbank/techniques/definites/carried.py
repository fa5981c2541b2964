"""The working of an antiderivative with the limits carried through it: they change with the letter, nothing is put back.

    int x/(x^2+1) dx, 0 to 2     let u = x^2 + 1         x = 0 gives u = 1, x = 2 gives u = 5
                                 = 1/2 int_1^5 1/u du    = [1/2 ln u]_1^5
    int x e^x dx, 0 to 1         = [x e^x]_0^1 - int_0^1 e^x dx

Each line was proved for the antiderivative: its derivative is the integrand. Between limits that gives equal values as
long as nothing jumps on the way; so a new letter has to be continuous from limit to limit, and every line is held
against rigorous bounds of the integral when it is written (`chain`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from qbank.maths.covering import defined_between
from qbank.maths.deciding import Enclosure, decide_equal, enclose, exact_value
from qbank.maths.domain import Domain
from qbank.maths.equation import Equation
from qbank.maths.expression import Evaluated, Expression, Integral, Sum, Symbol, rational, sum_of
from qbank.maths.notation import plain
from qbank.maths.number_system import Undefined
from qbank.maths.tidying import tidy
from qbank.maths.verdict import Proved
from qbank.messages import say
from qbank.techniques.definite import pi_over
from qbank.techniques.working import Line, WorkedSolution

__all__ = ["Carried", "Substituted", "carried"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Substituted:
    """A letter with its limits.

    Attributes:
        letter: the letter.
        meaning: what it stands for, in the variable of the integral.
        lower: its value at the lower limit.
        upper: its value at the upper limit; it may be the smaller one.
    """

    letter: Symbol
    meaning: Expression
    lower: Expression
    upper: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """A working with limits in all its lines.

    Attributes:
        lines: the last step holds no integral, only square brackets.
        last: the letter with which it ends: the variable itself, or one that was substituted.
        antiderivative: what stands in the bracket, when it is one.
    """

    lines: tuple[Line, ...]
    last: Substituted
    antiderivative: Expression | None


class _Declined(Exception):  # noqa: N818 - a way out, caught in this module
    """A line that cannot have limits."""


def carried(worked: WorkedSolution, lower: Expression, upper: Expression) -> Carried | None:
    """Carry limits through the working of an antiderivative.

    Args:
        worked: the working.
        lower: the lower limit of the variable, a number or a letter.
        upper: the upper limit.

    Returns:
        None where a line cannot have limits: two letters in one term, an equation between integrals, a substitution
        that is not certain to be continuous.

    >>> from qbank.maths.expression import Integer
    >>> from qbank.techniques.planner import solve
    >>> x = Symbol("x")
    >>> worked = carried(solve(x / (x**2 + 1), x), Integer(0), Integer(2))
    >>> worked.last.upper
    Integer(value=5)
    """
    known = {
        worked.variable: Substituted(
            letter=worked.variable, meaning=worked.variable, lower=lower, upper=upper
        )
    }
    lines: list[Line] = []
    changed: dict[Symbol, Line] = {}
    try:
        for line in worked.lines:
            match line.kind:
                case "let":
                    lines.append(line)
                    changed.update((_let(line, known, worked.variable),))
                case "step":
                    tree = line.statements[0]
                    assert isinstance(tree, Expression)
                    if lines and _is_done(lines) and _letters(tree, known) != _letters_inside(lines, known):
                        break  # the letter is put back: its limits make that needless
                    lines.append(replace(line, statements=(_between(tree, known),)))
                case _:
                    if lines and _is_done(lines):
                        break  # an identity for the way back
                    if any(_has_integral(part) for part in line.statements):
                        return None
                    lines.append(line)
    except _Declined:
        return None
    if not _is_done(lines):
        return None
    last = _last_step(lines)
    inside = last if isinstance(last, Evaluated) else None
    letter = known[worked.variable] if inside is None else known[inside.variable]
    return Carried(
        lines=tuple(_with_changes(lines, changed)),
        last=letter,
        antiderivative=None if inside is None else inside.antiderivative,
    )


def _with_changes(lines: list[Line], changed: dict[Symbol, Line]) -> Iterator[Line]:
    """Each substitution followed by what it makes of the limits, if anything is integrated in its letter."""
    trees = [part for line in lines if line.kind == "step" for part in line.statements]
    used = {
        node.variable
        for tree in trees
        if isinstance(tree, Expression)
        for node in tree.walk()
        if isinstance(node, Integral | Evaluated)
    }
    for line in lines:
        yield line
        first = line.statements[0]
        if line.kind == "let" and isinstance(first, Equation) and first.left in used:
            yield changed[first.left]


def _let(line: Line, known: dict[Symbol, Substituted], variable: Symbol) -> tuple[Symbol, Line]:
    """A letter is substituted: it becomes known, and a line says what it makes of the limits."""
    first = line.statements[0]
    if not isinstance(first, Equation) or not isinstance(first.left, Symbol):
        raise _Declined
    letter, meaning = first.left, first.right
    olds = [known[symbol] for symbol in meaning.symbols() if symbol in known]
    if len(olds) != 1 or meaning.symbols() != {olds[0].letter}:
        raise _Declined
    old = olds[0]
    if line.domain is not None and _reaches_out(known[variable], line.domain):
        raise _Declined
    whole = meaning.substitute({old.letter: old.meaning})
    written = [meaning.substitute({old.letter: end}) for end in (old.lower, old.upper)]
    if not any(place.symbols() for place in written):
        _continuous(whole, variable, known[variable])
    # a limit that is still a letter keeps what it is put into
    low, high = (tidy(place) if place.symbols() else _value(place) for place in written)
    known[letter] = Substituted(letter=letter, meaning=whole, lower=low, upper=high)
    equations = [Equation(place, end) for place, end in zip(written, (low, high), strict=True)]
    verdicts = [decide_equal(one.left, one.right, variable) for one in equations]
    proofs = [verdict.proof for verdict in verdicts if isinstance(verdict, Proved)]
    if len(proofs) < len(equations):
        raise _Declined
    of_limits = Line(
        kind="aside",
        statements=tuple(one for one in equations if one.left != one.right) or tuple(equations[:1]),
        rule="limits-changed",
        reason=say(
            "The limits change with the letter: {old} = {a} gives {new} = {c}, and {old} = {b} gives {new} = {d}.",
            old=old.letter.name,
            new=letter.name,
            a=plain(old.lower),
            b=plain(old.upper),
            c=plain(low),
            d=plain(high),
        ),
        proof=proofs[-1],
    )
    return letter, of_limits


def _reaches_out(between: Substituted, domain: Domain) -> bool:
    """Whether a limit is outside of where a letter is introduced: `x = 3 sec t` for x > 3, and the limit -5."""
    low, high = _bounds(domain.lower), _bounds(domain.upper)
    return any(
        (low is not None and end.upper < low.lower) or (high is not None and end.lower > high.upper)
        for end in map(_bounds, (between.lower, between.upper))
        if end is not None
    )


def _bounds(end: Fraction | Expression | None) -> Enclosure | None:
    return None if end is None else enclose(rational(end) if isinstance(end, Fraction) else end, at={})


def _continuous(meaning: Expression, variable: Symbol, between: Substituted) -> None:
    """That what a letter stands for has a value all the way, at the ends by `_value`."""
    ends = [enclose(end, at={}, digits=30) for end in (between.lower, between.upper)]
    known = [end for end in ends if end is not None]
    if len(known) < len(ends):
        raise _Declined
    low, high = min(known, key=lambda end: end.lower), max(known, key=lambda end: end.lower)
    # at an end itself a root may have the last of its values: a little within is enough
    inwards = (high.lower - low.upper) * Fraction(1, 10**6)
    if inwards < 0 or not defined_between(meaning, variable, low.upper + inwards, high.lower - inwards):
        raise _Declined


def _value(place: Expression) -> Expression:
    try:
        return pi_over(exact_value(place))
    except Undefined:
        raise _Declined from None


def _between(tree: Expression, known: dict[Symbol, Substituted]) -> Expression:
    """A line with limits: integrals get those of their letters, the rest stands in square brackets."""
    done: list[Expression] = []
    found: list[Expression] = []

    def close() -> None:
        if not done:
            return
        body = sum_of(*done)
        letters = _letters(body, known)
        if len(letters) != 1:
            raise _Declined
        with_limits = known[next(iter(letters))]
        found.append(Evaluated(body, with_limits.letter, with_limits.lower, with_limits.upper))
        done.clear()

    for term in tree.terms if isinstance(tree, Sum) else (tree,):
        if _has_integral(term):
            close()
            found.append(_with_limits(term, known))
            continue
        letters = _letters(sum_of(*done, term), known)
        if done and len(letters) > 1:
            close()
        done.append(term)
    close()
    return sum_of(*found)


def _with_limits(term: Expression, known: dict[Symbol, Substituted]) -> Expression:
    if isinstance(term, Integral):
        letter = known.get(term.variable)
        if letter is None or term.lower is not None:
            raise _Declined
        return Integral(term.integrand, term.variable, letter.lower, letter.upper)
    if not _has_integral(term):
        if _letters(term, known):
            raise _Declined
        return term
    return term.rebuild(lambda part: _with_limits(part, known))


def _letters(tree: Expression, known: Iterable[Symbol]) -> frozenset[Symbol]:
    return tree.symbols() & frozenset(known)


def _letters_inside(lines: list[Line], known: Iterable[Symbol]) -> frozenset[Symbol]:
    """The letters in the brackets of the last step."""
    brackets = (node for node in _last_step(lines).walk() if isinstance(node, Evaluated))
    return frozenset().union(*(_letters(node.antiderivative, known) for node in brackets))


def _has_integral(tree: Expression | Equation) -> bool:
    sides = (tree.left, tree.right) if isinstance(tree, Equation) else (tree,)
    return any(isinstance(node, Integral) for side in sides for node in side.walk())


def _last_step(lines: list[Line]) -> Expression:
    tree = next((line.statements[0] for line in reversed(lines) if line.kind == "step"), None)
    if not isinstance(tree, Expression):
        raise _Declined
    return tree


def _is_done(lines: list[Line]) -> bool:
    steps = [line for line in lines if line.kind == "step"]
    return bool(steps) and not _has_integral(_last_step(lines))
