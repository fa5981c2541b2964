"""What a deck was drawn from: the bank file itself and the arguments of the draw, so that both can be had again."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Source"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """The source of a deck.

    Attributes:
        name: of the bank file, without its folder.
        content: the bytes of the bank file, as they were read.
        seed: of the draw.
        count: clones of each template.
        templates: identifiers of the templates that were taken, in order; None for all of the bank.
        pick: how many clones of a template each student is dealt; None for all, or where a test says it.
        test: identifier of the test that was set; None for none.
        forms: how many parallel forms of it; None for pools.

    >>> Source(name="b.yaml", content=b"", seed=1, count=2, templates=None, pick=1).name
    'b.yaml'
    """

    name: str
    content: bytes
    seed: int
    count: int
    templates: tuple[str, ...] | None
    pick: int | None
    test: str | None = None
    forms: int | None = None
