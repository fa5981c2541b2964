"""The same answer as other students write it: typed or in LaTeX, with a left side or words around it (common practice)."""

from __future__ import annotations

import random

from qbank.maths.expression import Expression
from qbank.maths.notation import latex, plain

__all__ = ["dressed"]

#: what stands in front, and behind
FRONTS = ("", "", "", "y = ", "F(x) = ", "= ", "Answer: ", "∴ ", "=> ", "Solution: ", "∫ f(x) dx = ")
ENDS = (
    "",
    "",
    "",
    ".",
    ", C ∈ ℝ",
    " (C constant)",
    " where C is a constant",
    ", c is any real constant",
    " for all x",
    ", x ≠ 0",
)
LATEX_ENDS = ("", "", r", C \in \mathbb{R}", r",\; C\in\mathbb R", r" \quad")
SIGNS = (("*", "·"), ("-", "−"), ("^2", "²"), ("^3", "³"), ("pi", "π"), ("sqrt", "√"), (" ", "  "))


def dressed(tree: Expression, rng: random.Random) -> str:
    """A response that says the tree and nothing else."""
    if rng.random() < 0.3:
        text = latex(tree)
        opener, closer = rng.choice((("", ""), ("$", "$"), (r"\(", r"\)"), (r"\displaystyle ", "")))
        return opener + rng.choice(("", "y = ", r"\therefore ")) + text + rng.choice(LATEX_ENDS) + closer
    text = plain(tree)
    for plain_sign, other in SIGNS:
        if rng.random() < 0.3:
            text = text.replace(plain_sign, other)
    return rng.choice(FRONTS) + text + rng.choice(ENDS)
