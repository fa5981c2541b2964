"""Improper integrals with their limits written: at an infinity, and where the integrand has no value.

    int_1^oo 1/x^2 dx     = lim_{b -> oo} int_1^b 1/x^2 dx    = lim [-1/x]_1^b    = lim (1 - 1/b)    = 1
    int_0^4 1/sqrt x dx   = lim_{a -> 0+} int_a^4 1/sqrt x dx

With an infinity, or such a place, at both ends the integral is taken in two parts; and so where the place lies inside.
Quadrature has refused the integrals that diverge before a line is written.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from qbank.maths.expression import Expression, Integer, Integral, Limit, Negate, Symbol, sum_of
from qbank.maths.limiting import INFINITE, NoLimit, limit_at
from qbank.maths.number_system import Undefined
from qbank.messages import Message, say
from qbank.techniques.definite import DefiniteRefused
from qbank.techniques.definites.chain import Chain
from qbank.techniques.definites.improper_places import has_value, pieces
from qbank.techniques.definites.leaf import Leaf, ends, leaves
from qbank.techniques.definites.numbers import without_brackets
from qbank.techniques.definites.opening import Together
from qbank.techniques.definites.way import Place, Way, WaySlip, WorkedValue, Wrong, as_it_is
from qbank.techniques.working import Line

__all__ = ["IMPROPER", "limits_of", "open_limits", "quiet"]

_IDENTIFIER = "improper"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limited:
    """An integral that stops short of one end, and the limit of it.

    Attributes:
        leaf: the integral up to the letter, with its lines.
        letter: the letter.
        to: the end that it tends to.
        side: from which side, 0 at an infinity.
    """

    leaf: Leaf
    letter: Symbol
    to: Expression
    side: int

    @property
    def start(self) -> Expression:
        """The limit of the integral."""
        return self._limit(self.leaf.start)

    @property
    def before(self) -> tuple[Line, ...]:
        """As in the leaf."""
        return self.leaf.before

    @property
    def lines(self) -> tuple[Line, ...]:
        """The lines of the leaf, each step inside the limit."""
        return tuple(line if line.kind != "step" else _changed(line, self._limit) for line in self.leaf.lines)

    def write(self, chain: Chain, place: Place = as_it_is) -> None:
        """Write the lines of the leaf inside the limit."""
        self.leaf.write(chain, lambda tree: place(self._limit(tree)))

    def wrongs(self) -> Iterator[Wrong]:
        """The slips at the infinity or the place, then those of the leaf run to its limit."""
        lower, upper = ends(self.leaf.start)
        upwards = upper == self.letter
        other = lower if upwards else upper

        def at(tree: Expression) -> Expression:
            return self.leaf.worked.antiderivative.substitute({self.leaf.start.variable: tree})

        def signed(tree: Expression) -> Expression:
            return tree if upwards else Negate(tree)

        def far() -> Expression:
            return limit_at(at(self.letter), self.letter, self.to, self.side).value

        yield _END_DROPPED.leads_to(lambda: Negate(signed(at(other))))
        yield _OTHER_END_DROPPED.leads_to(lambda: signed(far()))
        yield _ADDED.leads_to(lambda: sum_of(far(), at(other)))
        if self.to in INFINITE:
            yield _AS_A_NUMBER.leads_to(
                lambda: (
                    signed(sum_of(at(Integer(0)), Negate(at(other)))) if has_value(at(Integer(0))) else None
                )
            )
        for wrong in self.leaf.wrongs():
            yield wrong.inside(self._decided)

    def pairs(self) -> Iterator[tuple[Wrong, Wrong]]:
        """Two slips of the leaf, run to the limit."""
        return ((first, second.inside(self._decided)) for first, second in self.leaf.pairs())

    def _limit(self, tree: Expression) -> Expression:
        return Limit(tree, self.letter, self.to, self.side)

    def _decided(self, tree: Expression) -> Expression:
        """The limit of a wrong value, a constant where it is one already."""
        if self.letter not in tree.symbols():
            return tree
        value = limit_at(without_brackets(tree), self.letter, self.to, self.side).value
        if value in INFINITE:
            raise NoLimit("the wrong value is infinite")
        return value


def _changed(line: Line, place: Place) -> Line:
    tree = line.statements[0]
    assert isinstance(tree, Expression)
    return Line(
        kind=line.kind, statements=(place(tree),), rule=line.rule, reason=line.reason, proof=line.proof
    )


def limits_of(integral: Integral) -> Iterator[Together]:
    """The integral as limits of proper ones, by every technique that fits; nothing where it is proper.

    Raises:
        NoLimit: an end could not be told.
    """
    found = list(pieces(integral))
    for choice in zip(*(list(leaves(piece.integral)) for piece in found), strict=False):
        parts = [
            Limited(leaf=leaf, letter=piece.letter, to=piece.to, side=piece.side)
            for leaf, piece in zip(choice, found, strict=True)
        ]
        yield Together(tuple(parts))


def _work(integral: Integral) -> WorkedValue | None:
    try:
        for opened in limits_of(integral):
            worked = _written(integral, opened)
            if worked is not None:
                return worked
    except NoLimit:
        return None
    return None


def _written(integral: Integral, opened: Together) -> WorkedValue | None:
    try:
        chain = Chain(_IDENTIFIER, integral)
        open_limits(chain, integral, opened)
        only = opened.parts[0] if len(opened.parts) == 1 else None
        pairs = only.pairs() if isinstance(only, Limited) else ()
        return chain.finish(
            chain.numbers(),
            quiet(opened.wrongs()),
            ((first, second) for first, one in pairs for second in quiet(iter((one,)))),
        )
    except DefiniteRefused:
        return None


def open_limits(chain: Chain, integral: Integral, opened: Together, place: Place = as_it_is) -> None:
    """Write the limits, and what follows them."""
    parts = [part for part in opened.parts if isinstance(part, Limited)]
    chain.step(
        place(sum_of(*(part.start for part in parts))),
        "limit-written",
        _reason(integral, parts),
        parts[0].leaf.worked.proof,
    )
    opened.write(chain, place)


def _reason(integral: Integral, parts: list[Limited]) -> Message:
    name = integral.variable.name
    if all(part.to in INFINITE for part in parts):
        if len(parts) > 1:
            return say("Both limits are infinite: take the two sides one by one, each as a limit.")
        return say(
            "Infinity is no number to put in: stop at {letter} and take the limit.",
            letter=parts[0].letter.name,
        )
    if len(parts) > 1:
        return say(
            "Take the parts one by one, each as a limit where the integrand has no value or {variable} no bound.",
            variable=name,
        )
    return say(
        "The integrand has no value at that end: stop short of it at {letter} and take the limit.",
        letter=parts[0].letter.name,
    )


def quiet(wrongs: Iterator[Wrong]) -> Iterator[Wrong]:
    """Wrong values that have no limit are none."""
    for wrong in wrongs:

        def written(wrong: Wrong = wrong) -> Expression | None:
            try:
                return wrong.written()
            except (NoLimit, Undefined):
                return None

        yield Wrong(wrong.slip, wrong.sentence, written)


# What students do at an infinity (common practice: from the marking of scripts, not from a published table).

_END_DROPPED = WaySlip(
    identifier="limit-taken-for-nought",
    sentence=say("A limit at an end is not always 0: find the one that this function has."),
)
_OTHER_END_DROPPED = WaySlip(
    identifier="other-end-forgotten",
    sentence=say("After taking the limit, the value at the other end still belongs to the answer."),
)
_ADDED = WaySlip(
    identifier="sign-of-other-end",
    sentence=say("The value at the lower end is subtracted, also where a limit was taken."),
)
_AS_A_NUMBER = WaySlip(
    identifier="infinity-put-in-like-nought",
    sentence=say("Infinity is no number to put in, and it does not act like 0: take the limit instead."),
)

IMPROPER = Way(
    identifier=_IDENTIFIER,
    title=say("An improper integral as a limit"),
    work=_work,
    slips=(_END_DROPPED, _OTHER_END_DROPPED, _ADDED, _AS_A_NUMBER),
)
