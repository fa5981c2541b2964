"""Marking an antiderivative: is the response's derivative the integrand?

    read -> decide by differentiation -> right: remarks (constant, modulus, domain)
                                      -> wrong: right in another reading? a slip? right in another letter?

A response that cannot be decided is `unsettled` and goes to a person; it is never marked wrong for that.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cached_property
from itertools import combinations

from qbank.bank.policy import ACCEPTING, Policy
from qbank.items.distractors import Candidate
from qbank.items.pairing import both
from qbank.marking.constant import has_constant
from qbank.marking.granting import NOTHING, Granted, conceivable
from qbank.marking.mark import REMARKS, Mark, Remark
from qbank.marking.nearly import nearly
from qbank.marking.patience import Patience
from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.deciding import decide_antiderivative, decide_equal, decide_same_up_to_constant
from qbank.maths.domain import Domain
from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import latex
from qbank.maths.positivity import with_modulus
from qbank.maths.reading import Reading, ReadingError, read_response
from qbank.maths.reading.remarks import Remark as ReaderRemark
from qbank.maths.simplified import is_simplified
from qbank.maths.verdict import Proof, Proved, Refuted, Unsettled, Verdict, Witness
from qbank.messages import say
from qbank.techniques.general_slips import general_slips
from qbank.techniques.planner import solve, technique
from qbank.techniques.technique import SlipAnswer
from qbank.techniques.working import UnprovedLineError, WorkedSolution

__all__ = ["AntiderivativeMarker"]

#: parts of a policy -> what is remarked on an answer that lacks them
_LACKING = {
    "constant": "missing-constant",
    "modulus": "missing-modulus",
    "domain": "smaller-domain",
    "simplified": "not-simplified",
}
#: letters that are taken for a constant, never for a variable (common practice)
_CONSTANTS = frozenset(map(Symbol, "CcKk"))
#: forms of an answer in one line
_MOST_FORMS = 6
_INTEGRAL = re.compile(r"\s*(?:∫|\\int(?![A-Za-z])|int\b)")


class AntiderivativeMarker:
    """Marks responses to one indefinite integral; what is the same for all of them is worked out once.

    Args:
        integrand: what was to be integrated.
        variable: with respect to what.
        domain: the interval of the question, when it is not the whole domain of the integrand.
        policy: on answers that lack something, and on slips.
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
        self._policy = policy or ACCEPTING
        self._conventions = conventions

    def mark(self, response: str) -> Mark:
        """Mark one response as typed."""
        try:
            reading = read_response(response, conventions=self._conventions, variable=self._variable)
        except ReadingError as error:
            return self._in_forms(response) or unreadable(error)
        patience = Patience()
        verdict, granted = self._judged(reading.tree, patience)
        if isinstance(verdict, Refuted):
            for other in reading.alternatives:
                second, granted = self._judged(other, patience)
                if isinstance(second, Proved):
                    mark = self._right(other, second, granted, patience)
                    return as_read(mark, other, other_reading(reading), self._conventions)
            capital = self._in_capitals(response, reading, patience)
            if capital is not None:
                return capital
            if reading.is_conditional:
                reason = "it is said to hold on a part of the line, and is not right on all of it"
                mark = unsettled(Unsettled(reason=reason))
            else:
                mark = self._wrong(response, reading.tree, verdict.witness, patience)
        elif isinstance(verdict, Proved):
            mark = self._right(reading.tree, verdict, granted, patience)
        else:
            mark = unsettled(verdict)
        return as_read(mark, reading.tree, reading.remarks, self._conventions)

    def _in_forms(self, response: str) -> Mark | None:
        """The mark of several forms with equals signs between them, of the last one; None where they are not all right."""
        forms = [form for form in response.split("=") if form.strip()]
        if not 1 < len(forms) <= _MOST_FORMS:
            return None
        if _INTEGRAL.match(forms[0]):
            del forms[0]
        marks = [self.mark(form) for form in forms]
        return marks[-1] if all(mark.outcome == "correct" for mark in marks) else None

    def _judged(self, tree: Expression, patience: Patience) -> tuple[Verdict, Granted]:
        """The verdict, and what has to be granted for it."""
        verdict = self._verdict(tree, patience, NOTHING)
        if isinstance(verdict, Refuted):
            for granted in conceivable(tree, self._integrand, self._variable):
                second = self._verdict(tree, patience, granted)
                if isinstance(second, Proved):
                    return second, granted
        return verdict, NOTHING

    def _verdict(self, tree: Expression, patience: Patience, granted: Granted) -> Verdict:
        return decide_antiderivative(
            granted.meant(tree),
            self._integrand,
            self._variable,
            domain=self._domain,
            positive=granted.positive,
            budget=patience.rest(),
        )

    def _wrong(self, response: str, tree: Expression, witness: Witness, patience: Patience) -> Mark:
        slip = self._slip(tree, patience)
        message = (
            say("The derivative of this answer is not the integrand.") if slip is None else slip.sentence
        )
        remarks: tuple[Remark, ...] = ()
        letter = None if slip is not None else self._right_in(response, tree, patience)
        if letter is not None:
            message = say(
                "This would be right in {other}, but the question is in {letter}.",
                other=letter.name,
                letter=self._variable.name,
            )
            remarks = (Remark(identifier="other-variable", sentence=REMARKS["other-variable"]),)
        return Mark(
            outcome="incorrect",
            score=0.0 if slip is None else float(self._policy.for_slip(slip.slip)),
            message=message,
            remarks=remarks,
            slip=None if slip is None else slip.slip,
            proof="a point where the derivative of the response and the integrand provably differ",
            witness=witness,
        )

    def _in_capitals(self, response: str, reading: Reading, patience: Patience) -> Mark | None:
        """The mark of an answer that is right but for its letter, a capital one for a small one; None for any other."""
        letters, capital = reading.tree.symbols(), Symbol(self._variable.name.upper())
        if (
            len(capital.name) > 1
            or capital in _CONSTANTS
            or self._variable in letters
            or capital not in letters
        ):
            return None
        if capital in self._integrand.symbols():
            return None
        try:
            again = read_response(response, conventions=self._conventions, variable=capital)
        except ReadingError:
            return None
        tree = again.tree.substitute({capital: self._variable})
        verdict, granted = self._judged(tree, patience)
        if not isinstance(verdict, Proved):
            return None
        sentence = say("{capital} was read as {letter}.", capital=capital.name, letter=self._variable.name)
        said = Remark(identifier="look-alike", sentence=sentence)
        mark = self._right(tree, verdict, granted, patience)
        return as_read(mark, tree, (said, *again.remarks), self._conventions)

    def _right_in(self, response: str, tree: Expression, patience: Patience) -> Symbol | None:
        """The letter in which an answer without the variable would be right."""
        letters = tree.symbols()
        if self._variable in letters or self._domain is not None:
            return None
        others = letters - self._integrand.symbols() - _CONSTANTS
        for letter in sorted(others, key=lambda symbol: symbol.name):
            try:
                # with its own letter as the variable: `sin 2t` ends where `sin 2x` would
                again = read_response(response, conventions=self._conventions, variable=letter).tree
            except ReadingError:
                continue
            renamed = self._integrand.substitute({self._variable: letter})
            if isinstance(decide_antiderivative(again, renamed, letter, budget=patience.rest()), Proved):
                return letter
        return None

    def _right(self, tree: Expression, verdict: Proved, granted: Granted, patience: Patience) -> Mark:
        lacking = []
        if not has_constant(tree, self._variable):
            lacking.append("constant")
        if verdict.undefined_at:
            lacking.append("modulus" if self._modulus_mends(tree, granted, patience) else "domain")
        mark = right(tree, lacking, self._policy, verdict.proof)
        if not granted.remarks:
            return mark
        said = tuple(Remark(identifier=name, sentence=REMARKS[name]) for name in granted.remarks)
        lost = 0.0 if "domain" in lacking else 1 - float(self._policy.left(["domain"]))
        return replace(
            mark,
            score=max((mark.score or 0.0) - lost, 0.0),
            message=mark.message if mark.remarks else said[0].sentence,
            remarks=(*mark.remarks, *said),
        )

    def _modulus_mends(self, tree: Expression, granted: Granted, patience: Patience) -> bool:
        """Whether the answer becomes right on the whole domain once every logarithm has modulus signs."""
        verdict = self._verdict(with_modulus(tree), patience, granted)
        return isinstance(verdict, Proved) and not verdict.undefined_at

    def _slip(self, tree: Expression, patience: Patience) -> SlipAnswer | None:
        # all constants are the same up to a constant, which explains nothing: 7 is not the derivative of 2x
        decide = decide_same_up_to_constant if self._variable in tree.symbols() else decide_equal
        for slip in self._slips:
            verdict = decide(tree, slip.answer, self._variable, domain=self._domain, budget=patience.rest())
            if isinstance(verdict, Proved):
                return slip

        def is_antiderivative(answer: Expression, integrand: Expression) -> Verdict:
            return decide_antiderivative(
                answer, integrand, self._variable, domain=self._domain, budget=patience.rest()
            )

        key = None if self._solution is None else self._solution.antiderivative
        return nearly(tree, self._integrand, key, self._variable, is_antiderivative, self._conventions)

    @cached_property
    def _slips(self) -> tuple[SlipAnswer, ...]:
        general = general_slips(self._integrand, self._variable)
        if self._solution is None:
            return general
        single = tuple(technique(self._solution.technique).wrong_answers(self._solution))
        return (*single, *general, *_two_at_once(single, self._solution.antiderivative))

    @cached_property
    def _solution(self) -> WorkedSolution | None:
        try:
            return solve(self._integrand, self._variable)
        except UnprovedLineError:
            # a mistake in a technique costs the explanation, never the mark
            return None


def right(tree: Expression, lacking: list[str], policy: Policy, proof: Proof) -> Mark:
    """The mark of a response that is proved right but may lack something.

    Args:
        tree: the response.
        lacking: names of parts of the policy.
        policy: of the question; whether the response is simplified is looked at only where that counts.
        proof: that it is right.
    """
    if policy.simplified < 1 and not is_simplified(tree):
        lacking = [*lacking, "simplified"]
    remarks = tuple(Remark(identifier=_LACKING[part], sentence=REMARKS[_LACKING[part]]) for part in lacking)
    return Mark(
        outcome="correct",
        score=float(policy.left(lacking)),
        message=remarks[0].sentence if remarks else say("Right."),
        remarks=remarks,
        proof=f"{proof.method}: {proof.claim}",
    )


def as_read(
    mark: Mark, tree: Expression, remarks: Iterable[ReaderRemark | Remark], conventions: Conventions
) -> Mark:
    """The mark with how the response was read, and what was said while reading it first."""
    said = tuple(Remark(identifier=r.identifier, sentence=r.sentence) for r in remarks)
    return replace(mark, read_as=latex(tree, conventions), remarks=said + mark.remarks)


def other_reading(reading: Reading) -> tuple[ReaderRemark | Remark, ...]:
    """The remarks of a response that is right in its other reading; what was said of the usual one is left out."""
    kept = tuple(remark for remark in reading.remarks if remark.identifier != "ambiguous-notation")
    return (*kept, Remark(identifier="ambiguous-notation", sentence=REMARKS["ambiguous-notation"]))


def unreadable(error: ReadingError) -> Mark:
    """The mark of a response that cannot be read."""
    if error.hint:
        message = say("This cannot be read: {problem}; {hint}.", problem=error.message, hint=error.hint)
    else:
        message = say("This cannot be read: {problem}.", problem=error.message)
    return Mark(outcome="unreadable", score=None, message=message, proof=error.caret())


def unsettled(verdict: Unsettled) -> Mark:
    """The mark of a response that could not be decided."""
    agreement = ""
    if verdict.points:
        agreement = f"; agrees at {verdict.points} points to {verdict.digits} digits, which is no proof"
    return Mark(
        outcome="unsettled",
        score=None,
        message=say("This answer could not be decided and should be looked at by a person."),
        proof=verdict.reason + agreement,
    )


def _two_at_once(single: tuple[SlipAnswer, ...], key: Expression) -> Iterator[SlipAnswer]:
    """Two slips in one answer, where they go together; an option of a choice may be of this kind."""
    candidates = [Candidate(slip=s.slip, sentence=s.sentence, answer=s.answer) for s in single]
    for first, second in combinations(candidates, 2):
        together = both(first, second, key)
        if together is not None:
            yield SlipAnswer(slip=together.slip, sentence=together.sentence, answer=together.answer)
