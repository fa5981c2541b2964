"""Print how deciding and quadrature fare on all published rows at hand: `python -m tests.reference.report`."""

from __future__ import annotations

import os
from collections import Counter
from pathlib import Path
from statistics import median

from qbank.maths.quadrature import Enclosed, Refused
from qbank.maths.verdict import Unsettled
from tests.reference.rows import DATA, rows
from tests.reference.test_definite import definite
from tests.reference.verdicts import RIGHT, Outcome, outcomes, share_proved, word

_WORDS = ("proved", "unsettled", "not real", "refuted", "outside")


def files() -> list[tuple[str, Path]]:
    """The project's own files, then those beside the checkout, by a label."""
    shared = (
        Path(os.environ.get("QBANK_SHARED", Path(__file__).resolve().parents[3] / "shared")) / "reference"
    )
    own = [
        (f"own {name}", DATA / f"{name}.csv") for name in ("dlmf", "abramowitz_stegun", "thompson", "rubi")
    ]
    large = [(f"all {name}", shared / f"{name}.csv") for name in ("tables", "openstax", "rubi")]
    return own + [(label, path) for label, path in large if path.exists()]


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


def main() -> None:
    """Print the tables."""
    heads = [f"{name:>9s}" for name in _WORDS] + [f"{'share':>9s}"]
    heads += [f"{name:>9s}" for name in ("x proved", "x unsett.", "x refuted")]
    heads += [f"{name:>8s}" for name in ("median", "99 %", "max ms")]
    print("rows that are right by an independent check; x: with one coefficient changed by a millionth")
    print(f"{'file':22s}" + "".join(heads))
    remarkable: list[str] = []
    for label, path in files():
        found = list(outcomes(rows(path)))
        print(line(label, found), flush=True)
        for outcome in found:
            if outcome.row.status in RIGHT and outcome.word in ("unsettled", "refuted"):
                why = (
                    outcome.verdict.reason if isinstance(outcome.verdict, Unsettled) else str(outcome.verdict)
                )
                remarkable.append(
                    f"{outcome.word:10s}{outcome.row.name:11s}{outcome.row.integrand}  ->  "
                    f"{outcome.row.antiderivative}  [{why}]"
                )
    print(*remarkable, sep="\n")
    for label, path in (
        ("own definite", DATA / "definite.csv"),
        ("all definite", files()[-1][1].parent / "definite.csv"),
    ):
        if path.exists():
            results = definite(path)
            counts = Counter(
                "outside"
                if row.enclosure is None
                else "enclosed"
                if isinstance(row.enclosure, Enclosed)
                else "refused"
                for row in results
            )
            print(label, dict(sorted(counts.items())), "wrong", sum(not row.holds for row in results))
            print(
                *(
                    f"  {row.name} {row.enclosure.reason}"
                    for row in results
                    if isinstance(row.enclosure, Refused)
                ),
                sep="\n",
            )


if __name__ == "__main__":
    main()
