"""Figures as SVG: a few paths and texts, black and grey with one accent that prints well, and the words beside them.

Numbers are whole hundredths of a pixel, written with as few decimals as they need; so the same figure is the same bytes
everywhere. A figure is a file of the package, named by its content.
"""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256
from typing import Any
from xml.sax.saxutils import escape

from qbank.items.applications.figure import Figure, Label, Path, Place, Role
from qbank.writers.artifact import Artifact
from qbank.writers.characters import clean

__all__ = ["FOLDER", "Figures", "figure_file", "svg"]

FOLDER = "figures"
_DIGITS_OF_NAME = 24

_INK, _GREY, _ACCENT, _SHADE = "#1a1a1a", "#6b6b6b", "#1f6f8b", "#cfe1e8"
#: role of a line -> how it is drawn
_STYLES: dict[Role, str] = {
    "axis": f'stroke="{_INK}" stroke-width="0.9"',
    "first": f'stroke="{_INK}" stroke-width="1.7"',
    "second": f'stroke="{_GREY}" stroke-width="1.7"',
    "mirrored": f'stroke="{_GREY}" stroke-width="1" stroke-dasharray="4 3"',
    "edge": f'stroke="{_INK}" stroke-width="0.9"',
    "rim": f'stroke="{_GREY}" stroke-width="0.9" stroke-dasharray="3 2.5"',
    "measured": f'stroke="{_ACCENT}" stroke-width="3"',
}
_FONT = 'font-family="Georgia,\'Times New Roman\',serif" font-size="13"'
#: length and half width of the tip of an axis, in hundredths
_TIP, _HALF = 700, 280


class Figures:
    """The figures of a package: each once, kept from when a document shows it until its file is written."""

    def __init__(self) -> None:
        self._paths: dict[str, None] = {}
        self._waiting: list[Artifact] = []

    def path(self, figure: Figure) -> str:
        """Where the file of a figure lies in the package."""
        file = figure_file(figure)
        if file.path not in self._paths:
            self._paths[file.path] = None
            self._waiting.append(file)
        return file.path

    @property
    def every_path(self) -> tuple[str, ...]:
        """All figures of the package so far."""
        return tuple(self._paths)

    def files(self) -> Iterator[Artifact]:
        """The figures that the package has not got yet."""
        waiting, self._waiting = self._waiting, []
        yield from waiting


def figure_file(figure: Figure) -> Artifact:
    """The file of a figure, named by its content."""
    data = svg(figure).encode()
    return Artifact(f"{FOLDER}/{sha256(data).hexdigest()[:_DIGITS_OF_NAME]}.svg", data)


def svg(figure: Figure) -> str:
    """A figure as an SVG document.

    Args:
        figure: what to draw.
    """
    left, top, right, bottom = figure.window
    clip = f'<rect x="{_n(left - 800)}" y="{_n(top - 600)}" width="{_n(right - left + 1600)}" height="{_n(bottom - top + 1200)}"/>'
    lines = [
        _head(figure),
        f'<title id="title">{_text(figure.title)}</title>',
        f'<desc id="description">{_text(figure.description)}</desc>',
        f'<defs><clipPath id="window">{clip}</clipPath></defs>',
        f'<rect width="{figure.width}" height="{figure.height}" fill="#ffffff"/>',
        '<g clip-path="url(#window)" fill="none" stroke-linejoin="round" stroke-linecap="round">',
    ]
    lines += [f'<path d="{_path(region)}Z" fill="{_SHADE}"/>' for region in figure.regions]
    lines += [f'<path d="{_path(one.path)}" {_STYLES[one.role]}/>' for one in figure.strokes]
    lines.append("</g>")
    lines.append(f'<g fill="{_INK}">')
    lines += [f'<path d="{_tip(at, direction)}"/>' for at, direction in figure.arrows]
    lines += [f'<circle cx="{_n(x)}" cy="{_n(y)}" r="2.8"/>' for x, y in figure.dots]
    lines.append("</g>")
    lines.append(f'<g {_FONT} fill="{_INK}" stroke="#ffffff" stroke-width="3" paint-order="stroke">')
    lines += [_label(label) for label in figure.labels]
    lines += ["</g>", "</svg>", ""]
    return "\n".join(lines)


def _head(figure: Figure) -> str:
    size = f'width="{figure.width}" height="{figure.height}" viewBox="0 0 {figure.width} {figure.height}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img" aria-labelledby="title description">'


def _n(hundredths: int) -> str:
    """A number of pixels.

    >>> _n(1250), _n(-5), _n(300)
    ('12.5', '-0.05', '3')
    """
    whole, part = divmod(abs(hundredths), 100)
    decimals = f".{part:02d}".rstrip("0") if part else ""
    return f"{'-' if hundredths < 0 else ''}{whole}{decimals}"


def _path(path: Path) -> str:
    return "".join(name + " ".join(f"{_n(x)},{_n(y)}" for x, y in places) for name, places in path)


def _tip(at: Place, direction: Place) -> str:
    (x, y), (across, down) = at, direction
    back = (x - across * _TIP, y - down * _TIP)
    ends = [(back[0] + side * down * _HALF, back[1] + side * across * _HALF) for side in (1, -1)]
    steps: Any = (("M", (at,)), *(("L", (end,)) for end in ends))
    return _path(steps) + "Z"


def _label(label: Label) -> str:
    x, y = label.at
    return f'<text x="{_n(x)}" y="{_n(y)}" text-anchor="{label.anchor}">{_slanted(label.text)}</text>'


def _slanted(text: str) -> str:
    """A text with its single letters, which stand for quantities, in italics."""
    pieces: list[str] = []
    for at, letter in enumerate(text):
        before, after = text[at - 1 : at] if at else "", text[at + 1 : at + 2]
        alone = letter.isascii() and letter.isalpha() and not _is_word(before) and not _is_word(after)
        pieces.append(
            f'<tspan font-style="italic">{letter}</tspan>' if alone and letter != "O" else _text(letter)
        )
    return "".join(pieces)


def _is_word(letter: str) -> bool:
    return letter.isascii() and letter.isalpha()


def _text(text: str) -> str:
    return escape(clean(text))
