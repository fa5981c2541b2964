"""Notation: an expression in a teacher's hand, as LaTeX, MathML, Typst, plain text and spoken words.

    expression --lay_out--> layout --one small writer each--> latex  mathml  typst  plain  speech

The layout decides everything a reader of mathematics would notice; a writer only knows its target's syntax.
"""

from __future__ import annotations

from qbank.maths.notation.hand import lay_out
from qbank.maths.notation.latex import latex
from qbank.maths.notation.mathml import mathml, mathml_text
from qbank.maths.notation.plain import plain
from qbank.maths.notation.speech import speech
from qbank.maths.notation.typst import typst

__all__ = ["latex", "lay_out", "mathml", "mathml_text", "plain", "speech", "typst"]
