"""Words: which function, constant or letter a run of letters means.

`SPELLINGS` has a row for every function of the language. A run of letters that is no word by itself is split:
`xsinx` is x, sin, x. The split is refused, with the nearest word as a hint, when it looks like a misspelt name
(`sine`, `sinn`), because a guess there would turn a typing error into a different answer.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

__all__ = [
    "GREEK",
    "GREEK_LETTERS",
    "SENTENCE",
    "SPELLINGS",
    "SPELT",
    "USUAL_VARIABLES",
    "Piece",
    "near_word",
    "split",
    "word",
]

#: function of the language -> how people write it
SPELLINGS: dict[str, tuple[str, ...]] = {
    "sin": ("sin", "sen"),
    "cos": ("cos",),
    "tan": ("tan", "tg"),
    "sec": ("sec",),
    "cosec": ("cosec", "csc"),
    "cot": ("cot", "cotan", "ctg", "cotg"),
    "arcsin": ("arcsin", "asin", "arsin", "arcsen"),
    "arccos": ("arccos", "acos", "arcos"),
    "arctan": ("arctan", "atan", "artan", "arctg"),
    "arcsec": ("arcsec", "asec"),
    "arccosec": ("arccosec", "arccsc", "acosec", "acsc"),
    "arccot": ("arccot", "acot", "arcctg"),
    "sinh": ("sinh", "senh"),
    "cosh": ("cosh",),
    "tanh": ("tanh",),
    "sech": ("sech",),
    "cosech": ("cosech", "csch"),
    "coth": ("coth",),
    "arsinh": ("arsinh", "arcsinh", "asinh", "argsinh"),
    "arcosh": ("arcosh", "arccosh", "acosh", "argcosh"),
    "artanh": ("artanh", "arctanh", "atanh", "argtanh"),
    "arsech": ("arsech", "arcsech", "asech"),
    "arcosech": ("arcosech", "arccosech", "acosech", "arcsch", "arccsch", "acsch"),
    "arcoth": ("arcoth", "arccoth", "acoth"),
    "exp": ("exp",),
    "ln": ("ln",),
    "abs": ("abs",),
}

_SMALL = (
    "alpha",
    "beta",
    "gamma",
    "delta",
    "epsilon",
    "zeta",
    "eta",
    "theta",
    "iota",
    "kappa",
    "lambda",
    "mu",
    "nu",
)
_SMALL_END = ("xi", "rho", "sigma", "tau", "upsilon", "phi", "chi", "psi", "omega")
_LARGE = ("Gamma", "Delta", "Theta", "Lambda", "Xi", "Sigma", "Phi", "Psi", "Omega")
#: Greek letter -> name of its symbol
GREEK_LETTERS = dict(zip("αβγδεζηθικλμνξρστυφχψωΓΔΘΛΞΣΦΨΩ", (*_SMALL, *_SMALL_END, *_LARGE), strict=True))
#: names of Greek letters, with the variants of LaTeX
GREEK = {
    **{name: name for name in GREEK_LETTERS.values()},
    **{f"var{name}": name for name in ("phi", "theta", "epsilon", "rho", "sigma", "kappa")},
}

#: letters taken for the variable when the caller names none
USUAL_VARIABLES = frozenset({"x", "y", "z", "t", "u", "v", "w", "theta"})


class Piece(NamedTuple):
    """One name found in a run of letters: its kind of token, its meaning, and where it stands in the run."""

    kind: str
    meaning: str
    start: int
    end: int


#: spelling -> function of the language
SPELT = {spelling: name for name, spellings in SPELLINGS.items() for spelling in spellings}
#: word -> (kind of token, meaning); letters are not here
_WORDS: dict[str, tuple[str, str]] = {
    **{spelling: ("function", name) for spelling, name in SPELT.items()},
    **{name: ("symbol", symbol) for name, symbol in GREEK.items()},
    "log": ("log", "log"),
    "lg": ("log", "lg"),
    "sqrt": ("root", "2"),
    "cbrt": ("root", "3"),
    "root": ("root", "n"),
    "pi": ("constant", "pi"),
    "oo": ("constant", "infinity"),
    "infinity": ("constant", "infinity"),
    "inf": ("constant", "infinity"),
    "infty": ("constant", "infinity"),
    "sgn": ("function", "sgn"),
    "sign": ("function", "sgn"),
    "signum": ("function", "sgn"),
}
#: words of sentences, which nobody means as a product of letters (common practice)
SENTENCE = frozenset(
    {
        *("all", "and", "any", "are", "but", "can", "did", "for", "get", "got", "has", "how", "idk"),
        *("its", "let", "not", "off", "our", "out", "put", "see", "the", "too", "was", "who", "why"),
        *("yes", "you", "if", "is", "no", "of", "on", "or", "so", "to", "we"),
        *("und", "der", "die", "das", "ist", "ich", "mit", "wie", "ein", "man", "wir"),
    }
)
#: words also found inside a longer run of letters, the longest first; short Greek names are more often two letters
_INSIDE = sorted(
    (name for name in _WORDS if name not in ("mu", "nu", "xi", "oo", "inf", "lg")),
    key=lambda name: -len(name),
)
_LONGEST = len(_INSIDE[0])
#: letters in the longest word that may be misspelt
_WORD = 20
_APPLIED = ("function", "log", "root")
#: what people write for a name, where the nearest spelling would mislead
_HINTS = {
    "tangent": "tan",
    "cosecant": "cosec",
    "cotangent": "cot",
    "logarithm": "ln",
    "modulus": "abs",
    "const": "C",
    "constant": "C",
    "mod": "abs",
}


def word(text: str) -> tuple[str, str] | None:
    """The kind and meaning of a whole word, or None; capitals are allowed in names of functions.

    >>> word("csc"), word("Sin"), word("xy")
    (('function', 'cosec'), ('function', 'sin'), None)
    """
    found = _WORDS.get(text)
    if found is None and len(text) > 1 and (text.isupper() or text.istitle()):
        lowered = _WORDS.get(text.lower())
        if lowered is not None and lowered[0] in _APPLIED:
            return lowered
    return found


def split(text: str, *, variables: frozenset[str], names: frozenset[str]) -> tuple[Piece, ...] | None:
    """Split a run of letters into names, or None when it looks like a misspelt word.

    Args:
        text: ASCII letters.
        variables: names of what may be the variable.
        names: names the caller allows.

    Returns:
        The pieces, covering the run; single letters have the kind "letter".

    >>> [piece.meaning for piece in split("xsinx", variables=frozenset("x"), names=frozenset())]
    ['x', 'sin', 'x']
    >>> split("sine", variables=frozenset("x"), names=frozenset()) is None
    True
    """
    if text.lower() in SENTENCE and not names.issuperset(text):
        return None
    pieces = tuple(_pieces(text, names))
    known = variables | names
    run: list[Piece] = []
    applied: str | None = None
    for piece in (*pieces, None):
        if piece is not None and piece.kind not in _APPLIED:
            run.append(piece)
            continue
        if not _plausible(
            run, applied=applied, whole=len(run) == len(pieces), known=known, variables=variables
        ):
            return None
        applied, run = (piece.meaning if piece is not None else None), []
    return pieces


def _pieces(text: str, names: frozenset[str]) -> Iterable[Piece]:
    """Longest known word first, from the left; what is left are single letters."""
    longest = max((_LONGEST, *(len(name) for name in names)))
    place = 0
    while place < len(text):
        for size in range(min(longest, len(text) - place), 1, -1):
            part = text[place : place + size]
            if part in names:
                yield Piece("symbol", part, place, place + size)
                break
            if part in _INSIDE_SET:
                kind, meaning = _WORDS[part]
                yield Piece(kind, meaning, place, place + size)
                break
        else:
            size = 1
            yield Piece("letter", text[place], place, place + 1)
        place += size


_INSIDE_SET = frozenset(_INSIDE)


def _plausible(
    run: list[Piece], *, applied: str | None, whole: bool, known: frozenset[str], variables: frozenset[str]
) -> bool:
    """Whether letters between function names can be meant as a product of letters."""
    letters = [piece.meaning for piece in run if piece.kind == "letter"]
    if all(letter in known for letter in letters):
        return True
    if (
        applied is not None
    ):  # the argument: at most two letters, the variable last; or one constant in a logarithm
        last = run[-1].meaning
        return (
            len(letters) <= 2
            and "e" not in letters
            and (last in variables or (applied == "ln" and len(run) == 1))
        )
    if not whole:  # factors before a function
        return len(letters) <= 2
    text = "".join(letters)
    return len(letters) <= 3 and (len(letters) < 3 or near_word(text, ()) is None)


def near_word(text: str, names: Iterable[str]) -> str | None:
    """The known word nearest to a misspelt one, or None.

    >>> near_word("sinn", ()), near_word("qqqq", ())
    ('sin', None)
    """
    import difflib

    if len(text) > _WORD:
        return None
    if text.lower() in _HINTS:
        return _HINTS[text.lower()]
    same_letters = [name for name in _INSIDE if sorted(name) == sorted(text.lower())]
    if same_letters:
        return same_letters[0]
    for stem in _INSIDE:
        if len(stem) >= 3 and text.lower().startswith(stem) and len(text) <= len(stem) + 3:
            return stem
    found = difflib.get_close_matches(text.lower(), [*_INSIDE, *sorted(names)], n=1, cutoff=0.66)
    return found[0] if found else None
