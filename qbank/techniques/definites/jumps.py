"""A proper integral whose antiderivative jumps, or has no value at an end: it is split there, each part a limit.

    int_0^(2pi) 1/(2 + cos x) dx     2/sqrt 3 arctan(tan(x/2)/sqrt 3) jumps at pi
        = lim_{b -> pi-} int_0^b 1/(2 + cos x) dx + lim_{a -> pi+} int_a^(2pi) 1/(2 + cos x) dx

The integral up to b is continuous in b, so that its value is the limit; what is put in at the jump would give 0.
"""

from __future__ import annotations

from collections.abc import Iterator

from qbank.maths.expression import Expression, Integral, Negate, sum_of
from qbank.maths.limiting import NoLimit, limit_at
from qbank.messages import say
from qbank.techniques.definite import DefiniteRefused, at_limits
from qbank.techniques.definites.chain import Chain
from qbank.techniques.definites.improper import Limited, quiet
from qbank.techniques.definites.improper_places import is_improper, pieces
from qbank.techniques.definites.leaf import ends, leaf, leaves
from qbank.techniques.definites.opening import Together
from qbank.techniques.definites.way import Place, Way, WaySlip, WorkedValue, Wrong, as_it_is

__all__ = ["JUMPS", "jumps_of", "open_jumps"]

_IDENTIFIER = "jump-split"

#: more parts than these are nobody's exercise: whole periods come first there
_MOST = 4


def jumps_of(integral: Integral) -> Iterator[Together]:
    """The integral in parts that stop short of where an antiderivative has no value, by every technique that fits."""
    if is_improper(integral):
        return
    for whole in leaves(integral):
        found = tuple(pieces(integral, of=whole.worked.antiderivative))
        if 0 < len(found) <= _MOST:
            yield Together(
                tuple(
                    Limited(
                        leaf=leaf(piece.integral, whole.worked),
                        letter=piece.letter,
                        to=piece.to,
                        side=piece.side,
                    )
                    for piece in found
                )
            )


def open_jumps(chain: Chain, opened: Together, place: Place = as_it_is) -> None:
    """Write the limits, and what follows them."""
    parts = [part for part in opened.parts if isinstance(part, Limited)]
    chain.step(
        place(sum_of(*(part.start for part in parts))),
        "limit-written",
        say(
            "The antiderivative has no value there, though the integrand has: stop short of it and take the limit."
        )
        if len(parts) == 1
        else say(
            "The antiderivative jumps between the limits, though the integrand is continuous: split there, each part as a limit."
        ),
        parts[0].leaf.worked.proof,
    )
    opened.write(chain, place)


def _work(integral: Integral) -> WorkedValue | None:
    for opened in jumps_of(integral):
        try:
            chain = Chain(_IDENTIFIER, integral)
            open_jumps(chain, opened)
            return chain.finish(chain.numbers(), _wrongs(integral, opened))
        except (DefiniteRefused, NoLimit):
            continue
    return None


def _wrongs(integral: Integral, opened: Together) -> Iterator[Wrong]:
    """The slips at the jump, then those of the parts."""
    parts = [part for part in opened.parts if isinstance(part, Limited)]
    yield from quiet(_at_the_jump(integral, parts))
    yield from quiet(opened.wrongs())


def _at_the_jump(integral: Integral, parts: list[Limited]) -> Iterator[Wrong]:
    several = len(parts) > 1
    answer = parts[0].leaf.worked.antiderivative
    yield _OVERLOOKED.leads_to(
        lambda: at_limits(answer, integral.variable, *ends(integral)) if several else None
    )
    yield _FIRST_ONLY.leads_to(lambda: _value(parts[0]) if several else None)
    yield _TAKEN_AWAY.leads_to(
        lambda: sum_of(_value(parts[0]), *(Negate(_value(part)) for part in parts[1:])) if several else None
    )
    yield _WRONG_SIDE.leads_to(lambda: sum_of(*(_value(part, turned=True) for part in parts)))


def _value(part: Limited, *, turned: bool = False) -> Expression:
    """A part as the limit of its antiderivative less the value at the other end; turned, from the wrong side."""
    variable, answer = part.leaf.start.variable, part.leaf.worked.antiderivative
    lower, upper = ends(part.leaf.start)
    at_end = answer.substitute({variable: part.letter})
    far = limit_at(at_end, part.letter, part.to, -part.side if turned else part.side).value
    if upper == part.letter:
        return sum_of(far, Negate(answer.substitute({variable: lower})))
    return sum_of(answer.substitute({variable: upper}), Negate(far))


# What students do at a jump (common practice: from the marking of scripts, not from a published table).

_OVERLOOKED = WaySlip(
    identifier="jump-overlooked",
    sentence=say(
        "The antiderivative jumps between the limits: its values at the two ends do not belong to one branch."
    ),
)
_FIRST_ONLY = WaySlip(
    identifier="part-beyond-the-jump-forgotten",
    sentence=say("The part beyond the jump belongs to the integral too."),
)
_TAKEN_AWAY = WaySlip(
    identifier="part-beyond-the-jump-subtracted",
    sentence=say("The parts on the two sides of a jump are added."),
)
_WRONG_SIDE = WaySlip(
    identifier="jump-from-the-wrong-side",
    sentence=say("At a jump the two one-sided limits differ: take the one from inside the part."),
)

JUMPS = Way(
    identifier=_IDENTIFIER,
    title=say("Split where the antiderivative jumps"),
    work=_work,
    slips=(_OVERLOOKED, _FIRST_ONLY, _TAKEN_AWAY, _WRONG_SIDE),
)
