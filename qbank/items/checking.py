"""Checking a template: how many clones it has, whether a sample of them is proved, how evenly hard they are."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from qbank.bank.drawing import box_size, draws, every_draw, fill
from qbank.bank.model import Bank, ResponseForm, Template
from qbank.items.building import build_item
from qbank.items.refusal import DrawRefused

__all__ = ["COUNT_LIMIT", "TemplateReport", "TooManyDrawsError", "check_template"]

#: boxes of parameter values up to this size are counted out; larger ones are bounded by their size
COUNT_LIMIT = 50_000


class TooManyDrawsError(ValueError):
    """A template has more draws than can be proved one by one."""

    def __init__(self, template: Template) -> None:
        super().__init__(
            f"template {template.identifier!r} has {box_size(template)} combinations of parameters, too many to prove"
            f" all of them; prove a sample, or narrow the ranges below {COUNT_LIMIT}"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateReport:
    """What checking found out about one template.

    Attributes:
        template: its identifier.
        technique: its technique, or `author` when the antiderivative is given.
        possible: how many different questions its parameters give.
        exact: whether `possible` was counted; otherwise it is an upper bound.
        tried: how many draws were built.
        proved: how many of them made an item with all proofs.
        passed_over: why draws made none by an accident of their numbers, and how many for that reason, the most
            frequent first; another draw takes their place.
        easiest: smallest difficulty among them, 0 when there are none.
        hardest: largest difficulty among them.
        problems: what is wrong, one sentence each, the most frequent first.
    """

    template: str
    technique: str
    possible: int
    exact: bool
    tried: int
    proved: int
    passed_over: tuple[tuple[str, int], ...]
    easiest: int
    hardest: int
    problems: tuple[str, ...]


def check_template(bank: Bank, template: Template, *, sample: int | None, seed: int = 1) -> TemplateReport:
    """Build and prove clones of a template.

    Args:
        bank: the template's bank.
        template: what to check.
        sample: how many draws to build; None for all of them.
        seed: of the sample.

    Raises:
        TooManyDrawsError: all draws are wanted and there are more than `COUNT_LIMIT`.
    """
    exact = box_size(template) <= COUNT_LIMIT
    if sample is None and not exact:
        raise TooManyDrawsError(template)
    possible = len(_questions(template)) if exact else box_size(template)
    refusals: Counter[str] = Counter()
    accidents: dict[ResponseForm, Counter[str]] = {form: Counter() for form in template.responses}
    difficulties: list[int] = []
    made: Counter[ResponseForm] = Counter()
    tried = 0
    for draw in every_draw(template) if sample is None else draws(bank, template, seed):
        if sample is not None and tried == sample:
            break
        form = template.responses[tried % len(template.responses)]
        tried += 1
        try:
            difficulties.append(build_item(bank, template, draw, form).difficulty)
            made[form] += 1
        except DrawRefused as refusal:
            if refusal.accident:
                accidents[form][str(refusal)] += 1
            else:
                refusals[str(refusal)] += 1
    problems = [f"{count} of {tried} draws refused: {reason}" for reason, count in refusals.most_common()]
    problems += [
        f"none of {reasons.total()} draws gives an item for {form}: {reasons.most_common(1)[0][0]}"
        for form, reasons in accidents.items()
        if reasons and not made[form]
    ]
    if not tried:
        problems.append("no draw meets the conditions")
    return TemplateReport(
        template=template.identifier,
        technique=template.technique or (template.application.kind if template.application else "author"),
        possible=possible,
        exact=exact,
        tried=tried,
        proved=len(difficulties),
        passed_over=tuple(sum(accidents.values(), Counter()).most_common()),
        easiest=min(difficulties, default=0),
        hardest=max(difficulties, default=0),
        problems=tuple(problems),
    )


def _questions(template: Template) -> set[object]:
    """The different questions of a template, as trees."""
    limits = template.limits or ()
    return {
        (fill(template.integrand, draw), *(fill(limit, draw) for limit in limits))
        for draw in every_draw(template)
    }
