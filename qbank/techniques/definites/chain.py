"""A definite integral at work: rigorous bounds first, then lines, each held against the bounds as it is written.

    Chain(integral)           bounds by quadrature, which knows nothing of what follows
        .step(line, proof)    "= line": its own value, integrals and all, has to meet the bounds
        .note(...)            an equation or a substitution beside the chain
        .add(lines)           an antiderivative worked by itself
        .take(lines, place)   lines of another chain, each with something round it
        .finish(...)          the numbers, the exact value inside the bounds -> WorkedValue

A line has two safeguards that know nothing of each other: the proof that its way gives, and the bounds. A jump of an
antiderivative, or a substitution that runs out of its domain, may pass the first; it cannot pass the second.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache

from qbank.maths.enclosing import enclose
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Expression, Integral, Limit, Negate, Product, Sum, fraction
from qbank.maths.quadrature import Enclosure, Refused, integrate_rigorously
from qbank.maths.verdict import Proof
from qbank.messages import Message
from qbank.techniques.definite import DefiniteRefused
from qbank.techniques.definites.numbers import number_lines, without_brackets
from qbank.techniques.definites.way import Place, WorkedValue, Wrong, as_it_is
from qbank.techniques.working import Line, LineKind

__all__ = ["Chain", "enclosure_of", "steps_of"]

_DIGITS = 40


@lru_cache(maxsize=512)
def enclosure_of(integral: Integral) -> Enclosure:
    """Rigorous bounds of a definite integral; several ways ask for the same one."""
    assert integral.lower is not None
    assert integral.upper is not None
    return integrate_rigorously(integral.integrand, integral.variable, integral.lower, integral.upper)


class Chain:
    """The lines of one way, as they are written.

    Args:
        way: identifier of the way.
        integral: what is asked; it has limits.

    Raises:
        DefiniteRefused: quadrature refuses the integral: it diverges, or has letters without a value.
    """

    def __init__(self, way: str, integral: Integral) -> None:
        found = enclosure_of(integral)
        if isinstance(found, Refused):
            raise DefiniteRefused(found.reason)
        self.enclosure = found
        self._way = way
        self._integral = integral
        self._lines: list[Line] = []
        self._last: Expression = integral

    def step(self, line: Expression, rule: str, reason: Message | str, proof: Proof) -> None:
        """Add "= line".

        Raises:
            DefiniteRefused: the value of the line is not that of the integral.
        """
        bounds = _bounds(line)
        if bounds is not None and (bounds[1] < self.enclosure.lower or bounds[0] > self.enclosure.upper):
            raise DefiniteRefused(
                "a line and quadrature disagree: there is a jump or a pole between the limits"
            )
        self._lines.append(Line(kind="step", statements=(line,), rule=rule, reason=reason, proof=proof))
        self._last = line

    def note(
        self, kind: LineKind, *statements: Statement, rule: str, reason: Message | str, proof: Proof
    ) -> None:
        """Add what stands beside the chain, or begins it anew."""
        self._lines.append(Line(kind=kind, statements=statements, rule=rule, reason=reason, proof=proof))

    def add(self, lines: Iterable[Line]) -> None:
        """Add lines that are no values of the integral: an antiderivative worked by itself."""
        self._lines.extend(lines)

    def take(self, lines: Iterable[Line], place: Place = as_it_is) -> None:
        """Add the lines of another chain, each step with something round it."""
        for line in lines:
            match line.kind, line.statements:
                case "step", (Expression() as tree,):
                    self.step(place(tree), line.rule, line.reason, line.proof)
                case _:
                    self._lines.append(line)

    def numbers(self) -> Expression:
        """Write the numbers of the last line, down to the exact value, which is given back."""
        value = self._last
        for line in number_lines(self._last):
            tree = line.statements[0]
            assert isinstance(tree, Expression)
            self.step(tree, line.rule, line.reason, line.proof)
            value = tree
        return value

    def finish(
        self,
        value: Expression,
        wrong: Iterable[Wrong] = (),
        pairs: Iterable[tuple[Wrong, Wrong]] = (),
    ) -> WorkedValue:
        """The worked value.

        Raises:
            DefiniteRefused: the value is not inside the bounds.
        """
        bounds = enclose(value, at={}, digits=_DIGITS)
        if bounds is None or bounds.upper < self.enclosure.lower or bounds.lower > self.enclosure.upper:
            raise DefiniteRefused("the value and quadrature disagree")
        return WorkedValue(
            way=self._way,
            integral=self._integral,
            lines=tuple(self._lines),
            value=value,
            enclosure=self.enclosure,
            proof=self._lines[-1].proof,
            wrong=tuple(wrong),
            pairs=tuple(pairs),
        )


def steps_of(lines: Iterable[Line]) -> list[Expression]:
    """The expressions of a chain, without what stands beside it."""
    trees = (line.statements[0] for line in lines if line.kind == "step")
    return [tree for tree in trees if not isinstance(tree, Equation)]


def _bounds(tree: Expression) -> tuple[Fraction, Fraction] | None:
    """Rigorous bounds of a line; None where they are not to be had, as of a limit."""
    match tree:
        case Limit():
            return None
        case Integral():
            found = enclosure_of(tree)
            return None if isinstance(found, Refused) else (found.lower, found.upper)
        case Sum(terms):
            parts = [_bounds(term) for term in terms]
            known = [part for part in parts if part is not None]
            if len(known) < len(parts):
                return None
            return sum((low for low, _ in known), fraction(0, 1)), sum(
                (high for _, high in known), fraction(0, 1)
            )
        case Negate(operand):
            inner = _bounds(operand)
            return None if inner is None else (-inner[1], -inner[0])
        case Product(factors) if tree.holds(Integral):
            return _product([_bounds(factor) for factor in factors])
        case _ if tree.holds(Integral, Limit):
            return None
        case _:
            value = enclose(without_brackets(tree), at={}, digits=_DIGITS)
            return None if value is None else (value.lower, value.upper)


def _product(parts: list[tuple[Fraction, Fraction] | None]) -> tuple[Fraction, Fraction] | None:
    low, high = fraction(1, 1), fraction(1, 1)
    for part in parts:
        if part is None:
            return None
        corners = [one * other for one in (low, high) for other in part]
        low, high = min(corners), max(corners)
    return low, high
