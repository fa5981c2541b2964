"""Items of the shipped bank in an independent QTI 3 reader, in one session of a headless browser.

    python -m tests.player.run [--count CLONES] [--pictures FOLDER]

This makes every attempt at every item. The test of the suite makes them all at some items of each response form, and a few at
the rest, since each attempt opens a page of its own.

The reader and its runner are kept beside the checkout (`../shared/player`, or QBANK_SHARED); they are test tools only.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from qbank.items.deck import Deck
from qbank.items.item import Choice, Coefficients, Item
from qbank.writers.qti import QTI3, package
from qbank.writers.qti.item import item_document
from qbank.writers.qti.names import TEST_PATH
from tests.items.forms import TEMPLATES, item_of
from tests.player.cases import Case, cases_of, first_of_each
from tests.writers.sample_items import cosine_power, definite_power, free_cosine

ROOT = Path(__file__).resolve().parents[2]
KINDS = ("right", "dependent", "partial", "wrong", "near miss", "swapped", "blank", "malformed", "shown")

#: the attempts at an item when all were made at another of its sort
FEW = ("right", "wrong", "near miss", "dependent", "shown")


def player(shared: Path) -> Path:
    """The runner's script."""
    return shared / "player" / "run.sh"


def missing(shared: Path) -> str | None:
    """Why the browser cannot be used here, or None."""
    if not player(shared).is_file():
        return f"the independent reader is not at {player(shared)} (set QBANK_SHARED)"
    for tool in ("chromium", "node", "npm"):
        if shutil.which(tool) is None:
            return f"{tool} is not installed"
    return None


def can_match(shared: Path) -> bool:
    """Whether the runner knows how to answer a match interaction; else such items are only looked at."""
    script = shared / "player" / "player.mjs"
    return script.is_file() and "qti-match-interaction" in script.read_text(encoding="utf-8")


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """A case and what came of it; no faults when all was as it must be."""

    case: Case
    faults: tuple[str, ...]


def items_of_the_bank(count: int) -> Iterator[Item]:
    """Some clones of each template of the shipped bank."""
    from qbank.cli.arguments import open_bank
    from qbank.items.cloning import clones

    bank = open_bank(None)
    for template in bank.templates:
        yield from clones(bank, template, count, 1)


def one_of_each_form() -> Iterator[Item]:
    """An item of the shipped bank for each template and each of its response forms."""
    from qbank.cli.arguments import open_bank
    from qbank.items.cloning import clones

    bank = open_bank(None)
    for template in bank.templates:
        met = set()
        for item in clones(bank, template, len(template.responses), 1):
            if item.form not in met:
                met.add(item.form)
                yield item


def sample_items() -> tuple[Item, ...]:
    """Items of which a careless reader would make something: the value 1, which `1/8` begins with, and others."""
    return (
        definite_power(2, 3),
        definite_power(3),
        definite_power(1, -2_000_000_000),
        cosine_power(2),
        free_cosine(2),
        *forms(),
    )


def forms() -> tuple[Item, ...]:
    """Items with coefficients: one answer and many, fractions and decimals."""
    return tuple(replace(item_of(name), identifier=f"form-{name}") for name in TEMPLATES)


def play(
    items: Iterable[Item], shared: Path, pictures: Path | None = None, *, every: bool = False
) -> list[Outcome]:
    """Try the cases of the items.

    Args:
        items: with different identifiers.
        shared: the folder of reference material.
        every: make every attempt at every item.
        pictures: where to put screenshots of the first item of each response form and of each technique.

    Raises:
        RuntimeError: the reader did not run.
    """
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        met: set[object] = set() if can_match(shared) else {"unmatched"}
        cases, described = _write(items, folder, met, with_pictures=pictures is not None, every=every)
        (folder / "cases.json").write_text(json.dumps(described), encoding="utf-8")
        results = _run(folder / "cases.json", shared)
        if pictures is not None:
            pictures.mkdir(parents=True, exist_ok=True)
            for picture in sorted(folder.glob("*.png")):
                shutil.copy(picture, pictures / picture.name)
    by_name = {result["name"]: result for result in results}
    return [Outcome(case=case, faults=tuple(by_name[case.name]["miss"])) for case in cases]


def _write(
    items: Iterable[Item], folder: Path, met: set[object], *, with_pictures: bool, every: bool
) -> tuple[list[Case], list[dict[str, object]]]:
    cases, described = [], []
    seen: set[object] = set()
    for item in items:
        path = f"{item.identifier}.xml"
        (folder / path).write_bytes(item_document(item, QTI3, shuffle=True))
        pictured = with_pictures and (item.technique, item.form) not in seen
        seen.add((item.technique, item.form))
        for number, case in enumerate(_attempts(item, met, every=every)):
            picture = f"{item.form}-{item.identifier}-{case.kind}.png" if pictured and number < 3 else None
            cases.append(case)
            described.append(case.as_json(path, picture))
        met |= {item.form, _sort(item)}
    return cases, described


def _attempts(item: Item, met: set[object], *, every: bool) -> Iterator[Case]:
    """All cases of an item that is the first of its sort, else a few.

    Args:
        item: the item.
        met: the forms and sorts of the items before.
        every: all cases in any event.
    """
    cases = cases_of(item, every_malformed=every or item.form not in met)
    if item.form == "matching" and "unmatched" in met:
        return first_of_each(cases, ("blank",))
    return cases if every or _sort(item) not in met else first_of_each(cases, FEW)


def _sort(item: Item) -> object:
    """Items of one sort have response processing of one shape."""
    match item.response:
        case Choice():
            return item.form, item.technique
        case Coefficients(entry=entry, relations=relations):
            return item.form, type(entry), bool(relations)
        case _:
            return (item.form,)


def _run(cases: Path, shared: Path) -> list[dict[str, Any]]:
    work = Path(os.environ.get("QTI_CHECK_DIR", Path.home() / ".cache" / "qti_check"))
    results = work / "build" / "results.json"
    results.unlink(missing_ok=True)
    done = subprocess.run(
        ["bash", str(player(shared)), "--cases", str(cases)],
        capture_output=True,
        text=True,
        check=False,
        timeout=1500,
    )
    if not results.is_file():
        raise RuntimeError(f"the reader did not run:\n{done.stdout[-2000:]}\n{done.stderr[-2000:]}")
    read: list[dict[str, Any]] = json.loads(results.read_text(encoding="utf-8"))
    return read


def seen_in_test(deck: Deck, shared: Path, path: str = TEST_PATH) -> tuple[str, str]:
    """What a candidate and what a scorer sees of the first section of a deck's test.

    Args:
        deck: what the package holds.
        shared: where the reader lies.
        path: of the test in the package.

    Raises:
        RuntimeError: the reader did not run.
    """
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for artifact in package(deck, QTI3):
            (folder / artifact.path).parent.mkdir(parents=True, exist_ok=True)
            with (folder / artifact.path).open("ab") as file:
                file.write(artifact.data)
        done = subprocess.run(
            ["bash", str(player(shared)), "--test", str(folder / path), "--view", "scorer"],
            capture_output=True,
            text=True,
            check=False,
            timeout=300,
        )
    try:
        seen = json.loads(done.stdout)
        return str(seen["text"]), str(seen["text_in_view"])
    except (ValueError, KeyError) as problem:
        raise RuntimeError(
            f"the reader did not run:\n{done.stdout[-2000:]}\n{done.stderr[-2000:]}"
        ) from problem


def table(outcomes: Sequence[Outcome]) -> list[str]:
    """One row for each technique and response form: how many items, and how many attempts of each kind went well."""
    rows: dict[tuple[str, str], list[Outcome]] = {}
    for outcome in outcomes:
        item = outcome.case.item
        rows.setdefault((item.technique or "(author's own)", item.form), []).append(outcome)
    width = max(len(technique) for technique, _ in rows)
    lines = [f"{'technique':{width}}  {'form':15}  items  " + "  ".join(f"{kind:>9}" for kind in KINDS)]
    for (technique, form), row in sorted(rows.items()):
        items = len({outcome.case.item.identifier for outcome in row})
        cells = [_cell([outcome for outcome in row if outcome.case.kind == kind]) for kind in KINDS]
        lines.append(
            f"{technique:{width}}  {form:15}  {items:5}  " + "  ".join(f"{cell:>9}" for cell in cells)
        )
    count = len({outcome.case.item.identifier for outcome in outcomes})
    bad = [outcome for outcome in outcomes if outcome.faults]
    lines.append(
        f"{count} items, {len(outcomes)} attempts, {len(outcomes) - len(bad)} as they must be, {len(bad)} not"
    )
    lines += [f"  {outcome.case.name}: {'; '.join(outcome.faults)}" for outcome in bad]
    return lines


def _cell(outcomes: Sequence[Outcome]) -> str:
    if not outcomes:
        return "-"
    return f"{sum(not outcome.faults for outcome in outcomes)}/{len(outcomes)}"


def main(arguments: Sequence[str]) -> int:
    """Run over the shipped bank and print the table; 1 if anything was not as it must be, 2 if it cannot be run."""
    shared = Path(os.environ.get("QBANK_SHARED", ROOT.parent / "shared"))
    reason = missing(shared)
    if reason is not None:
        print(reason, file=sys.stderr)
        return 2
    options = dict(zip(arguments[::2], arguments[1::2], strict=True))
    count = int(options.get("--count", "2"))
    pictures = Path(options["--pictures"]) if "--pictures" in options else None
    outcomes = play((*sample_items(), *items_of_the_bank(count)), shared, pictures, every=True)
    print("\n".join(table(outcomes)))
    return 1 if any(outcome.faults for outcome in outcomes) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
