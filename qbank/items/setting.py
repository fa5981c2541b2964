"""A test of a bank set as a deck: pools from which each student is dealt some, or parallel forms.

    sections as declared --allot--> so many items of each template --clones--> pools --parallel_forms--> forms

Every template gives a fixed number of items to a section, so that all students get the same marks for the same work,
whatever they are dealt. No two clones of a test ask the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace

from qbank.bank.drawing import Stream, box_size
from qbank.bank.model import Assessment, AssessmentSection, Bank, Template
from qbank.items.allotting import allot
from qbank.items.cloning import EASY_OR_HARD, Given, PassedOver, ShortageError, clones, unheard
from qbank.items.deck import Deck, Paper, Part, Section
from qbank.items.decking import deck_of
from qbank.items.item import Item
from qbank.items.sharing import mean_difficulty, parallel_forms
from qbank.items.source import Source
from qbank.messages import in_language

__all__ = ["SettingError", "set_test"]

#: clones of a template that are looked at for one of the difficulty asked for
_LOOKED_AT = 10


class SettingError(Exception):
    """A test that cannot be set: which section, why, and what to do about it."""

    def __init__(self, assessment: Assessment, section: AssessmentSection, what: str, hint: str) -> None:
        self.assessment, self.section, self.what, self.hint = assessment, section, what, hint
        super().__init__(f"test {assessment.identifier}, section {section.title!r}: {what}\n    hint: {hint}")


def set_test(
    bank: Bank,
    assessment: Assessment,
    *,
    count: int,
    seed: int,
    forms: int | None = None,
    watch: Callable[[], object] = lambda: None,
    passed_over: PassedOver = unheard,
    file: tuple[str, bytes] | None = None,
) -> Deck:
    """The deck of a test. All its items are held, as they are put in order.

    Args:
        bank: what to draw from.
        assessment: one of its tests.
        count: clones of each template in each pool; more where more are dealt. Forms take those that are most alike.
        seed: of the draw.
        forms: how many parallel forms; None for pools.
        watch: called after each item is built, for a progress bar.
        passed_over: told of each draw that made no item, and why.
        file: the name and the bytes of the bank file, for the deck to carry its source; None to leave it out.

    Raises:
        SettingError: a section cannot be filled.
    """
    setter = _Setter(
        bank=bank,
        assessment=assessment,
        count=count,
        seed=seed,
        forms=forms,
        watch=watch,
        passed_over=passed_over,
    )
    paper = Paper(
        identifier=f"test-{bank.identifier}-{assessment.identifier}",
        form="",
        title=assessment.title,
        instructions=assessment.instructions,
        minutes=assessment.minutes,
        parts=tuple(setter.part(number, one) for number, one in enumerate(assessment.sections, 1)),
    )
    papers = (paper,) if forms is None else parallel_forms(paper, forms)
    # the title says which form it is
    papers = tuple(replace(one, title=in_language(one.title, bank.language)) for one in papers)
    return deck_of(
        bank,
        seed,
        tuple(section for paper in papers for section in paper.sections),
        source=None
        if file is None
        else Source(
            name=file[0],
            content=file[1],
            seed=seed,
            count=count,
            templates=None,
            pick=None,
            test=assessment.identifier,
            forms=forms,
        ),
        shuffle=assessment.shuffle,
        papers=papers,
        stem=f"{bank.identifier}-{assessment.identifier}{'' if forms is None else '-forms'}",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Setter:
    """Sets one test; remembers what was asked, so that nothing is asked twice."""

    bank: Bank
    assessment: Assessment
    count: int
    seed: int
    forms: int | None
    watch: Callable[[], object]
    passed_over: PassedOver
    given: Given = field(default_factory=Given)

    def part(self, number: int, section: AssessmentSection) -> Part:
        templates = [_as_set(template, section) for template in self._that_fit(section)]
        copies = 1 if self.forms is None else self.forms
        stream = Stream(self.bank.identifier, self.assessment.identifier, number, self.seed, "templates")
        shares = allot(section.count, [box_size(template) // copies for template in templates], stream)
        if shares is None:
            what = f"its templates cannot give {section.count} items" + (
                f" for each of {copies} forms" * (copies > 1)
            )
            raise self._error(section, what, "ask for fewer, or let more templates in")
        pools = [
            self._pool(section, template, share, f"{number}_{template.identifier}")
            for template, share in zip(templates, shares, strict=True)
            if share
        ]
        rising = section.order == "rising"
        if rising:
            pools.sort(key=lambda pool: mean_difficulty(pool[1]))
        return Part(
            identifier=f"{number}",
            title=section.title,
            marks=sum((pool.pick or 0) * items[0].marks for pool, items in pools),
            rising=rising,
            shuffle=self.assessment.shuffle and not rising,
            sections=tuple(pool for pool, _ in pools),
        )

    def _pool(
        self, section: AssessmentSection, template: Template, share: int, name: str
    ) -> tuple[Section, tuple[Item, ...]]:
        needed, wanted = share, max(self.count, share)
        if self.forms is not None:
            needed = share * self.forms
            # more than are needed, so that clones can be found that are alike; each section leaves some to the others
            rivals = sum(template.identifier in _names(one.templates) for one in self.assessment.sections)
            wanted = max(needed, min(self.count, box_size(template) // rivals))
            # each slot has one response form in all forms of the test
            slots = [template.responses[slot % len(template.responses)] for slot in range(share)]
            template = replace(template, responses=tuple(form for form in slots for _ in range(self.forms)))
        items = self._clones(section, template, wanted, wanted if self.forms is None else needed)
        if section.order == "rising":
            items = tuple(sorted(items, key=lambda item: item.difficulty))
        pictured = template.application is not None
        return Section(
            template=template.identifier,
            title=template.title,
            items=items,
            pick=share,
            name=name,
            pictured=pictured,
        ), items

    def _clones(
        self, section: AssessmentSection, template: Template, wanted: int, needed: int
    ) -> tuple[Item, ...]:
        items: list[Item] = []
        found = clones(
            self.bank,
            template,
            wanted,
            self.seed,
            passed_over=self.passed_over,
            given=self.given,
            difficulty=section.difficulty,
        )
        try:
            for item in found:
                items.append(item)
                self.watch()
        except ShortageError as error:
            if len(items) < needed:
                hint = "deal fewer, let more templates in, or make fewer clones of each"
                raise self._error(section, str(error), hint) from error
        return tuple(items)

    def _that_fit(self, section: AssessmentSection) -> list[Template]:
        """The templates of a section; where a difficulty is asked for, those that have it among their first clones."""
        if section.difficulty == EASY_OR_HARD:
            return list(section.templates)
        fitting = [template for template in section.templates if self._has_fitting_clone(section, template)]
        if not fitting:
            what = f"none of its templates has the difficulty asked for among its first {_LOOKED_AT} clones"
            raise self._error(section, what, "see the difficulties that `qbank check` shows")
        return fitting

    def _has_fitting_clone(self, section: AssessmentSection, template: Template) -> bool:
        some = clones(
            self.bank,
            _as_set(template, section),
            1,
            self.seed,
            difficulty=section.difficulty,
            patience=_LOOKED_AT,
        )
        try:
            return next(some, None) is not None
        except ShortageError:
            return False

    def _error(self, section: AssessmentSection, what: str, hint: str) -> SettingError:
        return SettingError(self.assessment, section, what, hint)


def _names(templates: Iterable[Template]) -> set[str]:
    return {template.identifier for template in templates}


def _as_set(template: Template, section: AssessmentSection) -> Template:
    """The template as the section wants it: its marks, and the response forms that it may have."""
    marks = template.marks if section.marks is None else section.marks
    return replace(template, responses=section.forms_of(template), marks=marks)
