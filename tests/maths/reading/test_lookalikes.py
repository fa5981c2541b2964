from __future__ import annotations

import unicodedata

import pytest

from qbank.maths.reading import ReadingError, read
from qbank.maths.reading.lookalikes import character_name, clean
from tests.maths.reading.outline import outline


@pytest.mark.parametrize(
    ("text", "expected", "remarked"),
    [
        ("х+С", "(+ x C)", True),  # Cyrillic
        ("Χ", "X", True),  # Greek capital chi
        ("x − 1", "(+ x (- 1))", False),  # minus sign
        ("x – 1", "(+ x (- 1))", True),  # en dash
        ("1⁄2", "(/ 1 2)", False),  # fraction slash
        ("¹⁄₂x", "(* (/ 1 2) x)", False),
        ("ｘ＋１", "(+ x 1)", True),  # full-width forms
        ("x\u200b^2", "(^ x 2)", True),  # zero-width space
        ("\ufeffx", "x", True),  # byte order mark
        ("𝑥²", "(^ x 2)", False),  # mathematical italic
        ("𝜃", "theta", False),
        ("ℯ^x", "(^ e x)", False),
        ("sin\u2061x", "(sin x)", False),  # function application
        ("2\u2062x", "(* 2 x)", False),  # invisible times
        ("x\u00a0+\u20091", "(+ x 1)", False),  # no-break and thin space
        ("30º", "(* 30 (/ pi 180))", False),  # ordinal for degree
        ("In x", "(ln x)", True),
        ("2 + 1n|x|", "(+ 2 (ln (abs x)))", True),
        ("｜x｜", "(abs x)", True),
        ("∣x∣", "(abs x)", False),
    ],
)
def test_look_alikes_are_understood(text: str, expected: str, remarked: bool) -> None:
    reading = read(text)
    assert outline(reading.tree) == expected
    assert ("look-alike" in {remark.identifier for remark in reading.remarks}) is remarked


def test_a_remark_names_the_character_once() -> None:
    remarks = read("х + х").remarks
    assert [(remark.start, remark.sentence) for remark in remarks] == [
        (0, "The character cyrillic small letter ha was read as x.")
    ]


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("x # 1", "number sign"),
        ("ж", "cyrillic small letter zhe"),
        ("30℃", "degree celsius"),
        ("x\x00", "U+0000"),
    ],
)
def test_other_characters_are_named_in_the_error(text: str, name: str) -> None:
    with pytest.raises(ReadingError) as caught:
        read(text)
    assert caught.value.code == "unknown-character"
    assert name.lower() in caught.value.message


def test_places_are_those_of_the_source() -> None:
    text = "∛x\u200b + ж"
    with pytest.raises(ReadingError) as caught:
        read(text)
    assert caught.value.position == (text.index("ж"), text.index("ж") + 1)
    assert clean(text).source == text


def test_a_part_keeps_its_places() -> None:
    part = clean("∛x + 1").part(2, 4)
    assert part.text == "x "
    assert part.span(0, 1) == (1, 2)
    assert part.span(2, 2) == (3, 3)


def test_names_of_characters() -> None:
    assert character_name("\x07") == "u+0007"
    assert character_name("#") == f'"#" ({unicodedata.name("#").lower()})'
