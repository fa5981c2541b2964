"""Lines of one working written into another: a term of a sum, or the integral that a substitution leaves."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import TypeAlias

from qbank.maths.constant_factor import ONE, before_integral, in_front, number, times
from qbank.maths.equation import Equation, Statement, sides
from qbank.maths.expression import (
    Differential,
    Expression,
    Integer,
    Integral,
    Product,
    Sum,
    Symbol,
    as_fraction,
    product,
    sum_of,
)
from qbank.maths.factors import Factored, factored
from qbank.maths.tidying import split_coefficient, tidy
from qbank.messages import Message
from qbank.techniques.indexed_integral import LETTERS, defined_by
from qbank.techniques.working import Line, WorkedSolution, Working

__all__ = ["Solver", "carry", "letters_of", "multiplied", "renamed", "solved_beside"]


#: what works a single integral, or declines it
Solver: TypeAlias = Callable[[Expression, Symbol], WorkedSolution | None]


def solved_beside(
    integrand: Expression, solve: Solver, left: Expression, variable: Symbol
) -> WorkedSolution | None:
    """The working of an integral that another one leaves, when it can be carried into that one's.

    Args:
        integrand: of the other; a letter of it that the working needs for itself would mean two things.
        solve: what works the integral that is left.
        left: its integrand.
        variable: its variable.
    """
    solution = solve(left, variable)
    return None if solution is None or letters_of(solution) & integrand.symbols() else solution


def carry(working: Working, lines: tuple[Line, ...], place: Callable[[Expression], Expression]) -> None:
    """Write the lines of another working.

    Args:
        working: where they go.
        lines: what to write; each is proved again, for the integral that stands here.
        place: what a step becomes here: a constant in front of it, other terms around it.
    """
    lines = _calling_anew(working, lines)
    for letter, value in _numbers_found(lines):
        working.name(letter, value)
    for line in lines:
        match line.kind, line.statements:
            case "step", (Expression() as step,):
                placed = place(step)
                if not working.stands(placed):  # a constant that is taken out may stand outside already
                    working.step(placed, line.rule, line.reason)
            case "let", (
                Equation(Symbol() as letter, meaning),
                Equation(Differential(known), rate),
            ) if known == letter:
                working.let(letter, meaning, _without_differential(rate), line.reason)
            case "let", (Equation(),) if (called := defined_by(line.statements)) is not None:
                working.call(called, line.reason)
            case "let", (Equation(Symbol() as letter, meaning), *others):
                equations = (part for part in others if isinstance(part, Equation))
                working.let_be(letter, meaning, *equations, reason=line.reason, domain=line.domain)
            case "aside", (Equation(), _, *_):
                equations = (part for part in line.statements if isinstance(part, Equation))
                working.found(*equations, rule=line.rule, reason=line.reason)
            case "aside", (Equation(left, right),) if _has_integral(working.written_out(left)):
                working.balance(left, right, rule=line.rule, reason=line.reason)
            case _, (Equation(left, right),):
                working.aside(left, right, line.rule, line.reason)
            case _:
                raise AssertionError(f"a line of an unknown shape: {line!r}")


def _calling_anew(working: Working, lines: tuple[Line, ...]) -> tuple[Line, ...]:
    """Lines that call their integrals by letters which stand for no others there yet: J_n after I_n."""
    found = (defined_by(line.statements) for line in lines if line.kind == "let")
    for called in (one for one in found if one is not None and working.calls(one.letter)):
        trees = [side for line in lines for part in line.statements for side in sides(part)]
        used = {symbol.name.partition("_")[0] for tree in trees for symbol in tree.symbols()}
        free = next((one for one in LETTERS if one not in used and not working.calls(one)), called.letter)
        lines = renamed(lines, called.with_letter(free, trees))
    return lines


def _has_integral(tree: Expression) -> bool:
    return tree.holds(Integral)


def _without_differential(tree: Expression) -> Expression:
    return Integer(1) if isinstance(tree, Differential) else tidy(tree.rebuild(_without_differential))


def letters_of(solution: WorkedSolution) -> frozenset[Symbol]:
    """The letters that a working introduces."""
    first = (line.statements[0] for line in solution.lines if line.kind == "let")
    substituted = frozenset(
        statement.left
        for statement in first
        if isinstance(statement, Equation) and isinstance(statement.left, Symbol)
    )
    return substituted | {letter for letter, _ in _numbers_found(solution.lines)}


def renamed(lines: tuple[Line, ...], letters: Mapping[Symbol, Symbol]) -> tuple[Line, ...]:
    """Lines with letters that they introduce replaced, where the others are in use already."""

    def tree(old: Expression) -> Expression:
        return letters.get(old, old) if isinstance(old, Symbol) else old.rebuild(tree)

    def statement(old: Statement) -> Statement:
        return Equation(tree(old.left), tree(old.right)) if isinstance(old, Equation) else tree(old)

    names = {old.name: new.name for old, new in letters.items()}

    def words(reason: str) -> str:
        # a sentence has letters in its gaps alone
        return (
            reason.with_pieces(lambda piece: names.get(piece, piece))
            if isinstance(reason, Message)
            else reason
        )

    return tuple(
        replace(line, statements=tuple(map(statement, line.statements)), reason=words(line.reason))
        for line in lines
    )


def _numbers_found(lines: tuple[Line, ...]) -> Iterator[tuple[Symbol, Expression]]:
    """The letters that stand for numbers, each with the number (which may hold letters) that a line finds for it."""
    sought = frozenset[Symbol]()
    for line in lines:
        match line.kind, line.rule, line.statements:
            case "aside", "partial-fractions", (Equation(left, right),):
                sought |= right.symbols() - left.symbols()
            case "aside", _, statements:
                for statement in statements:
                    match statement:
                        case Equation(Symbol() as letter, value) if as_fraction(value) is not None or (
                            letter in sought and not value.symbols() & sought
                        ):
                            yield letter, value
                        case _:
                            pass
            case _:
                pass


def multiplied(constant: Factored, line: Expression) -> Expression:
    """A line with a constant in front of each of its terms; before an integral still to be done it stays a factor."""
    if constant == ONE:
        return line
    terms = line.terms if isinstance(line, Sum) else (line,)
    return sum_of(*(_term(constant, term) for term in terms))


def _term(constant: Factored, term: Expression) -> Expression:
    size, body = split_coefficient(term)
    whole = times(constant, number(size))
    match body:
        case Integral():
            return before_integral(whole, body)
        case Product((*factors, Integral() as last)):
            return before_integral(times(whole, factored(product(*factors))), last)
        case _:
            return in_front(whole, body)
