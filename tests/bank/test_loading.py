"""Bank files, good and bad: a case is a file in `valid/` or `invalid/`, with the whole expected message beside it."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from qbank.bank.loading import load_bank, parse_bank
from qbank.bank.model import Assessment, AssessmentSection
from qbank.bank.policy import Policy
from qbank.bank.problem import BankError
from qbank.maths.conventions import Conventions
from qbank.maths.expression import Symbol

HERE = Path(__file__).resolve().parent
VALID = sorted((HERE / "valid").iterdir())
INVALID = sorted(path for path in (HERE / "invalid").iterdir() if path.suffix in (".yaml", ".json"))


def test_there_are_cases() -> None:
    assert len(VALID) >= 2
    assert len(INVALID) >= 15


@pytest.mark.parametrize("path", VALID, ids=lambda p: p.name)
def test_valid(path: Path) -> None:
    assert load_bank(path).templates


@pytest.mark.parametrize("path", INVALID, ids=lambda p: p.name)
def test_invalid(path: Path, update_goldens: bool) -> None:
    expected = path.with_name(path.name + ".txt")
    with pytest.raises(BankError) as caught:
        parse_bank(path.read_bytes(), path.name)
    message = str(caught.value) + "\n"
    assert message.startswith(path.name + ":")
    if update_goldens:
        expected.write_text(message, encoding="utf-8")
    assert expected.exists(), "run: pytest tests/bank --update-goldens, and read what it wrote"
    assert message == expected.read_text(encoding="utf-8")


def test_problems_come_in_the_order_of_the_file() -> None:
    with pytest.raises(BankError) as caught:
        load_bank(HERE / "invalid" / "several.yaml")
    places = [problem.place for problem in caught.value.problems]
    assert places == sorted(places)
    assert len(places) >= 12


def test_every_field_arrives() -> None:
    bank = load_bank(HERE / "valid" / "everything.json")
    assert bank.conventions == Conventions(
        logarithm="log", inverse="power", cosecant="csc", constant="K", decimal=",", language="en-GB"
    )
    assert bank.authors == ("An author", "Another")
    template = bank.template("with-all")
    values = {parameter.name: parameter.values for parameter in template.parameters}
    assert list(values["a"]) == [1, 3, 4]
    assert list(values["b"]) == [1, Fraction(3, 2), -2]
    assert values["rate"] == (Fraction(1, 2), Fraction(3, 2), Fraction(1, 3), Fraction(2, 3))
    assert template.variable == Symbol("t")
    assert template.policy == Policy(constant=Fraction(0))
    assert [derived.name for derived in template.derived] == ["d", "f"]
    with pytest.raises(KeyError):
        bank.template("none")
    (test,) = bank.tests
    assert test == Assessment(
        identifier="with-all",
        title="A test",
        instructions="Begin.",
        minutes=45,
        shuffle=False,
        sections=(
            AssessmentSection(
                title="One",
                count=2,
                marks=4,
                order="rising",
                templates=(template,),
                responses=("choice",),
                difficulty=(2, 9),
            ),
            AssessmentSection(
                title="Two",
                count=1,
                marks=None,
                order="drawn",
                templates=(template,),
                responses=None,
                difficulty=(None, 9),
            ),
        ),
    )


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(BankError, match="cannot be read"):
        load_bank(tmp_path / "none.yaml")


def test_a_file_that_is_too_large() -> None:
    with pytest.raises(BankError, match="larger than"):
        parse_bank(b"#" * 5_000_000, "large.yaml")


def test_a_byte_order_mark_is_no_fault() -> None:
    path = HERE / "valid" / "smallest.yaml"
    assert parse_bank(b"\xef\xbb\xbf" + path.read_bytes(), "x.yaml") == load_bank(path)
