"""Marking an antiderivative: is the response's derivative the integrand?

    read -> decide by differentiation -> remarks (constant, modulus, domain) -> slip, if the answer is wrong

A response that cannot be decided is `unsettled` and goes to a person; it is never marked wrong for that.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import cached_property

from qbank.bank.model import Policy
from qbank.marking.mark import REMARKS, Mark, Remark
from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.deciding import decide_antiderivative, decide_same_up_to_constant
from qbank.maths.domain import Domain
from qbank.maths.enclosing import enclose
from qbank.maths.expression import Apply, Expression, Symbol
from qbank.maths.notation import latex
from qbank.maths.reading import Reading, ReadingError, read_response
from qbank.maths.verdict import Proved, Refuted, Unsettled
from qbank.techniques.planner import solve, technique
from qbank.techniques.technique import SlipAnswer

__all__ = ["AntiderivativeMarker"]


class AntiderivativeMarker:
    """Marks responses to one indefinite integral; what is the same for all of them is worked out once.

    Args:
        integrand: what was to be integrated.
        variable: with respect to what.
        domain: the interval of the question, when it is not the whole domain of the integrand.
        policy: on constants and modulus signs.
        conventions: of the bank, for reading.
    """

    def __init__(
        self,
        integrand: Expression,
        variable: Symbol,
        *,
        domain: Domain | None = None,
        policy: Policy | None = None,
        conventions: Conventions = DEFAULT,
    ) -> None:
        self._integrand = integrand
        self._variable = variable
        self._domain = domain
        self._policy = policy or Policy()
        self._conventions = conventions

    def mark(self, response: str) -> Mark:
        """Mark one response as typed."""
        try:
            reading = read_response(response, conventions=self._conventions, variable=self._variable)
        except ReadingError as error:
            return unreadable(error)
        shown = latex(reading.tree, self._conventions)
        remarks = tuple(Remark(identifier=r.identifier, sentence=r.sentence) for r in reading.remarks)
        mark = self._decide(reading)
        return replace(mark, read_as=shown, remarks=remarks + mark.remarks)

    def _decide(self, reading: Reading) -> Mark:
        verdict = decide_antiderivative(reading.tree, self._integrand, self._variable, domain=self._domain)
        match verdict:
            case Proved():
                return self._right(reading.tree, verdict)
            case Refuted(witness=witness):
                slip = self._slip(reading.tree)
                message = (
                    "The derivative of this answer is not the integrand." if slip is None else slip.sentence
                )
                return Mark(
                    outcome="incorrect",
                    score=0.0,
                    message=message,
                    slip=None if slip is None else slip.slip,
                    proof="a point where the derivative of the response and the integrand provably differ",
                    witness=witness,
                )
            case Unsettled():
                return unsettled(verdict)

    def _right(self, tree: Expression, verdict: Proved) -> Mark:
        remarks, score = [], 1.0
        if not _has_constant(tree, self._variable):
            remarks.append("missing-constant")
            score = 0.0 if self._policy.constant == "require" else score
        if verdict.undefined_at:
            kind = "missing-modulus" if self._modulus_mends(tree) else "smaller-domain"
            remarks.append(kind)
            score = 0.0 if kind == "missing-modulus" and self._policy.modulus == "require" else score
        return Mark(
            outcome="correct",
            score=score,
            message="Right." if not remarks else REMARKS[remarks[0]],
            remarks=tuple(Remark(identifier=name, sentence=REMARKS[name]) for name in remarks),
            proof=f"{verdict.proof.method}: {verdict.proof.claim}",
        )

    def _modulus_mends(self, tree: Expression) -> bool:
        """Whether the answer becomes right on the whole domain once every logarithm has modulus signs."""
        verdict = decide_antiderivative(
            _with_modulus(tree), self._integrand, self._variable, domain=self._domain
        )
        return isinstance(verdict, Proved) and not verdict.undefined_at

    def _slip(self, tree: Expression) -> SlipAnswer | None:
        for slip in self._slips:
            verdict = decide_same_up_to_constant(tree, slip.answer, self._variable, domain=self._domain)
            if isinstance(verdict, Proved):
                return slip
        return None

    @cached_property
    def _slips(self) -> tuple[SlipAnswer, ...]:
        solution = solve(self._integrand, self._variable)
        return () if solution is None else technique(solution.technique).wrong_answers(solution)


def unreadable(error: ReadingError) -> Mark:
    """The mark of a response that cannot be read."""
    return Mark(
        outcome="unreadable",
        score=None,
        message=f"{error.message}. {error.hint}".strip(),
        proof=error.caret(),
    )


def unsettled(verdict: Unsettled) -> Mark:
    """The mark of a response that could not be decided."""
    agreement = ""
    if verdict.points:
        agreement = f"; agrees at {verdict.points} points to {verdict.digits} digits, which is no proof"
    return Mark(
        outcome="unsettled",
        score=None,
        message="This answer could not be decided and should be looked at by a person.",
        proof=verdict.reason + agreement,
    )


def _has_constant(tree: Expression, variable: Symbol) -> bool:
    """Whether some other letter really shifts the answer: `C - C` does not."""
    letters = sorted(tree.symbols() - {variable}, key=lambda symbol: symbol.name)
    if not letters:
        return False
    shifted = []
    for value in (Fraction(7, 5), Fraction(13, 6)):
        at = {letter: value + index for index, letter in enumerate(letters)}
        for point in (Fraction(1, 3), Fraction(-1, 3), Fraction(9, 4), Fraction(-9, 4), Fraction(25, 2)):
            bounds = enclose(tree, at={**at, variable: point})
            if bounds is not None:
                shifted.append((point, bounds))
    values = {point: [b for p, b in shifted if p == point] for point, _ in shifted}
    pairs = [found for found in values.values() if len(found) == 2]
    # without a point to compare at, a letter that is there is taken for the constant
    return not pairs or any(a.upper < b.lower or b.upper < a.lower for a, b in pairs)


def _with_modulus(tree: Expression) -> Expression:
    tree = tree.rebuild(_with_modulus)
    if isinstance(tree, Apply) and tree.function == "ln" and not _is_modulus(tree.argument):
        return Apply("ln", Apply("abs", tree.argument))
    return tree


def _is_modulus(tree: Expression) -> bool:
    return isinstance(tree, Apply) and tree.function == "abs"
