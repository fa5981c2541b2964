"""Items of QTI 1.2 read back and proved: sound packages of every kind, and each fault found in words."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from qbank.bank.loading import parse_bank
from qbank.items.decking import deal
from qbank.maths.quadrature import Enclosed
from qbank.packages.conditions import score
from qbank.packages.parsing import XmlError, parse
from qbank.packages.processing import ProcessingError
from qbank.packages.proving import prove
from qbank.packages.qti12_items import read_qti12_item
from qbank.packages.question import QuestionError
from qbank.packages.spelled import read_spelled, spelling_problems
from qbank.packages.verifying import UNREAD, verify
from qbank.writers import WRITERS, Options, save
from tests.packages.sample import BANK, FORMS, members, zipped
from tests.packages.test_verifying import rows

SEVERAL = BANK.replace("[choice, free-expression]", "[choice, free-expression, several-answers]")
PLAIN, TESTS = ("qti12", Options()), ("cc", Options(purpose="assessment"))
CARTRIDGE = ("cc", Options(purpose="bank"))
TEX = ("cc", Options(purpose="bank", math="tex"))

#: (items, proved, agreeing, refuted, faulty) of a clone of each form
SOUND = {
    "choice, antiderivative": (1, 1, 0, 3, 0),
    "free expression, antiderivative": (1, 1, 0, 0, 0),
    "several answers, antiderivative": (1, 3, 0, 3, 0),
    "numeric, definite integral": (2, 2, 0, 0, 0),
    "choice, definite integral": (1, 0, 1, 3, 0),
}


@cache
def parts_of(bank: str, count: int, name: str, options: Options) -> dict[str, bytes]:
    import tempfile

    deck = deal(parse_bank(bank.encode(), "a.yaml"), count=count, seed=1, file=("a.yaml", bank.encode()))
    with tempfile.TemporaryDirectory() as folder:
        return members(save(WRITERS[name], deck, Path(folder) / "p.zip", options=options))


@pytest.mark.parametrize(("name", "options"), [PLAIN, TESTS, TEX])
def test_every_kind_of_item_is_proved(name: str, options: Options, tmp_path: Path) -> None:
    seen: list[None] = []
    package = zipped(tmp_path / "a.zip", parts_of(SEVERAL, 3, name, options))
    report = verify(package, watch=lambda: seen.append(None))
    assert report.problems == []
    assert report.format == "QTI 1.2"
    assert report.source
    assert rows(report) == SOUND
    assert len(seen) == 6


@pytest.mark.parametrize(("name", "options"), [PLAIN, TEX])
def test_coefficients_are_proved_from_the_worked_solution(
    name: str, options: Options, tmp_path: Path
) -> None:
    report = verify(zipped(tmp_path / "a.zip", parts_of(FORMS, 1, name, options)))
    assert report.problems == []
    assert rows(report) == {"coefficients, antiderivative": (3, 3, 0, 0, 0)}


# ---- faults, each made by a change of one item


@cache
def item_of(form: str, sort: str) -> str:
    """The first item of a form, as it stands in its document."""
    name, options = PLAIN if sort == "plain" else CARTRIDGE
    bank, count = (FORMS, 1) if form == "coefficients" else (SEVERAL, 3)
    member = "questions.xml" if sort == "plain" else "bank.xml"
    text = parts_of(bank, count, name, options)[member].decode()
    found = re.search(rf'<item ident="[^"]*-{form}".*?</item>', text, re.DOTALL)
    assert found is not None
    return found[0]


def problems(form: str, change: Callable[[str], str], sort: str = "plain") -> str:
    """What is found wrong with an item after a change."""
    before = item_of(form, sort)
    after = change(before)
    assert after != before, "the change changes nothing"
    try:
        question = read_qti12_item(parse(after.encode()), lambda _: None)
    except (QuestionError, XmlError) as problem:
        return str(problem)
    return "\n".join(prove(question).problems)


def replaced(old: str, new: str, count: int = 1) -> Callable[[str], str]:
    return lambda text: re.sub(old, new, text, count=count, flags=re.DOTALL)


def key_moved(text: str) -> str:
    """Another option scores, and the key does not: the worst fault."""
    names = re.findall(r'<response_label ident="([^"]*)"', text)
    score_of = re.search(r">([^<]*)</varequal>\s*</conditionvar>\s*<setvar", text)
    assert score_of is not None
    key = score_of[1]
    other = next(name for name in names if name != key)
    swapped = {key: other, other: key}
    return re.sub(
        r">([^<>]*)</varequal>", lambda found: f">{swapped.get(found[1], found[1])}</varequal>", text
    )


def second_key(text: str) -> str:
    """The key is offered a second time in place of a wrong option, which scores nothing."""
    labels = re.findall(r'<response_label ident="[^"]*">(.*?)</response_label>', text, re.DOTALL)
    names = re.findall(r'<response_label ident="([^"]*)">', text)
    score_of = re.search(r">([^<]*)</varequal>\s*</conditionvar>\s*<setvar", text)
    assert score_of is not None
    key = names.index(score_of[1])
    return text.replace(labels[key - 1], labels[key])


_SETVAR = r'<setvar action="Set" varname="SCORE">[^<]*</setvar>'
_OTHER = r"<other></other>\s*</conditionvar>"
_SPELLING = r"(<varequal[^>]*>)[-0-9.,\u2212]+(</varequal>\s*</conditionvar>\s*<setvar)"

FAULTS = [
    ("the key moved", "choice", key_moved, "is wrong: at x = "),
    ("the key twice", "choice", second_key, "is right, but scores nothing"),
    ("nothing scores", "choice", replaced(_SETVAR, ""), "not exactly one option that scores"),
    ("a part scores", "choice", replaced(r'(varname="SCORE">)3<', r"\g<1>2<"), "neither full marks nor nothing"),
    ("another action", "choice", replaced('action="Set"', 'action="Multiply"'), "'Multiply' is not known"),
    ("another variable", "choice", replaced('<setvar action="Set" varname="SCORE"', '<setvar action="Set" varname="X"'), "another variable"),
    ("another test", "choice", replaced("varequal", "vargte", 2), "the test vargte is not known"),
    ("two tests", "choice", replaced("<conditionvar>", "<conditionvar><other/>"), "one test"),
    ("no processing", "choice", replaced("<resprocessing>.*</resprocessing>", ""), "one score is declared"),
    ("no score", "choice", replaced("<decvar.*?</decvar>", ""), "one score is declared"),
    ("less than nothing", "choice", replaced('minvalue="0"', 'minvalue="-1"'), "from 0 to the full marks"),
    ("an option less", "choice", replaced(r"<response_label.*?</response_label>", ""), "not offered"),
    ("one name for two", "choice", replaced(r'(<response_label ident=")([^"]*)(".*?<response_label ident=")[^"]*', r"\1\2\3\2"), "same identifier"),
    ("no formula in an option", "choice", replaced(r"(<response_label.*?)&lt;math.*?/math&gt;", r"\1"), "shows one expression"),
    ("another integrand", "choice", replaced(r"(∫.*?&lt;mn&gt;)\d", r"\g<1>9"), "is wrong: at x = "),
    ("no integral", "choice", replaced(r"(<presentation>.*?)&lt;math.*?/math&gt;", r"\1"), "shows 0 integrals"),
    ("not HTML", "choice", replaced("text/html", "text/plain"), "not HTML"),
    ("broken HTML", "choice", replaced("&lt;p ", "&lt;q "), "not well formed"),
    ("a document type", "choice", replaced("&lt;p ", "&lt;!DOCTYPE p&gt;&lt;p "), "document type"),
    ("no presentation", "choice", replaced("<presentation>.*</presentation>", ""), "one presentation"),
    ("no response", "choice", replaced("<response_lid.*</response_lid>", ""), "0 responses"),
    ("a wrong spelling", "numeric", replaced(_SPELLING, r"\g<1>7.77\2"), "numbers score that are not"),
    ("no right spelling", "numeric", replaced(_SPELLING, r"\g<1>7.77\2", 99), "is not among the numbers"),
    ("a word", "numeric", replaced(_SPELLING, r"\1one\2"), "no decimal number|not a decimal number"),
    ("nothing but a sign", "numeric", replaced(_SPELLING, r"\1-\2"), "not a decimal number"),
    ("a right one refused", "numeric", replaced(_SETVAR, ""), "does not score"),
    ("no number scores", "numeric", replaced(_SETVAR, "", 99), "no number scores"),
    ("anything scores", "numeric", replaced(_OTHER, r'\g<0><setvar action="Set" varname="SCORE">1</setvar>'), "or nothing scores"),
    ("another accuracy", "numeric", replaced("correct to 3", "correct to 9"), "is not among the numbers"),
    ("no accuracy", "numeric", replaced("correct to 3 significant figures", "correct"), "to how many figures"),
    ("an essay that scores", "free-expression", replaced(_OTHER, r'\g<0><setvar action="Set" varname="SCORE">3</setvar>'), "nobody has read"),
    ("another answer", "free-expression", replaced(r"(One right answer is .*?&lt;mn&gt;)\d", r"\g<1>7"), "the answer given is wrong"),
    ("no notes", "free-expression", replaced(r"One right answer is .*?&lt;/p&gt;", "&lt;/p&gt;"), "shown no answer"),
    ("no solution", "free-expression", replaced("<solution>.*</solution>", ""), "no worked solution"),
    ("another coefficient", "coefficients", replaced(r"(.*So .*?&lt;mn&gt;)\d+", r"\g<1>77"), "is wrong, but scores full marks"),
    ("no coefficients", "coefficients", replaced(r"(.*)&lt;p lang=\"en-GB\"&gt;So .*?&lt;/p&gt;", r"\1"), "shown no coefficients|cannot be read"),
    ("one of several", "several-answers", replaced(r'("Add" varname="SCORE">)1<', r"\g<1>2<"), "do not score their shares"),
]  # fmt: skip


@pytest.mark.parametrize(("form", "change", "why"), [f[1:] for f in FAULTS], ids=[f[0] for f in FAULTS])
def test_a_fault_is_found(form: str, change: Callable[[str], str], why: str) -> None:
    assert re.search(why, problems(form, change))


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (replaced("<and>.*?</and>", "<other/>"), "at least two"),
        (replaced(r"<not>\s*<varequal[^>]*>[^<]*</varequal>\s*</not>", ""), "not exactly one set"),
        (replaced(r"<not>\s*(<varequal[^>]*>[^<]*</varequal>)\s*</not>", r"\1"), "is wrong"),
        (replaced(r"(<and>\s*<varequal[^>]*>)[^<]*", r"\1Z"), "not offered"),
    ],
)
def test_a_fault_of_several_answers_in_a_cartridge(change: Callable[[str], str], why: str) -> None:
    assert re.search(why, problems("several-answers", change, "cartridge"))


def test_one_identifier_for_two_items(tmp_path: Path) -> None:
    parts = dict(parts_of(SEVERAL, 3, *PLAIN))
    names = re.findall(r'<item ident="([^"]*)"', parts["questions.xml"].decode())
    parts["questions.xml"] = parts["questions.xml"].replace(
        f'"{names[0]}"'.encode(), f'"{names[1]}"'.encode()
    )
    report = verify(zipped(tmp_path / "a.zip", parts))
    assert "another item has the same identifier" in "\n".join(map(str, report.problems))


def test_an_item_that_cannot_be_read_counts(tmp_path: Path) -> None:
    parts = dict(parts_of(SEVERAL, 3, *PLAIN))
    parts["questions.xml"] = parts["questions.xml"].replace(b"text/html", b"text/plain", 1)
    report = verify(zipped(tmp_path / "a.zip", parts))
    assert rows(report)[UNREAD] == (1, 0, 0, 0, 1)
    assert "what is shown is not HTML" in "\n".join(map(str, report.problems))


# ---- the processing by itself


def item(conditions: str) -> str:
    head = '<item><resprocessing><outcomes><decvar varname="SCORE" minvalue="0" maxvalue="3"/></outcomes>'
    return f"{head}{conditions}</resprocessing></item>"


def condition(test: str, action: str, value: str, more: str = "Yes") -> str:
    setting = f'<setvar action="{action}" varname="SCORE">{value}</setvar>'
    return f'<respcondition continue="{more}"><conditionvar>{test}</conditionvar>{setting}</respcondition>'


A, B = ('<varequal respident="RESPONSE">A</varequal>', '<varequal respident="RESPONSE">B</varequal>')


@pytest.mark.parametrize(
    ("conditions", "given", "wanted"),
    [
        (condition(A, "Set", "3", "No") + condition("<other/>", "Set", "1"), {"A"}, 3),
        (condition(A, "Set", "3", "No") + condition("<other/>", "Set", "1"), set(), 1),
        (condition(A, "Add", "1") + condition(B, "Add", "2"), {"A", "B"}, 3),
        (condition(A, "Add", "2") + condition(B, "Subtract", "1"), {"A", "B"}, 1),
        (condition(f"<and>{A}<not>{B}</not></and>", "Set", "3"), {"A"}, 3),
        (condition(f"<and>{A}<not>{B}</not></and>", "Set", "3"), {"A", "B"}, 0),
    ],
)
def test_conditions_in_order(conditions: str, given: set[str], wanted: int) -> None:
    assert score(parse(item(conditions).encode()), frozenset(given)) == wanted


def test_a_score_that_readers_may_bound_in_two_ways_is_refused() -> None:
    root = parse(item(condition(A, "Subtract", "1") + condition(B, "Add", "2")).encode())
    with pytest.raises(ProcessingError, match="kept within its bounds"):
        score(root, frozenset({"A", "B"}))


def test_numbers_are_read_in_every_spelling() -> None:
    found = read_spelled(
        "correct to 2 significant figures", ["0,50", "\u2212.5", "-12", "7."], lambda text: text != "7."
    )
    assert (found.right, found.wrong) == ((Fraction(1, 2), Fraction(-1, 2), Fraction(-12)), (Fraction(7),))


def test_a_value_on_the_border_of_rounding_is_not_called_proved() -> None:
    value = Enclosed(lower=Fraction(12, 100), upper=Fraction(13, 100), digits_text="0.1")
    spelled = read_spelled("correct to 2 significant figures", ["0.12"], lambda _: True)
    assert spelling_problems(spelled, value) == ("the value is not known well enough to be rounded",)


def test_too_many_spellings() -> None:
    with pytest.raises(QuestionError, match="too many"):
        read_spelled("correct to 2 significant figures", map(str, range(500)), lambda _: True)
