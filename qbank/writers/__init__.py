"""Writers: a deck of items in, named bytes out. Only `archive` touches the disk.

    Deck --Writer.write--> Artifact, Artifact, ... --archive--> a file

A new format is a module with a function from a deck to artifacts, and one line in `WRITERS`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import get_args

from qbank.items.deck import Deck
from qbank.writers import plain_json, qti, qti12
from qbank.writers.archive import OutputError, write_file, write_zip
from qbank.writers.artifact import Artifact
from qbank.writers.carrying import table
from qbank.writers.collecting import collected_seldom
from qbank.writers.formulas import MathMode
from qbank.writers.options import USUAL_OPTIONS, Options, mark_of_mathematics
from qbank.writers.qti12 import cartridge
from qbank.writers.refusal import RefusalError

__all__ = [
    "USUAL",
    "WRITERS",
    "Artifact",
    "Options",
    "OutputError",
    "RefusalError",
    "Writer",
    "save",
    "what_formats_carry",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Writer:
    """One export format.

    Attributes:
        name: what it is called on the command line.
        title: what it is called in a sentence.
        carries: which of `carrying.FEATURES` it can hold.
        suffix: how the names of its files end; `.zip` for a package of many members.
        make: makes the artifacts of a deck, as the options say.
        instead: for features that it cannot hold, what is written in their place.
        maths: the ways of showing formulas between which it can choose.
        mark: what the name of a file has in it to tell unusual options; nothing for the usual ones.
    """

    name: str
    title: str
    carries: frozenset[str]
    suffix: str
    make: Callable[[Deck, Options], Iterator[Artifact]]
    instead: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    maths: tuple[MathMode, ...] = ("mathml",)
    mark: Callable[[Options], str] = lambda _options: ""

    def write(self, deck: Deck, options: Options = USUAL_OPTIONS) -> Iterator[Artifact]:
        """The artifacts of a deck.

        Args:
            deck: what to write.
            options: what was chosen about the format.
        """
        return self.make(deck, options)

    def file_name(self, deck: Deck, options: Options = USUAL_OPTIONS) -> str:
        """The usual name of the file for a deck, `BANK-FORMAT.SUFFIX`, telling unusual options before the suffix.

        After the name of the bank stands the test that was set, if any.
        """
        return f"{deck.stem or deck.bank}-{self.name}{self.mark(options)}{self.suffix}"


def _as_it_is(write: Callable[[Deck], Iterator[Artifact]]) -> Callable[[Deck, Options], Iterator[Artifact]]:
    """A format about which nothing can be chosen."""
    return lambda deck, _options: write(deck)


def _qti(generation: qti.Generation) -> Callable[[Deck, Options], Iterator[Artifact]]:
    """A generation of QTI, with mathematics as the options say."""
    return lambda deck, options: qti.package(deck, generation, math=options.math, picture=options.picture)


_TASKS = frozenset({"first-step", "find-fault", "complete-working"})
_ALL_FORMS = _TASKS | {
    "number-gaps",
    "expression-gaps",
    "choice",
    "several-answers",
    "matching",
    "numeric",
    "evaluation",
    "coefficients",
    "free-expression",
    "show-that",
}
_TESTS = frozenset({"sections", "time-limit", "total-marks"})
_QTI = (
    _ALL_FORMS | _TESTS | {"rubric", "feedback", "worked-solution", "pools", "shuffling", "mathml", "figure"}
)
_QTI12 = _TASKS | frozenset({"choice", "feedback", "worked-solution", "shuffling", "mathml", "figure"})
_JSON = (
    _ALL_FORMS
    | _TESTS
    | {"rubric", "feedback", "worked-solution", "pools", "mathml", "spoken", "evidence", "figure"}
)

_INSTEAD_IN_QTI12 = {
    "numeric": "a short answer with a list of accepted spellings; any other spelling of a number within the bounds, "
    "and powers of ten, score 0",
    "evaluation": "a short answer with a list of accepted spellings, as for a number",
    "number-gaps": "dots in the line, and below it a short answer with a list of accepted spellings for each gap",
    "expression-gaps": "dots in the line, and an essay, marked by a person",
    "coefficients": "an essay, marked by a person",
    "free-expression": "an essay, marked by a person",
    "show-that": "an essay, marked by a person",
    "rubric": "the key and the marks stand with the worked solution, which is for after the answer",
    "spoken": "spoken words stand in attributes of the HTML, which a system may drop",
}
_INSTEAD_IN_CARTRIDGES = {
    "several-answers": "full marks for exactly the right options, and none for any others",
    "matching": "a question for each integral, with all that may belong to it as options; its marks are a share in whole "
    "marks, one at least",
    "sections": "the items of all sections of a test, one after the other",
    "total-marks": "the marks of each question as its weight; they add up to the total",
}
_DEALT_BY_HAND = (
    "as assessments, parallel tests over which the clones are shared out, those left over being left out; "
    "as a bank, each clone in the category of its template"
)

#: the formats that are written when none is named
USUAL = ("qti3", "json")

WRITERS = MappingProxyType(
    {
        writer.name: writer
        for writer in (
            Writer(
                name="qti3",
                title="QTI 3.0 package",
                carries=_QTI | {"spoken"},
                suffix=".zip",
                make=_qti(qti.QTI3),
                mark=mark_of_mathematics,
                maths=get_args(MathMode),
            ),
            Writer(
                name="qti22",
                title="QTI 2.2 package",
                carries=_QTI | {"spoken"},
                suffix=".zip",
                make=_qti(qti.QTI22),
                mark=mark_of_mathematics,
                maths=get_args(MathMode),
            ),
            Writer(
                name="qti21",
                title="QTI 2.1 package",
                carries=_QTI,
                suffix=".zip",
                make=_qti(qti.QTI21),
                mark=mark_of_mathematics,
                maths=get_args(MathMode),
                instead={"spoken": "alttext of MathML, which not every reader gives to assistive technology"},
            ),
            Writer(
                name="json",
                title="generic JSON",
                carries=_JSON,
                suffix=".json",
                make=_as_it_is(plain_json.document),
            ),
            Writer(
                name="cc",
                title="Common Cartridge with QTI 1.2, as assessments or as a question bank",
                carries=_QTI12 | {"time-limit"},
                suffix=".zip",
                make=cartridge.package,
                instead=MappingProxyType(
                    {**_INSTEAD_IN_QTI12, "pools": _DEALT_BY_HAND, **_INSTEAD_IN_CARTRIDGES}
                ),
                mark=cartridge.mark,
                maths=get_args(MathMode),
            ),
            Writer(
                name="qti12",
                title="plain QTI 1.2 package",
                carries=_QTI12 | _TESTS | {"several-answers", "matching", "pools"},
                suffix=".zip",
                make=qti12.package,
                mark=mark_of_mathematics,
                maths=get_args(MathMode),
                instead=MappingProxyType(_INSTEAD_IN_QTI12),
            ),
        )
    }
)


def what_formats_carry() -> list[str]:
    """The table of formats and features, line by line."""
    return table({name: writer.carries | frozenset(writer.maths) for name, writer in WRITERS.items()})


def save(
    writer: Writer,
    deck: Deck,
    target: Path,
    *,
    options: Options = USUAL_OPTIONS,
    force: bool = False,
    deflate: bool = False,
) -> Path:
    """Write a deck to a file.

    Args:
        writer: the format.
        deck: what to write.
        target: the file.
        options: what was chosen about the format.
        force: also replace a file that qbank did not write.
        deflate: pack the members of a package tightly; see `archive`.

    Returns:
        The target.

    Raises:
        OutputError: something is in the way, or the system refuses.
        RefusalError: the deck cannot be written in this format.
    """
    artifacts = writer.write(deck, options)
    with collected_seldom():
        if writer.suffix == ".zip":
            return write_zip(artifacts, target, force=force, deflate=deflate)
        return write_file(artifacts, target, force=force)
