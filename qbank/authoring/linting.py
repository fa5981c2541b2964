"""What a bank would be better without: templates that ask the same, draws that fall out of their template, unfair spread,
options that give the key away.

Everything is found in a sample of draws and clones, so that silence is no proof; what is found is really there. Two
questions are the same when their values agree at the sample points, where they stand in templates of any of the banks.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from itertools import combinations, islice

from qbank.authoring.sampling import sampled
from qbank.bank.drawing import draws, fill
from qbank.bank.model import Bank, Template
from qbank.items.item import Choice, Item
from qbank.maths.deciding import enclose
from qbank.maths.expression import Expression, Symbol
from qbank.maths.notation import plain, speech
from qbank.maths.tidying import tidy
from qbank.techniques.definites.choosing import is_way
from qbank.techniques.planner import solve

__all__ = ["Remark", "gives_away", "lint"]

#: where questions are compared; at three of these a question has to have a value
_POINTS = tuple(Fraction(n, 19) for n in (7, 23, 41, 67, -11, -29, 97, -53, 131, -83))
_COMPARED = 3
_LETTER = Symbol("x")
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
    asked: list[_Asked] = []
    for bank in banks:
        for template in bank.templates:
            say = partial(Remark, bank=bank.identifier, template=template.identifier)
            drawn = [
                _Drawn(
                    integrand=tidy(fill(template.integrand, draw)),
                    limits=tuple(tidy(fill(end, draw)) for end in template.limits or ()),
                )
                for draw in islice(draws(bank, template, seed), sample)
            ]
            asked.append(_Asked(bank=bank, template=template, questions={}))
            yield from _repeated(say, drawn, asked[-1])
            yield from _on_draws(say, drawn, template)
            yield from _on_clones(say, bank, template, sample // 2, seed)
    yield from _same(asked)


#: makes a remark on one template
_Say = Callable[..., Remark]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawn:
    """The question of one draw."""

    integrand: Expression
    limits: tuple[Expression, ...]

    def written(self) -> str:
        """The question as a person reads it."""
        between = f" from {plain(self.limits[0])} to {plain(self.limits[1])}" if self.limits else ""
        return f"{plain(self.integrand)}{between}"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """The questions of a template, by what tells one from others."""

    bank: Bank
    template: Template
    questions: dict[tuple[str, ...], str]


def _repeated(say: _Say, drawn: list[_Drawn], asked: _Asked) -> Iterator[Remark]:
    """Gathers the questions of a template; remarks on those that are written in two ways."""
    repeated: list[str] = []
    for one in drawn:
        # under one letter, so that questions in different ones can be held against each other
        question = replace(one, integrand=one.integrand.substitute({asked.template.variable: _LETTER}))
        mark, text = _mark(question), question.written()
        if mark is None:
            continue
        if asked.questions.setdefault(mark, text) != text:
            repeated.append(f"{asked.questions[mark]} and {text}")
    if repeated:
        yield say(
            code="written-twice",
            message=f"{len(repeated)} of {len(drawn)} draws are another one written otherwise, such as {repeated[0]}",
            hint="a condition such as coprime(a, b) keeps one of them; an export takes one in any case",
        )


def _mark(question: _Drawn) -> tuple[str, ...] | None:
    """What a question has in common with those that are the same: values at points, and limits."""
    values = (enclose(question.integrand, at={_LETTER: point}, digits=_DIGITS) for point in _POINTS)
    known = [f"{at}:{value.decimal}" for at, value in enumerate(values) if value is not None][:_COMPARED]
    return (*known, *map(plain, question.limits)) if len(known) == _COMPARED else None


def _same(asked: list[_Asked]) -> Iterator[Remark]:
    for one, two in combinations(asked, 2):
        shared = [text for mark, text in one.questions.items() if mark in two.questions]
        # the same question in other words may be meant: sin^2 x cos^2 x is 1/4 sin^2 2x
        alike = [text for text in shared if text in two.questions.values()]
        if alike or len(shared) > len(one.questions) * _ASTRAY:
            place = "" if one.bank.identifier == two.bank.identifier else f" of {two.bank.identifier}"
            yield Remark(
                code="same-question",
                bank=one.bank.identifier,
                template=one.template.identifier,
                message=f"{len(shared)} of {len(one.questions)} questions are also asked by"
                f" {two.template.identifier}{place}, such as {(alike or shared)[0]}",
                hint="keep the ranges of the two apart, or drop one of them",
            )


def _on_draws(say: _Say, drawn: list[_Drawn], template: Template) -> Iterator[Remark]:
    astray: Counter[str] = Counter()
    degenerate = 0
    example = ""
    for one in drawn:
        if template.variable not in one.integrand.symbols():
            degenerate += 1
            example = plain(one.integrand)
        elif template.technique is not None and not is_way(template.technique):
            solution = solve(one.integrand, template.variable)
            name = solution.technique if solution else "no technique"
            if name != template.technique:
                astray[name] += 1
                example = plain(one.integrand)
    if degenerate:
        yield say(
            code="degenerate",
            message=f"{degenerate} of {len(drawn)} draws lose the variable, such as {example}",
            hint="add a condition on the letters that vanish",
        )
    for name, times in astray.most_common():
        if times > len(drawn) * _ASTRAY:
            yield say(
                code="another-technique",
                message=f"{times} of {len(drawn)} draws would be worked by {name} first, such as {example}",
                hint="add a condition, or name that technique",
            )


def _on_clones(say: _Say, bank: Bank, template: Template, count: int, seed: int) -> Iterator[Remark]:
    # choices are what most is said of
    forms = tuple(form for form in template.responses if form == "choice") or template.responses[:1]
    sample = sampled(bank, template, forms, count, seed)
    if sample.items:
        yield from _spread(say, sample.items)
        yield from _options(say, sample.items)
        yield from _silent(say, sample.items)
    elif sample.shortage:
        yield say(code="no-clones", message=str(sample.shortage), hint="qbank check says more")


def _spread(say: _Say, items: tuple[Item, ...]) -> Iterator[Remark]:
    least, most = min(items, key=lambda one: one.difficulty), max(items, key=lambda one: one.difficulty)
    if most.difficulty - least.difficulty > _SPREAD and most.difficulty > least.difficulty * _TIMES:
        yield say(
            code="unfair-spread",
            message=f"clones are of difficulty {least.difficulty} ({plain(least.integrand)}) to"
            f" {most.difficulty} ({plain(most.integrand)})",
            hint="split the template, or narrow its ranges",
        )


def _options(say: _Say, items: tuple[Item, ...]) -> Iterator[Remark]:
    choices = [item.response for item in items if isinstance(item.response, Choice)]
    if len(choices) < _FEW_CHOICES:
        return
    away = sum(map(gives_away, choices))
    if away > len(choices) * _GIVEN_AWAY:
        yield say(
            code="key-given-away",
            message=f"in {away} of {len(choices)} choices the key is the option most like the others",
            hint="add distractors of your own that share parts of each other, or ask for a number",
        )
    slips = Counter(option.slip for choice in choices for option in choice.options if not option.is_key)
    always = [slip for slip, times in slips.items() if slip and times == len(choices)]
    if len(always) == len(choices[0].options) - 1:
        yield say(
            code="always-the-same-slips",
            message="every choice offers the same slips: " + ", ".join(sorted(always)),
            hint="whoever has seen one clone knows the wrong options of all; add distractors of your own",
        )


def gives_away(choice: Choice) -> bool:
    """Whether the key is the option that has most in common with the others."""
    parts = [Counter(re.findall(r"[a-z]+|\d+|\S", plain(option.answer))) for option in choice.options]
    likeness = [
        sum((one & other).total() / max(one.total(), other.total()) for other in parts) for one in parts
    ]
    return choice.options[likeness.index(max(likeness))].is_key


def _silent(say: _Say, items: tuple[Item, ...]) -> Iterator[Remark]:
    """Formulas that nobody could read aloud."""
    for item in items:
        if not speech(item.integrand).strip() or not speech(item.key).strip():
            yield say(
                code="no-alternative-text",
                message=f"{plain(item.integrand)} has no spoken alternative",
                hint="write the formula otherwise",
            )
            return
