"""A sum over an interval that is symmetric about 0: the odd terms go, the even ones are doubled.

int x^3 + x^2 - sin x dx, -2 to 2   = 2 int x^2 dx, 0 to 2
"""

from __future__ import annotations

from collections.abc import Iterator

from qbank.maths.deciding import decide_equal
from qbank.maths.equation import Equation
from qbank.maths.expression import Expression, Integer, Integral, Product, Sum, product, sum_of
from qbank.maths.quadrature import Refused
from qbank.maths.tidying import tidy
from qbank.maths.verdict import Proved
from qbank.messages import say
from qbank.techniques.definites.chain import Chain, enclosure_of
from qbank.techniques.definites.even import EVEN_SLIPS, doubled_wrongs, even_wrongs
from qbank.techniques.definites.leaf import ends
from qbank.techniques.definites.opened import go_on, times, value_or_none
from qbank.techniques.definites.parity import half_of, parity_of
from qbank.techniques.definites.way import Way, WaySlip, WorkedValue, Wrong

__all__ = ["ODD_TERMS"]

_NOUGHT = Integer(0)


def _odd_terms(integral: Integral) -> WorkedValue | None:
    upper, terms = half_of(integral), _terms(integral.integrand)
    if upper is None or terms is None:
        return None
    parities = [(term, parity_of(term, integral.variable)) for term in terms]
    odd = [(term, parity) for term, parity in parities if parity is not None and not parity.even]
    if any(parity is None for _, parity in parities) or not 0 < len(odd) < len(parities):
        return None
    left = sum_of(*(term for term, parity in parities if parity is not None and parity.even))
    gone = sum_of(*(term for term, _ in odd))
    parity_of_gone = parity_of(gone, integral.variable)
    parity_of_left = parity_of(left, integral.variable)
    nothing = Integral(gone, integral.variable, *ends(integral))
    apart = decide_equal(sum_of(*terms), integral.integrand, integral.variable)
    if parity_of_gone is None or parity_of_left is None or isinstance(enclosure_of(nothing), Refused):
        return None
    if not isinstance(apart, Proved):
        return None
    half = Integral(left, integral.variable, _NOUGHT, upper)

    def begin() -> Chain:
        chain = Chain("odd-terms", integral)
        if not isinstance(integral.integrand, Sum):
            whole = Integral(sum_of(*terms), integral.variable, *ends(integral))
            chain.step(whole, "multiply-out", say("Multiply out."), apart.proof)
        chain.note(
            "aside",
            Equation(nothing, _NOUGHT),
            rule="odd",
            reason=say("These terms are odd and the interval is symmetric: they give 0."),
            proof=parity_of_gone.proof,
        )
        chain.step(
            times(2)(half),
            "even-symmetry",
            say("The terms that are left are even: take twice the right half."),
            parity_of_left.proof,
        )
        return chain

    found = go_on(begin, half, times(2))
    if found is None:
        return None
    chain, onward, value = found
    wrongs = (*even_wrongs(value), *_of_odd_terms(integral, gone, value), *doubled_wrongs(onward))
    return chain.finish(value, wrongs)


def _terms(tree: Expression) -> tuple[Expression, ...] | None:
    """The terms of a sum, or of a product with one sum in it."""
    if isinstance(tree, Sum):
        return tree.terms
    sums = [factor for factor in tree.factors if isinstance(factor, Sum)] if isinstance(tree, Product) else []
    if not isinstance(tree, Product) or len(sums) != 1:
        return None
    rest = [factor for factor in tree.factors if factor is not sums[0]]
    return tuple(tidy(product(term, *rest)) for term in sums[0].terms)


# What students do with symmetry (common practice: from the marking of scripts, not from a published table).


def _of_odd_terms(integral: Integral, gone: Expression, value: Expression) -> Iterator[Wrong]:
    half = Integral(gone, integral.variable, _NOUGHT, ends(integral)[1])

    def kept() -> Expression | None:
        extra = value_or_none(half)
        return None if extra is None else sum_of(value, extra, extra)

    yield _ODD_TERMS_DOUBLED.leads_to(kept)


_ODD_TERMS_DOUBLED = WaySlip(
    identifier="odd-terms-doubled-too",
    sentence=say("Only even terms are doubled; the odd ones give 0 over a symmetric interval."),
)

ODD_TERMS = Way(
    identifier="odd-terms",
    title=say("Odd terms left out over a symmetric interval"),
    work=_odd_terms,
    slips=(*EVEN_SLIPS, _ODD_TERMS_DOUBLED),
)
