"""Put all published rows at hand to deciding, quadrature and the techniques: `python -m tests.reference.report`.

It prints how they fare, and ends with 1 when a right row is refuted, a changed one proved, a value missed, a worked answer
different, or when less is proved, enclosed or worked than was measured.
"""

from __future__ import annotations

import os
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from statistics import median

from qbank.maths.quadrature import Enclosed, Refused
from qbank.maths.verdict import Unsettled
from qbank.techniques.planner import TECHNIQUES
from tests.reference.definite import SHARES as ENCLOSED
from tests.reference.definite import Definite, definite, off_the_number, share, wrong
from tests.reference.rows import DATA, rows
from tests.reference.verdicts import (
    RIGHT,
    SHARES,
    Outcome,
    outcomes,
    share_proved,
    word,
    wrongly_proved,
    wrongly_refuted,
)
from tests.techniques.published import (
    NOT_REAL,
    OTHER_LETTERS,
    agreement,
    expected,
    published_values,
    published_ways,
)

#: how many published definite integrals are worked at least
_VALUES = 20
#: and how many with full working by the way that is taught first
_BY_WAYS = 100
_WORDS = ("proved", "unsettled", "not real", "refuted", "outside")


def shared() -> Path:
    """The folder of reference material."""
    return Path(os.environ.get("QBANK_SHARED", Path(__file__).resolve().parents[3] / "shared"))


def files() -> Iterator[tuple[str, Path]]:
    """The project's own files, then those beside the checkout, by a label."""
    for label in SHARES:
        place, name = label.split()
        path = (DATA if place == "own" else shared() / "reference") / f"{name}.csv"
        if path.exists():
            yield label, path


def line(label: str, found: list[Outcome]) -> str:
    """One line of the table: the rows that are right, then what became of their changed copies."""
    right = Counter(outcome.word for outcome in found if outcome.row.status in RIGHT)
    changed = Counter(word(outcome.perturbed) for outcome in found if outcome.perturbed is not None)
    times = sorted(outcome.seconds for outcome in found if outcome.verdict is not None)
    late = times[int(len(times) * 0.99)]
    cells = [f"{right[name]:9d}" for name in _WORDS]
    cells += [f"{100 * share_proved(found):8.2f}%"]
    cells += [f"{changed[name]:9d}" for name in ("proved", "unsettled", "refuted")]
    cells += [f"{1000 * median(times):8.1f}", f"{1000 * late:8.1f}", f"{1000 * times[-1]:8.0f}"]
    return f"{label:22s}" + "".join(cells)


def remarkable(found: list[Outcome]) -> Iterator[str]:
    """The right rows that were not proved, with the reason."""
    for outcome in found:
        if outcome.row.status in RIGHT and outcome.word in ("unsettled", "refuted"):
            why = outcome.verdict.reason if isinstance(outcome.verdict, Unsettled) else str(outcome.verdict)
            yield (
                f"{outcome.word:10s}{outcome.row.name:11s}{outcome.row.integrand}  ->  "
                f"{outcome.row.antiderivative}  [{why}]"
            )


def decided() -> Iterator[str]:
    """Print the verdicts over antiderivatives; the faults."""
    heads = [f"{name:>9s}" for name in _WORDS] + [f"{'share':>9s}"]
    heads += [f"{name:>9s}" for name in ("x proved", "x unsett.", "x refuted")]
    heads += [f"{name:>8s}" for name in ("median", "99 %", "max ms")]
    print("rows that are right by an independent check; x: with one coefficient changed by a millionth")
    print(f"{'file':22s}" + "".join(heads))
    notes: list[str] = []
    for label, path in files():
        found = list(outcomes(rows(path)))
        print(line(label, found), flush=True)
        notes += remarkable(found)
        yield from (f"{label}: {name} is right and was refuted" for name in wrongly_refuted(found))
        yield from (f"{label}: {name} with a change was proved" for name in wrongly_proved(found))
        if share_proved(found) < SHARES[label]:
            yield f"{label}: {share_proved(found):.4f} proved, not {SHARES[label]}"
    print(*notes, sep="\n")


def enclosed() -> Iterator[str]:
    """Print how definite integrals fare; the faults."""
    for label, folder in (("own", DATA), ("all", shared() / "reference")):
        if not (folder / "definite.csv").exists():
            continue
        found = definite(folder / "definite.csv")
        counts = Counter(map(_outcome, found))
        print(label, "definite", dict(sorted(counts.items())))
        for row in found:
            if isinstance(row.enclosure, Refused):
                print(f"  {row.name} {row.enclosure.reason}")
        yield from (f"{label} definite: {name} is missed" for name in (*wrong(found), *off_the_number(found)))
        if share(found) < ENCLOSED[label]:
            yield f"{label} definite: {share(found):.3f} enclosed, not {ENCLOSED[label]}"


def _outcome(row: Definite) -> str:
    if row.enclosure is None:
        return "outside"
    return "enclosed" if isinstance(row.enclosure, Enclosed) else "refused"


def worked() -> Iterator[str]:
    """Print how many rows each technique works; the faults."""
    for technique in TECHNIQUES:
        wanted = expected(technique)
        found = agreement(technique, shared(), wanted.report)
        print(
            f"{technique.identifier:28s}worked {found.applied:4d} (one row in {wanted.report}), "
            f"the published answer {found.same}, not settled {sorted(found.unsettled)}",
            flush=True,
        )
        yield from (f"{technique.identifier}: {text}" for text in found.different)
        open_rows = found.unsettled - NOT_REAL - OTHER_LETTERS
        yield from (f"{technique.identifier}: {name} not settled" for name in sorted(open_rows))
        if found.applied < wanted.fewest:
            yield f"{technique.identifier}: {found.applied} worked, not {wanted.fewest}"
    values, wrong = published_values(shared())
    print(f"definite integrals    worked {values:4d}, with another value than published {wrong}")
    yield from (f"the value of {name} is not the published one" for name in wrong)
    if values < _VALUES:
        yield f"{values} definite integrals worked, not {_VALUES}"
    ways, wrong = published_ways(shared())
    print("definite integrals by ways", dict(ways.most_common()), f"{ways.total()} rows")
    yield from (f"by a way, the value of {name} is not the published one" for name in wrong)
    if ways.total() < _BY_WAYS:
        yield f"{ways.total()} definite integrals worked by ways, not {_BY_WAYS}"


def main() -> int:
    """Print the tables; 1 when anything is not as it must be."""
    faults = [*decided(), *enclosed()]
    if (shared() / "reference").is_dir():
        faults += worked()
    print(*faults, sep="\n")
    print(f"{len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
