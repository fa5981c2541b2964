"""A way in a bank and in marking: named by a template, refused where it does not fit, its slips told to students."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from qbank.bank.loading import parse_bank
from qbank.bank.problem import BankError
from qbank.items.checking import check_template
from qbank.marking.definite import DefiniteMarker
from qbank.techniques import TECHNIQUES
from qbank.techniques.definites.antiderivative import ANTIDERIVATIVE
from qbank.techniques.definites.choosing import WAYS
from tests.techniques.definites.evaluating import X, tree

SHIPPED = Path(__file__).parents[3] / "qbank" / "bank" / "library" / "saltmarrow-definite.yaml"
TEXT = SHIPPED.read_text(encoding="utf-8")


def test_a_way_is_for_definite_integrals_only() -> None:
    with pytest.raises(BankError) as found:
        parse_bank(TEXT.replace("    task: definite\n", "", 1).encode(), "bank.yaml")
    assert {"unknown-technique"} <= {problem.code for problem in found.value.problems}


def test_a_way_that_does_not_fit_is_a_problem() -> None:
    changed = TEXT.replace("integrand: p x^3 + q x\n", "integrand: p x^3 + q x^2\n")
    bank = parse_bank(changed.encode(), "bank.yaml")
    report = check_template(bank, bank.template("odd-over-symmetric-interval"), sample=2, seed=1)
    assert any("odd-symmetry does not fit" in problem for problem in report.problems)


def test_the_slips_of_the_ways_have_names_of_their_own() -> None:
    names = Counter(slip.identifier for way in WAYS for slip in {s.identifier: s for s in way.slips}.values())
    shared = {
        "even-not-doubled",
        "doubled-without-halving-the-interval",
        "even-called-odd",
        "left-half-taken-negative",
    }
    assert {
        name for name, count in names.items() if count > 1
    } == shared  # of even integrands, and of even terms
    assert not set(names) & {slip.identifier for technique in TECHNIQUES for slip in technique.slips}
    for way in WAYS:
        if way is ANTIDERIVATIVE:  # its slips are those of the techniques
            continue
        assert len(way.slips) >= 4, way.identifier


def test_an_exact_response_to_what_only_a_reflection_evaluates() -> None:
    marker = DefiniteMarker(tree("sin(x)^5/(sin(x)^5+cos(x)^5)"), X, tree("0"), tree("pi/2"))
    assert marker.mark("pi/4").outcome == "correct"
    assert marker.mark("0.785").outcome == "correct"
    wrong = marker.mark("pi/2")
    assert (wrong.outcome, wrong.slip) == ("incorrect", "reflection-not-halved")
    assert "halve it" in wrong.message


def test_infinite_limits_are_marked_exactly() -> None:
    marker = DefiniteMarker(tree("1/(x^2+1)"), X, tree("1"), tree("infinity"))
    assert marker.mark("pi/4").outcome == "correct"
    assert marker.mark("3pi/4").slip == "sign-of-other-end"
