"""Does each line of a working follow from the line before? Decided line by line, whoever wrote the working.

A line of the chain has to be equal, up to a constant, to the line of the chain before it: so one wrong line is refuted,
and the lines after it, which go on from what stands there, are proved. Substitutions and identities stand for themselves.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from qbank.maths.clock import PATIENT
from qbank.maths.deciding import decide_equal, decide_same_up_to_constant
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Expression, Integral, Symbol, as_fraction
from qbank.maths.verdict import Proved, Unsettled, Verdict
from qbank.techniques.indexed_integral import IndexedIntegral, defined_by

__all__ = ["Written", "follow", "follows", "meanings", "numbers_named"]


class Written(Protocol):
    """A line: what kind it is, as `techniques.working` tells kinds apart, and its mathematics."""

    @property
    def kind(self) -> str:
        """The kind."""
        ...

    @property
    def statements(self) -> tuple[Statement, ...]:
        """The mathematics."""
        ...


def follow(
    lines: Sequence[Written], integral: Integral, named: Mapping[Symbol, Expression] | None = None
) -> tuple[Verdict, ...]:
    """Whether each line follows.

    Args:
        lines: the working below the integral.
        integral: what it starts from.
        named: letters that stand for numbers; those that the lines find when left out.

    >>> from qbank.techniques.planner import solve
    >>> x = Symbol("x")
    >>> solution = solve(x * (x**2 + 1) ** 3, x)
    >>> {type(one).__name__ for one in follow(solution.lines, Integral(solution.integrand, x))}
    {'Proved'}
    """
    course = _Course(integral, numbers_named(lines) if named is None else named)
    found = []
    for line in lines:
        found.append(course.decide(line))
        course.go_on(line)
    return tuple(found)


def follows(
    line: Written, before: Sequence[Written], integral: Integral, named: Mapping[Symbol, Expression]
) -> Verdict:
    """Whether one line follows from the lines before it, which are not looked at again.

    Args:
        line: the line.
        before: the lines before it.
        integral: what the working starts from.
        named: letters that stand for numbers.
    """
    course = _Course(integral, named)
    for one in before:
        course.go_on(one)
    return course.decide(line)


def meanings(
    lines: Sequence[Written], integral: Integral, named: Mapping[Symbol, Expression]
) -> Mapping[Symbol, Expression]:
    """What letters stand for after some lines.

    Args:
        lines: the lines.
        integral: what the working starts from.
        named: letters that stand for numbers.
    """
    course = _Course(integral, named)
    for one in lines:
        course.go_on(one)
    return course.bindings


class _Course:
    """How far a working has come: the last line of the chain, and what letters stand for."""

    def __init__(self, integral: Integral, named: Mapping[Symbol, Expression]) -> None:
        self._variable = integral.variable
        self.bindings = dict(named)
        self._called: dict[str, IndexedIntegral] = {}
        self._last: Expression = integral

    def go_on(self, line: Written) -> None:
        match line.kind, line.statements:
            case "step", (Expression() as step,):
                self._last = step
            case _ if (called := self._definition(line)) is not None:
                self._called[called.letter] = called
            case "let", (Equation(Symbol() as letter, meaning), *_):
                self.bindings[letter] = meaning.substitute(self.bindings)
            case _:
                pass

    def decide(self, line: Written) -> Verdict:
        match line.kind, line.statements:
            case "step", (Expression() as step,):
                before, after = self._written_out(self._last), self._written_out(step)
                return decide_same_up_to_constant(
                    after, before, self._variable, bindings=self.bindings, budget=PATIENT
                )
            case _ if (called := self._definition(line)) is not None:
                definition = Equation(called.put_in(called.symbol), called.integral)
                return _equations((definition,), self._variable, self.bindings)
            case "let", (Equation(Symbol() as letter, meaning), *others):
                bindings = {**self.bindings, letter: meaning.substitute(self.bindings)}
                return _equations(others, self._variable, bindings)
            case "aside", equations:
                written = tuple(
                    Equation(self._written_out(one.left), self._written_out(one.right))
                    if isinstance(one, Equation)
                    else one
                    for one in equations
                )
                return _equations(written, self._variable, self.bindings)
            case _:
                return Unsettled(reason="a line of another kind")

    def _definition(self, line: Written) -> IndexedIntegral | None:
        """What a line defines that no line before it has: later ones of that form are equations."""
        called = defined_by(line.statements)
        anew = called is not None and (line.kind == "let" or called.letter not in self._called)
        return called if anew else None

    def _written_out(self, tree: Expression) -> Expression:
        for called in self._called.values():
            tree = called.put_in(tree)
        return tree


def numbers_named(lines: Sequence[Written]) -> dict[Symbol, Expression]:
    """The letters that stand for numbers, each with the number that a line finds for it."""
    return {
        statement.left: statement.right
        for line in lines
        if line.kind == "aside"
        for statement in line.statements
        if isinstance(statement, Equation)
        and isinstance(statement.left, Symbol)
        and as_fraction(statement.right) is not None
    }


def _equations(
    equations: Sequence[Statement], variable: Symbol, bindings: Mapping[Symbol, Expression]
) -> Verdict:
    """The first equation that is not proved, else the last; equations of integrals hold up to a constant."""
    verdict: Verdict = Unsettled(reason="a line without an equation")
    for one in equations:
        if not isinstance(one, Equation):
            return Unsettled(reason="a line without an equation")
        integrals = one.left.holds(Integral)
        decide = decide_same_up_to_constant if integrals else decide_equal
        verdict = decide(one.left, one.right, variable, bindings=bindings, budget=PATIENT)
        if not isinstance(verdict, Proved):
            return verdict
    return verdict
