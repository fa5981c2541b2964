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
from qbank.writers.qti.elements import QtiElement
from qbank.writers.qti.generation import Generation
from qbank.writers.tree import attribute

__all__ = ["Sign", "Written", "written"]

#: what stands before a formula: nothing, or `=` to continue a chain of equal expressions
Sign: TypeAlias = Literal["", "="]

_GAP = "\x00"


class Written:
    """What writes the formulas of a package.

    A third of them stand in the item once more, or in the clone before, so what is written is noted on what was laid out;
    pictures are not, as each is told where it lies.
    """

    __slots__ = (
        "_after",
        "_before",
        "_hand",
        "_mode",
        "_row",
        "_said",
        "_sign",
        "_voice",
        "conventions",
        "generation",
    )

    def __init__(
        self, generation: Generation, formulas: Formulas, conventions: Conventions, sign: Sign
    ) -> None:
        self.generation, self.conventions = generation, conventions
        self._mode, self._sign = formulas.mode, sign
        self._hand, self._voice = hand_of(conventions), voice_of(conventions.language)
        say = saying(conventions.language)
        #: what is said before a formula and after it
        self._said = say("equals {expression}", expression=_GAP).split(_GAP) if sign else ("", "")
        before, after = f'<mo form="infix">{sign}</mo>' if sign else "", ""
        style = ' displaystyle="true"' if generation.styled_math else ""
        if not style:
            before, after = f'<mstyle displaystyle="true">{before}', "</mstyle>"
        #: what stands before the markup of a formula and after it
        self._row = before.encode(), after.encode()
        pattern = "%b"
        if self._mode == "mathml":
            pattern = f'<math xmlns="{MATHML}" alttext="%b"{style}>{before}%b{after}</math>'
        if generation.aria:
            pattern = f'<span role="math" aria-label="%b">{pattern}</span>'
        #: what stands between the places of the words, before the formula at last, and after it
        *self._before, self._after = pattern.encode().split(b"%b")

    def statement(self, statement: Statement) -> bytes | Image:
        """A formula."""
        box = self._hand[statement]
        if box.shown_by is self:
            return box.shown
        formula = latex(box).encode() if self._mode == "tex" else box.mathml or markup(box)
        made = self._made(formula, self._voice.line(box))
        if isinstance(made, bytes):
            box.shown, box.shown_by = made, self
        return made

    def piece(self, piece: Piece) -> bytes | Image:
        """A piece of a formula that has a gap."""
        formula = piece.latex if self._mode == "tex" else piece.mathml
        return self._made(formula.encode(), piece.speech)

    def _made(self, formula: bytes, words: str) -> bytes | Image:
        """A formula, or a piece of one: LaTeX where the documents show that, else markup."""
        if self._sign:
            before, after = self._said
            words = f"{before}{words}{after}".strip()
        if self._mode == "pictures":
            start, end = self._row
            math = f'<math xmlns="{MATHML}">{start.decode()}{formula.decode()}{end.decode()}</math>'
            return Image(math, shown(one_line(words)))
        if self._mode == "tex":
            # set in full size though in line with the text, as the MathML is
            tex = f"{self._sign} {formula.decode()}".strip()
            formula = escaped(rf"\(\displaystyle {tex}\)").encode()
        return b"".join((attribute(words).encode().join(self._before), formula, self._after))


def written(parent: QtiElement, conventions: Conventions, sign: Sign = "") -> Written:
    """What writes the formulas of a package, the same as long as the package is made.

    Args:
        parent: where they go, which knows the generation of QTI and how formulas are shown.
        conventions: how they are written.
        sign: what stands before them.
    """
    generation, formulas = parent.generation, parent.formulas
    last: Written | None = formulas.remembered.get(sign)
    # nearly always the same as the last time, which is quickly seen
    if last is not None and last.conventions is conventions and last.generation is generation:
        return last
    key = (generation, conventions, sign)
    found: Written | None = formulas.remembered.get(key)
    if found is None:
        found = formulas.remembered[key] = Written(generation, formulas, conventions, sign)
    formulas.remembered[sign] = found
    return found
