"""The banks that come with the package are opened by their identifiers, and every template is sound."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from qbank.authoring.sampling import sampled
from qbank.bank.model import Bank, Template
from qbank.cli import main
from qbank.cli.arguments import SHIPPED, open_bank, shipped_bank
from qbank.items.checking import check_template
from qbank.maths.expression import Integer

LIBRARY = Path(__file__).parents[2] / "qbank" / "bank" / "library"
FURTHER = open_bank(LIBRARY / "saltmarrow-further-integration.yaml")
#: the house rule for friendly numbers at level 1: in an antiderivative, and in a value
LARGEST, LARGEST_VALUE = 60, 2500
#: every bank that comes with qbank
BANKS = tuple(open_bank(path) for path in sorted(LIBRARY.glob("*.yaml")))


def test_the_library_holds_the_bank_used_when_none_is_named() -> None:
    assert SHIPPED in {path.name for path in LIBRARY.glob("*.yaml")}


def test_a_bank_is_named_by_its_identifier(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    name = FURTHER.templates[0].identifier
    found = CliRunner().invoke(main, ["draw", FURTHER.identifier, "--template", name, "--count", "1"])
    assert found.exit_code == 0, found.output
    assert FURTHER.templates[0].title in found.output
    missing = CliRunner().invoke(main, ["check", "no-such-bank"])
    assert missing.exit_code == 2


def test_a_file_of_that_name_comes_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    own = Path(FURTHER.identifier)
    own.write_text("identifier: own", encoding="utf-8")
    assert shipped_bank(None, None, own) == own  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("bank", "template"),
    [(bank, template) for bank in BANKS for template in bank.templates],
    ids=lambda value: value.identifier,
)
def test_a_template_has_enough_clones_and_no_problems(bank: Bank, template: Template) -> None:
    report = check_template(bank, template, sample=4, seed=99)
    assert report.problems == ()
    assert report.possible >= 200


@pytest.mark.parametrize(
    ("bank", "template"),
    [(bank, template) for bank in BANKS for template in bank.templates if "level-1" in template.tags],
    ids=lambda value: value.identifier,
)
def test_numbers_are_friendly_at_level_1(bank: Bank, template: Template) -> None:
    for item in sampled(bank, template, template.responses[:1], count=6, seed=5).items:
        numbers = [node.value for node in item.key.walk() if isinstance(node, Integer)]
        assert max(map(abs, numbers), default=0) <= (LARGEST_VALUE if item.asks_for_value else LARGEST), (
            numbers
        )
