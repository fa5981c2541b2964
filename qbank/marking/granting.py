"""What has to be granted to an answer that is right by the conventions of a book, though not for all numbers.

Both are common practice. arcsin(x/a) is the answer to 1/sqrt(a^2 - x^2) in every table, and right for a > 0 only. Books in which
the inverse secant lies between pi and 3/2 pi for negative arguments have it as the answer to 1/(x sqrt(x^2 - 1)).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from qbank.maths.expression import Apply, Expression, Symbol

__all__ = ["NOTHING", "Granted", "conceivable"]

#: functions that have two usual branches for negative arguments
_TWO_BRANCHES = ("arcsec", "arccosec")


@dataclass(frozen=True, slots=True, kw_only=True)
class Granted:
    """What is granted to an answer.

    Attributes:
        positive: letters that stand for positive numbers.
        other_branch: whether the other branch of the inverse secant and cosecant is meant.
        remarks: what is said of it.
    """

    positive: frozenset[Symbol] = frozenset()
    other_branch: bool = False
    remarks: tuple[str, ...] = ()

    def meant(self, answer: Expression) -> Expression:
        """The answer in the functions of the language."""
        return _on_the_other_branch(answer) if self.other_branch else answer


NOTHING = Granted()


def conceivable(answer: Expression, integrand: Expression, variable: Symbol) -> Iterator[Granted]:
    """What may be granted to an answer, the least first.

    Args:
        answer: that is not right for all numbers.
        integrand: what was to be integrated.
        variable: with respect to what.

    >>> from qbank.maths.expression import sqrt
    >>> x, a = Symbol("x"), Symbol("a")
    >>> [granted.remarks for granted in conceivable(Apply("arcsin", x / a), 1 / sqrt(a**2 - x**2), x)]
    [('positive-letters',)]
    """
    letters = integrand.symbols() - {variable}
    branches = any(isinstance(node, Apply) and node.function in _TWO_BRANCHES for node in answer.walk())
    if letters:
        yield Granted(positive=letters, remarks=("positive-letters",))
    if branches:
        yield Granted(other_branch=True, remarks=("other-branch",))
    if letters and branches:
        yield Granted(positive=letters, other_branch=True, remarks=("positive-letters", "other-branch"))


def _on_the_other_branch(tree: Expression) -> Expression:
    """The tree with those functions on their other branch: for negative arguments that is pi more than at the modulus."""
    tree = tree.rebuild(_on_the_other_branch)
    if isinstance(tree, Apply) and tree.function in _TWO_BRANCHES:
        return Apply(tree.function, Apply("abs", tree.argument))
    return tree
