"""A worked solution under construction: each line is proved as it is written down.

    Working(integrand, variable)
        .step(...)     "= ..."                         d/dx of the line must equal the integrand
        .let(...)      "let u = g(x), du = g'(x) dx"   the differential must follow from the definition
        .aside(...)    "sin^2 x = 1 - cos^2 x"         both sides must be equal
        .found(...)    "6 = 3A, A = 2"                 the same, for letters that were named beforehand
        .call(...)     "let I_n = int sin^n x dx"      the integral by which lines with I_n, I_4 are proved
        .finish()      -> WorkedSolution               the last line holds no integral and no substituted letter

One rule proves every line of the chain: an integral still to be done has a known derivative, its integrand
(times the derivative of its variable). So a rewriting, a substitution and the final antiderivative are all decided
by differentiation, and a line that does not follow is an error of this program, raised at once.

A letter may be introduced on an interval only (`x = 3 sec t` for x > 3): lines with it are proved there, and the answer,
which is written in the variable again, on the whole domain of the integrand.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from qbank.maths.clock import PATIENT
from qbank.maths.deciding import decide_antiderivative, decide_equal, decide_same_up_to_constant
from qbank.maths.domain import Domain
from qbank.maths.equation import Equation, Statement, sides
from qbank.maths.exact.normal_form import Memory
from qbank.maths.expression import Differential, Expression, Integral, Symbol, product
from qbank.maths.frozen import frozen
from qbank.maths.tidying import tidy
from qbank.maths.verdict import Proof, Proved, Verdict
from qbank.techniques.indexed_integral import IndexedIntegral

__all__ = ["Line", "LineKind", "UnprovedLineError", "WorkedSolution", "Working"]

LineKind = Literal["step", "let", "aside", "statement"]


@frozen(kw_only=True)
class Line:
    """One line of a worked solution.

    Attributes:
        kind: `step` continues the chain of equal expressions, `let` defines a substitution, `aside` states an
            identity that the next line uses, `statement` stands for itself: an equation for the constant of
            integration, or an expression with which a new chain begins.
        statements: the mathematics: one expression for a step, equations for a substitution or an identity.
        rule: identifier of the rule used, for example `pythagorean-identity`.
        reason: one short sentence in a teacher's words.
        proof: that the line holds.
        domain: where it holds, for a line with a letter that was introduced on a part of the line only.
    """

    kind: LineKind
    statements: tuple[Statement, ...]
    rule: str
    reason: str
    proof: Proof
    domain: Domain | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkedSolution:
    """An antiderivative with the working that leads to it.

    Attributes:
        technique: identifier of the technique.
        integrand: what was integrated, as it was given.
        variable: with respect to what.
        lines: the working, every line proved; the integral itself, which it starts from, is not repeated here.
        antiderivative: the result without the constant of integration.
        proof: that its derivative is the integrand.
    """

    technique: str
    integrand: Expression
    variable: Symbol
    lines: tuple[Line, ...]
    antiderivative: Expression
    proof: Proof


class UnprovedLineError(AssertionError):
    """A technique wrote a line that could not be proved: an error of the program, never of the user."""

    def __init__(self, statement: Statement, verdict: Verdict) -> None:
        super().__init__(f"unproved line {statement!r}: {verdict!r}")
        self.statement = statement
        self.verdict = verdict


class Working:
    """Collects the lines of one worked solution and proves each.

    Args:
        technique: identifier of the technique at work.
        integrand: what is integrated.
        variable: with respect to what.
    """

    def __init__(self, technique: str, integrand: Expression, variable: Symbol) -> None:
        self._technique = technique
        self._integrand = integrand
        self._variable = variable
        self._lines: list[Line] = []
        self._bindings: dict[Symbol, Expression] = {}
        self._domains: dict[Symbol, Domain] = {}
        self._called: dict[str, IndexedIntegral] = {}
        self._memory = Memory(variable, integrand)

    def step(self, line: Expression, rule: str, reason: str) -> None:
        """Add "= line". It may hold integrals, in the variable or in a letter introduced by `let`.

        Raises:
            UnprovedLineError: the line is not proved equal (up to a constant) to the integral.
        """
        verdict = decide_antiderivative(
            self.written_out(line),
            self._integrand,
            self._variable,
            domain=self._domain(line),
            bindings=self._bindings,
            budget=PATIENT,
            memory=self._memory,
        )
        self._add("step", (line,), rule, reason, verdict)

    def stands(self, line: Expression) -> bool:
        """Whether the last step is this very line, so that it need not be written again."""
        last = next((one for one in reversed(self._lines) if one.kind == "step"), None)
        return last is not None and last.statements == (line,)

    def let(self, letter: Symbol, meaning: Expression, derivative: Expression, reason: str) -> None:
        """Add "let u = meaning, du = derivative dx" and know the letter from here on.

        Args:
            letter: the new letter.
            meaning: its expression in a letter already known.
            derivative: the derivative of `meaning` with respect to the letter it is written in.
            reason: why this substitution.
        """
        known = (self._variable, *self._bindings)
        old = next((k for k in known if k in meaning.symbols()), self._variable)
        self._know(letter, meaning, None)
        rate = tidy(product(derivative, Differential(old)))
        verdict = self._equal(Equation(Differential(letter), rate))
        statements = (Equation(letter, meaning), Equation(Differential(letter), rate))
        self._add("let", statements, "substitution", reason, verdict)

    def let_be(
        self,
        letter: Symbol,
        meaning: Expression,
        *equations: Equation,
        reason: str,
        domain: Domain | None = None,
    ) -> None:
        """Add "let u = meaning, x = ..., dx = ... du": equations that follow from the meaning, each proved.

        Args:
            letter: the new letter.
            meaning: its expression in letters already known.
            equations: at least one; what follows.
            reason: why this substitution.
            domain: where the equations hold, if not everywhere; lines with the letter are proved there.
        """
        self._know(letter, meaning, domain)
        *first, last = equations
        self._check(*first)
        self._add("let", (Equation(letter, meaning), *equations), "substitution", reason, self._equal(last))

    def name(self, letter: Symbol, value: Expression) -> None:
        """Know a number that is to be found by its letter, so that lines with the letter are proved from here on."""
        self._bindings[letter] = value

    def call(self, integral: IndexedIntegral, reason: str) -> None:
        """Add "let I_n = int sin^n x dx"; from here on steps and balances may hold I_n, I_(n-2) and I_4."""
        self._called[integral.letter] = integral
        equation = Equation(integral.symbol, integral.integral)
        self._add("let", (equation,), "recurrence", reason, self._same(equation))

    def calls(self, letter: str) -> bool:
        """Whether integrals are called by that letter already."""
        return letter in self._called

    def written_out(self, line: Expression) -> Expression:
        """A line with the integrals that are called by a letter written out."""
        for integral in self._called.values():
            line = integral.put_in(line)
        return line

    def found(self, *equations: Equation, rule: str, reason: str) -> None:
        """Add equations, such as "6 = 3A, A = 2"; each is proved, and letters must have been named."""
        *first, last = equations
        self._check(*first)
        self._add("aside", equations, rule, reason, self._equal(last))

    def balance(self, left: Expression, right: Expression, *, rule: str, reason: str) -> None:
        """Add an equation between integrals, "13/4 int ... = right"; both sides are equal up to a constant."""
        equation = Equation(left, right)
        self._add("aside", (equation,), rule, reason, self._same(equation))

    def aside(self, left: Expression, right: Expression, rule: str, reason: str) -> None:
        """Add the identity "left = right" that the next line will use."""
        self.found(Equation(left, right), rule=rule, reason=reason)

    def finish(self) -> WorkedSolution:
        """The finished solution; its answer is the last step.

        Raises:
            ValueError: the last step still holds an integral or a substituted letter.
        """
        last = next((line for line in reversed(self._lines) if line.kind == "step"), None)
        answer = last.statements[0] if last is not None else None
        if last is None or not isinstance(answer, Expression):
            raise ValueError("a worked solution needs a step")
        if self.written_out(answer).holds(Integral) or (
            self._bindings and not self._bindings.keys().isdisjoint(answer.symbols())
        ):
            raise ValueError(f"not finished: {answer!r}")
        return WorkedSolution(
            technique=self._technique,
            integrand=self._integrand,
            variable=self._variable,
            lines=tuple(self._lines),
            antiderivative=answer,
            proof=last.proof,
        )

    def _know(self, letter: Symbol, meaning: Expression, domain: Domain | None) -> None:
        """Know a letter, and where it has its meaning: no further than the letters that this is written in."""
        domain = domain or self._domain(meaning)
        self._bindings[letter] = meaning.substitute(self._bindings)
        self._domains.pop(letter, None)
        if domain is not None:
            self._domains[letter] = domain

    def _domain(self, *trees: Expression) -> Domain | None:
        """Where a line is to hold: where its letters have their meanings; None for everywhere."""
        if not self._domains:
            return None
        letters = frozenset[Symbol]().union(*(tree.symbols() for tree in trees))
        return next((domain for letter, domain in self._domains.items() if letter in letters), None)

    def _equal(self, equation: Equation) -> Verdict:
        return decide_equal(
            equation.left,
            equation.right,
            self._variable,
            domain=self._domain(equation.left, equation.right),
            bindings=self._bindings,
            budget=PATIENT,
            memory=self._memory,
        )

    def _same(self, equation: Equation) -> Verdict:
        """Whether the two sides are equal up to a constant."""
        return decide_same_up_to_constant(
            self.written_out(equation.left),
            self.written_out(equation.right),
            self._variable,
            domain=self._domain(equation.left, equation.right),
            bindings=self._bindings,
            budget=PATIENT,
            memory=self._memory,
        )

    def _check(self, *equations: Equation) -> None:
        for equation in equations:
            verdict = self._equal(equation)
            if not isinstance(verdict, Proved):
                raise UnprovedLineError(equation, verdict)

    def _add(
        self, kind: LineKind, statements: tuple[Statement, ...], rule: str, reason: str, verdict: Verdict
    ) -> None:
        if not isinstance(verdict, Proved):
            raise UnprovedLineError(statements[-1], verdict)
        written = [side for part in statements for side in sides(part)] if self._domains else ()
        self._lines.append(
            Line(
                kind=kind,
                statements=statements,
                rule=rule,
                reason=reason,
                proof=verdict.proof,
                domain=self._domain(*written),
            )
        )
