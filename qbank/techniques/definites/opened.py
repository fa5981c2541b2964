"""How an integral that a way has left goes on: bars are split, an improper one becomes a limit, else an antiderivative."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from qbank.maths.constant_factor import number
from qbank.maths.expression import Expression, Integer, Integral, Product, product
from qbank.maths.limiting import NoLimit
from qbank.techniques.carrying import multiplied
from qbank.techniques.definite import DefiniteRefused
from qbank.techniques.definites.chain import Chain
from qbank.techniques.definites.improper import limits_of, open_limits, quiet
from qbank.techniques.definites.jumps import jumps_of, open_jumps
from qbank.techniques.definites.leaf import leaves
from qbank.techniques.definites.modulus import pieces_of
from qbank.techniques.definites.way import Place, Wrong, as_it_is

__all__ = ["Onward", "go_on", "onwards", "times", "value_or_none"]


@dataclass(frozen=True, slots=True)
class Onward:
    """One way on.

    Attributes:
        write: writes the lines down to square brackets, with something round each step.
        wrongs: what slips make of it.
    """

    write: Callable[[Chain, Place], None]
    wrongs: Callable[[], Iterator[Wrong]]


def onwards(integral: Integral) -> Iterator[Onward]:
    """The ways on, the one taught first in front."""
    pieces = pieces_of(integral)
    if pieces is not None:
        for opened in pieces.openings():
            yield Onward(
                lambda chain, place, opened=opened: pieces.open(chain, opened, place),  # type: ignore[misc]
                lambda opened=opened: pieces.wrongs(opened),  # type: ignore[misc]
            )
        return
    try:
        limited = list(limits_of(integral))
    except NoLimit:
        return
    for together in limited:
        yield Onward(
            lambda chain, place, together=together: open_limits(chain, integral, together, place),  # type: ignore[misc]
            lambda together=together: quiet(together.wrongs()),  # type: ignore[misc]
        )
    if not limited:
        for leaf in leaves(integral):
            yield Onward(leaf.write, leaf.wrongs)
        for together in jumps_of(integral):
            yield Onward(
                lambda chain, place, together=together: open_jumps(chain, together, place),  # type: ignore[misc]
                lambda together=together: quiet(together.wrongs()),  # type: ignore[misc]
            )


def go_on(
    begin: Callable[[], Chain], integral: Integral, place: Place = as_it_is
) -> tuple[Chain, Onward, Expression] | None:
    """The first way on that leads to a value.

    Args:
        begin: makes a chain that ends with the integral, and what stands round it.
        integral: what is left.
        place: what stands round it.

    Returns:
        The chain down to the value, the way on, and the value; None when there is none.
    """
    for onward in onwards(integral):
        try:
            chain = begin()
            onward.write(chain, place)
            return chain, onward, chain.numbers()
        except (DefiniteRefused, NoLimit):
            continue
    return None


def times(factor: int) -> Place:
    """So many times a line, the number in front of each of its terms."""

    def place(tree: Expression) -> Expression:
        if isinstance(tree, Product) and not any(isinstance(part, Integral) for part in tree.walk()):
            return product(Integer(factor), tree)
        return multiplied(number(factor), tree)

    return place


def value_or_none(integral: Integral) -> Expression | None:
    """The value of an integral that a slip leads to; None where it has none."""

    def begin() -> Chain:
        return Chain("", integral)

    try:
        found = go_on(begin, integral)
    except DefiniteRefused:
        return None
    return None if found is None else found[2]
