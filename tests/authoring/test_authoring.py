"""Help for authors: what is suggested can be loaded and makes items; what lint says is there."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from jsonschema import Draft202012Validator

from qbank.authoring.linting import lint
from qbank.authoring.suggesting import NoSuggestionError, Suggestion, suggest
from qbank.bank.loading import parse_bank
from qbank.bank.model import Bank
from qbank.cli import main
from qbank.items.checking import check_template
from qbank.maths.expression import Symbol
from qbank.maths.reading import read


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments])


def suggested(text: str, variable: str = "x") -> Suggestion:
    letter = Symbol(variable)
    return suggest(read(text, variable=letter).tree, letter, built=20)


def test_schema_is_the_one_that_banks_are_checked_with() -> None:
    for name in ("bank", "items"):
        Draft202012Validator.check_schema(json.loads(run("schema", name).stdout))
    assert run("schema").stdout == run("schema", "bank").stdout
    assert run("schema", "other").exit_code == 2


def test_a_new_bank_is_sound(tmp_path: Path) -> None:
    path = tmp_path / "Year 12: roots.yaml"
    result = run("new", path, "--title", 'Roots: "hard" ones')
    assert result.exit_code == 0
    assert result.stdout.strip() == str(path)
    bank = parse_bank(path.read_bytes(), "new")
    assert (bank.identifier, bank.title) == ("year-12-roots", 'Roots: "hard" ones')
    report = check_template(bank, bank.templates[0], sample=4)
    assert (report.proved, report.problems) == (4, ())
    assert run("new", path).exit_code == 2, "what is there is not overwritten"
    assert run("new", tmp_path / "12.yml").exit_code == 0
    assert parse_bank((tmp_path / "12.yml").read_bytes(), "new").identifier == "bank-12"


@pytest.mark.parametrize("arguments", [("bank.txt",), ("bank.yaml", "--language", "in English")])
def test_no_new_bank(tmp_path: Path, arguments: tuple[str, ...]) -> None:
    assert run("new", tmp_path / arguments[0], *arguments[1:]).exit_code == 2


def test_letters_are_varied_and_conditions_keep_bad_draws_out() -> None:
    """Sin ax cos bx with a = b is a case of another technique."""
    found = suggested("sin(a x) cos(b x)")
    assert found.technique == "product-to-sum"
    assert 'conditions: ["a != b"]' in found.bank
    assert found.good == found.tried == 20
    assert (found.possible, found.exact) == (56, True)
    assert len(found.samples) == 3
    bank = parse_bank(found.bank.encode(), "suggestion")
    assert check_template(bank, bank.templates[0], sample=6).proved == 6


def test_the_numbers_of_an_example_are_varied_so_that_answers_stay_of_its_kind() -> None:
    """1/(x^2 + 4x + 13) has an inverse tangent without surds: the discriminant is minus a square."""
    found = suggested("1/(x^2 + 4x + 13)")
    assert found.technique == "quadratic-denominator"
    assert "square(-(p^2 - 4a))" in found.bank
    assert found.good == found.tried
    for item in found.samples:
        assert "sqrt" not in str(item.key)


def test_letters_find_their_place_and_the_variable_its_name() -> None:
    found = suggested("t^n + k", variable="t")
    assert "variable: t" in found.bank
    assert "n: {kind: integer, from: 2, to: 5}" in found.bank
    assert "k: {kind: integer, from: -" in found.bank


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("x", "nothing to vary"),
        ("sin(a x^7 + x)^(1/3)", "no technique"),
        ("a b m n p q r x", "too many"),
    ],
)
def test_no_suggestion(text: str, said: str) -> None:
    with pytest.raises(NoSuggestionError, match=said):
        suggested(text)


def test_the_command_prints_a_bank() -> None:
    result = run("suggest", "p sin(2x)^2")
    assert result.exit_code == 0
    assert "# even-powers: 8 different clones; 8 of 8 draws" in result.stdout
    bank = parse_bank(result.stdout.encode(), "suggestion")
    assert bank.templates[0].technique == "even-powers"
    assert run("suggest", "x").exit_code == 2
    assert run("suggest", "x (").exit_code == 2
    assert run("suggest", "p x", "--variable", "2x").exit_code == 2


TEMPLATES = """
  - identifier: tens
    title: Tens
    technique: standard-forms
    parameters: {p: {kind: integer, from: 2, to: 9}, q: {kind: integer, from: 1, to: 4}}
    integrand: "p x^2 / q"
  - identifier: again
    title: Again
    technique: standard-forms
    parameters: {p: {kind: integer, from: 2, to: 9}}
    integrand: "p x^2"
  - identifier: vanishing
    title: Vanishing
    technique: standard-forms
    parameters: {p: {kind: integer, from: 0, to: 3}}
    integrand: "p x^3 + 5"
  - identifier: astray
    title: Astray
    technique: substitution
    parameters: {a: {kind: integer, from: 2, to: 9}}
    integrand: "(a x + 1)^3"
  - identifier: uneven
    title: Uneven
    technique: even-powers
    parameters: {n: {kind: listed, values: [2, 6]}, a: {kind: integer, from: 2, to: 9}}
    integrand: "sin(a x)^n"
  - identifier: few
    title: Few
    technique: standard-forms
    parameters: {a: {kind: integer, from: 2, to: 9}}
    integrand: "1/x + a - a"
"""


def bank(identifier: str, templates: str) -> Bank:
    head = f"identifier: {identifier}\ntitle: T\nlanguage: en\nlicence: CC0-1.0\nversion: 1.0.0\ntemplates:"
    return parse_bank((head + templates).encode(), identifier)


def test_what_lint_says_is_there() -> None:
    one = bank("one", TEMPLATES)
    found = {(remark.template, remark.code): remark for remark in lint([one], sample=24)}
    assert "also asked by again" in found["tens", "same-question"].message
    assert "degenerate" in {code for template, code in found if template == "vanishing"}
    assert "standard-forms" in found["astray", "another-technique"].message
    assert "sin^6" in found["uneven", "unfair-spread"].message
    assert found["few", "no-clones"].hint
    assert not any(template == "again" and code == "same-question" for template, code in found)


def test_questions_that_two_banks_share() -> None:
    again = TEMPLATES.split("  - identifier: vanishing", maxsplit=1)[0].split("  - identifier: again")
    one, two = (
        bank("one", "\n" + "  - identifier: again" + again[1]),
        bank("two", "\n" + "  - identifier: again" + again[1]),
    )
    (remark, *_) = [one for one in lint([one, two], sample=20) if one.code == "same-question"]
    assert "asked by again of two" in remark.message


def test_the_command_ends_with_1_when_there_is_something(tmp_path: Path) -> None:
    path = tmp_path / "b.yaml"
    path.write_text(
        "identifier: one\ntitle: T\nlanguage: en\nlicence: CC0-1.0\nversion: 1.0.0\ntemplates:"
        + TEMPLATES.split("  - identifier: astray", maxsplit=1)[0],
        encoding="utf-8",
    )
    result = run("lint", path, "--sample", "20")
    assert result.exit_code == 1
    assert "one: tens: same-question" in result.stdout
    assert "hint: " in result.stdout
    assert run("lint", tmp_path / "none.yaml").exit_code == 2
