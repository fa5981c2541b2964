"""Marking attacked with right answers in strange forms and with wrong ones that are nearly right.

    python -m tests.marking.adversary --count 2000 --seed 1

The integrals and their keys come from the shipped bank. What is right and what is wrong is told by an evaluator that
shares nothing with deciding (`float_oracle`).
"""

from __future__ import annotations

import argparse
import random
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from qbank.bank.loading import load_bank
from qbank.items.cloning import clones
from qbank.marking import AntiderivativeMarker
from qbank.maths.expression import Expression
from qbank.maths.notation import plain
from qbank.maths.reading import ReadingError, read_response
from tests.marking.dressing import dressed
from tests.marking.float_oracle import is_right
from tests.marking.rewriting import rewritten, shifted
from tests.marking.spoiling import SPOILERS, x

BANK = Path(__file__).parents[2] / "qbank" / "bank" / "library" / "saltmarrow-integration.yaml"
#: a longer text is no answer of a student
LONGEST = 600


@dataclass
class Tally:
    """What happened.

    Attributes:
        counts: by what was true (`right`, `wrong`) and what marking said.
        mistakes: integrand, response and verdict, where a right answer was refuted or a wrong one proved.
        open_cases: likewise, where nothing was decided.
        slowest: the most seconds of computing that one mark took.
    """

    counts: Counter[tuple[str, str]] = field(default_factory=Counter)
    mistakes: list[tuple[str, str, str]] = field(default_factory=list)
    open_cases: list[tuple[str, str, str]] = field(default_factory=list)
    slowest: float = 0.0

    def share_decided(self, truth: str) -> float:
        """The share of the right (wrong) answers that were proved (refuted)."""
        total = sum(number for (what, _), number in self.counts.items() if what == truth)
        wanted = "correct" if truth == "right" else "incorrect"
        return self.counts[truth, wanted] / total if total else 1.0


@cache
def questions(
    per_template: int, seed: int
) -> tuple[tuple[Expression, Expression, AntiderivativeMarker], ...]:
    """Integrands with their keys and markers."""
    bank = load_bank(BANK)
    found: list[tuple[Expression, Expression, AntiderivativeMarker]] = []
    for template in bank.templates:
        if template.task == "definite":
            continue
        found.extend(
            (item.integrand, item.key, AntiderivativeMarker(item.integrand, item.variable))
            for item in clones(bank, template, per_template, seed)
        )
    return tuple(found)


def responses(
    count: int, seed: int, per_template: int, steps: int
) -> Iterator[tuple[Expression, str, str, AntiderivativeMarker]]:
    """Integrands, responses in plain notation and as they are handed in, and the marker; half of them are meant to be right."""
    rng = random.Random(seed)
    pool = questions(per_template, seed)
    made = 0
    while made < count:
        integrand, key, marker = rng.choice(pool)
        tree = rewritten(key, rng, rng.randrange(steps + 1))
        if made % 2:
            tree = rng.choice(SPOILERS)(tree, rng)
        tree = shifted(tree, rng) if rng.random() < 0.7 else tree
        text = plain(tree)
        if len(text) <= LONGEST:
            made += 1
            yield integrand, text, dressed(tree, rng), marker


def attack(count: int, seed: int, per_template: int = 1, steps: int = 3) -> Tally:
    """Mark many responses and compare with the truth."""
    tally = Tally()
    for integrand, plainly, text, marker in responses(count, seed, per_template, steps):
        try:
            right = is_right(read_response(plainly, variable=x).tree, integrand)
        except ReadingError:
            tally.counts["any", "unreadable"] += 1
            continue
        if right is None:
            tally.counts["any", "no real value"] += 1
            continue
        start = time.thread_time()
        outcome = marker.mark(text).outcome
        tally.slowest = max(tally.slowest, time.thread_time() - start)
        truth = "right" if right else "wrong"
        tally.counts[truth, outcome] += 1
        case = (plain(integrand), text, f"{truth}, said to be {outcome}")
        if outcome == "unsettled":
            tally.open_cases.append(case)
        elif outcome == "unreadable" or outcome != ("correct" if right else "incorrect"):
            tally.mistakes.append(case)
    return tally


def main() -> None:
    parser = argparse.ArgumentParser(description="Attack marking and count what happened.")
    parser.add_argument("--count", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--per-template", type=int, default=2)
    parser.add_argument("--steps", type=int, default=3, help="identities applied to one key, at most")
    arguments = parser.parse_args()
    tally = attack(arguments.count, arguments.seed, arguments.per_template, arguments.steps)
    for (truth, outcome), number in sorted(tally.counts.items()):
        print(f"{truth:6} {outcome:14} {number:7}")
    print(f"right answers proved  {tally.share_decided('right'):.2%}")
    print(f"wrong answers refuted {tally.share_decided('wrong'):.2%}")
    print(f"slowest mark          {tally.slowest:.2f} s")
    print(f"wrong verdicts        {len(tally.mistakes)}")
    for integrand, text, verdict in (*tally.mistakes, *tally.open_cases[:20]):
        print(f"  {verdict}\n    integrand {integrand}\n    response  {text}")


if __name__ == "__main__":
    main()
