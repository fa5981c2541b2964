"""A line of a working with a gap in it, read back: the pieces around the gap are put together again, with a letter for it.

Each piece says by a blank at its edge where it was cut, and rows that were closed there are opened again behind it; so the
formula comes together as it was before (see `maths.notation.gapped`). Pieces of LaTeX only stand side by side.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from copy import deepcopy
from typing import NamedTuple, TypeAlias

from lxml import etree

from qbank.maths.equation import Statement
from qbank.maths.notation.gapped import EDGE, GAP
from qbank.maths.notation.mathml import MATHML
from qbank.packages.formulas import FormulaError, formula
from qbank.packages.parsing import Element, kind
from qbank.packages.shown import FEEDBACK
from qbank.packages.tex import tex_formulas

__all__ = ["GappedRow", "IsGap", "gapped_row", "merged"]

#: whether an element is the box of a gap, or what stands for one
IsGap: TypeAlias = Callable[[Element], bool]

_DELIMITED = re.compile(r"(\\\(.*?\\\))", re.DOTALL)
_EDGE_WIDTH = etree.fromstring(EDGE).get("width")


class GappedRow(NamedTuple):
    """The statements of a line, the place of the one that has the gap, and the box of the gap."""

    statements: tuple[Statement, ...]
    place: int
    box: Element


class _Box(NamedTuple):
    element: Element
    raised: bool


_Part: TypeAlias = Element | str | _Box


def gapped_row(line: Element, is_gap: IsGap) -> GappedRow | None:
    """What a line shows, if it has a gap.

    Args:
        line: what holds the mathematics of the line.
        is_gap: tells the box of a gap.

    Raises:
        FormulaError: it cannot be read, or has more than one gap.
    """
    parts = [part for part in _parts(line, is_gap) if not isinstance(part, str) or part.strip()]
    gaps = [at for at, part in enumerate(parts) if isinstance(part, _Box)]
    if not gaps:
        return None
    if len(gaps) > 1:
        raise FormulaError("a line has more than one gap")
    (at,) = gaps
    box = parts[at]
    assert isinstance(box, _Box)
    before = parts[at - 1] if at else ""
    after = parts[at + 1] if at + 1 < len(parts) and _is_formula(parts[at + 1]) else None
    if not _is_formula(before):
        raise FormulaError("no formula stands before a gap")
    first = [one for part in parts[: at - 1] for one in _statements(part)]
    rest = [one for part in parts[at + (1 if after is None else 2) :] for one in _statements(part)]
    return GappedRow((*first, _joined(before, after, raised=box.raised), *rest), len(first), box.element)


def _parts(parent: Element, is_gap: IsGap) -> Iterator[_Part]:
    """Formulas, boxes and texts, in their order; LaTeX with its delimiters."""
    yield from _DELIMITED.split(parent.text or "")
    for child in parent:
        if is_gap(child):
            yield _Box(child, raised=kind(parent) == "sup")
        elif kind(child) == "math":
            yield child
        elif kind(child) not in FEEDBACK:
            yield from _parts(child, is_gap)
        yield from _DELIMITED.split(child.tail or "")


def _is_formula(part: _Part) -> bool:
    return _DELIMITED.fullmatch(part) is not None if isinstance(part, str) else not isinstance(part, _Box)


def _statements(part: _Part) -> Iterator[Statement]:
    if isinstance(part, str):
        yield from tex_formulas(part)
    elif not isinstance(part, _Box):
        yield formula(part)


def _joined(before: _Part, after: _Part | None, *, raised: bool) -> Statement:
    if isinstance(before, str) and (after is None or isinstance(after, str)):
        texts = [(part or r"\(\)")[2:-2].strip().removeprefix(r"\displaystyle") for part in (before, after)]
        gap = f"^{{{GAP.name}}}" if raised else f" {GAP.name} "
        (found,) = tex_formulas(rf"\({gap.join(texts)}\)")
        return found
    if isinstance(before, str | _Box) or isinstance(after, str | _Box):
        raise FormulaError("a gap stands between formulas of two kinds")
    return merged(before, after, raised=raised)


def merged(before: Element, after: Element | None, *, raised: bool) -> Statement:
    """The statement of two pieces of MathML.

    Args:
        before: the piece before the gap.
        after: the piece behind it, None for nothing.
        raised: whether the gap is an exponent.

    Raises:
        FormulaError: they are no pieces of one formula.

    >>> from qbank.maths.expression import Symbol
    >>> from qbank.maths.notation.gapped import pieces
    >>> statement = GAP * Symbol("u") ** 2 + 1
    >>> found = pieces(statement)
    >>> one, two = (
    ...     etree.fromstring(f'<math xmlns="{MATHML}">{piece.mathml}</math>') for piece in (found.before, found.after)
    ... )
    >>> merged(one, two, raised=False) == statement
    True
    """
    whole = deepcopy(before)
    left, right = _way(whole), None if after is None else _way(deepcopy(after))
    *_, parent, edge = left
    gap = etree.Element(f"{{{MATHML}}}mi")
    gap.text = GAP.name
    if raised:
        base = edge.getprevious()
        if base is None:
            raise FormulaError("nothing stands below a gap that is raised")
        power = etree.Element(f"{{{MATHML}}}msup")
        parent.replace(base, power)
        power.extend([base, gap])
    else:
        parent.insert(parent.index(edge), gap)
    parent.remove(edge)
    if right is not None:
        if len(right) != len(left):
            raise FormulaError("the pieces around a gap do not fit each other")
        for around, one, inside in zip(left[:-1], right[:-1], right[1:], strict=True):
            around.extend([part for part in one if part is not inside])
    return formula(whole)


def _way(piece: Element) -> list[Element]:
    """The elements from the top of a piece to the blank at its edge."""
    edges = [one for one in piece.iter(f"{{{MATHML}}}mspace") if one.get("width") == _EDGE_WIDTH]
    if len(edges) != 1:
        raise FormulaError("a piece of a formula does not say where it was cut")
    return [*reversed(list(edges[0].iterancestors())), edges[0]]
