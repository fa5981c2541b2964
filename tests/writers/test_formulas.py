"""Formulas as LaTeX between delimiters: in every generation of QTI, where the MathML would stand, and nothing else."""

from __future__ import annotations

import posixpath
import re
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from lxml import etree

from qbank.cli import main
from qbank.items.deck import Deck
from qbank.maths.conventions import DEFAULT
from qbank.maths.expression import Symbol
from qbank.maths.notation import latex
from qbank.maths.notation.mathml import MATHML
from qbank.writers import WRITERS, Options
from qbank.writers.archive import write_zip
from qbank.writers.formulas import AS_MATHML, Formulas, MathMode
from qbank.writers.pictures import STYLES_PATH, PictureFormat
from qbank.writers.qti import QTI3, QTI21, QTI22, Generation, package
from qbank.writers.qti.content import add_mathematics, add_text
from qbank.writers.qti.elements import add, qti_root
from qbank.writers.qti.item import item_document
from qbank.writers.tree import inline
from tests.writers.qti.test_package import hostile_deck
from tests.writers.sample_items import cosine_power, deck, definite_power
from tests.writers.validating import validate

IN_TEX = Formulas(mode="tex")
MATH = f"{{{MATHML}}}math"
FORMULA = re.compile(r"\\\((.*?)\\\)", re.DOTALL)

every_generation = pytest.mark.parametrize(
    "generation", [QTI3, QTI22, QTI21], ids=lambda generation: generation.version
)


def files(
    sample: Deck, generation: Generation, math: MathMode, picture: PictureFormat = "svg"
) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for one in package(sample, generation, math=math, picture=picture):
        found[one.path] = found.get(one.path, b"") + one.data
    return found


def text_of(document: bytes) -> str:
    return "".join(str(piece) for piece in etree.fromstring(document).itertext())


@every_generation
def test_each_formula_is_there_once_where_the_mathml_was(generation: Generation) -> None:
    """With the formulas taken away, both documents have the same texts in the same order."""
    for item in (cosine_power(2), definite_power(3)):
        as_mathml = etree.fromstring(item_document(item, generation, shuffle=True))
        as_tex = item_document(item, generation, shuffle=True, formulas=IN_TEX)
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
    found = FORMULA.findall(text_of(item_document(item, generation, shuffle=True, formulas=IN_TEX)))
    shown = [formula.removeprefix("\\displaystyle ") for formula in found]
    rows = [statement for row in item.working for statement in row.statements]
    for statement in (item.prompt[1], *rows):
        assert not isinstance(statement, str)
        assert {latex(statement), f"= {latex(statement)}"} & set(shown)
    assert sum(formula.startswith("= ") for formula in shown) == 3, "steps go on from the line before"


@every_generation
def test_words_stay_where_they_may_stand(generation: Generation) -> None:
    document = etree.fromstring(item_document(cosine_power(2), generation, shuffle=True, formulas=IN_TEX))
    spans: list[Any] = list(document.iter("{*}span"))
    assert bool(spans) == generation.aria
    assert all(span.get("aria-label") and FORMULA.fullmatch(span.text) for span in spans)


@pytest.mark.parametrize("formulas", [AS_MATHML, IN_TEX], ids=lambda formulas: formulas.mode)
@every_generation
def test_no_text_becomes_markup_beside_or_in_a_formula(generation: Generation, formulas: Formulas) -> None:
    hostile = """<?markup a\n<script/>?> ]]> "<b/>" &lt; \r"""
    top = qti_root(generation, "qti-item-body", {"title": hostile}, formulas)
    line = add(top, "p")
    add_text(line, hostile)
    add_mathematics(line, Symbol('?><i/>&amp;"'), DEFAULT)
    add_text(line, hostile)
    read: Any = etree.fromstring(inline(top))
    words = '?><i/>&amp;"'
    math = f"\\(\\displaystyle {latex(Symbol(words))}\\)" if formulas.mode == "tex" else words
    assert text_of(inline(top)) == f"{hostile}{math}{hostile}"
    assert read.get("title") == " ".join(hostile.split())
    allowed = {"p", "span", "math", "mstyle", "mi"}
    assert {etree.QName(one).localname for one in read.iterdescendants()} <= allowed


def test_mathml_keeps_nothing_of_the_latex() -> None:
    assert not [one.path for one in package(deck(), QTI3) if b"displaystyle " in one.data]


@every_generation
def test_each_picture_stands_where_the_mathml_was(generation: Generation) -> None:
    """With formulas and pictures put down to their words, both documents are the same from the body on."""
    plain, pictured = files(deck(), generation, "mathml"), files(deck(), generation, "pictures")
    for path in (path for path in plain if path.startswith("items/")):
        with_mathml: Any = etree.fromstring(plain[path])
        with_pictures: Any = etree.fromstring(pictured[path])
        for math in list(with_mathml.iter(MATH)):
            words = math.getparent().makeelement("words", {"alt": math.get("alttext")})
            words.tail = math.tail
            old = math.getparent() if math.getparent().get("role") == "math" else math
            words.tail = old.tail
            old.getparent().replace(old, words)
        images = list(with_pictures.iter("{*}img"))
        assert images
        for image in images:
            words = image.makeelement("words", {"alt": image.get("alt")})
            words.tail = image.tail
            image.getparent().replace(image, words)
        for sheet in list(with_pictures.iter("{*}qti-stylesheet", "{*}stylesheet")):
            sheet.getparent().remove(sheet)
        one, other = (etree.tostring(top, method="c14n") for top in (with_mathml, with_pictures))
        assert one.replace(b' xmlns:part=""', b"") == other


@pytest.mark.parametrize("picture", ["svg", "png"])
@every_generation
def test_every_picture_is_in_the_package_and_in_the_manifest(
    generation: Generation, picture: PictureFormat
) -> None:
    found = files(deck(), generation, "pictures", picture)
    manifest: Any = etree.fromstring(found["imsmanifest.xml"])
    for path in (path for path in found if path.startswith("items/")):
        document: Any = etree.fromstring(found[path])
        shown = {image.get("src") for image in document.iter("{*}img")}
        assert all(name.endswith(f".{picture}") for name in shown)
        shown |= {sheet.get("href") for sheet in document.iter("{*}qti-stylesheet", "{*}stylesheet")}
        at_top = {posixpath.normpath(posixpath.join(posixpath.dirname(path), name)) for name in shown}
        [resource] = manifest.xpath("//*[local-name()='resource'][@href=$path]", path=path)
        assert {file.get("href") for file in resource.iter("{*}file")} == {path, *at_top}
        assert at_top <= set(found)
        styles = found[STYLES_PATH].decode()
        for image in document.iter("{*}img"):
            assert all(f".{name}{{" in styles for name in image.get("class").split())


@pytest.mark.reference
@every_generation
def test_valid_against_the_standards_schemas(generation: Generation, shared: Path, tmp_path: Path) -> None:
    modes: tuple[MathMode, ...] = ("pictures", "tex")
    samples = enumerate((deck(), hostile_deck()))
    paths = [
        write_zip(package(sample, generation, math=math), tmp_path / f"{number}-{math}.zip")
        for number, sample in samples
        for math in modes
    ]
    validate(shared, *paths)


def test_the_option_reaches_the_writer_and_the_name_of_the_file() -> None:
    for name in ("qti3", "qti22", "qti21"):
        options = Options(math="tex")
        assert WRITERS[name].file_name(deck(), options) == f"powers-{name}-tex.zip"
        assert WRITERS[name].file_name(deck()) == f"powers-{name}.zip"
        data = b"".join(artifact.data for artifact in WRITERS[name].write(deck(), options))
        assert b"\\(\\displaystyle" in data
        assert b"<math" not in data
        pictured = Options(math="pictures", picture="png")
        assert WRITERS[name].file_name(deck(), pictured) == f"powers-{name}-pictures-png.zip"
        assert any(artifact.path.endswith(".png") for artifact in WRITERS[name].write(deck(), pictured))


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
