"""Repeated integration by parts set out as a table: one column is differentiated down to 0, the other integrated.

    int x^2 e^(2x) dx       +   x^2   e^(2x)
                            -   2x    1/2 e^(2x)
                            +   2     1/4 e^(2x)
                            -   0     1/8 e^(2x)

    = x^2 * 1/2 e^(2x) - 2x * 1/4 e^(2x) + 2 * 1/8 e^(2x)       each derivative times the integral one row below

This is another way of writing what `by_parts` does for a polynomial beside an exponential, a circular or a hyperbolic
function. Each row is proved to follow from the one above it, and each line to be an antiderivative.

Common practice: the layout is taught under several names; its rule of signs is that of parts applied again and again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from qbank.maths.constant_factor import before_integral, in_front, split_constant, times
from qbank.maths.deciding import decide_antiderivative
from qbank.maths.derivative import derivative
from qbank.maths.expression import Expression, Integer, Integral, Negate, Product, Sum, Symbol, sum_of
from qbank.maths.factors import factored
from qbank.maths.tidying import tidy
from qbank.maths.verdict import Proof, Proved
from qbank.messages import say
from qbank.techniques.carrying import multiplied
from qbank.techniques.parts.by_parts import exponentials_above
from qbank.techniques.parts.parts_choice import choose
from qbank.techniques.parts.parts_tidying import tidied_up
from qbank.techniques.standard.standard_sums import plan_as_written
from qbank.techniques.working import UnprovedLineError, WorkedSolution, Working

__all__ = ["PartsTable", "TableRow", "parts_table"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TableRow:
    """One row.

    Attributes:
        minus: whether the sign before its product is a minus.
        derivative: in the column that is differentiated.
        integral: in the column that is integrated.
        proofs: that both follow from the row above; none for the first row, which is the integrand.
    """

    minus: bool
    derivative: Expression
    integral: Expression
    proofs: tuple[Proof, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsTable:
    """A table, and the lines around it.

    Attributes:
        rows: the first is the integrand, the last has the derivative 0.
        before: how many lines stand before the table.
        solution: the lines, proved.
    """

    rows: tuple[TableRow, ...]
    before: int
    solution: WorkedSolution


def parts_table(integrand: Expression, variable: Symbol) -> PartsTable | None:
    """The table of an integrand, or None where no polynomial is differentiated down to 0.

    Args:
        integrand: what to integrate.
        variable: with respect to what.

    >>> from qbank.maths.expression import exp
    >>> x = Symbol("x")
    >>> [row.derivative for row in parts_table(x**2 * exp(x), x).rows[-2:]]
    [Integer(value=2), Integer(value=0)]
    """
    constant, moving = split_constant(integrand, variable)
    core = exponentials_above(moving).tree()
    choice = choose(core, variable)
    if not constant.coefficient or choice is None or choice.kind != "polynomial" or isinstance(choice.v, Sum):
        return None
    rows = tuple(_rows(choice.u, choice.dv, variable))
    if rows[-1].derivative != Integer(0):
        return None
    working = Working("by-parts", integrand, variable)
    before = 0 if core == integrand else 1
    if before:
        said = say("Write it with any constant in front and no exponential below the line.")
        working.step(before_integral(constant, Integral(core, variable)), "rewrite", said)
    pairs = [(row, below.integral) for row, below in pairwise(rows)]
    said = say("Multiply each derivative by the integral one row below it, with the sign of its row.")
    read_off = sum_of(*(_written(row, factor) for row, factor in pairs))
    working.step(in_front(constant, read_off), "by-parts", said)
    terms = (_signed(row, times(factored(row.derivative), factored(factor)).tree()) for row, factor in pairs)
    answer = multiplied(constant, tidied_up(sum_of(*map(tidy, terms)), core, variable))
    if not working.stands(answer):
        working.step(answer, "collect", say("Multiply out and collect."))
    return PartsTable(rows=rows, before=before, solution=working.finish())


def _rows(u: Expression, dv: Expression, variable: Symbol) -> Iterator[TableRow]:
    """The rows down to the derivative 0, or as far as the integrals are standard forms."""
    row = TableRow(minus=False, derivative=u, integral=dv, proofs=())
    yield row
    while row.derivative != Integer(0):
        plan = plan_as_written(row.integral, variable)
        if plan is None:
            return
        down, across = derivative(row.derivative, variable), plan.answer()
        proofs = (_proved(row.derivative, down, variable), _proved(across, row.integral, variable))
        row = TableRow(minus=not row.minus, derivative=down, integral=across, proofs=proofs)
        yield row


def _proved(whole: Expression, rate: Expression, variable: Symbol) -> Proof:
    """That a column goes on as it must: one entry is the derivative of the other."""
    verdict = decide_antiderivative(whole, rate, variable)
    if not isinstance(verdict, Proved):
        raise UnprovedLineError(whole, verdict)
    return verdict.proof


def _written(row: TableRow, below: Expression) -> Expression:
    """The product of a row as it is read off, with its sign."""
    factors = tuple(factor for factor in (row.derivative, below) if factor != Integer(1))
    return _signed(row, Product(factors) if len(factors) > 1 else factors[0])


def _signed(row: TableRow, tree: Expression) -> Expression:
    return Negate(tree) if row.minus else tree
