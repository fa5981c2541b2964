"""A modulus is split at the zeros of what it holds; between them it is that, or its negative.

    int_0^3 |x - 2| dx   = int_0^2 (2 - x) dx + int_2^3 (x - 2) dx

All zeros between the limits have to be known exactly (`qbank.maths.moduli`), and the sign between them is proved.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

from qbank.maths.enclosing import enclose
from qbank.maths.expression import Apply, Expression, Integral, Negate, Sum, sum_of
from qbank.maths.moduli import split_at_zeros
from qbank.maths.tidying import tidy
from qbank.maths.verdict import Proof
from qbank.messages import say
from qbank.techniques.definite import DefiniteRefused, pi_over
from qbank.techniques.definites.bars import InBars, in_bars
from qbank.techniques.definites.chain import Chain, steps_of
from qbank.techniques.definites.improper import limits_of, quiet
from qbank.techniques.definites.improper_places import is_improper
from qbank.techniques.definites.leaf import ends, leaves
from qbank.techniques.definites.numbers import without_brackets, without_limits
from qbank.techniques.definites.opening import Opened, Together
from qbank.techniques.definites.way import Place, Way, WaySlip, WorkedValue, Wrong, as_it_is

__all__ = ["MODULUS", "Pieces", "pieces_of"]

#: for each piece, what it is opened by
Opening: TypeAlias = tuple[tuple[Opened, ...], ...]

_IDENTIFIER = "absolute-value"
#: moduli that are split in one integral
_MOST = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """An integral with its moduli split.

    Attributes:
        integral: as it was.
        parts: the integrals without moduli, from left to right.
        signs: of the first modulus in each.
        proof: that the last is the integrand there.
        bars: how the moduli come in, where roots of squares stand for them.
    """

    integral: Integral
    parts: tuple[Integral, ...]
    signs: tuple[int, ...]
    proof: Proof
    bars: InBars | None = None

    def openings(self) -> Iterator[Opening]:
        """The parts side by side, each as a limit where it is improper, by techniques that fit."""
        yield from zip(*(list(_ways_on(part)) for part in self.parts), strict=False)

    def open(self, chain: Chain, opened: Opening, place: Place = as_it_is) -> None:
        """Write the split, and what follows it."""
        if self.bars is not None:
            self.bars.write(chain, place)
        reason = (
            say("What stands in the modulus changes its sign at its zeros: split the interval there.")
            if len(self.parts) > 1
            else say("What stands in the modulus keeps its sign here: write it without the bars.")
        )
        chain.step(place(sum_of(*self.parts)), "modulus-split", reason, self.proof)
        together = _together(opened)
        starts = sum_of(*(part.start for part in together.parts))
        if starts != sum_of(*self.parts):
            reason = say("Infinity is no number to put in: take a limit.")
            chain.step(place(starts), "limit-written", reason, self.proof)
        together.write(chain, place)

    def wrongs(self, opened: Opening) -> Iterator[Wrong]:
        """The slips with bars, then those with limits."""
        values = [sum_of(*(_answer(part) for part in parts)) for parts in opened]
        turned = [
            value if sign > 0 else Negate(value) for value, sign in zip(values, self.signs, strict=True)
        ]
        yield _FORGOTTEN.leads_to(lambda: sum_of(*turned))
        yield _FIRST_ONLY.leads_to(lambda: values[0] if len(values) > 1 else None)
        yield _LAST_ONLY.leads_to(lambda: values[-1] if len(values) > 1 else None)
        yield _TAKEN_AWAY.leads_to(
            lambda: sum_of(values[0], *(Negate(value) for value in values[1:])) if len(values) > 1 else None
        )
        yield _ALL_TURNED.leads_to(lambda: Negate(sum_of(*turned)))
        yield from quiet(_together(opened).wrongs())


def pieces_of(integral: Integral) -> Pieces | None:
    """Split an integral at the zeros inside its moduli; None where it has none, or they are not all known.

    The root of a square is a modulus too.
    """
    lower, upper = ends(integral)
    inside = _moduli(integral.integrand)
    bars = None if inside else in_bars(integral)
    if bars is not None:
        integral, inside = bars.integral, _moduli(bars.integral.integrand)
    if not inside or len(inside) > _MOST or lower.symbols() | upper.symbols():
        return None
    cuts = _cuts(integral, inside)
    if cuts is None:
        return None
    parts: list[Integral] = []
    signs: list[int] = []
    proof: Proof | None = None
    for low, high in pairwise(cuts):
        tree = integral.integrand
        for place, argument in enumerate(inside):
            split = split_at_zeros(argument, integral.variable, low, high)
            if split is None or split.places:
                return None
            sign, proof = split.signs[0], split.proof
            if place == 0:
                signs.append(sign)
            tree = _replaced(tree, argument, sign)
        parts.append(Integral(tidy(tree), integral.variable, low, high))
    assert proof is not None  # there are moduli and pieces
    return Pieces(integral=integral, parts=tuple(parts), signs=tuple(signs), proof=proof, bars=bars)


def _moduli(tree: Expression) -> list[Expression]:
    """What stands in bars, each once; a logarithm's own bars are left alone."""
    found: list[Expression] = []

    def look(node: Expression) -> None:
        for child in node.children:
            if not (isinstance(node, Apply) and node.function == "ln") or not (
                isinstance(child, Apply) and child.function == "abs"
            ):
                look(child)
        if isinstance(node, Apply) and node.function == "abs" and node.argument not in found:
            found.append(node.argument)

    look(tree)
    return found


def _cuts(integral: Integral, inside: list[Expression]) -> list[Expression] | None:
    """The limits and all zeros between them, in order."""
    lower, upper = ends(integral)
    zeros: list[Expression] = []
    for argument in inside:
        found = split_at_zeros(argument, integral.variable, lower, upper)
        if found is None:
            return None
        zeros += [zero for zero in map(pi_over, found.places) if zero not in zeros]
    placed = [(place.lower, zero) for zero in zeros if (place := enclose(zero, at={}, digits=30)) is not None]
    if len(placed) < len(zeros):
        return None
    return [lower, *(zero for _, zero in sorted(placed, key=lambda pair: pair[0])), upper]


def _replaced(tree: Expression, argument: Expression, sign: int) -> Expression:
    if isinstance(tree, Apply) and tree.function == "abs" and tree.argument == argument:
        return argument if sign > 0 else _negative(argument)
    return tree.rebuild(lambda part: _replaced(part, argument, sign))


def _negative(tree: Expression) -> Expression:
    """`2 - x` for `-(x - 2)`: what becomes positive stands first."""
    if not isinstance(tree, Sum):
        return tidy(Negate(tree))
    plus = [term.operand for term in tree.terms if isinstance(term, Negate)]
    minus = [Negate(term) for term in tree.terms if not isinstance(term, Negate)]
    return sum_of(*plus, *minus)


def _answer(part: Opened) -> Expression:
    """The value of one part, nothing worked out."""
    return without_brackets(without_limits(steps_of(part.lines)[-1])[0])


def _together(opened: Opening) -> Together:
    return Together(tuple(part for parts in opened for part in parts))


def _ways_on(part: Integral) -> Iterator[tuple[Opened, ...]]:
    """By limits where a part is improper, else by antiderivatives."""
    if is_improper(part):
        yield from (together.parts for together in limits_of(part))
    else:
        yield from ((leaf,) for leaf in leaves(part))


def _work(integral: Integral) -> WorkedValue | None:
    pieces = pieces_of(integral)
    if pieces is None:
        return None
    for opened in pieces.openings():
        try:
            chain = Chain(_IDENTIFIER, integral)
            pieces.open(chain, opened)
            return chain.finish(chain.numbers(), pieces.wrongs(opened))
        except DefiniteRefused:
            continue
    return None


# What students do with bars (common practice: from the marking of scripts, not from a published table).

_FORGOTTEN = WaySlip(
    identifier="modulus-forgotten",
    sentence=say(
        "Where what stands in the modulus is negative, the modulus is its opposite: split the interval there."
    ),
)
_FIRST_ONLY = WaySlip(
    identifier="only-first-piece-taken",
    sentence=say("The integral goes on after the zero: add what the other pieces give."),
)
_LAST_ONLY = WaySlip(
    identifier="only-last-piece-taken",
    sentence=say("The integral begins before the zero: add what the first pieces give."),
)
_TAKEN_AWAY = WaySlip(
    identifier="pieces-subtracted",
    sentence=say("The sign is changed inside the pieces already; the pieces themselves are added."),
)
_ALL_TURNED = WaySlip(
    identifier="sign-changed-in-the-wrong-piece",
    sentence=say("Change the sign where what stands in the modulus is negative, not where it is positive."),
)

MODULUS = Way(
    identifier=_IDENTIFIER,
    title=say("A modulus split at its zeros"),
    work=_work,
    slips=(_FORGOTTEN, _FIRST_ONLY, _LAST_ONLY, _TAKEN_AWAY, _ALL_TURNED),
)
