"""Marking antiderivatives: right in any form, wrong with a reason, never wrong for being undecided."""

from __future__ import annotations

import json
from fractions import Fraction

import pytest

from qbank.bank.policy import Policy
from qbank.marking import REMARKS, AntiderivativeMarker
from qbank.maths.domain import Domain
from qbank.maths.expression import PI, Expression, Integer, Symbol
from qbank.maths.reading import read
from qbank.maths.verdict import Unsettled
from qbank.techniques.working import UnprovedLineError
from tests.benchmarks.pairs import PAIRS

x = Symbol("x")


def marker(integrand: str, **options: object) -> AntiderivativeMarker:
    return AntiderivativeMarker(read(integrand, variable=x).tree, x, **options)  # type: ignore[arg-type]


@pytest.mark.parametrize(("integrand", "response", "right"), PAIRS)
def test_typed_responses(integrand: str, response: str, right: object) -> None:
    mark = marker(integrand).mark(response)
    assert mark.outcome == ("correct" if right else "incorrect")
    assert mark.score == (1.0 if right else 0.0)
    assert (mark.witness is None) == bool(right)
    assert mark.read_as


@pytest.mark.parametrize(
    ("integrand", "responses"),
    [
        # one integral, the forms in which a student may hand it in (identities: DLMF 4.21)
        (
            "sin x cos x",
            ["sin^2 x/2 + C", "-cos^2 x/2 + C", "-cos(2x)/4 + C", "1/2 sin²x + k", "-¼cos 2x + C"],
        ),
        (
            "tan x sec^2 x",
            ["1/2 tan^2 x + C", "1/2 sec^2 x + C", r"\frac{1}{2}\tan^{2}x + C", "1/(2cos^2 x) + C"],
        ),
        ("tan x", ["ln|sec x| + C", "-ln|cos x| + C", "-1/2 ln(cos^2 x) + C", "ln|k sec x|"]),
        ("1/x", ["ln|x| + C", "ln|3x| + C", "1/2 ln(x^2) + C", "ln|kx|"]),
        ("cos(x)^3", ["sin x - sin^3 x/3 + C", "3/4 sin x + 1/12 sin 3x + C", "y = sin x - (1/3)sin³x + C"]),
        ("1/(1+x^2)", ["arctan x + C", "tan^-1 x + C", "-arctan(1/x) + C", "arcsin(x/sqrt(1+x^2)) + C"]),
    ],
)
def test_every_equivalent_form_is_right(integrand: str, responses: list[str]) -> None:
    of = marker(integrand)
    assert {response: of.mark(response).outcome for response in responses} == dict.fromkeys(
        responses, "correct"
    )


def remarks(integrand: str, response: str, **options: object) -> list[str]:
    return [remark.identifier for remark in marker(integrand, **options).mark(response).remarks]


def test_a_missing_constant_is_a_remark() -> None:
    assert remarks("2x", "x^2") == ["missing-constant"]
    assert remarks("2x", "x^2 + C") == []
    assert remarks("2x", "x^2 + c/2") == []
    assert remarks("1/x", "ln|k x|") == []
    # a letter that cancels is no constant
    assert remarks("2x", "x^2 + C - C") == ["missing-constant"]
    # a number is a constant, but not an arbitrary one
    assert remarks("2x", "x^2 + 5") == ["missing-constant"]


def test_a_missing_modulus_is_a_remark() -> None:
    assert remarks("1/x", "ln x + C") == ["missing-modulus"]
    assert remarks("1/x", "ln|x| + C") == []
    assert remarks("2x/(x^2 + 1)", "ln(x^2 + 1) + C") == []
    # inside a stated domain nothing is missing
    positive = Domain(lower=Integer(0), upper=None)
    assert remarks("1/x", "ln x + C", domain=positive) == []
    assert remarks("tan x", "-ln(cos x) + C", domain=Domain(lower=Integer(0), upper=PI / 2)) == []


def test_a_smaller_domain_is_a_remark() -> None:
    assert remarks("2x", "(sqrt x)^4 + C") == ["smaller-domain"]


def test_the_policy_decides_the_mark() -> None:
    strict = Policy(constant=Fraction(0), modulus=Fraction(0))
    assert marker("2x", policy=strict).mark("x^2").score == 0.0
    assert marker("2x", policy=strict).mark("x^2 + C").score == 1.0
    assert marker("1/x", policy=strict).mark("ln x + C").score == 0.0
    assert marker("1/x", policy=strict).mark("ln|x| + C").score == 1.0
    assert marker("2x", policy=strict).mark("x^2").outcome == "correct"


HALF = Fraction(1, 2)


@pytest.mark.parametrize(
    ("integrand", "response", "policy", "score"),
    [
        ("2x", "x^2", Policy(constant=HALF), 0.5),
        ("1/x", "ln x", Policy(constant=HALF, modulus=Fraction(3, 4)), 0.25),
        ("1/x", "ln x", Policy(constant=HALF, modulus=Fraction(1, 4)), 0.0),
        ("x", "2/4 x^2 + C", Policy(simplified=HALF), 0.5),
        ("x", "x^2/2 + C", Policy(simplified=HALF), 1.0),
        ("x", "2/4 x^2 + C", Policy(), 1.0),
        ("cos 2x", "sin 2x + C", Policy(slips=(("standard-inner-coefficient-forgotten", HALF),)), 0.5),
        ("cos 2x", "2 sin 2x + C", Policy(slips=(("standard-inner-coefficient-forgotten", HALF),)), 0.0),
    ],
)
def test_a_policy_may_give_a_share(integrand: str, response: str, policy: Policy, score: float) -> None:
    mark = marker(integrand, policy=policy).mark(response)
    assert mark.score == score
    assert (mark.outcome == "incorrect") == (mark.slip is not None)
    assert ("not-simplified" in {remark.identifier for remark in mark.remarks}) == (
        policy.simplified < 1 and score < 1
    )


def test_right_on_half_of_the_line_is_wrong() -> None:
    # sqrt(x^2)/2*x is x^2/2 for positive x and its negative otherwise
    mark = marker("x").mark("x*sqrt(x^2)/2 + C")
    assert mark.outcome == "incorrect"
    assert mark.witness is not None
    assert mark.witness.point < 0


def test_defined_nowhere_is_for_a_person() -> None:
    # as a formula the derivative is right; as a real function the answer does not exist
    assert marker("2x/(x^2 + 1)").mark("ln(-x^2 - 1) + C").outcome == "unsettled"
    assert marker("2x/(x^2 + 1)").mark("2 ln(-x^2 - 1) + C").outcome == "incorrect"


def test_a_slip_is_named_when_proved() -> None:
    mark = marker("sin(3x)^2").mark("x/2 + 1/12 sin 6x + C")
    assert mark.slip == "double-angle-sign"
    assert mark.message
    assert marker("sin(3x)^2").mark("x^7 + C").slip is None


def test_unreadable_says_where() -> None:
    mark = marker("2x").mark("x^2 + (")
    assert (mark.outcome, mark.score) == ("unreadable", None)
    assert "^" in mark.proof
    for text in ("", "   ", "+", "x^2 +* 3", "\x00", "<script>"):
        assert marker("2x").mark(text).outcome in ("unreadable", "incorrect")


def test_json_is_whole() -> None:
    value = marker("1/x").mark("x + C").as_json()
    assert list(value) == ["verdict", "score", "message", "remarks", "slip", "proof", "witness", "read_as"]
    assert set(value["witness"]) == {"point", "response", "wanted", "others"}
    json.dumps(value)


def test_remarks_are_in_the_table() -> None:
    for response in ("ln x", "ln|x|"):
        assert set(remarks("1/x", response)) <= set(REMARKS)


def test_an_answer_that_cannot_be_decided_is_never_marked_wrong() -> None:
    # beyond the exact system's bounds; the numbers agree, and no proof is claimed
    mark = marker("1").mark("x + (sin(x)^2 + cos(x)^2)^900 * ((x+1)^900 - (x+1)^450*(x+1)^450) + C")
    assert mark.outcome in ("correct", "unsettled")


@pytest.mark.parametrize(
    ("integrand", "response", "read_as"),
    [
        # the usual reading of 1/2x is x/2
        ("-1/(2x^2)", "1/2x + C", r"\frac{1}{2x} + C"),
        ("2 sin x cos x", "sin x^2 + C", r"\sin^{2} x + C"),
    ],
)
def test_right_in_the_other_reading(integrand: str, response: str, read_as: str) -> None:
    mark = marker(integrand).mark(response)
    assert (mark.outcome, mark.score) == ("correct", 1.0)
    assert [remark.identifier for remark in mark.remarks] == ["ambiguous-notation"]
    assert mark.remarks[0].sentence == REMARKS["ambiguous-notation"]
    assert mark.read_as == read_as
    assert mark.witness is None


def test_the_usual_reading_is_kept_when_it_is_right_or_all_are_wrong() -> None:
    usual = marker("1/2").mark("1/2x + C")
    assert (usual.outcome, usual.read_as) == ("correct", r"\frac{1}{2}x + C")
    assert REMARKS["ambiguous-notation"] not in [remark.sentence for remark in usual.remarks]
    wrong = marker("x^7").mark("1/2x + C")
    assert (wrong.outcome, wrong.read_as) == ("incorrect", r"\frac{1}{2}x + C")


@pytest.mark.parametrize(
    ("integrand", "response", "letter"),
    [
        ("2x", "t^2 + C", "t"),
        ("sin 2x", "-1/2 cos 2t + C", "t"),
        ("1/(1 + x^2)", "arctan(theta) + k", "theta"),
        ("e^x", "e^u", "u"),
    ],
)
def test_right_in_another_letter(integrand: str, response: str, letter: str) -> None:
    mark = marker(integrand).mark(response)
    assert (mark.outcome, mark.score) == ("incorrect", 0.0)
    assert "other-variable" in [remark.identifier for remark in mark.remarks]
    assert mark.message == f"This would be right in {letter}, but the question is in x."


@pytest.mark.parametrize("response", ["sin X + C", "SIN(X) + C", "sin(X) cos(0) + k"])
def test_a_capital_letter_is_no_other_letter(response: str) -> None:
    mark = marker("cos x").mark(response)
    assert (mark.outcome, mark.score) == ("correct", 1.0)
    assert [remark.identifier for remark in mark.remarks] == ["look-alike"]
    assert r"\sin" in mark.read_as
    assert "X" not in mark.read_as
    assert marker("cos x").mark("tan X + C").outcome == "incorrect"
    assert marker("cos x").mark("x + X").outcome == "incorrect"


def test_an_answer_that_is_said_to_hold_on_a_part_of_the_line_is_not_marked_wrong() -> None:
    assert marker("abs(x)").mark("x^2/2 + C for x > 0").outcome == "unsettled"
    assert marker("1/x").mark("ln x + C, x > 0").outcome == "correct"
    assert marker("abs(x)").mark("x^2/2 + C, x ≠ 0").outcome == "incorrect"
    assert marker("abs(x)").mark("x^2/2 for x ≥ 0, -x^2/2 for x < 0").outcome == "unreadable"


@pytest.mark.parametrize(
    ("integrand", "response"), [("2x", "t^3 + C"), ("2x", "t x"), ("1", "C"), ("2x", "7"), ("a", "a^2/2")]
)
def test_wrong_in_every_letter(integrand: str, response: str) -> None:
    mark = marker(integrand).mark(response)
    assert mark.outcome == "incorrect"
    assert "other-variable" not in [remark.identifier for remark in mark.remarks]


@pytest.mark.parametrize(
    ("integrand", "response", "slip"),
    [
        ("x^3", "x^3", "integrand-handed-back"),
        ("sin(sin x)", "sin(sin x) + C", "integrand-handed-back"),
        ("sin(sin x)", "cos(sin x) cos x", "differentiated-instead"),
        ("e^(x^2)", "2x e^(x^2)", "differentiated-instead"),
        ("2 + 0 sin(sin x)", "0", "differentiated-instead"),
        # as wrong as 0 and differing from it by a constant only, yet not the derivative
        ("2 + 0 sin(sin x)", "7", None),
    ],
)
def test_slips_without_a_technique(integrand: str, response: str, slip: str | None) -> None:
    mark = marker(integrand).mark(response)
    assert mark.outcome == "incorrect"
    assert mark.slip == slip
    assert mark.message


def test_a_broken_technique_costs_the_explanation_only(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(integrand: Expression, _: Symbol) -> None:
        raise UnprovedLineError(integrand, Unsettled(reason="broken on purpose"))

    monkeypatch.setattr("qbank.marking.antiderivative.solve", broken)
    assert marker("x^3").mark("x^4/4 + C").outcome == "correct"
    assert marker("x^3").mark("x^3").slip == "integrand-handed-back"
    assert marker("x^3").mark("4x^4").slip == "off-by-a-factor"


def test_a_factor_lost_below_a_logarithm_is_not_read_away() -> None:
    assert marker("1/x").mark("ln x/2 + C").outcome == "incorrect"
    assert marker("1/(2x)").mark("ln x/2 + C").outcome == "correct"
    assert marker("1/(x^2 + 2x + 5)").mark("1/2 arctan (x + 1)/2 + C").outcome == "correct"


@pytest.mark.parametrize(
    ("response", "outcome"),
    [
        ("x^3/3 * 2 + C = 2x^3/3 + C", "correct"),
        ("∫ 2x^2 dx = 2 x^3/3 + C = (2/3) x^3 + C", "correct"),
        ("2 x^3/3 + C = x^3 + C", "unreadable"),
        ("2 x^3/3 + C = 2", "unreadable"),
        ("x = 2 x^3/3", "unreadable"),
        ("2x^2 = 2 x^3/3 + C", "unreadable"),
    ],
)
def test_several_forms_in_one_line_are_right_when_all_are(response: str, outcome: str) -> None:
    assert marker("2x^2").mark(response).outcome == outcome
