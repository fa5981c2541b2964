"""The tree keeps mathematics as written."""

from __future__ import annotations

import copy
import gc
import pickle
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qbank.maths.expression import (
    _NAMES,
    PI,
    Apply,
    Constant,
    Decimal,
    Evaluated,
    Expression,
    Integer,
    Integral,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    as_fraction,
    cos,
    product,
    rational,
    sin,
    sum_of,
)
from tests.maths.strategies import expressions

x, u, a = Symbol("x"), Symbol("u"), Symbol("a")


def test_nothing_is_simplified() -> None:
    assert x + x == Sum((x, x))
    assert 1 * x == Product((Integer(1), x))
    assert x - x == Sum((x, Negate(x)))
    assert Quotient(Integer(2), Integer(4)) != rational(1, 2)
    assert x**1 == Power(x, Integer(1))


def test_operators_grow_flat_chains() -> None:
    assert x + 1 + a == Sum((x, Integer(1), a))
    assert 2 * x * a == Product((Integer(2), x, a))
    assert 1 - x == Sum((Integer(1), Negate(x)))
    assert 1 / x == Quotient(Integer(1), x)
    assert -x == Negate(x)
    assert x - (a + 1) == Sum((x, Negate(Sum((a, Integer(1))))))


def test_sums_and_products_of_few() -> None:
    assert sum_of() == Integer(0)
    assert product() == Integer(1)
    assert sum_of(x) == product(x) == x


@pytest.mark.parametrize(
    "build",
    [
        lambda: Integer(-1),
        lambda: Sum((x,)),
        lambda: Product((x,)),
        lambda: Root(x, 1),
        lambda: Apply("sine", x),
        lambda: Constant("tau"),
        lambda: Integral(x, x, Integer(0), None),
    ],
)
def test_impossible_nodes_do_not_construct(build: object) -> None:
    assert callable(build)
    with pytest.raises(ValueError, match=r"."):
        build()


def test_numbers_as_written() -> None:
    assert as_fraction(rational(-3, 6)) == Fraction(-1, 2)
    assert as_fraction(Decimal("0.50")) == Fraction(1, 2)
    assert Decimal("0.50") != Decimal("0.5")
    assert as_fraction(Quotient(Integer(1), Integer(0))) is None
    assert as_fraction(PI) is None
    assert as_fraction(Negate(x)) is None
    assert rational(Fraction(6, 4)) == Quotient(Integer(3), Integer(2))


def test_substitution_spares_bound_variables() -> None:
    inner = Integral(u**2 * a, u, Integer(0), x)
    replaced = inner.substitute({u: x, a: Integer(3), x: a})
    assert replaced == Integral(u**2 * 3, u, Integer(0), a)
    bracket = Evaluated(u + a, u, x, a).substitute({u: x, a: Integer(2), x: Integer(1)})
    assert bracket == Evaluated(u + 2, u, Integer(1), Integer(2))


def test_walk_and_symbols() -> None:
    tree = sin(a * x) + Integral(u, u)
    assert [type(node) for node in tree.walk()][:2] == [Sum, Apply]
    assert tree.symbols() == {a, x, u}
    assert tree.has(a * x)
    assert not tree.has(cos(x))


def test_rebuild_returns_itself_when_nothing_changes() -> None:
    tree: Expression = sin(x) + 1
    assert tree.rebuild(lambda child: child) is tree
    assert Integral(x, x).rebuild(lambda child: u if child == x else child) == Integral(u, u)


def test_a_node_remembers_its_hash_and_copies_do_not() -> None:
    """A pickle must not carry it: hashes of texts differ from one process to the next."""
    tree = sin(a * x) ** 2
    assert hash(tree) == hash(sin(a * x) ** 2) != hash(sin(a * x) ** 3)
    assert getattr(tree, "_hash", None) == hash(tree)
    for copied in (pickle.loads(pickle.dumps(tree)), replace(tree), tree.rebuild(lambda child: child + 1)):
        assert getattr(copied, "_hash", None) is None
        assert isinstance(copied, Power)


@pytest.mark.parametrize("node", [Symbol("x"), Symbol("C_1"), Integer(2), Integer(10**30)])
def test_a_letter_or_number_is_the_same_node_when_copied(node: Expression) -> None:
    for again in (copy.deepcopy(node), pickle.loads(pickle.dumps(node)), replace(node)):
        assert again == node
        assert hash(again) == hash(node)
    assert (pickle.loads(pickle.dumps(Integer(2))), Symbol(name="x")) == (Integer(2), Symbol("x"))


def test_a_common_letter_or_number_is_one_object() -> None:
    """Also when it is asked for by something equal to it."""
    assert Symbol("x") is Symbol("x")
    assert Integer(2) is Integer(True + 1)
    assert type(Integer(True).value) is int
    assert Integer(255) is Integer(255)


def test_a_letter_or_constant_is_one_object_in_every_copy() -> None:
    for node in (Symbol("x"), Symbol("C_12"), Constant("pi")):
        assert copy.deepcopy(node) is node
        assert pickle.loads(pickle.dumps(node)) is node
    with pytest.raises(ValueError, match="unknown constant 'tau'"):
        Constant("tau")


def test_a_letter_with_an_index_is_forgotten_with_the_last_tree_that_holds_it() -> None:
    """Responses may hold any number of them."""
    tree = Symbol("C_987654") ** 2
    assert "C_987654" in _NAMES
    del tree
    gc.collect()
    assert "C_987654" not in _NAMES


@given(expressions(), st.sampled_from("xtuk"))
def test_rebuilding_with_nothing_changed_gives_the_tree_itself(tree: Expression, name: str) -> None:
    assert tree.rebuild(lambda child: child) is tree
    letter = Symbol(name)
    changed = tree.rebuild(lambda _: letter)
    assert (changed is tree) == all(child == letter for child in tree.children)
    assert type(changed) is type(tree)
    assert set(changed.children) <= {letter}


if TYPE_CHECKING:
    # nothing sees to it at run time that a node stays as it is; mypy does, and says so if it ceases to
    x.name = "y"  # type: ignore[misc]
    Power(x, x).base = u  # type: ignore[misc]
