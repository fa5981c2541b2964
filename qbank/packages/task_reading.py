"""What a package scores of a task about working: the options of each choice, and what is accepted in each gap.

An item that asks for an expression is scored by a person: then nothing in it may set a score.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

from qbank.maths.expression import Expression, as_fraction
from qbank.maths.reading import ReadingError, read
from qbank.packages.processing import is_share
from qbank.packages.question import QuestionError, TaskChoice, TaskShown, TaskTyped
from qbank.packages.spelled import exact_number

__all__ = ["Typed", "read_asked", "typed"]

_MOST_OPTIONS, _MOST_SPELLINGS = 12, 400


class Typed(NamedTuple):
    """A gap as a package holds it.

    Attributes:
        key: what is declared to be right, as text.
        value: the same.
        number: whether it is to be a number.
        texts: everything that scores.
    """

    key: str
    value: Expression
    number: bool
    texts: tuple[str, ...]


def typed(key: str, texts: tuple[str, ...]) -> Typed:
    """A gap from what is declared as right and what scores; without such a list it is one for an expression.

    Raises:
        QuestionError: the key cannot be read.
    """
    try:
        value = read(key).tree
    except ReadingError as problem:
        raise QuestionError(f"the key {key[:40]!r} of a gap cannot be read: {problem.message}") from problem
    if texts and (as_fraction(value) is None or len(texts) > _MOST_SPELLINGS):
        raise QuestionError(
            f"the key {key[:40]!r} of a gap with a list of numbers is none, or the list is too long"
        )
    return Typed(key, value, bool(texts), texts)


def read_asked(
    shown: Sequence[tuple[str, Sequence[TaskShown] | Typed]],
    keys: Mapping[str, str],
    marks: Fraction,
    score: Callable[[dict[str, str]], object],
) -> tuple[TaskChoice | TaskTyped, ...]:
    """The questions of a task with what each answer scores.

    Args:
        shown: for each response variable its options, or what a package says of a gap.
        keys: for each choice, the option declared as right.
        marks: full marks.
        score: what answers score, by response variable.

    Raises:
        QuestionError: the scores contradict the keys.
    """
    found: list[TaskChoice | TaskTyped] = []
    share = marks / len(shown)
    by_person = any(isinstance(one, Typed) and not one.number for _, one in shown)
    full: dict[str, str] = {}
    for name, one in shown:
        if isinstance(one, Typed):
            right, wrong = set(one.texts), {f"{one.key}1", ""}
            found.append(TaskTyped(identifier=name, key=one.value, number=one.number))
            full[name] = one.key
            for text in one.texts:
                if exact_number(text) != as_fraction(one.value):
                    raise QuestionError(
                        f"{text[:40]!r} scores in a gap, and is another number than the keyed one"
                    )
        else:
            known = [option.identifier for option in one]
            key = keys[name]
            if len(set(known)) != len(known) or key not in known or len(known) > _MOST_OPTIONS:
                raise QuestionError(
                    "the options have not all identifiers of their own, or the key is none of them"
                )
            right, wrong = {key}, {option for option in known if option != key}
            found.append(TaskChoice(identifier=name, options=tuple(one), key=key))
            full[name] = key
        if by_person:
            continue
        for given in sorted(right | wrong):
            if not is_share(score({name: given} if given else {}), share if given in right else Fraction(0)):
                raise QuestionError(f"the answer {given[:40]} does not score its share")
    if by_person:
        if score(full) not in (None, 0) or score({}) not in (None, 0):
            raise QuestionError("an expression is scored by a person, and by nothing else")
    elif score(full) != marks or score({}) != 0:
        raise QuestionError("the right answers do not score full marks, or none at all do not score 0")
    return tuple(found)
