from __future__ import annotations

import pytest

from qbank.maths.reading import CODES, REMARKS, ReadingError, Remark, read

MORE = [
    ("x*", "missing-operand", (1, 2)),
    ("*x", "missing-operand", (0, 1)),
    ("x+*2", "missing-operand", (2, 3)),
    ("()", "missing-operand", (0, 2)),
    ("(x+)", "missing-operand", (2, 3)),
    ("²", "missing-operand", (0, 1)),
    (r"\frac{1}", "missing-operand", (0, 5)),
    (r"\frac", "missing-operand", (0, 5)),
    ("sin + 2", "missing-argument", (0, 3)),
    ("sin^2", "missing-argument", (0, 3)),
    ("√", "missing-argument", (0, 1)),
    ("root x", "missing-argument", (0, 4)),
    ("root(x)", "missing-argument", (0, 4)),
    ("2 3", "misplaced-number", (2, 3)),
    ("(x+1)2", "misplaced-number", (5, 6)),
    ("x½", "misplaced-number", (1, 2)),
    ("1/x2", "misplaced-number", (3, 4)),
    ("sin x 2", "misplaced-number", (6, 7)),
    (")", "unopened-bracket", (0, 1)),
    (r"x\rvert", "unclosed-bar", (1, 7)),
    ("|x|x|", "unclosed-bar", (4, 5)),
    (r"\left|x", "unclosed-bar", (5, 6)),
    ("x⁽²", "unclosed-bracket", (1, 2)),
    ("x²⁾", "unopened-bracket", (2, 3)),
    ("|x|y|+1|z|", "unclosed-bar", (9, 10)),
    ("f(x)=2", "unknown-function", (0, 4)),
    ("y=x", "equals-sign", (1, 2)),
    ("= x", "equals-sign", (0, 1)),
    ("(x, 2)", "comma", (2, 3)),
    (", x", "comma", (0, 1)),
    ("xdx", "differential", (1, 3)),
    (r"x\,\mathrm{d}x", "differential", (3, 14)),
    ("dx", "differential", (0, 2)),
    (r"2\int", "integral-sign", (1, 5)),
    ("3_1", "bad-subscript", (1, 2)),
    ("x_{1+1}", "bad-subscript", (4, 5)),
    ("C_", "bad-subscript", (2, 2)),
    (r"\sqrt[n]{x}", "bad-root-index", (6, 7)),
    ("root(x, 2000)", "bad-root-index", (8, 12)),
    (r"x \pm 1", "unsupported-sign", (2, 5)),
    ("x!", "unsupported-sign", (1, 2)),
    (r"\sinx", "unknown-command", (0, 5)),
    (r"\#", "unknown-command", (0, 2)),
    ("x\\", "unknown-character", (1, 2)),
    ("x^(1/2/(0.0001))", "exponent-too-large", (0, 16)),
    ("x^-1001", "exponent-too-large", (1, 7)),
    ("10^10^10", "exponent-too-large", (0, 8)),
    ("2^(999*999)", "exponent-too-large", (0, 11)),
    ("(2^1000)^1000", "number-too-large", (0, 13)),
]


@pytest.mark.parametrize("code", sorted(CODES))
def test_every_code_has_an_example_that_gives_it(code: str) -> None:
    with pytest.raises(ReadingError) as caught:
        read(CODES[code].example)
    assert caught.value.code == code
    assert CODES[code].meaning


@pytest.mark.parametrize(("text", "code", "place"), MORE)
def test_errors_have_a_code_and_a_place(text: str, code: str, place: tuple[int, int]) -> None:
    with pytest.raises(ReadingError) as caught:
        read(text)
    error = caught.value
    assert (error.code, error.position) == (code, place)
    assert error.source == text
    assert error.message
    assert not error.message.endswith(".")


def test_a_caret_stands_under_the_place() -> None:
    with pytest.raises(ReadingError) as caught:
        read("2x + sine x")
    assert caught.value.caret() == "2x + sine x\n     ^^^^"
    assert str(caught.value) == 'the word "sine" is not known (did you mean sin?)'


def test_a_long_line_is_cut_around_the_caret_and_control_characters_are_blanks() -> None:
    text = "x+" * 100 + "\t#" + "+x" * 100
    with pytest.raises(ReadingError) as caught:
        read(text)
    line, carets = caught.value.caret().split("\n")
    assert len(line) <= 90
    assert line[carets.index("^")] == "#"
    assert "\t" not in line


def test_an_error_at_the_end_still_has_a_caret() -> None:
    with pytest.raises(ReadingError) as caught:
        read("C_")
    assert caught.value.caret() == "C_\n  ^"


@pytest.mark.parametrize(
    ("text", "hint"), [("1,5", "decimal sign"), ("x2", "^2"), ("2 3", "* before 3"), ("(x", "add )")]
)
def test_hints_say_what_to_write(text: str, hint: str) -> None:
    with pytest.raises(ReadingError) as caught:
        read(text)
    assert hint in caught.value.hint


def test_a_remark_has_a_known_identifier() -> None:
    assert all(meaning.endswith(".") for meaning in REMARKS.values())
    with pytest.raises(ValueError, match="unknown remark"):
        Remark("surprise", "Oh.", 0, 1)
