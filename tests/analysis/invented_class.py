"""Thirty invented students answer twenty questions: their responses as a table to be marked.

Every student has a chance of being right that is theirs, every question one of its own; a wrong answer is what a slip of
the technique makes of the integral. Some leave a question out, forget the constant, or type what nobody can read.
"""

from __future__ import annotations

import csv
import random
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice, product
from typing import TextIO

from qbank.bank.drawing import draws, fill
from qbank.cli.arguments import open_bank
from qbank.maths.notation import plain
from qbank.techniques.planner import solve, technique

STUDENTS, QUESTIONS = 30, 20
#: invented names of a place by the sea that does not exist
FIRST = ("Ada", "Bo", "Cai", "Dot", "Eli", "Fay", "Gus", "Hal", "Ida", "Jem")
LAST = ("Reed", "Marsh", "Sandwort")


@dataclass(frozen=True, kw_only=True)
class Question:
    name: str
    integrand: str
    variable: str
    right: str
    wrong: tuple[str, ...]


def questions() -> Iterator[Question]:
    """A question of each indefinite template of the shipped bank that has a technique, then a second one of each."""
    bank = open_bank(None)
    templates = [one for one in bank.templates if one.limits is None and one.technique is not None]
    for number, template in islice(product((1, 2), templates), QUESTIONS):
        integrand = fill(template.integrand, next(iter(draws(bank, template, number))))
        solution = solve(integrand, template.variable)
        assert solution is not None
        yield Question(
            name=f"{template.identifier}-{number}",
            integrand=plain(integrand),
            variable=template.variable.name,
            right=plain(solution.antiderivative),
            wrong=tuple(plain(one.answer) for one in technique(solution.technique).wrong_answers(solution)),
        )


def responses(seed: int = 1) -> Iterator[dict[str, str]]:
    """The rows, student by student."""
    rng = random.Random(seed)
    asked = list(questions())
    ease = [rng.uniform(-1.2, 1.2) for _ in asked]
    for number in range(STUDENTS):
        name = f"{FIRST[number % len(FIRST)]} {LAST[number // len(FIRST)]}"
        skill = rng.gauss(0.6, 1.0)
        for question, easy in zip(asked, ease, strict=True):
            chance = 1 / (1 + 2.718281828 ** -(1.6 * (skill + easy)))
            yield {
                "student": name,
                "item": question.name,
                "integrand": question.integrand,
                "variable": question.variable,
                "response": _response(question, chance, rng),
            }


def _response(question: Question, chance: float, rng: random.Random) -> str:
    if rng.random() < 0.02:
        return rng.choice(["", "", "don't know (", "see over"])
    if rng.random() < chance:
        return question.right + rng.choice([" + C", " + C", " + c", ""])
    # the slips at the front of a catalogue are the usual ones
    return question.wrong[min(int(rng.expovariate(0.8)), len(question.wrong) - 1)] + " + C"


def write(out: TextIO) -> None:
    rows = list(responses())
    writer = csv.DictWriter(out, list(rows[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)


if __name__ == "__main__":
    write(sys.stdout)
