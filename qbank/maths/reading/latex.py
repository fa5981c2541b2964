r"""LaTeX commands: which plain token each one stands for.

The grammar knows no LaTeX. A command becomes the same token that typed mathematics gives (`\cdot` a `*`, `\sin` the
function), or one of the few that only LaTeX has (`frac`). Function and Greek names are not listed here: every
spelling that typed mathematics knows is also a command.
"""

from __future__ import annotations

__all__ = ["COMMANDS", "SIZES", "SPACES", "UNSUPPORTED", "WORDS"]

#: command -> (kind, text) of the token it gives
COMMANDS: dict[str, tuple[str, str]] = {
    "cdot": ("op", "*"),
    "cdotp": ("op", "*"),
    "times": ("op", "*"),
    "ast": ("op", "*"),
    "bullet": ("op", "*"),
    "div": ("op", "/"),
    "slash": ("op", "/"),
    "frac": ("frac", "frac"),
    "dfrac": ("frac", "dfrac"),
    "tfrac": ("frac", "tfrac"),
    "cfrac": ("frac", "cfrac"),
    "infty": ("constant", "infinity"),
    "circ": ("degree", "°"),
    "degree": ("degree", "°"),
    "lvert": ("bar", "(|"),
    "rvert": ("bar", "|)"),
    "vert": ("bar", "|"),
    "mid": ("bar", "|"),
    "lbrace": ("open", "{"),
    "rbrace": ("close", "}"),
    "lbrack": ("open", "["),
    "rbrack": ("close", "]"),
    "lparen": ("open", "("),
    "rparen": ("close", ")"),
    "int": ("integral", "∫"),
    "{": ("open", "{"),
    "}": ("close", "}"),
    "|": ("bar", "|"),
}

#: commands that only make space or set the style
SPACES = frozenset(
    {
        *(" ", ",", ";", ":", "!", ">", "/"),
        *("quad", "qquad", "thinspace", "medspace", "thickspace", "enspace", "displaystyle", "textstyle"),
        *("limits", "nolimits", "nonumber", "rm", "boxed", "\\"),
    }
)

#: commands that set the size of the bracket after them; `left` and `right` also say which way a bar faces
SIZES = {
    **dict.fromkeys(("left", "bigl", "Bigl", "biggl", "Biggl", "mleft"), "left"),
    **dict.fromkeys(("right", "bigr", "Bigr", "biggr", "Biggr", "mright"), "right"),
    **dict.fromkeys(("big", "Big", "bigg", "Bigg", "middle"), ""),
}

#: commands for signs that an expression cannot hold
UNSUPPORTED = frozenset(
    {
        "pm",
        "mp",
        "le",
        "leq",
        "ge",
        "geq",
        "lt",
        "gt",
        "ne",
        "neq",
        "approx",
        "equiv",
        "sum",
        "prod",
        "partial",
        "to",
    }
)

#: commands whose braces hold a word
WORDS = frozenset(
    {
        "operatorname",
        "mathrm",
        "text",
        "textrm",
        "mathit",
        "textit",
        "mathsf",
        "mathbf",
        "mathcal",
        "mathscr",
        "mathop",
        "mbox",
    }
)
