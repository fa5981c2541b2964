"""What a person reads who marks an item by hand: right answers, what is left of the marks, and the lines that earn them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from qbank.bank.policy import ACCEPTING, Policy
from qbank.items.options import Prose
from qbank.maths.expression import Expression, Symbol
from qbank.messages import prose, say, say_count, together
from qbank.techniques.presenting import Row, with_constant

__all__ = ["marking_guide", "rubric"]


def marking_guide(value: Expression, working: Iterable[Row], marks: Iterable[int]) -> Prose:
    """How a person marks a working whose end is known: the lines that earn the marks."""
    begin = prose(
        "The value {answer} is given, and earns nothing by itself. The marks are for these lines, or for others that"
        " prove it:",
        answer=value,
    )
    lines: list[Prose] = []
    for row, earned in zip(working, marks, strict=True):
        if row.reason:
            lines += (_side_by_side(row), (say("[{reason}]", reason=row.reason),))
        if earned:
            lines.append((say_count("({count} mark)", "({count} marks)", earned),))
    return together(begin, *lines)


def _side_by_side(row: Row) -> Prose:
    """The statements of a row."""
    return together(*((statement,) for statement in row.statements), between=", ")


def rubric(
    integrand: Expression, variable: Symbol, key: Expression, constant: str, policy: Policy = ACCEPTING
) -> Prose:
    """How a person marks a free answer, with what the policy says of answers that lack something, and of slips."""
    told: Prose = prose(
        "One right answer is {answer}. Any other form is right if its derivative with respect to {variable} is"
        " {integrand} wherever that is defined. Differentiate the response; do not compare it with the key by eye.",
        answer=with_constant(key, constant),
        variable=variable,
        integrand=integrand,
    )
    return together(told, *_shares(policy))


def _shares(policy: Policy) -> Iterator[str]:
    """What is left of the marks, where it is not all of them."""
    if policy.constant < 1:
        yield say("Without a constant of integration: {share} of the marks.", share=str(policy.constant))
    if policy.modulus < 1:
        yield say("With modulus signs missing: {share} of the marks.", share=str(policy.modulus))
    if policy.domain < 1:
        yield say(
            "With a real value on a part of the domain only: {share} of the marks.", share=str(policy.domain)
        )
    if policy.simplified < 1:
        yield say("Where the answer can be simplified: {share} of the marks.", share=str(policy.simplified))
    for slip, share in policy.slips:
        yield say("With the slip {slip} alone: {share} of the marks.", slip=slip, share=str(share))
