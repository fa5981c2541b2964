"""The catalogue and the source say the same, and a translation leaves out nothing that stands in the gaps.

The format, and what makes a translation complete, are gettext's (GNU gettext manual, 10.1 and 11.2.6); Babel reads them
and checks the plural forms.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from string import Formatter

import pytest

from tests.messages.catalogue import (
    TEMPLATE,
    compiled,
    read,
    template,
    translations,
    unfinished,
    updated,
    write,
    written,
)
from tests.messages.extraction import bare_sentences, sentences


def in_order(text: str) -> list[str]:
    return [gap for _, gap, _, _ in Formatter().parse(text) if gap is not None]


def gaps(text: str) -> set[str]:
    return set(in_order(text))


def test_every_gap_of_the_source_is_filled() -> None:
    assert len(sentences()) > 900
    for one in sentences():
        for text in filter(None, (one.text, one.plural)):
            if one.filled is not None:
                assert gaps(text) == one.filled - ({"count"} - gaps(text)), f"{one.path}:{one.line}"


def test_the_catalogue_is_that_of_the_source(update_goldens: bool) -> None:
    """On a difference: `python -m tests.messages.catalogue`, or `--update-goldens`; then translate what it lists."""
    if update_goldens:
        write()
    assert TEMPLATE.read_bytes() == written(template())


@pytest.mark.parametrize("path", translations(), ids=lambda path: path.stem)
def test_translations_are_whole(path: Path) -> None:
    catalog = updated(path)
    assert not [one.id for one in unfinished(catalog)]
    assert path.read_bytes() == written(catalog)


def test_every_sentence_is_in_the_catalogue_and_whole() -> None:
    assert not list(bare_sentences("techniques", "items", "marking", "writers"))
    assert not [
        one for one in sentences() if one.text != one.text.strip() or one.plural != one.plural.strip()
    ]


@pytest.mark.parametrize("path", translations(), ids=lambda path: path.stem)
def test_translations_have_the_gaps_and_the_plural_forms(path: Path) -> None:
    catalog = read(path)
    assert not list(catalog.check())
    waiting = unfinished(catalog)
    for one in catalog:
        if one.id and one not in waiting:
            english = _forms(one.id)
            forms = _forms(one.string)
            for text in forms:
                # the form for one thing may write the number as a word
                assert gaps(text) - {"count"} == gaps(english[0]) - {"count"}, english
            assert gaps(forms[-1]) == gaps(english[-1]), english


@pytest.mark.parametrize("path", translations(), ids=lambda path: path.stem)
def test_formulas_keep_their_order(path: Path) -> None:
    """Packages are read back by the order of the formulas in a question."""
    ordered = {one.text for one in sentences() if one.ordered}
    catalog = read(path)
    waiting = unfinished(catalog)
    for one in catalog:
        if one.id in ordered and one not in waiting:
            assert in_order(str(one.string)) == in_order(str(one.id))


def _forms(text: str | Iterable[str] | None) -> tuple[str, ...]:
    assert text is not None
    return (text,) if isinstance(text, str) else tuple(text)


@pytest.mark.parametrize("path", translations(), ids=lambda path: path.stem)
def test_what_is_read_at_run_time_is_the_translation(path: Path) -> None:
    assert path.with_suffix(".mo").read_bytes() == compiled(read(path))
