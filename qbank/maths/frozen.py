"""Values that are never changed, which mypy sees to.

To have it seen to at run time as well makes a value three times as dear, and what is made thousands of times in one
solution (trees, products, lines) is most of the work. What is made seldom is a frozen dataclass as usual; so is a proof.

>>> @frozen
... class Pair:
...     first: int
...     second: int
>>> Pair(1, 2) == Pair(1, 2), Pair(1, 2)
(True, Pair(first=1, second=2))
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar, dataclass_transform, overload

__all__ = ["frozen"]

_Kind = TypeVar("_Kind")


@overload
def frozen(kind: type[_Kind]) -> type[_Kind]: ...


@overload
def frozen(*, eq: bool = True, kw_only: bool = False) -> Callable[[type[_Kind]], type[_Kind]]: ...


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def frozen(
    kind: type[_Kind] | None = None, *, eq: bool = True, kw_only: bool = False
) -> type[_Kind] | Callable[[type[_Kind]], type[_Kind]]:
    """A dataclass whose fields are not assigned to.

    Args:
        kind: the class.
        eq: whether two are equal, and have one hash, when their fields are; else the class says itself.
        kw_only: whether one is made with names only.
    """

    def made(kind: type[_Kind]) -> type[_Kind]:
        return dataclass(slots=True, eq=eq, unsafe_hash=eq, kw_only=kw_only)(kind)

    return made if kind is None else made(kind)
