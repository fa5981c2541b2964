"""Response processing by the rules of the QTI 3.0 information model (its section on expressions): NULL and all."""

from __future__ import annotations

from fractions import Fraction

import pytest

from qbank.packages.parsing import Element, parse
from qbank.packages.processing import ProcessingError, Value, correct_response, literal, outcomes, thresholds


def item(condition: str, *, correct: str = "", cardinality: str = "single", base: str = "float") -> Element:
    return parse(
        f"""<qti-assessment-item>
        <qti-response-declaration identifier="R" cardinality="{cardinality}" base-type="{base}">{correct}
        </qti-response-declaration>
        <qti-outcome-declaration identifier="SCORE" base-type="float"/>
        <qti-outcome-declaration identifier="D" base-type="boolean">
          <qti-default-value><qti-value>true</qti-value></qti-default-value></qti-outcome-declaration>
        <qti-response-processing><qti-response-condition>
        <qti-response-if>{condition}{_set(1)}</qti-response-if><qti-response-else>{_set(0)}</qti-response-else>
        </qti-response-condition></qti-response-processing></qti-assessment-item>""".encode()
    )


def _set(value: int) -> str:
    inner = f'<qti-base-value base-type="integer">{value}</qti-base-value>'
    return f'<qti-set-outcome-value identifier="SCORE">{inner}</qti-set-outcome-value>'


def base(value: object, kind: str = "float") -> str:
    return f'<qti-base-value base-type="{kind}">{value}</qti-base-value>'


R = '<qti-variable identifier="R"/>'
NULL = "<qti-is-null>" + R + "</qti-is-null>"
AT_LEAST = f"<qti-gte>{R}{base(2)}</qti-gte>"
D = '<qti-variable identifier="D"/>'


@pytest.mark.parametrize(
    ("condition", "response", "score"),
    [
        (AT_LEAST, Fraction(2), 1),
        (AT_LEAST, Fraction(199, 100), 0),
        (AT_LEAST, None, 0),  # a comparison with NULL is NULL, which is not true
        (f"<qti-not>{AT_LEAST}</qti-not>", None, 0),  # and not NULL is NULL
        (f"<qti-not>{AT_LEAST}</qti-not>", Fraction(1), 1),
        (NULL, None, 1),
        (NULL, Fraction(1), 0),
        (f"<qti-lte>{R}{base(2)}</qti-lte>", Fraction(2), 1),
        (f"<qti-lt>{R}{base(2)}</qti-lt>", Fraction(2), 0),
        (f"<qti-gt>{R}{base(2)}</qti-gt>", Fraction(2), 0),
        (f"<qti-and>{D}{AT_LEAST}</qti-and>", Fraction(3), 1),
        (f"<qti-and>{D}{AT_LEAST}</qti-and>", None, 0),
        (f"<qti-not><qti-and>{AT_LEAST}<qti-not>{D}</qti-not></qti-and></qti-not>", None, 1),  # false decides
        (f"<qti-or>{AT_LEAST}{D}</qti-or>", None, 1),  # true decides
        (f"<qti-or>{AT_LEAST}<qti-not>{D}</qti-not></qti-or>", None, 0),
        (f"<qti-match>{R}{base('2.0')}</qti-match>", Fraction(2), 1),
        (f"<qti-match>{R}{base(2)}</qti-match>", None, 0),
        (
            f"<qti-gte><qti-sum>{R}<qti-product>{R}{base(2)}</qti-product></qti-sum>{base(9)}</qti-gte>",
            Fraction(3),
            1,
        ),
        (f"<qti-gte><qti-sum>{R}{base(2)}</qti-sum>{base(-9)}</qti-gte>", None, 0),
    ],
)
def test_conditions(condition: str, response: Value, score: int) -> None:
    assert outcomes(item(condition), {"R": response})["SCORE"] == score


def test_correct_responses() -> None:
    correct = "<qti-correct-response><qti-value>A</qti-value><qti-value>B</qti-value></qti-correct-response>"
    match = f'<qti-match>{R}<qti-correct identifier="R"/></qti-match>'
    one = item(match, correct=correct.replace("<qti-value>B</qti-value>", ""), base="identifier")
    assert correct_response(one, "R") == ("A",)
    assert outcomes(one, {"R": "A"})["SCORE"] == 1
    assert outcomes(one, {"R": "B"})["SCORE"] == 0
    several = item(match, correct=correct, cardinality="multiple", base="identifier")
    assert outcomes(several, {"R": frozenset("AB")})["SCORE"] == 1
    assert outcomes(several, {"R": frozenset("A")})["SCORE"] == 0
    assert outcomes(item(match), {"R": Fraction(1)})["SCORE"] == 0
    assert outcomes(item(match, cardinality="multiple"), {"R": frozenset("A")})["SCORE"] == 0


@pytest.mark.parametrize(
    "condition",
    [
        "<qti-random/>",
        '<qti-variable identifier="X"/>',
        '<qti-correct identifier="X"/>',
        "<qti-not/>",
        f"<qti-not>{R}{R}</qti-not>",
        f"<qti-gte>{R}</qti-gte>",
        f"<qti-gte>{base('a', 'string')}{base(1)}</qti-gte>",
        f"<qti-sum>{R}{base('a', 'string')}</qti-sum>",
        "<qti-product/>",
        base("x"),
        base("1", "point"),
    ],
)
def test_what_is_not_known_is_refused(condition: str) -> None:
    with pytest.raises(ProcessingError):
        outcomes(item(condition), {"R": Fraction(1)})


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("<qti-response-else>", "<qti-response-x>"),
        ("response-condition", "exit-response"),
        ('-value identifier="SCORE"', '-value identifier="S"'),
    ],
)
def test_rules_that_are_not_known(old: str, new: str) -> None:
    from lxml import etree

    text = etree.tostring(item(AT_LEAST)).decode().replace(old, new)
    text = text.replace(old.replace("<", "</"), new.replace("<", "</"))
    with pytest.raises(ProcessingError):
        outcomes(parse(text.encode()), {})


@pytest.mark.parametrize(
    ("text", "value"),
    [("1", 1), ("-0.5", Fraction(-1, 2)), (".5", Fraction(1, 2)), ("+2.e1", 20), ("1E-2", Fraction(1, 100))],
)
def test_numbers(text: str, value: Fraction) -> None:
    assert literal(text, "float") == value


@pytest.mark.parametrize("text", ["", "INF", "NaN", "1e9999", "1,5", "1_0", " 1", "9" * 61, "1/2"])
def test_what_is_no_number(text: str) -> None:
    with pytest.raises(ProcessingError):
        literal(text, "float")


def test_other_literals() -> None:
    assert (literal("a", "string"), literal("true", "boolean"), literal("x", "boolean")) == ("a", True, False)


def test_thresholds() -> None:
    both = f"<qti-and>{AT_LEAST}<qti-lte>{R}{base('2.5')}</qti-lte></qti-and>"
    assert thresholds(item(both), "R") == (Fraction(2), Fraction(5, 2))
    for odd in (f"<qti-gte>{base(1)}{R}</qti-gte>", "<qti-gte/>", f"<qti-gte>{D}{base(1)}</qti-gte>"):
        with pytest.raises(ProcessingError):
            thresholds(item(odd), "R")
