"""What is said beside the rules when a sum of standard forms is integrated: what letters must not be, and laws of logarithms.

x^n            n is not -1
a^x e^(bx)     ln of the base is ln a + b, which is not zero
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from qbank.maths.expression import Sum, fraction, rational
from qbank.maths.letter_exponents import excluded_value
from qbank.maths.notation import plain
from qbank.messages import Message, say
from qbank.techniques.standard.exponential_base import logarithm_of
from qbank.techniques.standard.standard_exponentials import ExponentialTerm
from qbank.techniques.standard.standard_letter_powers import LetterPowerTerm
from qbank.techniques.standard.standard_terms import StandardTerm

__all__ = ["exceptions"]


def exceptions(terms: Iterable[StandardTerm]) -> tuple[Message, ...]:
    """Whole sentences: for each value that a letter must not have, and for each base that is a product."""
    kept = tuple(terms)
    return (*_of_powers(kept), *_of_exponentials(kept))


def _of_powers(terms: tuple[StandardTerm, ...]) -> tuple[Message, ...]:
    said = list[Message]()
    powers = (term.exponent for term in terms if isinstance(term, LetterPowerTerm))
    for found in dict.fromkeys(excluded_value(exponent, fraction(-1, 1)) for exponent in powers):
        if found is None:
            continue
        letter, value = plain(found[0]), plain(rational(found[1]))
        said.append(
            say("Nor may {letter} be {value}.", letter=letter, value=value)
            if said
            else say(
                "Here {letter} must not be {value}: the reciprocal gives a logarithm.",
                letter=letter,
                value=value,
            )
        )
    return tuple(said)


def _of_exponentials(terms: tuple[StandardTerm, ...]) -> Iterator[Message]:
    """What ln of a product of bases is, and that it must not be zero where letters stand in it."""
    for base in dict.fromkeys(term.base for term in terms if isinstance(term, ExponentialTerm)):
        logarithm = logarithm_of(base)
        if isinstance(logarithm, Sum):
            shown = plain(logarithm)
            yield say("By the laws of logarithms ln of the base is {logarithm}.", logarithm=shown)
            if logarithm.symbols():
                yield say("Here {letter} must not be zero, for it is divided by.", letter=shown)
