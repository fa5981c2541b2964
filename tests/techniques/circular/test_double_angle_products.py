"""Products with the sine of twice the angle, against SymPy's derivative and published answers; every slip refuted."""

from __future__ import annotations

import pytest

from qbank.techniques import solve, technique
from tests.techniques.solving import (
    X,
    board,
    check_carried,
    check_published,
    check_solved,
    solved,
    tree,
)

TECHNIQUE = technique("double-angle-products")

TABLE = [
    ("sin(x) sin(2x)^7", None),
    ("cos(a + b x) sin(2a + 2b x)^7", None),
    ("tan(x) sin(2x)", "x - 1/2 sin 2x"),
    ("sin(x/2)^2/sin(x)", "ln|sec(x/2)|"),
    ("cos(x)/sin(2x)", None),
    ("3 cosec(x + 1)/sin(2x + 2)^2", None),
    ("k sin(x)^2 sin(2x)^4", None),
]

DECLINED = [
    "sin(x) cos(2x)",
    "sin(x) sin(3x)",
    "sin(x) sin(2x + 1)",
    "sin(x)^2",
    "sin(x) sqrt(sin(2x))",
    "x sin(x) sin(2x)",
    "sin(x) sin(2x)^40",
]


@pytest.mark.parametrize(("text", "expected"), TABLE)
def test_solved_and_slips_refuted(text: str, expected: str | None) -> None:
    check_solved(TECHNIQUE, text, expected, slips=2)


@pytest.mark.parametrize("text", DECLINED)
def test_declined(text: str) -> None:
    assert TECHNIQUE.work(tree(text), X) is None


#: as published: the Rubi test suite, 4.7.1; the answers are the powers of one angle integrated (common practice)
PUBLISHED = [
    (
        "4.7.1 sin(a + b x) sin(2a + 2b x)^7",
        "sin(a + b x) sin(2a + 2b x)^7",
        "128/(9b) sin(a + b x)^9 - 384/(11b) sin(a + b x)^11 + 384/(13b) sin(a + b x)^13 - 128/(15b) sin(a + b x)^15",
    ),
    (
        "4.7.1 cos(a + b x) sin(2a + 2b x)^7",
        "cos(a + b x) sin(2a + 2b x)^7",
        "-128/(9b) cos(a + b x)^9 + 384/(11b) cos(a + b x)^11 - 384/(13b) cos(a + b x)^13 + 128/(15b) cos(a + b x)^15",
    ),
]


@pytest.mark.parametrize(("number", "integrand", "answer"), PUBLISHED)
def test_published(number: str, integrand: str, answer: str) -> None:
    check_published(number, integrand, answer, by="double-angle-products")


def test_multiples_of_an_angle_with_something_added() -> None:
    check_carried("cosec(a + b x) cosec(2a + 2b x)^2", by="double-angle-products")
    check_carried("1/(sin(x + 1) cos(2x + 2))", by="rational-circular")


def test_the_identity_is_said_first() -> None:
    assert board(solved(TECHNIQUE, "tan(x) sin(2x)"))[1:3] == ["sin 2x = 2 sin x cos x", "2 ∫ sin^2 x dx"]


@pytest.mark.parametrize(
    ("text", "first"),
    [
        # common practice: the identity where a substitution follows, product to sum for a plain product and even powers
        ("cos(x)^2 sin(2x)", "double-angle-products"),
        ("sin(x)^2 sin(2x)", "double-angle-products"),
        ("3 cos(2x + 1)^5 sin(4x + 2)", "double-angle-products"),
        ("sin(x)^3 cos(x)^2 sin(2x)", "double-angle-products"),
        ("cos(x) sin(2x)^2", "double-angle-products"),
        ("cos(x) sin(2x)", "product-to-sum"),
        ("sin(x)^2 sin(2x)^2", "product-to-sum"),
        ("cos(x)^2 sin(3x)", "product-to-sum"),
        ("cos(x)^2 cos(2x)", "product-to-sum"),
    ],
)
def test_the_first_way(text: str, first: str) -> None:
    solution = solve(tree(text), X)
    assert solution is not None
    assert solution.technique == first


def test_one_substitution_after_the_identity() -> None:
    assert board(solved(TECHNIQUE, "cos(x)^2 sin(2x)"))[1:] == [
        "sin 2x = 2 sin x cos x",
        "2 ∫ sin x cos^3 x dx",
        "u = cos x; du = -sin x dx",
        "-2 ∫ u^3 du",
        "-1/2 u^4 + C",
        "-1/2 cos^4 x + C",
    ]


def test_the_slips_of_the_identity_occur() -> None:
    found = {one.slip for one in TECHNIQUE.wrong_answers(solved(TECHNIQUE, "sin(x) sin(2x)^7"))}
    assert {
        f"double-angle-products-{name}" for name in ("two-lost", "two-not-raised", "cosine-lost")
    } <= found
