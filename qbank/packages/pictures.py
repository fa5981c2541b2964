"""Formulas shown as pictures, read back: each picture is drawn again from the MathML that it carries.

A picture says of itself which formula it shows, which is not believed. Only where our own drawing of that formula has
the same bytes is the picture known to show it, and the MathML put in its place.
"""

from __future__ import annotations

import posixpath
from collections.abc import Callable, Iterable
from typing import cast

from lxml import etree

from qbank.maths.notation.mathml import MATHML
from qbank.packages.figures import put_figures_away
from qbank.packages.manifest import target
from qbank.packages.opening import PackageError
from qbank.packages.parsing import Element, XmlError, attribute, inside, parse
from qbank.packages.question import QuestionError
from qbank.writers.pictures import MissingRendererError, PictureFormat, ready
from qbank.writers.pictures.drawing import Formula, carried, draw
from qbank.writers.pictures.markup import MarkupError, typst_of

__all__ = ["Gallery"]

#: known pictures held in memory
_HELD = 4096
#: bytes of the MathML of a formula
_LONGEST = 40_000
_FORMATS = ("svg", "png")


class Gallery:
    """The pictures of a package as formulas.

    Args:
        read: gives the bytes of a member.
    """

    def __init__(self, read: Callable[[str], bytes]) -> None:
        self._read = read
        self._known: dict[str, str] = {}

    def put_formulas(self, document: Element, member: str) -> None:
        """Put the formula that it shows in the place of every picture of a document.

        Args:
            document: changed in place.
            member: where it lies.

        Raises:
            QuestionError: a picture is not known to show a formula.
        """
        put_figures_away(document, member, self._read)
        shown = [(image, self._member(image, member)) for image in inside(document, "img")]
        self._learn(dict.fromkeys(name for _, name in shown if name not in self._known))
        for image, name in shown:
            math = etree.fromstring(self._known[name])
            math.tail = image.tail
            parent = image.getparent()
            assert parent is not None, "a picture stands in a document"
            parent.replace(image, math)
        while len(self._known) > _HELD:
            del self._known[next(iter(self._known))]

    @staticmethod
    def _member(image: Element, member: str) -> str:
        source = attribute(image, "src") or ""
        name = target(source, posixpath.dirname(member))
        if name is None or not name.endswith(_FORMATS):
            raise QuestionError(f"the picture {source[:200]!r} is none of ours")
        return name

    def _learn(self, names: Iterable[str]) -> None:
        """Read the formulas of pictures, and draw them again, those of one format together."""
        for form in _FORMATS:
            found = {name: self._read_picture(name) for name in names if name.endswith(form)}
            formulas = {name: _checked(name, data) for name, data in found.items()}
            again = _drawn([*formulas.values()], cast("PictureFormat", form))
            for (name, data), redrawn in zip(found.items(), again, strict=True):
                if redrawn != data:
                    raise QuestionError(
                        f"{name} does not show the formula that it says, or another version of typst drew it"
                    )
                self._known[name] = formulas[name].mathml

    def _read_picture(self, name: str) -> bytes:
        try:
            return self._read(name)
        except PackageError as problem:
            raise QuestionError(str(problem)) from problem


def _checked(name: str, data: bytes) -> Formula:
    """The formula that a picture says it shows, if it is made of what our formulas are made of."""
    text = carried(data)
    if text is None or len(text) > _LONGEST:
        raise QuestionError(f"{name} does not say which formula it shows")
    try:
        math = parse(text)
        if math.tag != f"{{{MATHML}}}math":
            raise QuestionError(f"{name} does not say which formula it shows")
        return Formula(typst_of(math), text.decode())
    except XmlError as problem:
        raise QuestionError(f"{name}: {problem}") from problem
    except MarkupError as problem:
        raise QuestionError(f"{name}: {problem.what}") from problem


def _drawn(formulas: list[Formula], form: PictureFormat) -> list[bytes]:
    if not formulas:
        return []
    try:
        ready()
        return [picture.data for picture in draw(formulas, form)]
    except MissingRendererError as problem:
        raise QuestionError(
            f"its formulas are pictures, which are drawn again to be read: {problem}"
        ) from problem
    except RuntimeError as problem:
        raise QuestionError("a formula that a picture says it shows cannot be drawn") from problem
