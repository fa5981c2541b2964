"""Seventy spellings that students type, with how they are read: a page for a person to look through (`spellings.txt`).

The spellings are common practice: habits of the classroom, of the keyboard and of copying from elsewhere.
"""

from __future__ import annotations

from pathlib import Path

from qbank.maths.expression import Symbol
from qbank.maths.notation import plain
from qbank.maths.reading import ReadingError, read_response

PAGE = Path(__file__).with_name("spellings.txt")

SPELLINGS = (
    "sin^2 x / 2 + C",
    "sin²x/2 + c",
    "1/2 sin(x)^2 + k",
    "(sin x)^2/2+C",
    "½sin²x",
    "sinx^2",
    "sin 2x cos 3x",
    "sin x cos x",
    "2sin x cos x",
    "sin x/2",
    "cos 1/2 x",
    "sin^-1 x",
    "arcsin x",
    "asin(x)",
    "tan^-1(x/2)/2",
    "cosec x cot x",
    "-ln|cos x| + C",
    "ln |sec x|",
    "ln(cos x)",
    "log x",
    "log_10 x",
    "ln x + ln k",
    "ln kx",
    "In|x|",
    "1n(x)",
    "e^2x",
    "e^(2x)/2",
    "e^-x",
    "exp(-x)",
    "2^x/ln2",
    "1/2x",
    "1/(2x)",
    "1/2 x",
    "x^1/2",
    "x^½",
    "√x",
    "√(1-x²)",
    "√1-x^2",
    "³√x",
    "sqrt x",
    "root(x, 3)",
    "3x(x+1)^2",
    "(x+1)(x-1)",
    "|x-1|/2",
    "1,5 x^2",
    "1.5x²",
    "1.5e-3x",
    "x³/3 − x",
    "y = x^2 + С",
    "∫ 2x dx = x^2",
    "F(x)=x^2+C_1",
    r"\frac{1}{2}\sin^{2}x + C",
    r"\ln\left|\cos x\right|",
    "x**2",
    "sin 30°",
    "x^2 +",
    "2x^",
    "sin",
    "(x+1",
    "x^2 + +C",
    "Answer: x^2 + C",
    "x^2 + C, C ∈ ℝ",
    "x^2 + C, where C is a constant.",
    "ln x + C, x > 0",
    "x^2 + C for all x",
    "x^2 + constant of integration",
    "x^3:3 + C",
    "x^2/2 sgn(x)",
    "E^(2x)",
    "arctan (x+1)/2",
    "ln x/2",
)


def _read(text: str) -> str:
    try:
        reading = read_response(text, variable=Symbol("x"))
    except ReadingError as error:
        return f"{'':6}{error.code}: {error.message}"
    lines = [f"{'':6}{plain(reading.tree)}"]
    lines += [f"{'or':>5} {plain(tree)}" for tree in reading.alternatives]
    lines += [f"{'':6}[{remark.identifier}] {remark.sentence}" for remark in reading.remarks]
    return "\n".join(lines)


def test_spellings(update_goldens: bool) -> None:
    page = "\n".join(f"{text}\n{_read(text)}" for text in SPELLINGS) + "\n"
    if update_goldens:
        PAGE.write_text(page, encoding="utf-8")
    assert page == PAGE.read_text(encoding="utf-8")
