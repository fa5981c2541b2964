"""Every row of the table of notation, in every target, as a person read and accepted it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from qbank.maths.notation import latex, mathml_text, plain, speech, typst
from tests.maths.notation.cases import CASES

GOLDENS = Path(__file__).with_name("goldens.txt")


def row(name: str) -> str:
    """One row of the golden file. Invisible signs are shown by name, and `alttext` (the speech line) is left out."""
    tree = CASES[name]
    markup = re.sub(r'^<math xmlns="[^"]*" alttext="[^"]*">(.*)</math>$', r"\1", mathml_text(tree))
    for sign, reference in (("\u2061", "&#x2061;"), ("\u2062", "&#x2062;")):
        markup = markup.replace(sign, reference)
    lines = [plain(tree), latex(tree), typst(tree), speech(tree), markup]
    return "\n    ".join(lines) + "\n"


def rows() -> dict[str, str]:
    text = GOLDENS.read_text(encoding="utf-8")
    found = re.findall(r"^(\S.*)\n((?:    .*\n)+)", text, flags=re.MULTILINE)
    return {first: f"{first}\n{rest}" for first, rest in found}


def test_update(update_goldens: bool) -> None:
    if update_goldens:
        GOLDENS.write_text("\n".join(row(name) for name in CASES), encoding="utf-8")
    assert list(rows()) == list(CASES)


@pytest.mark.parametrize("name", CASES)
def test_golden(name: str) -> None:
    assert plain(CASES[name]) == name
    assert row(name) == rows()[name]
