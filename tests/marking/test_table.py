"""Marking a table: every row comes back, in its place, with what was added; an unfinished one is gone on with."""

from __future__ import annotations

import csv
import io
import json

import pytest

from qbank.bank.policy import policy_from
from qbank.marking import MarkedTable, TableError
from qbank.marking.json_lines import JsonLines, JsonLinesText
from qbank.marking.rows import ADDED, Columns
from qbank.marking.spreadsheet import Spreadsheet, SpreadsheetText

PLAIN = Columns(names={})


def table_of(text: str, columns: Columns = PLAIN) -> MarkedTable:
    rows = Spreadsheet(io.StringIO(text, newline=""), columns)
    return MarkedTable(rows, SpreadsheetText(rows.names, rows.delimiter))


def marked(text: str, columns: Columns = PLAIN) -> list[dict[str, str]]:
    lines = b"".join(table_of(text, columns)).decode()
    delimiter = ";" if lines.split("\n", 1)[0].count(";") else ","
    return list(csv.DictReader(io.StringIO(lines, newline=""), delimiter=delimiter))


def test_rows_keep_their_order_and_their_columns() -> None:
    rows = marked(
        "student,integrand,response,note\n"
        'A,"cos(x)^3","sin x - sin^3 x/3 + C",first\n'
        'B,"cos(x)^3","x","with, comma"\n'
        '\nC,"1/x","ln x",\n'
        'D,"1/x","ln (","two\nlines"\n'
    )
    assert [row["student"] for row in rows] == ["A", "B", "C", "D"]
    assert [row["verdict"] for row in rows] == ["correct", "incorrect", "correct", "unreadable"]
    assert [row["score"] for row in rows] == ["1", "0", "1", ""]
    assert rows[2]["remarks"].split() == ["missing-constant", "missing-modulus"]
    assert [row["note"] for row in rows] == ["first", "with, comma", "", "two\nlines"]
    assert list(rows[0]) == ["student", "integrand", "response", "note", *ADDED]


def test_other_variables_limits_domains_and_figures() -> None:
    rows = marked(
        "integrand,response,variable,lower,upper,domain,figures\n"
        "cos t,sin t + C,t,,,,\n"
        "2t,8,t,1,3,,\n"
        "2t,7,t,1,3,,\n"
        "sin(theta),-cos(theta) + C,theta,,,,\n"
        'sqrt(sin(x)^2),-cos(x) + C,,,,"0,pi/2",\n'
        "1/x,0.7,,1,2,,1\n"
        "1/x,0.7,,1,2,,4\n"
    )
    assert [row["verdict"] for row in rows] == [
        "correct",
        "correct",
        "incorrect",
        *["correct"] * 3,
        "incorrect",
    ]


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("(,x,,,,,", "integrand: "),
        ("x,1,,0,,,", "one limit is missing"),
        ("1/x,1,,-1,1,,", "diverges"),
        ("x,1,2+x,,,,", "not one letter"),
        ("x,1,(,,,,", "variable: "),
        ("x,1,,,,0,", "two ends"),
        ("x,1,,0,1,,many", "not a number"),
        # a right answer in t must not be marked in x
        ("cos t,sin t + C,,,,,", "has no x"),
    ],
)
def test_a_question_that_cannot_be_used_says_why(row: str, said: str) -> None:
    table = table_of(f"integrand,response,variable,lower,upper,domain,figures\n{row}\n")
    text = b"".join(table).decode()
    assert said in text
    assert (table.rows, table.unusable, table.verdicts["unsettled"]) == (1, 1, 1)


def test_what_is_required_costs_the_mark() -> None:
    text = "integrand,response\n2x,x^2\n1/x,ln x + C\n2x,sqrt(x)^4 + C\n2x,x^2 + C\n"
    scores = {}
    for require in ((), ("constant",), ("modulus",), ("domain",)):
        policy = policy_from(dict.fromkeys(require, "require"))
        found = marked(text, Columns(names={}, policy=policy))
        assert {row["verdict"] for row in found} == {"correct"}
        scores[require] = [row["score"] for row in found]
    assert scores == {
        (): ["1", "1", "1", "1"],
        ("constant",): ["0", "1", "1", "1"],
        ("modulus",): ["1", "0", "1", "1"],
        ("domain",): ["1", "1", "0", "1"],
    }


def test_short_and_long_rows_lose_nothing() -> None:
    lines = (
        b"".join(table_of("integrand,response,note\n2x,x^2 + C,n,extra,=cells\n2x\n")).decode().splitlines()
    )
    assert lines[1].startswith("2x,x^2 + C,n,correct,")
    assert lines[1].endswith(",extra,'=cells")
    assert lines[2].startswith("2x,,,unreadable,")


@pytest.mark.parametrize("delimiter", [";", "\t", "|"])
def test_other_signs_between_cells_and_a_decimal_comma(delimiter: str) -> None:
    text = "f;Antwort;note\nx;0,5x^2 + C;1,5\n".replace(";", delimiter)
    columns = Columns(names={"integrand": "f", "response": "Antwort"}, decimal=",")
    written = b"".join(table_of(text, columns)).decode().splitlines()
    assert written[1].split(delimiter)[:4] == ["x", "0,5x^2 + C", "1,5", "correct"]


def test_columns_may_have_no_name_or_the_same_one() -> None:
    table = table_of("integrand,response,,,response\n2x,x^2 + C,p,q,wrong\n")
    assert b"2x,x^2 + C,p,q,wrong,correct," in b"".join(table)


@pytest.mark.parametrize("text", ["", "\n\n", "response\nx\n", "integrand\nx\n", "a;b\n1;2\n", '"integrand'])
def test_no_table(text: str) -> None:
    with pytest.raises(TableError, match="missing"):
        table_of(text)


def test_columns_that_are_not_there_or_mean_nothing() -> None:
    with pytest.raises(TableError, match=r"missing: Answer \(found: integrand, response\)"):
        table_of("integrand,response\nx,1\n", Columns(names={"response": "Answer"}))
    with pytest.raises(TableError, match="no meaning 'answer'"):
        Columns(names={"answer": "Answer"})


def test_nothing_that_is_written_is_a_formula() -> None:
    written = marked(
        'integrand,response,note\n"=1+1","=cmd","@x"\nx,"@x","+cmd|\' /C calc\'!A0"\nx,"-x","\t=1"\nx,1,-4.5\n'
    )
    for row in written:
        for name, cell in row.items():
            assert cell[:1] not in ("=", "+", "-", "@", "\t", "\r") or (name, cell) == ("note", "-4.5")


def test_marking_a_marked_table_again_replaces_the_marks() -> None:
    once = b"".join(table_of("integrand,response\n2x,x^2 + C\n-sin x,-cos x\n=x,=x^2/2 + C\n"))
    assert b"'-sin x,'-cos x,incorrect" in once
    assert b"".join(table_of(once.decode())) == once


def lines_of(text: str) -> list[dict[str, object]]:
    table = MarkedTable(JsonLines(io.StringIO(text), PLAIN), JsonLinesText())
    return [json.loads(line) for line in b"".join(table).decode().splitlines()]


def test_json_lines() -> None:
    rows = lines_of(
        '{"student": {"name": "A"}, "integrand": "2x", "response": "x^2", "score": 7}\n\n'
        '{"integrand": "x", "response": 3, "lower": 1, "upper": null}\n'
        '{"integrand": "1", "response": "\\ud800"}\n'
    )
    assert rows[0] == {
        "student": {"name": "A"},
        "integrand": "2x",
        "response": "x^2",
        "verdict": "correct",
        "score": 1.0,
        "remarks": ["missing-constant"],
        "slip": None,
        "proof": "normal form: the derivative of the answer is the integrand",
        "message": "The answer is right up to the constant of integration, which is missing.",
    }
    assert "one limit is missing" in str(rows[1]["message"])
    assert rows[2]["response"] == "\ud800"


@pytest.mark.parametrize(
    "line",
    [
        "x^2",
        "[1]",
        "[" * 100_000,
        '{"integrand": NaN}',
        '{"a": 1e999}',
        '{"integrand": "x"}',
        '"' + "x" * 10**6,
    ],
)
def test_a_line_that_is_no_entry_is_kept(line: str) -> None:
    (row,) = lines_of(line + "\n")
    assert row["verdict"] == "unsettled"
    assert row.get("line") == line or row["integrand"] == "x"


def test_columns_of_one_name_become_members_of_several() -> None:
    rows = Spreadsheet(io.StringIO("integrand,response,note,note\n2x,x^2 + C,a,b,c\n", newline=""), PLAIN)
    (line,) = b"".join(MarkedTable(rows, JsonLinesText())).decode().splitlines()
    members = json.loads(line)
    assert (members["note"], members["note.2"], members["surplus"]) == ("a", "b", "c")


RESPONSES = 'integrand,response,note\n2x,x^2 + C,"two\nlines, ""quoted"""\nx,=x^2,\n1/x,ln|x| + C,"é",beyond\n(,x,\n3,3x,\n'


@pytest.mark.parametrize("written", ["csv", "jsonl"])
def test_an_unfinished_table_is_gone_on_with_wherever_it_was_cut(written: str) -> None:
    def fresh() -> MarkedTable:
        rows = Spreadsheet(io.StringIO(RESPONSES, newline=""), PLAIN)
        return MarkedTable(rows, SpreadsheetText(rows.names) if written == "csv" else JsonLinesText())

    whole = b"".join(fresh())
    ends = [at for at, byte in enumerate(whole) if byte == 10]
    taken = set()
    for cut in sorted({*range(0, len(whole), 40), *ends, *(end + 1 for end in ends)}):
        table = fresh()
        kept = table.take_over(io.StringIO(whole[:cut].decode(errors="replace"), newline=""))
        assert kept <= cut
        assert whole[:kept] + b"".join(table) == whole
        assert (table.rows, table.unusable) == (5, 1)
        taken.add(table.taken_over)
    assert taken == {0, 1, 2, 3, 4, 5}


def test_an_unfinished_table_of_other_responses_is_refused() -> None:
    whole = b"".join(table_of(RESPONSES)).decode()
    for other, said in (
        (RESPONSES.replace("note", "remark"), "other columns"),
        (RESPONSES.replace("1/x,", "2/x,"), "row 3"),
        (RESPONSES.replace("beyond", "behind"), "row 3"),
        ("integrand,response,note\n", "row 1"),
    ):
        with pytest.raises(TableError, match=said):
            table_of(other).take_over(io.StringIO(whole, newline=""))
