"""Items of all response forms in an independent QTI 3 reader, every kind of attempt, and one table of what came of it.

    python -m tests.player.run [--count CLONES]

The score of each attempt is what our own marker gives. The exit code is 1 where the reader disagrees with it anywhere.
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from qbank.bank.model import Bank
from qbank.cli.arguments import open_bank
from qbank.items.cloning import clones
from qbank.items.item import Item, Numeric
from qbank.items.rounding import round_to_figures
from qbank.maths.expression import as_fraction
from qbank.writers.qti import QTI3
from qbank.writers.qti.item import item_document
from tests.items import forms, gap_items, matching_items, task_items
from tests.player.case import KINDS, Case
from tests.player.cases import every_case, sort_of
from tests.player.reader import attempt, missing
from tests.writers.sample_items import cosine_power, definite_power, free_cosine

__all__ = ["Outcome", "items", "play", "table"]

ROOT = Path(__file__).resolve().parents[2]

#: clones of a template that has one of the forms of which the banks have few
_OF_RARE_FORMS = 3
_RARE = frozenset({"several-answers", "matching", "numeric", "evaluation", "coefficients"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """A case and what came of it; no faults when all was as it must be."""

    case: Case
    faults: tuple[str, ...]


def items(count: int) -> tuple[Item, ...]:
    """Items made for this, clones of two banks that come with the package in each of their forms, and one to be shown.

    Args:
        count: how many clones of a template and form; of a rare form there are more.
    """
    banks = [_bank(name) for name in ("saltmarrow-integration", "saltmarrow-further-integration")]
    return (*_made(), *(item for bank in banks for item in _clones(bank, count)), _to_be_shown())


def _bank(name: str) -> Bank:
    return open_bank(ROOT / "qbank" / "bank" / "library" / f"{name}.yaml")


def _to_be_shown() -> Item:
    bank = _bank("saltmarrow-definite")
    template = next(one for one in bank.templates if one.responses == ("show-that",))
    return next(clones(bank, template, 1, 1))


def _made() -> Iterator[Item]:
    """Of some a careless reader would make something: the value 1, which `1/8` begins with, and others.

    Then coefficients with one answer and with many, as fractions and as decimals; matchings with marks that make thirds.
    """
    yield from map(
        _with_usual_bounds, (definite_power(2, 3), definite_power(3), definite_power(1, -2 * 10**9))
    )
    yield from (cosine_power(2), free_cosine(2))
    yield from (replace(forms.item_of(name), identifier=f"form-{name}") for name in forms.TEMPLATES)
    yield from (
        replace(task_items.task_item(name), identifier=f"task-{name}") for name in task_items.TEMPLATES
    )
    yield from (replace(gap_items.gap_item(name), identifier=f"task-{name}") for name in gap_items.TEMPLATES)
    for name in matching_items.TEMPLATES:
        yield replace(matching_items.matching_item(name), identifier=f"matching-{name}")


def _with_usual_bounds(item: Item) -> Item:
    """An item made by hand, with the bounds that the bank's items have for their figures."""
    assert isinstance(item.response, Numeric)
    value = as_fraction(item.key)
    rounded = None if value is None else round_to_figures(value, item.response.figures)
    assert rounded is not None
    bounds = replace(item.response, decimal=rounded.text, lower=rounded.lower, upper=rounded.upper)
    return replace(item, response=bounds)


def _clones(bank: Bank, count: int) -> Iterator[Item]:
    for template in bank.templates:
        forms_of_it = len(template.responses)
        many = max(count, _OF_RARE_FORMS) * forms_of_it
        met: dict[str, int] = {}
        for item in clones(bank, template, many, 1):
            met[item.form] = met.get(item.form, 0) + 1
            if met[item.form] <= count or item.form in _RARE:
                yield item


def play(of_these: Iterable[Item], shared: Path) -> list[Outcome]:
    """Make the attempts at some items.

    Args:
        of_these: items with different identifiers.
        shared: the folder of reference material.

    Raises:
        RuntimeError: the reader did not run.
    """
    cases = list(every_case(of_these))
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for item in {case.item.identifier: case.item for case in cases}.values():
            (folder / f"{item.identifier}.xml").write_bytes(item_document(item, QTI3, shuffle=True))
        seen = attempt([case.as_attempt(f"{case.item.identifier}.xml") for case in cases], folder, shared)
    return [Outcome(case=case, faults=tuple(case.faults(one))) for case, one in zip(cases, seen, strict=True)]


def table(outcomes: Sequence[Outcome]) -> list[str]:
    """A row for each response form: how many items, and how many attempts of each kind came out as they must."""
    rows: dict[str, list[Outcome]] = {}
    for outcome in outcomes:
        rows.setdefault(sort_of(outcome.case.item), []).append(outcome)
    width = max(map(len, rows))
    lines = [f"{'response form':{width}}  items  " + "  ".join(f"{kind:>9}" for kind in KINDS)]
    for sort, row in sorted(rows.items()):
        cells = (_cell([outcome for outcome in row if outcome.case.kind == kind]) for kind in KINDS)
        lines.append(f"{sort:{width}}  {_items(row):5}  " + "  ".join(f"{cell:>9}" for cell in cells))
    bad = [outcome for outcome in outcomes if outcome.faults]
    agree = len(outcomes) - len(bad)
    lines.append(
        f"{_items(outcomes)} items, {len(outcomes)} attempts: reader and marker agree on {agree}, not on {len(bad)}"
    )
    lines += [f"  {outcome.case.name}: {'; '.join(outcome.faults)}" for outcome in bad]
    return lines


def _items(outcomes: Sequence[Outcome]) -> int:
    return len({outcome.case.item.identifier for outcome in outcomes})


def _cell(outcomes: Sequence[Outcome]) -> str:
    if not outcomes:
        return "-"
    return f"{sum(not outcome.faults for outcome in outcomes)}/{len(outcomes)}"


def main(arguments: Sequence[str]) -> int:
    """Run and print the table; 1 if anything was not as it must be, 2 if it cannot be run."""
    shared = Path(os.environ.get("QBANK_SHARED", ROOT.parent / "shared"))
    reason = missing(shared)
    if reason is not None:
        print(reason, file=sys.stderr)
        return 2
    options = dict(zip(arguments[::2], arguments[1::2], strict=True))
    outcomes = play(items(int(options.get("--count", "1"))), shared)
    print("\n".join(table(outcomes)))
    return 1 if any(outcome.faults for outcome in outcomes) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
