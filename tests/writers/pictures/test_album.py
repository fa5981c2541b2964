"""The pictures of a package: each formula once, whatever was forgotten meanwhile, and its place said in the document."""

from __future__ import annotations

from typing import Any

import pytest
from lxml import etree

from qbank.maths.expression import Symbol, sin
from qbank.maths.notation.mathml import MATHML, markup
from qbank.writers.pictures import Album, Image, album
from qbank.writers.tree import Element, inline

X = Symbol("x")


def pasted(book: Album, *powers: int) -> Any:
    """A paragraph with formulas, as a reader of it gets it."""
    top = Element(b"p")
    for power in powers:
        top.parts.append(
            Image(f'<math xmlns="{MATHML}">{markup(sin(X) ** power).decode()}</math>', f"sine to the {power}")
        )
        top.parts.append(f" after {power} ".encode())
    book.paste([image for image in top.children if isinstance(image, Image)], "../")
    return etree.fromstring(inline(top))


def test_an_image_stands_where_the_formula_stood() -> None:
    top = pasted(Album("svg", "classes"), 2, 3)
    assert [image.tag for image in top] == ["img"] * 2
    assert [image.tail for image in top] == [" after 2 ", " after 3 "]
    assert [image.get("alt") for image in top] == ["sine to the 2", "sine to the 3"]
    assert all(image.get("src").startswith("../pictures/") for image in top)


def test_the_same_formula_is_one_file() -> None:
    book = Album("svg", "classes")
    first = pasted(book, 2, 3, 2)
    assert first[0].get("src") == first[2].get("src") != first[1].get("src")
    paths = book.paths()
    assert [f"../{path}" for path in paths] == [first[0].get("src"), first[1].get("src")]
    assert [one.path for one in book.files()] == list(paths)
    assert book.paths() == ()
    again = pasted(book, 3, 4)
    assert book.paths() == (paths[1], again[1].get("src")[3:])
    assert [f"../{one.path}" for one in book.files()] == [again[1].get("src")]


def test_what_was_let_go_is_drawn_again(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = Album("png", "styles")
    pasted(whole, 2, 3, 4, 5, 6)
    monkeypatch.setattr(album, "_HELD", 2)
    small = Album("png", "styles")
    for power in (2, 3, 4, 5, 6):
        pasted(small, power)
    assert [*small.files()] == [*whole.files()]
    assert len(small._held) == 2


def test_places_by_classes_and_by_styles() -> None:
    book = Album("svg", "classes")
    [image] = pasted(book, 2)
    height, width = int(image.get("height")), int(image.get("width"))
    formula, high, deep = image.get("class").split()
    styles = book.styles().data.decode()
    assert f".{formula}{{width:auto;margin:0.125em -0.0625em 0}}" in styles
    assert f".{high}{{height:{height / 16:g}em}}" in styles
    assert f".{deep}{{vertical-align:-" in styles
    [inline] = pasted(Album("svg", "styles"), 2)
    assert inline.get("style").startswith(f"width:{width / 16:g}em;height:{height / 16:g}em;vertical-align:-")
    assert inline.get("style").endswith(";margin:0.125em -0.0625em 0")
    assert inline.get("class") is None
