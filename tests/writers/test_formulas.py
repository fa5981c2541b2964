"""Formulas as LaTeX between delimiters: in every generation of QTI, where the MathML would stand, and nothing else."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from lxml import etree

from qbank.cli import main
from qbank.maths.notation import latex
from qbank.writers import WRITERS, Options
from qbank.writers.archive import write_zip
from qbank.writers.formulas import TEX, settle
from qbank.writers.qti import QTI3, QTI21, QTI22, Generation, package
from qbank.writers.qti.item import item_document
from tests.writers.qti.test_package import hostile_deck
from tests.writers.sample_items import cosine_power, deck, definite_power
from tests.writers.validating import validate

MATH = "{http://www.w3.org/1998/Math/MathML}math"
FORMULA = re.compile(r"\\\((.*?)\\\)", re.DOTALL)

every_generation = pytest.mark.parametrize(
    "generation", [QTI3, QTI22, QTI21], ids=lambda generation: generation.version
)


def text_of(document: bytes) -> str:
    return "".join(str(piece) for piece in etree.fromstring(document).itertext())


@every_generation
def test_each_formula_is_there_once_where_the_mathml_was(generation: Generation) -> None:
    """With the formulas taken away, both documents have the same texts in the same order."""
    for item in (cosine_power(2), definite_power(3)):
        as_mathml = etree.fromstring(item_document(item, generation, shuffle=True))
        as_tex = item_document(item, generation, shuffle=True, math="tex")
        formulas = list(as_mathml.iter(MATH))
        for math in formulas:
            for part in list(math):
                math.remove(part)
            math.text = "\\(FORMULA\\)"
        assert not list(etree.fromstring(as_tex).iter(MATH))
        assert len(FORMULA.findall(text_of(as_tex))) == len(formulas)
        assert FORMULA.sub("FORMULA", text_of(as_tex)) == FORMULA.sub(
            "FORMULA", text_of(etree.tostring(as_mathml))
        )


@every_generation
def test_formulas_are_those_of_the_item(generation: Generation) -> None:
    item = cosine_power(2)
    found = FORMULA.findall(text_of(item_document(item, generation, shuffle=True, math="tex")))
    shown = [formula.removeprefix("\\displaystyle ") for formula in found]
    rows = [statement for row in item.working for statement in row.statements]
    for statement in (item.prompt[1], *rows):
        assert not isinstance(statement, str)
        assert {latex(statement), f"= {latex(statement)}"} & set(shown)
    assert sum(formula.startswith("= ") for formula in shown) == 3, "steps go on from the line before"


@every_generation
def test_words_stay_where_they_may_stand(generation: Generation) -> None:
    document = etree.fromstring(item_document(cosine_power(2), generation, shuffle=True, math="tex"))
    spans: list[Any] = list(document.iter("{*}span"))
    assert bool(spans) == generation.aria
    assert all(span.get("aria-label") and FORMULA.fullmatch(span.text) for span in spans)


def test_texts_from_outside_are_never_taken_for_latex() -> None:
    """A backslash of a text is followed by a word joiner (U+2060), so that it begins neither delimiter nor command."""
    top = etree.fromstring(
        "<p>a \\(\\href{x}{y}\\) <b>\\[z\\]</b> \\begin{a} "
        '<math xmlns="http://www.w3.org/1998/Math/MathML" tex="x^{2}"/> and \\(</p>'
    )
    settle(top, "tex")
    text = "".join(str(piece) for piece in top.itertext())
    assert FORMULA.findall(text) == [r"\displaystyle x^{2}"]
    joined = text.replace("\u2060", "")
    assert joined == r"a \(\href{x}{y}\) \[z\] \begin{a} \(\displaystyle x^{2}\) and \("
    outside = FORMULA.sub("", text)
    assert set(re.findall(r"\\(.)", outside)) == {"\u2060"}


def test_mathml_keeps_nothing_of_the_latex() -> None:
    for path, data in ((one.path, one.data) for one in package(deck(), QTI3)):
        if path.startswith("items/"):
            assert not [math for math in etree.fromstring(data).iter(MATH) if TEX in math.attrib]


@pytest.mark.reference
@every_generation
def test_valid_against_the_standards_schemas(generation: Generation, shared: Path, tmp_path: Path) -> None:
    for number, sample in enumerate((deck(), hostile_deck())):
        validate(shared, write_zip(package(sample, generation, math="tex"), tmp_path / f"{number}.zip"))


def test_the_option_reaches_the_writer_and_the_name_of_the_file() -> None:
    for name in ("qti3", "qti22", "qti21"):
        options = Options(math="tex")
        assert WRITERS[name].file_name(deck(), options) == f"powers-{name}-tex.zip"
        assert WRITERS[name].file_name(deck()) == f"powers-{name}.zip"
        data = b"".join(artifact.data for artifact in WRITERS[name].write(deck(), options))
        assert b"\\(\\displaystyle" in data
        assert b"<math" not in data


def test_a_format_that_is_not_concerned_says_so(tmp_path: Path) -> None:
    arguments = [
        "export",
        "--template",
        "sine-cubed",
        "--count",
        "1",
        "--math",
        "tex",
        "--out",
        str(tmp_path),
    ]
    result = CliRunner().invoke(main, arguments, catch_exceptions=False)
    assert result.exit_code == 0
    assert "--math tex does not concern json" in result.output
    assert "does not concern qti3" not in result.output
    assert {path.name for path in tmp_path.iterdir()} == {
        "saltmarrow-integration-qti3-tex.zip",
        "saltmarrow-integration-json.json",
    }
