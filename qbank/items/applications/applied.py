"""From the application of a template and a draw to what an item is made of."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from qbank.bank.application import Application
from qbank.bank.drawing import Draw, Stream, fill
from qbank.items.applications import wording
from qbank.items.applications.figure import Figure
from qbank.items.applications.plotting import figure_of
from qbank.items.distractors import Candidate, Proposal
from qbank.items.options import Prose
from qbank.items.wording import two_slips
from qbank.maths.conventions import Conventions
from qbank.maths.expression import Symbol
from qbank.messages import Message
from qbank.techniques.applications.asked import Asked
from qbank.techniques.applications.working import (
    WorkedApplication,
    application_slips,
    double_slips,
    work_application,
)

__all__ = ["Applied", "apply"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Applied:
    """An application with the numbers of a draw in it, worked.

    Attributes:
        application: of the template.
        worked: the answer with its working.
    """

    application: Application
    worked: WorkedApplication

    @property
    def title(self) -> Message:
        """What the item is called."""
        return wording.title(self.application.kind)

    def prompt(self, *, figures: int | None) -> Prose:
        """The question, answered by a number of so many significant figures, or by one of several options."""
        return wording.prompt(self.application, self.worked.set_up.asked, figures)

    def proposals(self) -> Iterator[Proposal]:
        """The slips, each to be run to its value when it is wanted."""
        for one in application_slips(self.worked):
            yield Proposal(slip=one.slip, sentence=one.sentence, propose=partial(one.value))

    def doubles(self, stream: Stream) -> Iterator[Candidate]:
        """Values with two slips in them, in an order drawn from the stream."""
        for first, second in stream.shuffled(double_slips(self.worked)):
            value = second.value()
            if value is not None:
                yield Candidate(
                    slip=f"{first.slip} + {second.slip}",
                    sentence=two_slips(first.sentence, second.sentence),
                    answer=value,
                )

    def figure(self, conventions: Conventions) -> Figure:
        """The picture of the question."""
        return figure_of(self.worked.set_up, conventions)


def apply(application: Application, draw: Draw, variable: Symbol) -> Applied:
    """Put the numbers of a draw in, and answer the question.

    Args:
        application: of the template.
        draw: the numbers.
        variable: the letter along the axis.

    Raises:
        ApplicationRefused: the question makes no sense with these numbers, or could not be answered.
    """
    limits = application.limits
    asked = Asked(
        kind=application.kind,
        curves=tuple(fill(curve, draw) for curve in application.curves),
        variable=variable,
        limits=None if limits is None else (fill(limits[0], draw), fill(limits[1], draw)),
    )
    return Applied(application=application, worked=work_application(asked))
