r"""LaTeX for a layout: ordinary mathematics mode, with amsmath's `\operatorname`, `\dfrac` and `\text`."""

from __future__ import annotations

from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.equation import Statement
from qbank.maths.notation.hand import lay_out
from qbank.maths.notation.layout import (
    Bars,
    Digits,
    Equals,
    Factors,
    Fraction,
    IntegralOf,
    Layout,
    Letter,
    LimitOf,
    LittleD,
    Named,
    NamedConstant,
    Radical,
    Raised,
    Round,
    Square,
    Terms,
    is_tall,
)
from qbank.maths.notation.names import GREEK, LATEX_WORDS
from qbank.maths.notation.rules import Rules

__all__ = ["latex"]

_CONSTANTS = {"pi": r"\pi", "e": "e", "infinity": r"\infty"}
_JOINTS = {"close": "", "thin": r" \, ", "operator": " ", "times": r" \times "}

#: how each character that LaTeX takes for a command is shown as itself in `\text{...}`
_SPECIAL = {
    "\\": r"\textbackslash{}",
    "~": r"\textasciitilde{}",
    "^": r"\textasciicircum{}",
    **{sign: "\\" + sign for sign in "{}$&#%_"},
}
#: capital Greek letters that look Latin have no command of their own
_LOOKS_LATIN = {
    "Alpha": "A",
    "Beta": "B",
    "Epsilon": "E",
    "Zeta": "Z",
    "Eta": "H",
    "Iota": "I",
    "Kappa": "K",
    "Mu": "M",
    "Nu": "N",
    "Omicron": "O",
    "Rho": "P",
    "Tau": "T",
    "Chi": "X",
}


def latex(tree: Statement | Layout, conventions: Conventions = DEFAULT) -> str:
    r"""An expression or equation in LaTeX, without the dollar signs.

    Args:
        tree: what to show, or its layout.
        conventions: the school's habits of writing.

    >>> from qbank.maths.expression import Symbol, rational, sin
    >>> print(latex(rational(1, 2) * sin(3 * Symbol("x")) ** 2))
    \frac{1}{2} \sin^{2} 3x
    """
    return _write(lay_out(tree, conventions))


_rules = Rules[str]("LaTeX")


def _write(box: Layout) -> str:
    """The text of a box."""
    if not box.latex:
        box.latex = _rules[type(box)](box)
    return box.latex


@_rules.register
def _digits(box: Digits) -> str:
    return box.text.replace(",", "{,}")


@_rules.register
def _letter(box: Letter) -> str:
    base = _base(box.base)
    if box.subscript is None:
        return base
    plain = box.subscript.isdigit() or len(box.subscript) == 1 or box.index
    word = box.subscript if plain else rf"\mathrm{{{box.subscript}}}"
    return f"{base}_{{{word}}}"


def _base(name: str) -> str:
    if name in _LOOKS_LATIN:
        return rf"\mathrm{{{_LOOKS_LATIN[name]}}}"
    if name in GREEK:
        return "o" if name == "omicron" else "\\" + name
    if name.isascii() and name.isalpha():
        return name if len(name) == 1 else rf"\mathit{{{name}}}"
    return rf"\text{{{''.join(_SPECIAL.get(sign, sign) for sign in name)}}}"


@_rules.register
def _constant(box: NamedConstant) -> str:
    return _CONSTANTS[box.name]


@_rules.register
def _terms(box: Terms) -> str:
    text = ""
    for minus, body in zip(box.minuses, box.bodies, strict=True):
        written = body.latex or _write(body)
        if text:
            text += f" - {written}" if minus else f" + {written}"
        else:
            text = f"-{written}" if minus else written
    return text


@_rules.register
def _factors(box: Factors) -> str:
    text = _write(box.bodies[0])
    for joint, body in zip(box.joints, box.bodies[1:], strict=True):
        text = _beside(text + _JOINTS[joint], body.latex or _write(body))
    return text


def _beside(left: str, right: str) -> str:
    """Two pieces side by side, with a blank between letters, which could be taken for one word or command."""
    return f"{left} {right}" if left[-1].isalpha() and right[0].isalpha() else left + right


@_rules.register
def _fraction(box: Fraction) -> str:
    top, bottom = box.top.latex or _write(box.top), box.bottom.latex or _write(box.bottom)
    if box.slashed:
        return f"{top}/{bottom}"
    command = r"\dfrac" if box.nested else r"\frac"
    return f"{command}{{{top}}}{{{bottom}}}"


@_rules.register
def _raised(box: Raised) -> str:
    base, exponent = box.base, box.exponent
    return f"{base.latex or _write(base)}^{{{exponent.latex or _write(exponent)}}}"


@_rules.register
def _radical(box: Radical) -> str:
    index = "" if box.index == 2 else f"[{box.index}]"
    return rf"\sqrt{index}{{{_write(box.radicand)}}}"


@_rules.register
def _named(box: Named) -> str:
    word = box.name.word
    name = "\\" + word if word in LATEX_WORDS else rf"\operatorname{{{word}}}"
    raised = "-1" if box.name.inverse else "" if box.power is None else _write(box.power)
    return name + (f"^{{{raised}}}" if raised else "") + (" " if box.open else "") + _write(box.argument)


def _enclose(left: str, body: Layout, right: str) -> str:
    """Brackets as tall as what they hold; plain ones round a single line of writing."""
    return rf"\left{left} {_write(body)} \right{right}" if is_tall(body) else left + _write(body) + right


@_rules.register
def _round(box: Round) -> str:
    return _enclose("(", box.body, ")")


@_rules.register
def _bars(box: Bars) -> str:
    return rf"\left| {_write(box.body)} \right|"


@_rules.register
def _square(box: Square) -> str:
    return rf"\left[ {_write(box.body)} \right]_{{{_write(box.lower)}}}^{{{_write(box.upper)}}}"


@_rules.register
def _little_d(box: LittleD) -> str:
    return f"d{_write(box.variable)}"


@_rules.register
def _integral(box: IntegralOf) -> str:
    limits = (
        "" if box.lower is None or box.upper is None else f"_{{{_write(box.lower)}}}^{{{_write(box.upper)}}}"
    )
    return rf"\int{limits} {_write(box.body)} \, {_write(box.differential)}"


@_rules.register
def _limit(box: LimitOf) -> str:
    to = _write(box.to)
    if box.side:
        to = f"{to if _is_short(box.to) else f'({to})'}^{{{box.side}}}"
    return rf"\lim_{{{_write(box.variable)} \to {to}}} {_write(box.body)}"


def _is_short(box: Layout) -> bool:
    return isinstance(box, Digits | Letter | NamedConstant)


@_rules.register
def _equals(box: Equals) -> str:
    return f"{_write(box.left)} = {_write(box.right)}"
