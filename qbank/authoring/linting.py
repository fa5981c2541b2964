"""What a bank would be better without: templates that ask the same, draws that fall out of their template, unfair spread,
options that give the key away.

Everything is found in a sample of draws and clones, so that silence is no proof; what is found is really there. Two
questions are the same when their values agree at the sample points, where they stand in templates of any of the banks.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations, islice

from qbank.bank.drawing import draws, fill
from qbank.bank.model import Bank, Template
from qbank.items.cloning import ShortageError, clones
from qbank.items.item import Choice, Item
from qbank.maths.deciding import enclose
from qbank.maths.expression import Symbol
from qbank.maths.notation import plain, speech
from qbank.maths.tidying import tidy
from qbank.techniques.planner import solve

__all__ = ["Remark", "lint"]

#: where questions are compared; at three of these a question has to have a value
_POINTS = tuple(Fraction(n, 19) for n in (7, 23, 41, 67, -11, -29, 97, -53, 131, -83))
_COMPARED = 3
_DIGITS = 14
#: a template whose hardest clone is this much harder than its easiest, and more than this many times, is unfair
_SPREAD, _TIMES = 6, Fraction(7, 4)
#: more often than this the key is the option that is most like the others: then looking finds it
_GIVEN_AWAY = Fraction(3, 5)
_FEW_CHOICES = 12
#: a draw that fits another technique better, or none, in more than this part of the draws
_ASTRAY = Fraction(1, 20)


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """Something to look at.

    Attributes:
        code: a short identifier of the kind of remark.
        bank: identifier of the bank.
        template: identifier of the template.
        message: what was found, one sentence.
        hint: what to do about it.
    """

    code: str
    bank: str
    template: str
    message: str
    hint: str


def lint(banks: Sequence[Bank], *, sample: int = 60, seed: int = 1) -> Iterator[Remark]:
    """Remarks on banks, template by template, then on pairs of templates.

    Args:
        banks: to be looked at together.
        sample: draws looked at of each template, and half as many clones built.
        seed: of the sample.
    """
    asked: list[tuple[Bank, Template, dict[tuple[str, ...], str]]] = []
    for bank in banks:
        for template in bank.templates:
            questions: dict[tuple[str, ...], str] = {}
            repeated: list[str] = []
            for mark, text in _questions(bank, template, sample, seed):
                if mark in questions and questions[mark] != text:
                    repeated.append(f"{questions[mark]} and {text}")
                questions.setdefault(mark, text)
            asked.append((bank, template, questions))
            yield from _on_draws(bank, template, sample, seed, repeated)
            yield from _on_clones(bank, template, sample // 2, seed)
    yield from _same(asked)


def _questions(
    bank: Bank, template: Template, sample: int, seed: int
) -> Iterator[tuple[tuple[str, ...], str]]:
    """Draws as questions: what tells one from others, and how it is written."""
    for draw in islice(draws(bank, template, seed), sample):
        integrand = tidy(fill(template.integrand, draw)).substitute({template.variable: Symbol("x")})
        limits = [] if template.limits is None else [tidy(fill(end, draw)) for end in template.limits]
        values = (enclose(integrand, at={Symbol("x"): point}, digits=_DIGITS) for point in _POINTS)
        known = [f"{at}:{value.decimal}" for at, value in enumerate(values) if value is not None][:_COMPARED]
        if len(known) == _COMPARED:
            ends = [plain(end) for end in limits]
            between = f" from {ends[0]} to {ends[1]}" if ends else ""
            yield (*known, *ends), f"{plain(integrand)}{between}"


def _same(asked: list[tuple[Bank, Template, dict[tuple[str, ...], str]]]) -> Iterator[Remark]:
    for (bank, template, one), (other_bank, other, two) in combinations(asked, 2):
        shared = [text for mark, text in one.items() if mark in two]
        # the same question in other words may be meant: sin^2 x cos^2 x is 1/4 sin^2 2x
        alike = [text for text in shared if text in two.values()]
        if alike or len(shared) > len(one) * _ASTRAY:
            place = "" if bank.identifier == other_bank.identifier else f" of {other_bank.identifier}"
            yield Remark(
                code="same-question",
                bank=bank.identifier,
                template=template.identifier,
                message=f"{len(shared)} of {len(one)} questions are also asked by {other.identifier}{place},"
                f" such as {(alike or shared)[0]}",
                hint="keep the ranges of the two apart, or drop one of them",
            )


def _on_draws(
    bank: Bank, template: Template, sample: int, seed: int, repeated: list[str]
) -> Iterator[Remark]:
    def remark(code: str, message: str, hint: str) -> Remark:
        return Remark(
            code=code, bank=bank.identifier, template=template.identifier, message=message, hint=hint
        )

    if repeated:
        yield remark(
            "written-twice",
            f"{len(repeated)} of {sample} draws are another one written otherwise, such as {repeated[0]}",
            "a condition such as coprime(a, b) keeps one of them; an export takes one in any case",
        )
    found: Counter[str] = Counter()
    example = ""
    count = 0
    for draw in islice(draws(bank, template, seed), sample):
        integrand = tidy(fill(template.integrand, draw))
        count += 1
        if template.variable not in integrand.symbols():
            found["degenerate"] += 1
            example = plain(integrand)
        elif template.technique is not None:
            solution = solve(integrand, template.variable)
            name = solution.technique if solution else "no technique"
            if name != template.technique:
                found[name] += 1
                example = plain(integrand)
    for name, times in found.most_common():
        if name == "degenerate":
            yield remark(
                "degenerate",
                f"{times} of {count} draws lose the variable, such as {example}",
                "add a condition on the letters that vanish",
            )
        elif times > count * _ASTRAY:
            yield remark(
                "another-technique",
                f"{times} of {count} draws would be worked by {name} first, such as {example}",
                "add a condition, or name that technique",
            )


def _on_clones(bank: Bank, template: Template, count: int, seed: int) -> Iterator[Remark]:
    items: list[Item] = []
    try:
        # forms in turn cost nothing; choices are what most is said of
        forms = tuple(form for form in template.responses if form == "choice") or template.responses[:1]
        for item in clones(bank, replace(template, responses=forms), count, seed):
            items.append(item)  # noqa: PERF402 - those before a shortage are kept
    except ShortageError as shortage:
        if not items:
            yield Remark(
                code="no-clones",
                bank=bank.identifier,
                template=template.identifier,
                message=str(shortage),
                hint="qbank check says more",
            )
            return
    yield from _spread(bank, template, items)
    yield from _options(bank, template, items)
    yield from _silent(bank, template, items)


def _spread(bank: Bank, template: Template, items: list[Item]) -> Iterator[Remark]:
    least, most = min(items, key=lambda one: one.difficulty), max(items, key=lambda one: one.difficulty)
    if most.difficulty - least.difficulty > _SPREAD and most.difficulty > least.difficulty * _TIMES:
        yield Remark(
            code="unfair-spread",
            bank=bank.identifier,
            template=template.identifier,
            message=f"clones are of difficulty {least.difficulty} ({plain(least.integrand)}) to"
            f" {most.difficulty} ({plain(most.integrand)})",
            hint="split the template, or narrow its ranges",
        )


def _options(bank: Bank, template: Template, items: list[Item]) -> Iterator[Remark]:
    choices = [item.response for item in items if isinstance(item.response, Choice)]
    if len(choices) < _FEW_CHOICES:
        return
    away = sum(_gives_away(choice) for choice in choices)
    if away > len(choices) * _GIVEN_AWAY:
        yield Remark(
            code="key-given-away",
            bank=bank.identifier,
            template=template.identifier,
            message=f"in {away} of {len(choices)} choices the key is the option most like the others",
            hint="add distractors of your own that share parts of each other, or ask for a number",
        )
    slips = Counter(option.slip for choice in choices for option in choice.options if not option.is_key)
    always = [slip for slip, times in slips.items() if slip and times == len(choices)]
    if len(always) == len(choices[0].options) - 1:
        yield Remark(
            code="always-the-same-slips",
            bank=bank.identifier,
            template=template.identifier,
            message="every choice offers the same slips: " + ", ".join(sorted(always)),
            hint="whoever has seen one clone knows the wrong options of all; add distractors of your own",
        )


def _gives_away(choice: Choice) -> bool:
    """Whether the key is the option that has most in common with the others."""
    parts = [Counter(re.findall(r"[a-z]+|\d+|\S", plain(option.answer))) for option in choice.options]
    likeness = [
        sum((one & other).total() / max(one.total(), other.total()) for other in parts) for one in parts
    ]
    return choice.options[likeness.index(max(likeness))].is_key


def _silent(bank: Bank, template: Template, items: list[Item]) -> Iterator[Remark]:
    """Formulas that nobody could read aloud."""
    for item in items:
        if not speech(item.integrand).strip() or not speech(item.key).strip():
            yield Remark(
                code="no-alternative-text",
                bank=bank.identifier,
                template=template.identifier,
                message=f"{plain(item.integrand)} has no spoken alternative",
                hint="write the formula otherwise",
            )
            return
