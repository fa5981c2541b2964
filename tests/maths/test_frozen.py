"""Values that mypy takes for frozen: equal and hashed by what they are made of."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from qbank.maths.frozen import frozen


@frozen
class Pair:
    first: int
    second: int = 0


@frozen(kw_only=True)
class Named:
    name: str


@frozen(eq=False)
class Single:
    value: int


def test_values_are_equal_and_found_again_when_their_fields_are() -> None:
    assert Pair(1) == Pair(1, 0) != Pair(1, 2)
    assert {Pair(1, 2): "kept"}[Pair(1, 2)] == "kept"
    assert Single(1) != Single(1)


def test_nothing_can_be_added_to_one() -> None:
    with pytest.raises(AttributeError):
        Pair(1).third = 3  # type: ignore[attr-defined]


def test_names_are_needed_where_they_are_asked_for() -> None:
    with pytest.raises(TypeError):
        Named("x")  # type: ignore[call-arg]


if TYPE_CHECKING:
    # mypy refuses each, and says so if it ceases to
    Pair(1).first = 2  # type: ignore[misc]
    Named(name="x").name = "y"  # type: ignore[misc]
    Single(1).value = 2  # type: ignore[misc]
