"""Figures of a package: files that have the content of which their names tell, and hold nothing but lines and words.

A figure is not read back as mathematics: what is asked stands in the question. It is made sure that it can do no harm.
"""

from __future__ import annotations

import posixpath
from collections.abc import Callable
from hashlib import sha256

from lxml import etree

from qbank.packages.manifest import target
from qbank.packages.opening import PackageError
from qbank.packages.parsing import Element, XmlError, attribute, inside, parse
from qbank.packages.question import QuestionError
from qbank.writers.figures import FOLDER

__all__ = ["put_figures_away"]

_SVG = "{http://www.w3.org/2000/svg}"
_ALLOWED = frozenset(
    ("svg", "title", "desc", "defs", "clipPath", "rect", "g", "path", "circle", "text", "tspan")
)
_LONGEST = 200_000


def put_figures_away(document: Element, member: str, read: Callable[[str], bytes]) -> None:
    """Look at the figures of a document, and take them out of it: what is left is text and formulas.

    Args:
        document: changed in place.
        member: where it lies.
        read: gives the bytes of a member.

    Raises:
        QuestionError: a figure is not what its name says, or holds something else than lines and words.
    """
    for image in list(inside(document, "img")):
        name = target(attribute(image, "src") or "", posixpath.dirname(member)) or ""
        if not name.startswith(f"{FOLDER}/"):
            continue
        try:
            _check(name, read(name))
        except (PackageError, XmlError) as problem:
            raise QuestionError(f"{name}: {problem}") from problem
        if not (attribute(image, "alt") or "").strip():
            raise QuestionError(f"{name} is shown without words for who cannot see it")
        parent = image.getparent()
        assert parent is not None, "a figure stands in a document"
        # with what follows the image kept
        before = image.getprevious()
        if before is None:
            parent.text = (parent.text or "") + (image.tail or "")
        else:
            before.tail = (before.tail or "") + (image.tail or "")
        parent.remove(image)


def _check(name: str, data: bytes) -> None:
    if len(data) > _LONGEST:
        raise QuestionError(f"{name} is too large for a figure of ours")
    if posixpath.basename(name) != f"{sha256(data).hexdigest()[:24]}.svg":
        raise QuestionError(f"{name} has not the content that its name tells")
    top = parse(data)
    for element in top.iter():
        if etree.QName(element).localname not in _ALLOWED or not str(element.tag).startswith(_SVG):
            raise QuestionError(f"{name} holds something else than lines and words")
        if any(_is_harmful(str(key)) for key in element.keys()):  # noqa: SIM118 - lxml's elements are no mappings
            raise QuestionError(f"{name} holds something else than lines and words")


def _is_harmful(key: str) -> bool:
    """Whether an attribute may lead elsewhere, or do something."""
    return key.endswith("href") or key.startswith("on") or key == "style"
