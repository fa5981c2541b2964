"""The two ways by an antiderivative: limits changed with the substitution, and limits put in at the end.

    limits-changed      a letter is substituted, the limits change with it, and nothing is put back
    antiderivative      every other working, with its limits in every line where they can be

Where lines cannot have limits (an integral that comes back and is solved for), the antiderivative is worked by itself
first, and its limits are put in afterwards.
"""

from __future__ import annotations

from collections.abc import Iterator

from qbank.maths.enclosing import enclose
from qbank.maths.expression import Integral
from qbank.messages import say
from qbank.techniques.definite import LIMITS_NOT_CHANGED, DefiniteRefused, at_limits
from qbank.techniques.definites.chain import Chain
from qbank.techniques.definites.improper_places import is_improper
from qbank.techniques.definites.leaf import Leaf, ends, leaves
from qbank.techniques.definites.way import Way, WaySlip, WorkedValue, Wrong

__all__ = ["ANTIDERIVATIVE", "LIMITS_CHANGED", "ends_in_new_letter"]


def _limits_changed(integral: Integral) -> WorkedValue | None:
    return _first("limits-changed", integral, changed=True)


def _antiderivative(integral: Integral) -> WorkedValue | None:
    return _first("antiderivative", integral, changed=False)


def _first(identifier: str, integral: Integral, *, changed: bool) -> WorkedValue | None:
    """The first working that ends in a new letter, or in the old one; an improper integral wants a limit."""
    if is_improper(integral):
        return None
    for leaf in leaves(integral):
        if ends_in_new_letter(leaf) != changed:
            continue
        try:
            chain = Chain(identifier, integral)
            leaf.write(chain)
            wrong = (*(_of_changed(leaf) if changed else ()), *leaf.wrongs())
            return chain.finish(chain.numbers(), wrong, leaf.pairs())
        except DefiniteRefused:
            continue
    return None


def ends_in_new_letter(leaf: Leaf) -> bool:
    """Whether the square brackets at the end are in a letter that was substituted."""
    return leaf.found is not None and leaf.found.last.letter != leaf.start.variable


# What students do with the limits of a new letter (common practice: from the marking of scripts).


def _of_changed(leaf: Leaf) -> Iterator[Wrong]:
    if leaf.found is None or leaf.found.antiderivative is None:
        return
    new, inside, back = leaf.found.last, leaf.found.antiderivative, leaf.worked.antiderivative
    old = ends(leaf.start)
    yield _KEPT.leads_to(lambda: at_limits(inside, new.letter, *old))
    yield _BACK_TOO.leads_to(lambda: at_limits(back, leaf.start.variable, new.lower, new.upper))
    bounds = [enclose(end, at={}) for end in (new.lower, new.upper)]
    if bounds[0] is not None and bounds[1] is not None and bounds[0].lower > bounds[1].upper:
        yield _TURNED.leads_to(lambda: at_limits(inside, new.letter, new.upper, new.lower))
    yield _ONE_CHANGED.leads_to(lambda: at_limits(inside, new.letter, old[0], new.upper))


_KEPT = WaySlip(identifier=LIMITS_NOT_CHANGED[0], sentence=LIMITS_NOT_CHANGED[1])
_BACK_TOO = WaySlip(
    identifier="put-back-and-limits-changed",
    sentence=say(
        "Change the limits or put the old letter back; doing both puts the new limits into the old letter."
    ),
)
_TURNED = WaySlip(
    identifier="changed-limits-put-in-order",
    sentence=say("Keep each limit in its place, even where the new lower limit is the larger number."),
)
_ONE_CHANGED = WaySlip(
    identifier="only-upper-limit-changed",
    sentence=say("Both limits belong to the old letter: change the lower one as well."),
)

LIMITS_CHANGED = Way(
    identifier="limits-changed",
    title=say("Substitution with the limits changed"),
    work=_limits_changed,
    slips=(_KEPT, _BACK_TOO, _TURNED, _ONE_CHANGED),
)

ANTIDERIVATIVE = Way(
    identifier="antiderivative",
    title=say("The antiderivative between its limits"),
    work=_antiderivative,
    slips=(),
)
