"""Several answers in QTI 1.2: shares in a plain package, exactly the right options in a cartridge."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from qbank.items.deck import Deck, Section
from qbank.marking import SeveralMarker
from qbank.writers import WRITERS
from tests.items.several_items import TEMPLATES, several_item, several_of
from tests.writers.qti.test_package import HOSTILE
from tests.writers.qti.test_several import hostile
from tests.writers.qti12 import rules
from tests.writers.qti12.processor import Outcome, items, run
from tests.writers.qti12.reading import members
from tests.writers.qti12.untrusted import KINDS, check_valid_and_harmless
from tests.writers.sample_items import deck


def sample(*more: Any) -> Deck:
    found = [replace(several_item(name), identifier=name) for name in TEMPLATES]
    return deck(Section(template="t", title="t", items=(*found, *more), pick=None))


def written(name: str, wanted: str) -> Any:
    files = members(WRITERS[name].write(sample()))
    found = [one for path, data in files.items() if "manifest" not in path for one in items(data)]
    return next(one for one in found if one.get("ident") == wanted)


@pytest.mark.parametrize("template", TEMPLATES)
def test_every_set_of_options(template: str) -> None:
    response = several_of(template)
    marker = SeveralMarker(response)
    right = {option.identifier for option in response.keys}
    names = [option.identifier for option in response.options]
    plain, cartridge = written("qti12", template), written("cc", template)
    for size in range(1, len(names) + 1):
        for chosen in combinations(names, size):
            shares, exactly = run(plain, frozenset(chosen)), run(cartridge, frozenset(chosen))
            assert shares.score == pytest.approx(marker.mark(chosen).score or 0, abs=1e-12), chosen
            assert exactly.score == (1 if set(chosen) == right else 0)
            for outcome in (shares, exactly):
                assert set(outcome.shown) == {*(f"feedback_{one}" for one in chosen), "solution"}
    for element in (plain, cartridge):
        assert run(element, frozenset()) == run(element, None) == Outcome(0, ())
        assert run(element, frozenset({"Z", ""})).score == 0
        assert [one.get("rcardinality") for one in element.iter("{*}response_lid")] == ["Multiple"]


@pytest.mark.reference
@pytest.mark.parametrize(("name", "purpose"), KINDS)
def test_valid_with_hostile_texts(shared: Path, tmp_path: Path, name: str, purpose: Any) -> None:
    check_valid_and_harmless(sample(hostile(" ".join(HOSTILE))), name, purpose, shared, tmp_path)


@pytest.mark.reference
def test_the_rules_know_the_kind(shared: Path) -> None:
    (data,) = [data for path, data in members(WRITERS["cc"].write(sample())).items() if "tests/" in path]
    single = data.replace(b'rcardinality="Multiple"', b'rcardinality="Single"', 1)
    assert rules.of_items(shared).broken(single)
