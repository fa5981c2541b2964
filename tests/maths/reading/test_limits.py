"""Hostile input: whatever the text, the answer is a tree within the bounds or an error, at a bounded cost.

Cost is counted in calls of Python functions rather than in seconds, so that the check means the same on every
machine. The dearest text here takes 54,000 calls; the slowest took 23 ms when that was measured.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from types import FrameType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qbank.maths.expression import Symbol
from qbank.maths.reading import CODES, Reading, ReadingError, limits, read, read_response

HOSTILE = {
    "a long sum": "x" + "+x" * 900,
    "the longest sum": "x" + "+x" * 1999,
    "letters": "x" * 4000,
    "words": "sinn" * 999,
    "spaced letters": "x y" * 1300,
    "minus signs": "-" * 3999 + "x",
    "plus signs": "+" * 3999 + "x",
    "functions": "sin " * 999 + "x",
    "glued functions": "sin" * 1333,
    "one long argument": "sin " + "a " * 1990,
    "a long numeric argument": "sin " + "2*" * 1990 + "x",
    "a long exponent": "e^2" + "a" * 3900,
    "a tower": "2^" * 1999 + "2",
    "a tower of e": "e^-" * 1300 + "2",
    "brackets": "(" * 4000,
    "balanced brackets": "(" * 1999 + "x" + ")" * 1999,
    "spaces": " " * 3999 + "(",
    "conditions": ", x<1" * 800,
    "closing brackets": ")" * 4000,
    "fractions": "1/" * 1999 + "2",
    "denominators": "1/x(" * 990,
    "bars": "|" * 4000,
    "moduli": "|x|" * 1333,
    "bars inside": "|" + "2|x" * 1333,
    "roots": "√" * 4000,
    "root words": "sqrt " * 800,
    "latex fractions": r"\frac" * 800,
    "short latex fractions": r"\frac12" * 570,
    "left bars": r"\left|" * 660,
    "text words": r"\text{ab}" * 440,
    "superscripts": "x²" * 2000,
    "superscript digits": "²" * 4000,
    "superscript brackets": "x" + "⁽" * 3999,
    "subscripts": "x_" * 2000,
    "logarithms": "log_" * 1000,
    "mixed numbers": "1½" * 2000,
    "constants": "C1" * 2000,
    "ambiguous powers": "sin x^2+" * 499 + "1",
    "ambiguous products": "1/2x+" * 799 + "1",
    "ambiguous arguments": "ln 2/3" * 660,
    "italic letters": "𝑥+" * 1999 + "x",
    "foreign letters": "х" * 4000,
    "invisible characters": "\u200b" * 4000,
    "equals signs": "y=" * 1999 + "x",
    "words for a constant": "const " * 660,
    "a huge number": "9" * 4000,
    "a huge decimal": "0." + "9" * 3990,
    "a root of everything": "root(" * 790,
    "nested arguments": "sin(x)^2(" * 440,
    "names": "a1" * 2000,
    "left out differentials": "xdx" * 1333,
    "backslashes": "\\" * 4000,
    "dollars": "$" * 4000,
    "a negative tower in a quotient": "x^(-(" + "1/" * 1900 + "2))",
}
#: calls of Python functions for one text, alternatives included
CALLS = 80_000


def depth_and_nodes(reading: Reading) -> tuple[int, int]:
    nodes = [(reading.tree, 1)]
    for node, depth in nodes:
        nodes.extend((child, depth + 1) for child in node.children)
    return max(depth for _, depth in nodes), len(nodes)


@pytest.mark.parametrize("name", sorted(HOSTILE))
def test_hostile_text_costs_little_and_gives_a_tree_or_an_error(name: str) -> None:
    calls = 0

    def count(_frame: FrameType, event: str, _argument: object) -> None:
        nonlocal calls
        calls += event == "call"

    names = frozenset({"a1", "rate_of_change"})
    before = sys.getprofile()
    sys.setprofile(count)
    try:
        found = read_response(HOSTILE[name], variable=Symbol("x"), names=names)
        # other readings are looked for when asked; that has its cost too
        assert found.alternatives is not None
        reading: Reading | None = found
    except ReadingError as error:
        reading, code = None, error.code
    finally:
        sys.setprofile(before)
    assert calls < CALLS
    if reading is None:
        assert code in CODES
    else:
        depth, nodes = depth_and_nodes(reading)
        assert depth <= limits.NESTING
        assert nodes <= limits.NODES


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("x" * (limits.CHARACTERS + 1), "too-long"),
        ("(" * 101 + "x" + ")" * 101, "too-nested"),
        ("sin(" * 101 + "x" + ")" * 101, "too-nested"),
        ("-" * 101 + "x", "too-nested"),
        ("1/" * 101 + "x", "too-nested"),
        ("x^{" * 101 + "x" + "}" * 101, "too-nested"),
        ("√" * 101 + "x", "too-nested"),
        ("x" + "+x" * 1000, "too-many-parts"),
        ("x°+" * 600 + "x", "too-many-parts"),
        ("9" * 61, "number-too-long"),
        ("0." + "9" * 60, "number-too-long"),
        ("x^1001", "exponent-too-large"),
    ],
)
def test_beyond_a_limit(text: str, code: str) -> None:
    with pytest.raises(ReadingError) as caught:
        read(text)
    assert caught.value.code == code


@pytest.mark.parametrize(
    "text",
    [
        "x".rjust(limits.CHARACTERS),
        "(" * 95 + "x" + ")" * 95,
        "sin(" * 95 + "x" + ")" * 95,
        "-" * 99 + "x",
        "1/" * 99 + "x",
        "9" * 60,
        "x^1000",
        "x^-1000",
        "2^1000",
        "0^5 + 0.5^1000",
        "2^x^3",
        "x" + "+x" * 999,
    ],
)
def test_up_to_a_limit(text: str) -> None:
    depth, nodes = depth_and_nodes(read(text))
    assert depth <= limits.NESTING
    assert nodes <= limits.NODES


def test_a_caller_deep_in_its_own_calls_gets_an_error_and_no_crash() -> None:
    text = "(" * 60 + "x" + ")" * 60

    def deep(levels: int) -> Reading:
        return read(text) if levels == 0 else deep(levels - 1)

    room = sys.getrecursionlimit() - len(_stack()) - 150
    with pytest.raises(ReadingError) as caught:
        deep(room)
    assert caught.value.code == "too-nested"


def _stack() -> list[FrameType]:
    frames: list[FrameType] = []
    frame: FrameType | None = sys._getframe()
    while frame is not None:
        frames.append(frame)
        frame = frame.f_back
    return frames


# any text -----------------------------------------------------------------------------------------------------

#: pieces of mathematics, so that random text gets past the first character
PIECES = (
    *(
        "x",
        "y",
        "e",
        "C",
        "pi",
        "θ",
        "2",
        "0.5",
        "12",
        "½",
        "²",
        "⁻¹",
        "+",
        "-",
        "*",
        "/",
        "^",
        "_",
        "(",
        ")",
        "[",
        "]",
    ),
    *(
        "{",
        "}",
        "|",
        ",",
        ";",
        "=",
        ".",
        "sin",
        "cos",
        "sin^2",
        "ln",
        "log",
        "√",
        "³√",
        "sqrt",
        "e^",
        "dx",
        "∫",
        "°",
    ),
    *(
        r"\frac",
        r"\sqrt",
        r"\left(",
        r"\right)",
        r"\left|",
        r"\right|",
        r"\sin",
        r"\cdot",
        r"\,",
        r"\circ",
        r"\int",
    ),
    *(
        r"\operatorname{",
        r"\text{",
        r"\mathrm{d}",
        "$",
        r"\(",
        r"\)",
        r"\foo",
        "arc",
        "tan",
        "asin",
        "In",
        "1n",
        "C1",
    ),
    *("f(", "х", "⁽", "₁", "∞", "root(", "^-1", "^1/2", "1/2x", "const", "--", " "),
)


@settings(max_examples=120)
@given(pieces=st.lists(st.sampled_from(PIECES), max_size=25), glue=st.sampled_from(["", " "]))
def test_pieces_of_mathematics_give_a_reading_or_an_error(pieces: list[str], glue: str) -> None:
    check(glue.join(pieces))


@settings(max_examples=100)
@given(text=st.text(max_size=60))
def test_any_text_gives_a_reading_or_an_error(text: str) -> None:
    check(text)


def outcome(reader: Callable[..., Reading], text: str) -> Reading | ReadingError:
    try:
        return reader(text, names=frozenset("a"))
    except ReadingError as error:
        return error


def check(text: str) -> None:
    for reader in (read, read_response):
        result = outcome(reader, text)
        assert result.source == text
        if isinstance(result, ReadingError):
            assert result.code in CODES
            start, end = result.position
            assert 0 <= start <= end <= len(text)
            assert result.caret()
        else:
            reading = result
            assert all(0 <= remark.start <= remark.end <= len(text) for remark in reading.remarks)
            assert reading.tree not in reading.alternatives
