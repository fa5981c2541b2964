"""How formulas are shown: as MathML, as pictures, or as LaTeX between delimiters for systems that typeset it.

MathML and LaTeX are text as soon as a formula is met. A picture is an `img` whose attributes are known when all formulas of
a document have been drawn together: `settle` sees to that.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal, TypeAlias

from qbank.writers.pictures import Album, Image
from qbank.writers.tree import Element

__all__ = ["AS_MATHML", "Formulas", "MathMode"]

MathMode: TypeAlias = Literal["mathml", "pictures", "tex"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Formulas:
    """How the documents of a package show their formulas.

    Attributes:
        mode: the way.
        album: the pictures of the package, where they are wanted.
        folder: what leads from a document to the top of the package, ending with a slash.
        remembered: what writers keep of the formulas they have written, as long as the package is made.
    """

    mode: MathMode = "mathml"
    album: Album | None = None
    folder: str = ""
    remembered: dict[object, Any] = field(default_factory=dict, repr=False)

    def settle(self, top: Element) -> None:
        """Have the pictures below an element drawn, and say in it where they lie."""
        if self.album is not None:
            images = [element for element in top.walk() if isinstance(element, Image)]
            self.album.paste(images, self.folder)


#: how they are shown when nothing is said
AS_MATHML = Formulas()
