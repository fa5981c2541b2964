"""Whether an expression is simplified, in the sense in which a question may ask for it.

It is not where tidying makes it shorter or its numbers smaller, where a sum holds like terms, or where a square
stands under a square root. Nobody is asked to expand, factorise or use an identity.
"""

from __future__ import annotations

from itertools import chain

from qbank.maths.expression import Expression, Integer, Root, Sum
from qbank.maths.tidying import split_coefficient, tidy

__all__ = ["is_simplified"]

#: larger factors of a number under a root are not looked for
_LARGEST_FACTOR = 1000


def is_simplified(tree: Expression) -> bool:
    """Whether nothing is left to be put together.

    >>> from qbank.maths.reading import read
    >>> [is_simplified(read(text).tree) for text in ("2/3 x", "4/6 x", "sin x + sin x", "sqrt(12)", "2 sqrt(3)")]
    [True, False, False, False, True]
    """
    neat = tidy(tree)
    return _weight(neat) >= _weight(tree) and not any(map(_is_loose, chain(tree.walk(), neat.walk())))


def _weight(tree: Expression) -> tuple[int, int]:
    """How many parts it has, and how large its whole numbers are together."""
    numbers = [abs(node.value) for node in tree.walk() if isinstance(node, Integer)]
    return sum(1 for _ in tree.walk()), sum(numbers)


def _is_loose(node: Expression) -> bool:
    """Whether a sum has like terms or a root a power of its index under it."""
    match node:
        case Sum(terms):
            bodies = [split_coefficient(term)[1] for term in terms]
            return len(set(bodies)) < len(bodies)
        case Root(Integer(value), index):
            powers = (factor**index for factor in range(2, _LARGEST_FACTOR))
            return any(value % power == 0 for power in powers if power <= value)
        case _:
            return False
