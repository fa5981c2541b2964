"""Formulas as they stand in an item: MathML or LaTeX with the words for it, or a picture that is yet to be drawn.

MathML stands in `<span role="math" aria-label="...">`: the words for assistive technology are on the span, since
QTI allows no label on `math` itself, and a reader that drops the span still has `alttext`. QTI 2.1 has `alttext` alone.
"""

from __future__ import annotations

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

__all__ = ["Sign", "Written", "written"]

#: what stands before a formula: nothing, or `=` to continue a chain of equal expressions
Sign: TypeAlias = Literal["", "="]

_SPACE = MATHML.encode()
_GAP = "\x00"
#: so many formulas are remembered
_HELD = 1024


class Written(dict[Statement, "bytes | Image"]):
    """Formulas as one package writes them, by what they show.

    A third of them stand in the item once more, or in the clone before, so they are remembered for a while; pictures
    are not, as each is told where it lies.
    """

    __slots__ = ("_formulas", "_generation", "_hand", "_said", "_sign", "_style", "_voice")

    def __init__(
        self, generation: Generation, formulas: Formulas, conventions: Conventions, sign: Sign
    ) -> None:
        super().__init__()
        self._generation, self._formulas, self._sign = generation, formulas, sign
        self._hand, self._voice = hand_of(conventions), voice_of(conventions.language)
        say = saying(conventions.language)
        #: what is said before a formula and after it
        self._said = say("equals {expression}", expression=_GAP).split(_GAP) if sign else ("", "")
        self._style = b' displaystyle="true"' if generation.styled_math else b""

    def __missing__(self, statement: Statement) -> bytes | Image:
        box = self._hand[statement]
        formula = latex(box).encode() if self._formulas.mode == "tex" else markup(box)
        made = self._made(formula, self._voice.line(box))
        if isinstance(made, bytes):
            if len(self) >= _HELD:
                self.clear()
            self[statement] = made
        return made

    def piece(self, piece: Piece) -> bytes | Image:
        """A piece of a formula that has a gap."""
        formula = piece.latex if self._formulas.mode == "tex" else piece.mathml
        return self._made(formula.encode(), piece.speech)

    def _made(self, formula: bytes, words: str) -> bytes | Image:
        """A formula, or a piece of one: LaTeX where the documents show that, else markup."""
        generation, mode, sign = self._generation, self._formulas.mode, self._sign
        before, after = self._said
        words = f"{before}{words}{after}".strip()
        if mode == "tex":
            # set in full size though in line with the text, as the MathML is
            tex = f"{sign} {formula.decode()}".strip()
            made = escaped(rf"\(\displaystyle {tex}\)").encode()
        else:
            made = b'<mo form="infix">%b</mo>%b' % (sign.encode(), formula) if sign else formula
            if not generation.styled_math:
                made = b'<mstyle displaystyle="true">%b</mstyle>' % made
        if mode == "pictures":
            return Image(f'<math xmlns="{MATHML}">{made.decode()}</math>', shown(one_line(words)))
        label = attribute(words).encode()
        if mode == "mathml":
            made = b'<math xmlns="%b" alttext="%b"%b>%b</math>' % (_SPACE, label, self._style, made)
        return b'<span role="math" aria-label="%b">%b</span>' % (label, made) if generation.aria else made


def written(generation: Generation, formulas: Formulas, conventions: Conventions, sign: Sign) -> Written:
    """What writes the formulas of a package, the same as long as the package is made.

    Args:
        generation: the generation of QTI.
        formulas: how formulas are shown.
        conventions: how they are written.
        sign: what stands before them.
    """
    key = (generation, conventions, sign)
    found: Written | None = formulas.remembered.get(key)
    if found is None:
        found = formulas.remembered[key] = Written(generation, formulas, conventions, sign)
    return found
