"""The pictures of one package: each formula drawn once, its file handed out once, its place in the text said in `img`."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterator, Sequence
from typing import Literal, TypeAlias

from lxml import etree

from qbank.writers.artifact import Artifact
from qbank.writers.pictures.drawing import PIXELS, ROOM, Formula, Picture, PictureFormat, draw, ready
from qbank.writers.pictures.markup import typst_of
from qbank.writers.tree import Element

__all__ = ["FOLDER", "STYLES_PATH", "Album", "Image", "Placing"]

#: how a picture is told its size and its place: by classes, of which a style sheet of the package says what they mean,
#: for documents that allow no styles of their own; or by styles in place
Placing: TypeAlias = Literal["classes", "styles"]

FOLDER = "pictures"
STYLES_PATH = f"{FOLDER}/formulas.css"

#: pictures held in memory
_HELD = 1024


class Image(Element):
    """A formula in a document, whose picture is yet to be drawn.

    Attributes:
        math: the `math` element that it shows, as text, with nothing but its namespace.
        words: the same in words.
    """

    __slots__ = ("math", "words")

    def __init__(self, math: str, words: str) -> None:
        super().__init__(b"img")
        self.math = math
        self.words = words


class Album:
    """Draws what documents need, and remembers what the package has already.

    Of each picture a name is kept for the whole package, and its bytes for a while; what was never handed out while they
    were held is drawn again.

    Args:
        form: the format of the pictures.
        placing: how documents say where a picture stands.

    Raises:
        MissingRendererError: nothing can be drawn here.
    """

    def __init__(self, form: PictureFormat, placing: Placing) -> None:
        ready()
        self._form = form
        self._placing = placing
        self._held: OrderedDict[Formula, Picture] = OrderedDict()
        # each path once, as what lists it for its items shares the text
        self._paths: dict[str, str] = {}
        self._waiting: dict[str, Formula] = {}
        self._seen: dict[str, None] = {}
        self._heights: set[int] = set()
        self._depths: set[int] = set()

    def paste(self, images: Sequence[Image], folder: str) -> None:
        """Say in each image which picture it shows, and in which place.

        Args:
            images: in the order of the document.
            folder: what stands before the path of a picture in the package to make a reference of it.
        """
        drawn = self._drawn([_formula(image.math) for image in images])
        for image, picture in zip(images, drawn, strict=True):
            self._seen[self._paths[_path(picture)]] = None
            self._describe(image, picture, folder)

    def paths(self) -> tuple[str, ...]:
        """The pictures pasted since the last time, in their order, each once."""
        seen = tuple(self._seen)
        self._seen.clear()
        return seen

    @property
    def every_path(self) -> tuple[str, ...]:
        """All pictures of the package so far."""
        return tuple(self._paths)

    def files(self) -> Iterator[Artifact]:
        """The pictures that the package has not got yet."""
        waiting = [*self._waiting.items()]
        self._waiting.clear()
        for start in range(0, len(waiting), _HELD // 2):
            part = waiting[start : start + _HELD // 2]
            for picture in self._drawn([formula for _, formula in part]):
                yield Artifact(_path(picture), picture.data)

    def styles(self) -> Artifact:
        """What the classes used so far mean, as a style sheet."""
        rules = [f".formula{{width:auto;margin:{_MARGIN}}}"]
        rules += [f".formula-h{number}{{height:{_size(number)}}}" for number in sorted(self._heights)]
        rules += [f".formula-d{number}{{vertical-align:-{_size(number)}}}" for number in sorted(self._depths)]
        return Artifact(STYLES_PATH, "\n".join([*rules, ""]).encode())

    def _drawn(self, formulas: Sequence[Formula]) -> list[Picture]:
        """The pictures of formulas, drawn together as far as they are not held."""
        new = [formula for formula in dict.fromkeys(formulas) if formula not in self._held]
        found = dict(zip(new, draw(new, self._form), strict=True))
        pictures = []
        for formula in formulas:
            picture = found.get(formula) or self._held[formula]
            found[formula] = picture
            pictures.append(picture)
            path = _path(picture)
            if path not in self._paths:
                self._paths[path] = path
                self._waiting[path] = formula
        self._hold(found)
        return pictures

    def _hold(self, found: dict[Formula, Picture]) -> None:
        for formula, picture in found.items():
            self._held[formula] = picture
            self._held.move_to_end(formula)
        while len(self._held) > max(_HELD, len(found)):
            self._held.popitem(last=False)

    def _describe(self, image: Image, picture: Picture, folder: str) -> None:
        image.set("src", folder + _path(picture))
        image.set("alt", image.words)
        image.set("width", str(picture.width))
        image.set("height", str(picture.height))
        if self._placing == "classes":
            self._heights.add(picture.height)
            self._depths.add(picture.depth)
            image.set("class", f"formula formula-h{picture.height} formula-d{picture.depth}")
        else:
            sizes = f"width:{_size(picture.width)};height:{_size(picture.height)}"
            image.set("style", f"{sizes};vertical-align:-{_size(picture.depth)};margin:{_MARGIN}")


def _path(picture: Picture) -> str:
    """Where a picture lies in the package."""
    return f"{FOLDER}/{picture.name}"


def _size(pixels: int) -> str:
    """Pixels as a multiple of the size of the text: sixteenths, so the decimals end."""
    return f"{pixels / PIXELS:g}em"


#: a little room above, where a tall formula would touch the line before; to the left and right the room that the
#: picture has is taken back. Room below would lift the picture off the baseline.
_MARGIN = f"{_size(2)} -{_size(ROOM)} 0"


def _formula(math: str) -> Formula:
    """What the picture shows."""
    read = etree.fromstring(math)
    return Formula(typst_of(read), etree.tostring(read, encoding="unicode"))
