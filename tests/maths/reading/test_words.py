from __future__ import annotations

import pytest

from qbank.maths.functions import FUNCTIONS
from qbank.maths.reading import ReadingError, read
from qbank.maths.reading.words import GREEK, GREEK_LETTERS, SPELLINGS, near_word, split, word
from tests.maths.reading.outline import outline


def test_every_function_of_the_language_has_spellings_and_its_own_name_among_them() -> None:
    assert set(SPELLINGS) == set(FUNCTIONS)
    for name, spellings in SPELLINGS.items():
        assert name in spellings


def test_no_spelling_means_two_functions() -> None:
    spellings = [spelling for row in SPELLINGS.values() for spelling in row]
    assert len(spellings) == len(set(spellings))


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_every_spelling_is_read(name: str) -> None:
    for spelling in SPELLINGS[name]:
        assert outline(read(f"{spelling}(x)").tree) == f"({name} x)"
        assert outline(read(f"{spelling} x").tree) == f"({name} x)"
        assert outline(read(f"2{spelling}x").tree) == f"(* 2 ({name} x))"
        assert outline(read(f"{spelling.upper()}(x)").tree) == f"({name} x)"


@pytest.mark.parametrize(
    "name", sorted(row.name for row in FUNCTIONS.values() if row.inverse_of not in (None, "exp"))
)
def test_the_power_minus_one_is_the_inverse(name: str) -> None:
    assert outline(read(f"{FUNCTIONS[name].inverse_of}^-1 x").tree) == f"({name} x)"


@pytest.mark.parametrize("letter", sorted(GREEK_LETTERS))
def test_greek_letters_names_and_commands_are_one_symbol(letter: str) -> None:
    name = GREEK_LETTERS[letter]
    assert read(letter).tree == read(name).tree == read(rf"\{name}").tree
    assert outline(read(letter).tree) == name


def test_variants_of_greek_letters_are_the_letter() -> None:
    assert GREEK["varphi"] == "phi"
    assert read(r"\varphi").tree == read("ϕ").tree == read("φ").tree


@pytest.mark.parametrize(
    ("text", "near"),
    [
        ("sine", "sin"),
        ("sinn", "sin"),
        ("logex", "log"),
        ("cosine", "cos"),
        ("tangent", "tan"),
        ("logarithm", "ln"),
        ("arcan", "arctan"),
        ("sqr", "sqrt"),
        ("cso", "cos"),
        ("thetta", "theta"),
        ("modulus", "abs"),
    ],
)
def test_a_misspelt_word_is_refused_with_the_near_one(text: str, near: str) -> None:
    with pytest.raises(ReadingError) as caught:
        read(f"2 + {text} x")
    assert caught.value.code == "unknown-word"
    assert caught.value.position == (4, 4 + len(text))
    assert near in caught.value.hint


def test_a_word_like_nothing_gets_the_product_as_a_hint() -> None:
    with pytest.raises(ReadingError) as caught:
        read("qwrk")
    assert "q*w*r*k" in caught.value.hint


def test_letters_that_are_all_names_are_always_a_product() -> None:
    assert outline(read("abx", names=frozenset("abx")).tree) == "(* a b x)"
    with pytest.raises(ReadingError):
        read("abx")


def test_the_argument_in_one_word_ends_with_the_variable() -> None:
    known = {"variables": frozenset("t"), "names": frozenset[str]()}
    pieces = split("sint", **known)
    assert pieces is not None
    assert [piece.meaning for piece in pieces] == ["sin", "t"]
    assert split("sinx", **known) is None


def test_capitals_are_for_functions_only() -> None:
    assert word("SIN") == ("function", "sin")
    assert word("Pi") is None
    assert near_word("x" * 21, ()) is None
