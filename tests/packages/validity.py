"""Packages of the shipped banks against the standards body's schemas, in every format and way of showing formulas.

    python -m tests.packages.validity [--count CLONES]

prints how many files of each package are valid, and what is wrong with the others; 1 if anything is. The schemas and their
checker are kept beside the checkout (`../shared/standards`, or QBANK_SHARED).
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import replace
from importlib.resources import files
from pathlib import Path
from typing import NamedTuple

from qbank.bank.loading import parse_bank
from qbank.items.deck import Deck
from qbank.items.decking import deal
from qbank.writers import WRITERS, Options, save
from tests.writers.validating import Findings, findings

__all__ = ["FORMATS", "SHOWN", "Way", "main", "ways"]

ROOT = Path(__file__).resolve().parents[2]

#: the ways of showing formulas, with their names in the table
SHOWN = {
    "mathml": Options(),
    "pictures svg": Options(math="pictures"),
    "pictures png": Options(math="pictures", picture="png"),
    "tex": Options(math="tex"),
}
_WIDTH = 52
FORMATS = ("qti3", "qti22", "qti21", "cc", "qti12")


class Way(NamedTuple):
    """A format with all that may be chosen about it."""

    format: str
    options: Options

    @property
    def row(self) -> str:
        options = self.options
        return f"cc {options.cartridge} {options.purpose}" if self.format == "cc" else self.format


def ways() -> Iterator[Way]:
    """Every format with every choice, one row of the table after the other."""
    for name in FORMATS:
        choices = [("assessment", "1.1")]
        if name == "cc":
            choices = [(purpose, version) for version in ("1.1", "1.3") for purpose in ("assessment", "bank")]
        for purpose, version in choices:
            for shown in SHOWN.values():
                yield Way(
                    name,
                    Options(
                        purpose="bank" if purpose == "bank" else "assessment",
                        cartridge="1.3" if version == "1.3" else "1.1",
                        math=shown.math,
                        picture=shown.picture,
                    ),
                )


def banks() -> list[str]:
    """The names of the shipped banks."""
    return sorted(
        one.name for one in (files("qbank.bank") / "library").iterdir() if one.name.endswith(".yaml")
    )


def clones(name: str, count: int) -> Deck:
    """Some of each template of a bank, kept, as they are written in many ways."""
    content = (files("qbank.bank") / "library" / name).read_bytes()
    drawn = deal(parse_bank(content, name), count=count, seed=1, file=(name, content))
    kept = tuple(replace(section, items=tuple(section.items)) for section in drawn.sections)
    return replace(drawn, sections=kept)


def checked(way: Way, deck: Deck, shared: Path) -> Findings:
    """What the checker finds in the package of a deck."""
    with tempfile.TemporaryDirectory() as folder:
        path = save(WRITERS[way.format], deck, Path(folder) / "package.zip", options=way.options)
        return findings(shared, path)


def main(arguments: Sequence[str]) -> int:
    """Print the table; 1 if a file is not valid, 2 if the schemas are not there."""
    shared = Path(os.environ.get("QBANK_SHARED", ROOT.parent / "shared"))
    if not (shared / "standards").is_dir():
        print(f"the schemas are not at {shared / 'standards'} (set QBANK_SHARED)", file=sys.stderr)
        return 2
    options = dict(zip(arguments[::2], arguments[1::2], strict=True))
    count = int(options.get("--count", "1"))
    print(f"{'valid + invalid files':{_WIDTH}}" + "".join(f"{name:>16}" for name in SHOWN))
    bad: list[str] = []
    for name in banks():
        deck = clones(name, count)
        rows: dict[str, list[str]] = {}
        for way in ways():
            found = checked(way, deck, shared)
            rows.setdefault(way.row, []).append(f"{found.valid} + {found.invalid}")
            if found.invalid:
                bad.append(f"{name}, {way.row}, {way.options.math}\n{found.told}")
        for row, cells in rows.items():
            print(
                f"{name.removesuffix('.yaml') + ' ' + row:{_WIDTH}}"
                + "".join(f"{cell:>16}" for cell in cells)
            )
    print("\n".join(bad) or "0 invalid")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
