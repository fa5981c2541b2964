"""Pictures of items in the independent reader, in each way of showing formulas, for people to look at.

    python -m tests.player.pictures FOLDER

A choice, coefficients and a worked solution, in each of the ways; `choice-mathml.png` and so on. The reader sets MathML and shows
pictures; TeX it leaves as it is, as systems do that have nothing to set it with.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import get_args

from qbank.items.deck import Section
from qbank.items.item import Item
from qbank.writers.formulas import MathMode
from qbank.writers.qti.names import item_path
from tests.items.shipped import shipped_items
from tests.player.case import Case
from tests.player.cases import cases_of
from tests.player.reader import attempt, missing, unpacked
from tests.player.run import ROOT
from tests.writers.sample_items import deck

__all__ = ["draw"]

#: name -> template and response form, kind of attempt, and whether it is seen before or after it is sent off
_WANTED = {
    "choice": ("odd-cosine-with-even-sine", "choice", "right", "before"),
    "coefficients": ("cosine-to-the-fourth", "coefficients", "right", "before"),
    "worked-solution": ("odd-cosine-with-even-sine", "choice", "wrong", "after"),
}


def draw(folder: Path, shared: Path) -> list[Path]:
    """Put the pictures into a folder.

    Args:
        folder: made if it is not there.
        shared: the folder of reference material.

    Raises:
        RuntimeError: the reader did not run, or could not load an item.
    """
    folder.mkdir(parents=True, exist_ok=True)
    cases = {name: _case(*wanted) for name, (*wanted, _) in _WANTED.items()}
    items = {case.item.identifier: case.item for case in cases.values()}
    drawn = []
    for mode in get_args(MathMode):
        sections = {
            item: Section(template=item.template, title=item.title, items=(item,)) for item in items.values()
        }
        attempts = []
        for name, case in cases.items():
            picture = folder / f"{name}-{mode}.png"
            drawn.append(picture)
            path = item_path(sections[case.item], case.item.identifier)
            attempts.append(case.as_attempt(path) | {"pictures": {_WANTED[name][-1]: str(picture)}})
        with unpacked(deck(*sections.values()), math=mode) as package:
            seen = attempt(attempts, package, shared)
        for one in seen:
            if "failed" in one or one["log"]:
                raise RuntimeError(f"{mode}: {one.get('failed') or one['log']}")
    return drawn


def _case(template: str, form: str, kind: str) -> Case:
    item = _item(template, form)
    return next(case for case in cases_of(item, every=False) if case.kind == kind)


def _item(template: str, form: str) -> Item:
    return next(one for one in shipped_items(3, 1) if (one.template, one.form) == (template, form))


def main(arguments: Sequence[str]) -> int:
    """Draw them; 2 if it cannot be done here."""
    shared = Path(os.environ.get("QBANK_SHARED", ROOT.parent / "shared"))
    reason = missing(shared)
    if reason is not None or len(arguments) != 1:
        print(reason or "usage: python -m tests.player.pictures FOLDER", file=sys.stderr)
        return 2
    print("\n".join(map(str, draw(Path(arguments[0]), shared))))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
