"""What an integral with limits can be opened by, when another way has left it: pieces, limits, an antiderivative.

An `Opened` writes lines from where it starts down to square brackets; what was left stands round each of them. Several
are written side by side: in one line where each is a single step, else one after the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Protocol

from qbank.maths.expression import Expression, sum_of
from qbank.messages import say
from qbank.techniques.definites.chain import Chain, steps_of
from qbank.techniques.definites.way import Place, Wrong, as_it_is
from qbank.techniques.working import Line

__all__ = ["Opened", "Together"]


class Opened(Protocol):
    """An integral, or a limit of one, with the lines that follow it."""

    @property
    def start(self) -> Expression:
        """What stands before its first line."""

    @property
    def before(self) -> tuple[Line, ...]:
        """An antiderivative worked by itself, where that is needed."""

    @property
    def lines(self) -> tuple[Line, ...]:
        """Its lines."""

    def write(self, chain: Chain, place: Place = as_it_is) -> None:
        """Write the lines, each step with something round it."""

    def wrongs(self) -> Iterator[Wrong]:
        """What slips make of it."""


@dataclass(frozen=True, slots=True)
class Together:
    """Several integrals side by side.

    Attributes:
        parts: from left to right.
    """

    parts: tuple[Opened, ...]

    def write(self, chain: Chain, place: Place = as_it_is) -> None:
        """Write the lines of all parts, each step with the others beside it."""
        if all(not part.before and all(line.kind == "step" for line in part.lines) for part in self.parts):
            self._in_step(chain, place)
            return
        current = [part.start for part in self.parts]
        for at, part in enumerate(self.parts):

            def beside(tree: Expression, at: int = at) -> Expression:
                return place(sum_of(*current[:at], tree, *current[at + 1 :]))

            part.write(chain, beside)
            current[at] = steps_of(part.lines)[-1]

    def _in_step(self, chain: Chain, place: Place) -> None:
        """One line for the next step of each part; those with fewer steps wait."""
        most = max(len(part.lines) for part in self.parts)
        for step in range(most):
            taken = [part.lines[at] for part in self.parts if (at := step - most + len(part.lines)) >= 0]
            trees = [
                steps_of(part.lines)[at] if (at := step - most + len(part.lines)) >= 0 else part.start
                for part in self.parts
            ]
            same = len({line.reason for line in taken}) == 1
            reason = taken[0].reason if same else say("Integrate each part.")
            chain.step(place(sum_of(*trees)), taken[0].rule, reason, taken[-1].proof)

    def wrongs(self) -> Iterator[Wrong]:
        """A slip made in all parts alike, those of the first part in front."""
        for first in self.parts[0].wrongs():
            yield Wrong(first.slip, first.sentence, lambda first=first: self._alike(first))  # type: ignore[misc]

    def _alike(self, first: Wrong) -> Expression | None:
        trees: list[Expression] = []
        for part in self.parts:
            same = next((wrong for wrong in part.wrongs() if wrong.slip == first.slip), None)
            tree = None if same is None else same.written()
            if tree is None:
                return None
            trees.append(tree)
        return sum_of(*trees)
