"""Formulas to pictures: the one door to Typst, which sets them with the fonts that it carries and no others.

A picture is measured in pixels at 16 to the size of the text. Its edges and its baseline lie on whole pixels, so that a
place in the text is said exactly by whole numbers: width, height, and depth below the baseline. A page of each formula
is followed by an empty one whose height is the depth.

The formula itself, as MathML, is written into the picture where the format has a place for what is not shown.
"""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Sequence
from functools import cache
from hashlib import sha256
from typing import Any, Literal, NamedTuple, TypeAlias, cast

__all__ = [
    "PIXELS",
    "ROOM",
    "Formula",
    "MissingRendererError",
    "Picture",
    "PictureFormat",
    "carried",
    "draw",
    "ready",
]

PictureFormat: TypeAlias = Literal["svg", "png"]

#: pixels to the size of the text that surrounds a picture
PIXELS = 16
#: pixels on the left and on the right of a formula, for slanted letters that lean out
ROOM = 1
#: points of Typst to a pixel. Its text has 10 points, so formulas are a tenth larger than the text around them: their
#: small letters are smaller than those of most fonts for screens.
_PIXEL = 10 / (1.1 * PIXELS)
#: pixels of a bitmap to a pixel, so that it is sharp at twice its size
_DENSITY = 2
#: formulas in one run, which has some costs of its own and holds all its pages in memory
_BATCH = 64
_DIGITS_OF_NAME = 24

# `body` is measured with something reaching far below, and far above, the baseline, to know where that is
_PRELUDE = f"""
#set page(margin: 0pt, fill: none)
#set par(leading: 0pt)
#set text(size: 10pt, top-edge: "bounds", bottom-edge: "bounds")
#let pixel = {_PIXEL:.6f}pt
#let far = 1000pt
#let formula(body) = context {{
  let above = measure([#body#box(height: far, baseline: far)]).height - far
  let below = measure([#body#box(height: far)]).height - far
  let rise = calc.ceil(above / pixel) * pixel
  let depth = calc.ceil(below / pixel) * pixel
  let width = calc.ceil(measure(body).width / pixel + {2 * ROOM}) * pixel
  page(width: width, height: rise + depth, place(dx: {ROOM} * pixel, dy: rise - above, body))
  page(width: pixel, height: depth + pixel)[]
}}
"""

_SIZE = re.compile(rb'<svg viewBox="0 0 ([0-9.]+) ([0-9.]+)"[^>]*>')
_GLYPH = re.compile(rb"\bg[0-9A-F]{8,}\b")
_PATH = re.compile(rb' d="([^"]*)"')
#: what a reader of SVG assumes anyway
_ASSUMED = re.compile(
    rb' (?:x="0"|y="0"|fill="#000000"|fill-rule="nonzero"|stroke-linecap="butt"|stroke-linejoin="miter"|'
    rb'stroke-miterlimit="4")'
)
#: bytes of a PNG up to its second chunk
_PNG_HEAD = 33
#: international text: keyword, not compressed, no language, no translation of the keyword
_CHUNK = b"iTXt" + b"MathML\0\0\0\0\0"


class MissingRendererError(Exception):
    """Pictures are wanted, but what draws them is not installed."""


class Formula(NamedTuple):
    """What is drawn.

    Attributes:
        typst: the mathematics, between the dollar signs.
        mathml: the same as a `math` element, which the picture carries.
    """

    typst: str
    mathml: str


class Picture(NamedTuple):
    """A formula as a file.

    Attributes:
        name: of the file, by which pictures are told apart: made from the bytes.
        data: the bytes.
        width: in pixels.
        height: in pixels.
        depth: how much of the height lies below the baseline.
    """

    name: str
    data: bytes
    width: int
    height: int
    depth: int


def ready() -> None:
    """Make sure that pictures can be drawn.

    Raises:
        MissingRendererError: they cannot; the text says what to do.
    """
    try:
        _compiler()
    except ImportError:
        raise MissingRendererError(
            "pictures are drawn by the package typst, which is not installed (pip install 'qbank[pictures]')"
        ) from None


def draw(formulas: Sequence[Formula], form: PictureFormat) -> list[Picture]:
    """The pictures of formulas, in their order.

    Args:
        formulas: what to draw.
        form: how.

    >>> [picture] = draw([Formula("display(frac(1, 2))", "<math/>")], "svg")
    >>> picture.width, picture.height, picture.depth
    (15, 37, 13)
    """
    pictures: list[Picture] = []
    for start in range(0, len(formulas), _BATCH):
        pictures += _batch(formulas[start : start + _BATCH], form)
    return pictures


@cache
def _compiler() -> Any:  # the published types of the compiler know only one of the forms of its result
    import typst

    return typst.Compiler(font_paths=typst.Fonts(include_system_fonts=False), ignore_system_fonts=True)


def _batch(formulas: Sequence[Formula], form: PictureFormat) -> list[Picture]:
    text = _PRELUDE + "\n".join(f"#formula(${formula.typst}$)" for formula in formulas)
    density = 72 * _DENSITY / _PIXEL
    pages = cast("list[bytes]", _compiler().compile(text.encode(), format=form, ppi=density))
    finish = _svg if form == "svg" else _png
    shown = zip(formulas, pages[::2], pages[1::2], strict=True)
    return [finish(page, empty, formula.mathml.encode()) for formula, page, empty in shown]


def _picture(data: bytes, form: PictureFormat, width: int, height: int, depth: int) -> Picture:
    name = f"{sha256(data).hexdigest()[:_DIGITS_OF_NAME]}.{form}"
    return Picture(name, data, width, height, depth)


def carried(data: bytes) -> bytes | None:
    """The MathML that a picture carries; None where it carries none.

    It reads what is written here, and anything else with care: nothing of it is believed.

    >>> [picture] = draw([Formula("x", "<math/>")], "png")
    >>> carried(picture.data), carried(b"no picture")
    (b'<math/>', None)
    """
    if data.startswith(b"\x89PNG"):
        length = int.from_bytes(data[_PNG_HEAD : _PNG_HEAD + 4], "big")
        chunk = data[_PNG_HEAD + 4 : _PNG_HEAD + 8 + length]
        return chunk.removeprefix(_CHUNK) if chunk.startswith(_CHUNK) else None
    before, _, rest = data.partition(b"<metadata>")
    text, end, _ = rest.partition(b"</metadata>")
    return text if before.startswith(b"<svg ") and end else None


def _svg(page: bytes, empty: bytes, mathml: bytes) -> Picture:
    width, height = _svg_size(page)
    depth = _svg_size(empty)[1] - 1
    head = _SIZE.match(page)
    assert head is not None, "Typst begins its pictures with their size"
    glyphs: dict[bytes, bytes] = {}
    body = _ASSUMED.sub(b"", page[head.end() :])
    body = _GLYPH.sub(lambda found: glyphs.setdefault(found[0], b"g%d" % len(glyphs)), body)
    body = _PATH.sub(lambda found: b' d="' + _shortened(found[1]) + b'"', body)
    top = (
        b'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        b'width="%d" height="%d" viewBox="0 0 %b %b"><metadata>%b</metadata>'
    )
    data = top % (width, height, head[1], head[2], mathml) + body
    return _picture(data, "svg", width, height, depth)


def _svg_size(page: bytes) -> tuple[int, int]:
    size = _SIZE.match(page)
    assert size is not None, "Typst begins its pictures with their size"
    return round(float(size[1]) / _PIXEL), round(float(size[2]) / _PIXEL)


def _shortened(path: bytes) -> bytes:
    """The same numbers without the blanks and zeros that can be spared: a third of the file."""
    path = re.sub(rb"(?<![0-9.])0\.", b".", path)
    path = re.sub(rb" ?([A-Za-z]) ?", rb"\1", path)
    return path.replace(b" -", b"-")


def _png(page: bytes, empty: bytes, mathml: bytes) -> Picture:
    width, height = _png_size(page)
    depth = _png_size(empty)[1] - 1
    chunk = _CHUNK + mathml
    framed = struct.pack(">I", len(chunk) - 4) + chunk + struct.pack(">I", zlib.crc32(chunk))
    return _picture(page[:_PNG_HEAD] + framed + page[_PNG_HEAD:], "png", width, height, depth)


def _png_size(page: bytes) -> tuple[int, int]:
    width, height = struct.unpack(">II", page[16:24])
    return width // _DENSITY, height // _DENSITY
