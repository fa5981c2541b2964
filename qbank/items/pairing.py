"""Two slips in one answer: what keeps the key from being the option in the middle.

Where every wrong option differs from the key by one slip, the key is the one that is most like all the others, and a
student who cannot integrate finds it by looking. With two slips apart and both together,

    key         3/2 sin 2x          one slip        -3/2 sin 2x
    the other      3 sin 2x         both               -3 sin 2x

every option has the same likeness to the others. Slips are put together where each does the same to an answer that is
wrong already, so that a student who makes both arrives exactly there: one changes the numbers before the terms, and the
other only functions; or both change numbers, one of them by a sign, a common factor or a lost term. Slips about one
thing (a coefficient forgotten, the same coefficient multiplied by) are never put together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import chain, combinations

from qbank.items import wording
from qbank.items.distractors import Candidate, is_plain
from qbank.maths.expression import Expression, Sum, sum_of
from qbank.maths.tidying import scaled, split_coefficient

__all__ = ["apart", "both", "paired"]

#: parts of the names of slips about one thing, which nobody can do wrong in two ways at once
_ONE_OR_THE_OTHER = (
    ("inner-coefficient", "constant-of-du", "differentiated-instead"),
    (
        "new-power",
        "old-power",
        "power-not-raised",
        "powers-differentiated",
        "outer-function-not-integrated",
        "differentiated-instead",
    ),
    ("double-angle-cosine-",),
    ("half-of-the-logarithm", "two-before-logarithm"),
    ("half-before-root", "two-of-the-root"),
    ("logarithm-of-base-",),
    ("front-factor", "factor-of-inverse-tangent"),
    ("differential-not-replaced", "of-differential", "below-differential", "secant-squared-lost"),
    ("identity-of-the-circle", "squares-interchanged"),
    ("upside-down", "sign-of-cosine", "cosine-interchanged"),
    ("number-of-root-forgotten", "number-not-rooted", "triangle-without-number"),
    # a factor that stops at the first term of a bracket takes the other slips of a step with it
    ("bracket-not-multiplied", "recurrence-sign"),
    ("bracket-not-multiplied", "recurrence-number-in-front"),
    ("bracket-not-multiplied", "recurrence-not-divided"),
    ("bracket-not-multiplied", "recurrence-inner-coefficient"),
    ("bracket-not-multiplied", "new-power-not-divided"),
    ("recurrence-number-in-front", "recurrence-not-divided"),
)

#: so many single slips are looked at for a pair
_LOOK = 6


def paired(candidates: Iterable[Candidate], key: Expression) -> Iterator[Candidate]:
    """The candidates with the first two that go together, and both in one, in front.

    Args:
        candidates: single slips in order of preference.
        key: the right answer.
    """
    source = iter(candidates)
    seen: list[Candidate] = []
    for candidate in source:
        for earlier in seen:
            together = both(earlier, candidate, key)
            if together is not None and is_plain(together.answer, key):
                yield from (earlier, candidate, together)
                others = (other for other in seen if other is not earlier)
                yield from apart(chain(others, source), key)
                return
        seen.append(candidate)
        if len(seen) == _LOOK:
            break
    yield from apart(chain(seen, source), key)


def apart(candidates: Iterable[Candidate], key: Expression) -> Iterator[Candidate]:
    """The candidates in their order; two in one only after them, for when there are too few.

    Args:
        candidates: single slips in order of preference.
        key: the right answer.
    """
    seen: list[Candidate] = []
    for candidate in candidates:
        seen.append(candidate)
        yield candidate
    together = (both(first, second, key) for first, second in combinations(seen, 2))
    yield from (candidate for candidate in together if candidate is not None)


def both(first: Candidate, second: Candidate, key: Expression) -> Candidate | None:
    """The answer with two slips in it, or None where they do not simply go together.

    >>> from qbank.maths.expression import Symbol, sin
    >>> x = Symbol("x")
    >>> sign = Candidate(slip="sign", sentence="Mind the sign.", answer=-(3 * sin(2 * x) / 2))
    >>> factor = Candidate(slip="factor", sentence="Divide by 2.", answer=3 * sin(2 * x))
    >>> both(sign, factor, 3 * sin(2 * x) / 2).answer == -(3 * sin(2 * x))
    True
    """
    if _subjects(first.slip) & _subjects(second.slip):
        return None
    answer = _together(first.answer, second.answer, key)
    if answer is None or answer in (first.answer, second.answer, key):
        return None
    return Candidate(
        slip=f"{first.slip} + {second.slip}",
        sentence=wording.two_slips(first.sentence, second.sentence),
        answer=answer,
    )


def _subjects(slip: str) -> frozenset[int]:
    """What a slip is about, as places in the table."""
    return frozenset(place for place, words in enumerate(_ONE_OR_THE_OTHER) if any(w in slip for w in words))


def _together(first: Expression, second: Expression, key: Expression) -> Expression | None:
    one, two = _ratios(first, key), _ratios(second, key)
    if one is not None and two is not None:
        fit = _is_simple(one) or _is_simple(two)
        ratios = [a * b for a, b in zip(one, two, strict=True)]
        return _multiplied(ratios, key) if fit and ratios not in (one, two) else None
    if one is not None and _same_numbers(second, key):
        return _multiplied(one, second)
    if two is not None and _same_numbers(first, key):
        return _multiplied(two, first)
    return None


def _multiplied(ratios: list[Fraction], tree: Expression) -> Expression | None:
    """The terms multiplied one by one; None when nothing is left."""
    terms = [scaled(ratio, term) for ratio, term in zip(ratios, _terms(tree), strict=True) if ratio]
    return sum_of(*terms) if terms else None


def _same_numbers(answer: Expression, key: Expression) -> bool:
    """Whether an answer has the numbers of the key before its terms, and only other functions."""
    one, two = ([split_coefficient(term)[0] for term in _terms(tree)] for tree in (answer, key))
    return one == two


def _ratios(answer: Expression, key: Expression) -> list[Fraction] | None:
    """By what the numbers before the terms of the key are multiplied; None when other terms stand there."""
    numbers: dict[Expression, Fraction] = {}
    for term in _terms(answer):
        number, body = split_coefficient(term)
        numbers[body] = numbers.get(body, Fraction(0)) + number
    ratios = []
    for term in _terms(key):
        number, body = split_coefficient(term)
        ratios.append(numbers.pop(body, Fraction(0)) / number)
    return None if numbers else ratios


def _terms(tree: Expression) -> tuple[Expression, ...]:
    return tree.terms if isinstance(tree, Sum) else (tree,)


def _is_simple(ratios: list[Fraction]) -> bool:
    """Whether a slip changes signs, multiplies everything by one number, or loses a term."""
    sizes = {abs(ratio) for ratio in ratios}
    return len(sizes) == 1 or sizes == {Fraction(0), Fraction(1)}
