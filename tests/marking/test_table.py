"""Marking a table: every row comes back, in order, with what was added."""

from __future__ import annotations

import csv
import io

import pytest

from qbank.marking import MarkedTable, TableError
from qbank.marking.table import ADDED


def marked(text: str) -> tuple[MarkedTable, list[dict[str, str]]]:
    table = MarkedTable(io.StringIO(text, newline=""))
    lines = "".join(table)
    return table, list(csv.DictReader(io.StringIO(lines, newline="")))


def test_rows_keep_their_order_and_their_columns() -> None:
    table, rows = marked(
        "student,integrand,response,note\n"
        'A,"cos(x)^3","sin x - sin^3 x/3 + C",first\n'
        'B,"cos(x)^3","x","with, comma"\n'
        'C,"1/x","ln x",\n'
        'D,"1/x","ln (",x\n'
    )
    assert [row["student"] for row in rows] == ["A", "B", "C", "D"]
    assert [row["verdict"] for row in rows] == ["correct", "incorrect", "correct", "unreadable"]
    assert [row["score"] for row in rows] == ["1", "0", "1", ""]
    assert rows[2]["remarks"].split() == ["missing-constant", "missing-modulus"]
    assert rows[1]["note"] == "with, comma"
    assert list(rows[0]) == ["student", "integrand", "response", "note", *ADDED]
    assert (table.rows, table.unusable) == (4, 0)


def test_other_variables_and_limits() -> None:
    _, rows = marked(
        "integrand,response,variable,lower,upper\n"
        "cos t,sin t + C,t,,\n"
        "2t,8,t,1,3\n"
        "2t,7,t,1,3\n"
        "sin(theta),-cos(theta) + C,theta,,\n"
    )
    assert [row["verdict"] for row in rows] == ["correct", "correct", "incorrect", "correct"]


def test_bad_rows_are_rows() -> None:
    table, rows = marked("integrand,response,lower,upper\n(,x,,\nx,1,0,\n1/x,1,-1,1\nx\n,x,,\n")
    assert len(rows) == 5
    assert table.unusable == 4
    assert "cannot be used" in rows[0]["message"]
    assert "one limit is missing" in rows[1]["message"]
    assert rows[3]["verdict"] == "unreadable"


def test_cells_beyond_the_header_lose_nothing_else() -> None:
    _, rows = marked("integrand,response\n2x,x^2 + C,extra,cells\n")
    assert rows[0]["verdict"] == "correct"


@pytest.mark.parametrize("text", ["", "response\nx\n", "integrand\nx\n", "a;b\n1;2\n"])
def test_no_table(text: str) -> None:
    with pytest.raises(TableError, match="missing"):
        MarkedTable(io.StringIO(text, newline=""))


def test_nothing_that_is_added_is_a_formula() -> None:
    _, rows = marked('integrand,response\n"=1+1","=cmd"\nx,"@x"\nx,"-x"\n')
    for row in rows:
        for name in ADDED:
            assert row[name][:1] not in ("=", "+", "-", "@")


def test_marking_a_marked_table_again_replaces_the_marks() -> None:
    _, once = marked("integrand,response\n2x,x^2 + C\n")
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, list(once[0]))
    writer.writeheader()
    writer.writerows(once)
    _, twice = marked(text.getvalue())
    assert twice == once
