"""Whatever is typed, a mark comes back, and soon: no exception, no hang."""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.marking import AntiderivativeMarker, DefiniteMarker
from qbank.maths.expression import Symbol
from qbank.maths.reading import ReadingError, read

x = Symbol("x")
MARKERS: tuple[AntiderivativeMarker, ...] = tuple(
    AntiderivativeMarker(read(text, variable=x).tree, x) for text in ("sin(3x)^2", "1/x")
)
VALUE = DefiniteMarker(read("sin(3x)^2", variable=x).tree, x, read("0").tree, read("pi").tree)
ALL: tuple[AntiderivativeMarker | DefiniteMarker, ...] = (*MARKERS, VALUE)
#: seconds of computing for one mark: 1.6 for what is decided, reading, the last step begun, and a machine ten times as slow
MOST = 20


def nested(opening: str, times: int, closing: str = ")") -> str:
    return opening * times + "x" + closing * times


HOSTILE = (
    # exponents, roots and numbers of enormous size
    "x^(1/18446744073709551617)",
    "x^(1/123456789012345678901)",
    "(-x)^(1/3^40)",
    "x^(12345678901234567/98765432109876543)",
    "x^(0.5^64)",
    "(10^900)^x",
    "e^(e^(e^(e^(e^x))))",
    "e^e^e^e^e",
    "sin(e^(10^900 x))",
    "tan(10^900 x)",
    "x/10^900",
    "ln(10^900 + 1) x",
    "9" * 60 + "x",
    # long products, sums, towers and nests
    "*".join("x" * 900),
    "*".join(["sin x"] * 300),
    "*".join(f"(x + {k})" for k in range(250)),
    "*".join(f"sqrt(x + {k})" for k in range(200)),
    "+".join(f"sin({k}x)" for k in range(1, 200)),
    "+".join(f"1/(x + {k})" for k in range(250)),
    nested("sin(", 60),
    nested("1/(1 + ", 45),
    nested("(x + 1)^(1/2 + ", 20),
    nested("x^(", 45),
    nested("ln|", 40, "|"),
    "-" * 90 + "x",
    # what expands beyond all bounds
    "(x + sin x + cos x + tan x + e^x + ln|x| + sqrt(x) + arctan x)^100",
    "(x + sqrt(x) + cbrt(x) + x^(1/5) + x^(1/7) + x^(1/11))^9",
    "1/(sqrt(2) + sqrt(3) + sqrt(5) + sqrt(7) + sqrt(11) + sqrt(13) + sqrt(17) + sqrt(19))",
    "sqrt(" + "+".join(f"sqrt(x + {k})" for k in range(12)) + ")",
    "sin(x/97) + sin(x/89) + sin(x/83) + sin(x/79)",
    "tan(64 arctan x) + sin(30 arctan x + 31 arcsin x)",
    "ln|" + "*".join(f"sec({k}x)" for k in range(1, 20)) + "|",
    # nothing real, nothing at all, nothing meant
    "1/0",
    "0^0",
    "ln 0",
    "infinity - infinity",
    "x^(0/0)",
    "1/(sin^2 x + cos^2 x - 1)",
    "arcsin 2",
    "",
    "\x00",
    "\ud800",
    "=",
    "x = x = x",
    r"\frac{" * 50,
    r"\sqrt[999999999999999999999]{x}",
    "<script>",
    "%s${x}`x`",
)


@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: ascii(text[:30]))
def test_hostile_text(text: str) -> None:
    for marker in ALL:
        start = time.thread_time()
        mark = marker.mark(text)
        assert time.thread_time() - start < MOST
        assert mark.outcome in ("correct", "incorrect", "unsettled", "unreadable")


WORDS = (
    "x x x t C 2 3 0 7 0.5 10^9 1/3 + - * / ^ ( ) | , = . pi e ln sin cos tan sec arctan arcsin sqrt cbrt abs "
    r"exp √ ² ³ ⁻¹ ½ π ∞ ∫ ° ! { } [ ] \frac{ \sqrt{ \left| \right| \cdot dx sin^2 cos^-1 e^ x^ )^ /( ^("
)
PIECES = st.sampled_from(WORDS.split())


@settings(max_examples=150)
@given(st.lists(PIECES, max_size=25), st.sampled_from(["", " "]))
def test_pieces_of_mathematics(pieces: list[str], glue: str) -> None:
    text = glue.join(pieces)
    for marker in ALL:
        start = time.thread_time()
        marker.mark(text)
        assert time.thread_time() - start < MOST


@settings(max_examples=100)
@given(st.text(max_size=40))
def test_any_text(text: str) -> None:
    MARKERS[0].mark(text)
    VALUE.mark(text)


@pytest.mark.parametrize("text", HOSTILE, ids=lambda text: ascii(text[:30]))
def test_hostile_question(text: str) -> None:
    try:
        question = read(text, variable=x).tree
    except ReadingError:
        return
    marker = AntiderivativeMarker(question, x)
    assert marker.mark("x^2/2 + C").outcome in ("correct", "incorrect", "unsettled")
