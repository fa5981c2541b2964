"""A short text is not walked over for its depth and number of nodes: what a token makes of a tree is bounded."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from qbank.maths.conventions import DEFAULT
from qbank.maths.expression import Expression, Symbol
from qbank.maths.reading import ReadingError, limits, read
from qbank.maths.reading.audit import _FEW_TOKENS
from qbank.maths.reading.choices import Choices
from qbank.maths.reading.reader import cleaned, names_of
from qbank.maths.reading.tokens import tokenise

LEVELS, NODES = 3, 5
X = Symbol("x")
#: pieces of text that make more of a tree than they have characters, and what may stand between them
PIECES = (
    *(
        "x",
        "2",
        "0.5",
        "2e3",
        "lg",
        "lg x",
        "log",
        "log_2",
        "30°",
        "°",
        "½",
        "1½",
        r"\frac12",
        "√",
        "³√x",
        "²",
        "^",
        "^-",
        "e^",
    ),
    *("-", "+", "*", "/", " ", "(", ")", "|", "sin", "sin^-1", "sin^2", "ln", "arctan"),
)


def depth(tree: Expression) -> int:
    return 1 + max(map(depth, tree.children), default=0)


@given(st.lists(st.sampled_from(PIECES), min_size=1, max_size=12).map("".join))
def test_a_token_makes_few_levels_and_nodes(text: str) -> None:
    try:
        reading = read(text, variable=X)
    except ReadingError:
        return
    tokens = len(tokenise(cleaned(text), names_of(DEFAULT, X, frozenset()), Choices()))
    for tree in (reading.tree, *reading.alternatives):
        assert depth(tree) <= LEVELS * tokens
        assert sum(1 for _ in tree.walk()) <= NODES * tokens


def test_few_tokens_cannot_exceed_the_limits() -> None:
    assert LEVELS * _FEW_TOKENS <= limits.NESTING
    assert NODES * _FEW_TOKENS <= limits.NODES
    dense = "lg lg lg 1½°"
    tokens = len(tokenise(cleaned(dense), names_of(DEFAULT, X, frozenset()), Choices()))
    tree = read(dense, variable=X).tree
    assert depth(tree) > tokens  # a token does make more than one level
