"""Formulas as pictures, for systems that show neither MathML nor LaTeX.

    math element --markup--> Typst --drawing--> Picture --Album--> an `img` in the document, a file in the package

The same formula is the same file, drawn once and shared by all documents of a package.
"""

from __future__ import annotations

from qbank.writers.pictures.album import STYLES_PATH, Album, Image
from qbank.writers.pictures.drawing import MissingRendererError, PictureFormat, ready

__all__ = ["STYLES_PATH", "Album", "Image", "MissingRendererError", "PictureFormat", "ready"]
