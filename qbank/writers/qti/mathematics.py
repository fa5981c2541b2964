"""Formulas as they stand in an item: MathML or LaTeX with the words for it, or a picture that is yet to be drawn.

MathML stands in `<span role="math" aria-label="...">`: the words for assistive technology are on the span, since
QTI allows no label on `math` itself, and a reader that drops the span still has `alttext`. QTI 2.1 has `alttext` alone.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Literal, TypeAlias

from qbank.maths.conventions import Conventions
from qbank.maths.equation import Statement
from qbank.maths.notation import latex
from qbank.maths.notation.gapped import Piece
from qbank.maths.notation.hand import hand_of
from qbank.maths.notation.mathml import MATHML, escaped, markup
from qbank.maths.notation.speech import voice_of
from qbank.messages import saying
from qbank.writers.characters import one_line, shown
from qbank.writers.formulas import Formulas
from qbank.writers.pictures import Image
from qbank.writers.qti.generation import Generation
from qbank.writers.tree import attribute

__all__ = ["Sign", "written"]

#: what stands before a formula: nothing, or `=` to continue a chain of equal expressions
Sign: TypeAlias = Literal["", "="]

#: so many formulas are remembered
_HELD = 1024


class _Written(dict[Statement, "bytes | Image"]):
    """Formulas as one package writes them, by what they show.

    A third of them stand in the item once more, or in the clone before, so they are remembered for a while; pictures
    are not, as each is told where it lies.
    """

    __slots__ = ("_formulas", "_generation", "_hand", "_say", "_sign", "_voice")

    def __init__(
        self, generation: Generation, formulas: Formulas, conventions: Conventions, sign: Sign
    ) -> None:
        super().__init__()
        self._generation, self._formulas, self._sign = generation, formulas, sign
        self._hand, self._voice = hand_of(conventions), voice_of(conventions.language)
        self._say = saying(conventions.language)

    def __missing__(self, statement: Statement) -> bytes | Image:
        box = self._hand[statement]
        formula = latex(box) if self._formulas.mode == "tex" else markup(box)
        made = self._made(formula, self._voice.line(box))
        if isinstance(made, bytes):
            if len(self) >= _HELD:
                self.clear()
            self[statement] = made
        return made

    def piece(self, piece: Piece) -> bytes | Image:
        """A piece of a formula that has a gap."""
        return self._made(piece.latex if self._formulas.mode == "tex" else piece.mathml, piece.speech)

    def _made(self, formula: str, words: str) -> bytes | Image:
        """A formula, or a piece of one: LaTeX where the documents show that, else markup."""
        generation, sign = self._generation, self._sign
        if sign:
            say = self._say
            words = say("equals {expression}", expression=words).strip()
        mode = self._formulas.mode
        if mode == "tex":
            # set in full size though in line with the text, as the MathML is
            made = escaped(rf"\(\displaystyle {f'{sign} {formula}'.strip()}\)")
        else:
            made = f'<mo form="infix">{sign}</mo>{formula}' if sign else formula
            if not generation.styled_math:
                made = f'<mstyle displaystyle="true">{made}</mstyle>'
        if mode == "pictures":
            return Image(f'<math xmlns="{MATHML}">{made}</math>', shown(one_line(words)))
        words = attribute(words)
        if mode == "mathml":
            style = ' displaystyle="true"' if generation.styled_math else ""
            made = f'<math xmlns="{MATHML}" alttext="{words}"{style}>{made}</math>'
        if generation.aria:
            made = f'<span role="math" aria-label="{words}">{made}</span>'
        return made.encode()


#: what writes the formulas of a package; few are needed at a time
written = lru_cache(maxsize=8)(_Written)
