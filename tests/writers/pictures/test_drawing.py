"""Pictures measured from their pixels: nothing cut off, on the baseline, the same bytes in another process."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from functools import cache
from hashlib import sha256
from xml.etree import ElementTree as ET

import pytest

from qbank.writers.pictures import drawing
from qbank.writers.pictures.drawing import Formula, MissingRendererError, Picture, PictureFormat, draw, ready
from tests.writers.pictures.pixels import chunks, ink

MATHML = '<math xmlns="http://www.w3.org/1998/Math/MathML"><mi>α</mi></math>'
#: tall, deep, leaning out at either side, without descender; all end with an upright letter that stands on the line
SHAPES = (
    "x",
    "frac(1, 2) x",
    "display(frac(x + 1, frac(y, g)) x)",
    "integral_0^(π) f j x",
    "lr(\\( frac(1, 2) \\)) y_g x",
    "- x",
    "frac(d, d x) sqrt(y) x",
    "j f p^(f) x",
)


@cache
def drawn(form: PictureFormat) -> tuple[Picture, ...]:
    return tuple(draw([Formula(shape, MATHML) for shape in SHAPES], form))


def test_nothing_is_cut_off() -> None:
    """Ink at an edge would be a letter that goes on beyond it; at twice the size one pixel beside it is left free."""
    for picture in drawn("png"):
        rows = ink(picture.data)
        assert (len(rows), len(rows[0])) == (2 * picture.height, 2 * picture.width)
        assert not any(row[0] or row[-1] for row in rows), picture
        assert any(any(row) for row in rows[:3]), "no more room above than a pixel"
        assert any(any(row) for row in rows[-3:]), "nor below"


def test_letters_stand_on_the_baseline() -> None:
    """An x, the last letter of each shape, ends at the baseline; round its feet reach below by less than a pixel."""
    for shape, picture in zip(SHAPES, drawn("png"), strict=True):
        rows = ink(picture.data)
        # the x is the last thing from the right with ink in each column
        columns = [max(row[at] for row in rows) > 0 for at in range(len(rows[0]))]
        last = len(columns) - 1 - columns[::-1].index(True)
        lowest = max(number for number, row in enumerate(rows) if any(row[last - 6 : last + 1]))
        assert abs(lowest + 1 - 2 * (picture.height - picture.depth)) <= 1, shape


def test_both_formats_have_the_same_size() -> None:
    sizes = [[(one.width, one.height, one.depth) for one in drawn(form)] for form in ("svg", "png")]
    assert sizes[0] == sizes[1]


def test_a_vector_picture_says_its_size_and_its_formula() -> None:
    for picture in drawn("svg"):
        top = ET.fromstring(picture.data)
        assert (top.get("width"), top.get("height")) == (str(picture.width), str(picture.height))
        _, _, width, height = (float(number) for number in (top.get("viewBox") or "").split())
        assert width / height == pytest.approx(picture.width / picture.height, rel=1e-4)
        assert ET.tostring(top[0][0]) == ET.tostring(ET.fromstring(MATHML))
        names = {element.get("id") for element in top.iter() if element.get("id")}
        used = {element.get("{http://www.w3.org/1999/xlink}href", "")[1:] for element in top.iter()} - {""}
        assert used == names
        assert {element.tag.rpartition("}")[2] for element in top.iter()} <= {
            *("svg", "metadata", "math", "mi", "g", "use", "path", "defs", "symbol")
        }


def test_a_bitmap_carries_its_formula() -> None:
    for picture in drawn("png"):
        keyword, _, text = dict(chunks(picture.data))[b"iTXt"].partition(b"\0\0\0\0\0")
        assert keyword == b"MathML"
        assert text.decode() == MATHML


def test_shortened_paths_have_the_same_numbers() -> None:
    path = b"M 0 0m 3.6 1.3c 0 0.76 -0.52 1.24 -1.55 10.44v -0.39h 0.5Z m 0.833 -20.05l -0.5 0.05Z "
    short = drawing._shortened(path)
    assert short == b"M0 0m3.6 1.3c0 .76-.52 1.24-1.55 10.44v-.39h.5Zm.833-20.05l-.5 .05Z"
    # numbers and letters after the grammar of paths in SVG 1.1, section 8.3.9
    token = re.compile(rb"[A-Za-z]|[-+]?(?:\d+\.?\d*|\.\d+)")

    def values(text: bytes) -> list[object]:
        return [one if one.isalpha() else float(one) for one in token.findall(text)]

    assert values(short) == values(path)


def test_the_name_is_made_from_the_bytes() -> None:
    for form in ("svg", "png"):
        for picture in drawn(form):
            assert picture.name == f"{sha256(picture.data).hexdigest()[:24]}.{form}"
    assert len({picture.name for picture in drawn("svg")}) == len(SHAPES)


def test_another_process_draws_the_same() -> None:
    """Elsewhere, with other environment variables, in another order, and in several runs."""
    program = (
        "from tests.writers.pictures.test_drawing import SHAPES, MATHML\n"
        "from qbank.writers.pictures.drawing import Formula, draw\n"
        "for form in ('svg', 'png'):\n"
        "    for shape in reversed(SHAPES):\n"
        "        print(draw([Formula(shape, MATHML)], form)[0].name)\n"
    )
    environment = {**os.environ, "PYTHONHASHSEED": "77", "HOME": "/nowhere", "TZ": "Asia/Tokyo", "LANG": "C"}
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, env=environment
    )
    names = [picture.name for form in ("svg", "png") for picture in reversed(drawn(form))]
    assert done.stdout.split() == names


def test_more_than_one_run(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(drawing, "_BATCH", 3)
    assert tuple(draw([Formula(shape, MATHML) for shape in SHAPES], "svg")) == drawn("svg")
    assert draw([], "svg") == []


def test_without_the_renderer_it_says_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "typst", None)
    drawing._compiler.cache_clear()
    with pytest.raises(MissingRendererError, match=r"pip install 'qbank\[pictures\]'"):
        ready()
