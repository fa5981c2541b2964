"""What things are called in each target: letters, functions and their spoken words.

The tables here are keyed by the names used in expression trees; a test insists that every function has its row.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from qbank.maths.conventions import Conventions
from qbank.maths.functions import FUNCTIONS
from qbank.messages import say

__all__ = ["GREEK", "LATEX_WORDS", "SPOKEN", "FunctionName", "function_name", "split_symbol"]

_LOWER = "alpha beta gamma delta epsilon zeta eta theta iota kappa lambda mu nu xi omicron pi rho sigma tau upsilon phi chi psi omega"
_UPPER = _LOWER.title()

#: the letter of each Greek name; the sigma at the end of a Greek word is left out
GREEK: dict[str, str] = dict(
    zip(
        (_LOWER + " " + _UPPER).split(),
        "αβγδεζηθικλμνξοπρστυφχψω" + "ΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩ",
        strict=True,
    )
)

#: function words that LaTeX has a command for (amsmath user's guide, "log-like" names); others need `\operatorname`
LATEX_WORDS = frozenset(
    (
        *("sin", "cos", "tan", "sec", "csc", "cot", "sinh", "cosh", "tanh", "coth"),
        *("arcsin", "arccos", "arctan", "ln", "log", "exp"),
    )
)

#: how a function is said in English; an inverse function is said with "inverse" before the function it undoes
SPOKEN: dict[str, str] = {
    "sin": say("sine"),
    "cos": say("cosine"),
    "tan": say("tangent"),
    "sec": say("secant"),
    "cosec": say("cosecant"),
    "cot": say("cotangent"),
    "sinh": say("hyperbolic sine"),
    "cosh": say("hyperbolic cosine"),
    "tanh": say("hyperbolic tangent"),
    "sech": say("hyperbolic secant"),
    "cosech": say("hyperbolic cosecant"),
    "coth": say("hyperbolic cotangent"),
    "exp": say("exponential"),
    "ln": say("natural log"),
    "abs": say("modulus"),
}

_SYMBOL = re.compile(
    r"(?P<base>[A-Za-z]+)(?:_?(?P<digits>[0-9]+)|_(?P<letters>[A-Za-z0-9]+)|_\((?P<index>[A-Za-z]-[0-9]+)\))?\Z"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class FunctionName:
    """How a function's name is written.

    Attributes:
        word: the letters, `tan` or `arctan`.
        inverse: whether `-1` is raised on the word (`tan^-1`).
    """

    word: str
    inverse: bool = False


def function_name(name: str, conventions: Conventions) -> FunctionName:
    """The written name of a function by a school's conventions.

    Args:
        name: a key of `FUNCTIONS`.
        conventions: the school's habits.

    >>> function_name("arccosec", Conventions(cosecant="csc"))
    FunctionName(word='arccsc', inverse=False)
    >>> function_name("arsinh", Conventions(inverse="power"))
    FunctionName(word='sinh', inverse=True)
    """
    if name == "ln":
        return FunctionName(word=conventions.logarithm)
    row = FUNCTIONS[name]
    inverse = conventions.inverse == "power" and row.family.startswith("inverse")
    word = row.inverse_of if inverse and row.inverse_of else name
    if conventions.cosecant == "csc":
        word = word.replace("cosec", "csc")
    return FunctionName(word=word, inverse=inverse)


def split_symbol(name: str) -> tuple[str, str | None]:
    """A symbol's name as base and subscript; a name of any other make is all base.

    >>> split_symbol("C_1"), split_symbol("theta"), split_symbol("x2"), split_symbol("v_max")
    (('C', '1'), ('theta', None), ('x', '2'), ('v', 'max'))
    >>> split_symbol("I_(n-2)")
    ('I', 'n-2')
    """
    found = _SYMBOL.match(name)
    if found is None:
        return name, None
    return found["base"], found["digits"] or found["letters"] or found["index"]
