"""`qbank mark FILE`: files as they come from spreadsheets, interrupted runs, other processes and machines."""

from __future__ import annotations

import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from qbank.cli import main
from qbank.writers.archive import unfinished

HEAD = "integrand,response,who\n"
ROWS = 'cos(x)^3,"sin x - (sin x)^3/3 + C",Zoë\n2x,x^2,B\n'


def mark(source: Path, out: Path, *options: str) -> Result:
    return CliRunner().invoke(main, ["mark", str(source), "--out", str(out), *options])


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_encodings_are_found(tmp_path: Path, encoding: str) -> None:
    source, out = tmp_path / "responses.csv", tmp_path / "marks.csv"
    source.write_bytes((HEAD + ROWS).replace("\n", "\r\n").encode(encoding))
    result = mark(source, out)
    assert result.exit_code == 0
    assert result.stdout == ""
    assert ("read as cp1252" in result.stderr) == (encoding == "cp1252")
    assert "2 rows marked" in result.stderr
    assert "2 correct" in result.stderr
    assert (
        out.read_text(encoding="utf-8")
        .splitlines()[1]
        .startswith("cos(x)^3,sin x - (sin x)^3/3 + C,Zoë,correct,1,")
    )


def test_an_encoding_and_a_sign_may_be_given(tmp_path: Path) -> None:
    source, out = tmp_path / "r.csv", tmp_path / "m.csv"
    source.write_bytes("integrand~response\nx~½x² + C\n".encode("latin-1"))
    assert mark(source, out, "--encoding", "latin-1", "--delimiter", "~").exit_code == 0
    assert "~correct~" in out.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--column", "response"], "such as response=Answer"),
        (["--column", "answer=response"], "no meaning 'answer'"),
        (["--column", "response=Answer"], "missing: Answer"),
        (["--encoding", "ascii"], "ascii"),
        (["--credit", "constant"], "such as constant=1/2"),
        (["--credit", "constant=2"], "'2' is no share of the marks"),
        (["--encoding", "no-such"], "no-such"),
    ],
)
def test_options_that_do_not_fit(tmp_path: Path, options: list[str], said: str) -> None:
    source, out = tmp_path / "r.csv", tmp_path / "m.csv"
    source.write_text(HEAD + ROWS, encoding="utf-8")
    result = mark(source, out, *options)
    assert result.exit_code == 2
    assert said in result.stderr
    assert not out.exists()


def test_json_lines_stay_json_lines(tmp_path: Path) -> None:
    source = tmp_path / "r.jsonl"
    source.write_text('{"integrand": "2x", "response": "x^2 + C"}\n', encoding="utf-8")
    assert mark(source, tmp_path / "m.jsonl").exit_code == 0
    assert '"verdict": "correct"' in (tmp_path / "m.jsonl").read_text(encoding="utf-8")
    refused = mark(source, tmp_path / "m.csv")
    assert refused.exit_code == 2
    assert "end --out in .jsonl" in refused.stderr


def test_a_decimal_comma(tmp_path: Path) -> None:
    source, out = tmp_path / "r.csv", tmp_path / "m.csv"
    source.write_text("integrand;response\nx;0,5x^2 + C\n", encoding="utf-8")
    assert mark(source, out, "--decimal", "comma").exit_code == 0
    assert ";correct;" in out.read_text(encoding="utf-8")
    one = CliRunner().invoke(main, ["mark", "--integrand", "x", "0,5x^2 + C", "--decimal", "comma"])
    assert one.stdout.startswith("correct")


def test_a_killed_run_is_gone_on_with(tmp_path: Path) -> None:
    """The process is killed outright in the middle; what it had written is not marked again."""
    source, out = tmp_path / "r.csv", tmp_path / "m.csv"
    rows = [f"{n}x,{n}x^2/2 + C\n" for n in range(1, 1201)]
    source.write_text("integrand,response\n" + "".join(rows), encoding="utf-8")
    command = [sys.executable, "-m", "qbank", "mark", str(source), "--out", str(out)]
    running = subprocess.Popen(command, stderr=subprocess.DEVNULL)
    part = unfinished(out)
    for _ in range(2000):
        if part.exists() and part.stat().st_size > 10_000:
            break
        time.sleep(0.01)
    running.send_signal(signal.SIGKILL)
    running.wait()
    assert part.exists()
    assert not out.exists()

    refused = mark(source, out)
    assert refused.exit_code == 2
    assert "--resume goes on with it" in refused.stderr

    result = mark(source, out, "--resume", "--workers", "2")
    assert result.exit_code == 0
    assert "1200 rows marked" in result.stderr
    assert int(result.stderr.split(" of them before")[0].rsplit(", ", 1)[1]) >= 100
    written = out.read_text(encoding="utf-8").splitlines()
    assert [line.split(",")[0] for line in written[1:]] == [f"{n}x" for n in range(1, 1201)]
    assert all(",correct,1," in line for line in written[1:])
    assert not part.exists()


def test_nothing_to_go_on_with_is_no_fault(tmp_path: Path) -> None:
    source, out = tmp_path / "r.csv", tmp_path / "m.csv"
    source.write_text(HEAD + ROWS, encoding="utf-8")
    assert mark(source, out, "--resume").exit_code == 0
    unfinished(out).write_text("something else\n", encoding="utf-8")
    refused = mark(source, out, "--resume", "--force")
    assert refused.exit_code == 2
    assert "other columns" in refused.stderr
    assert mark(source, out, "--force").exit_code == 0


def test_an_interruption_says_how_to_go_on(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    source, out = tmp_path / "r.csv", tmp_path / "m.csv"
    source.write_text(HEAD + ROWS, encoding="utf-8")
    monkeypatch.setattr("qbank.marking.running.mark_entry", interrupted)
    result = mark(source, out)
    assert result.exit_code == 2
    assert "--resume goes on with it" in result.stderr


def test_the_folder_cannot_be_written(tmp_path: Path) -> None:
    source = tmp_path / "r.csv"
    source.write_text(HEAD + ROWS, encoding="utf-8")
    result = mark(source, source / "m.csv")
    assert result.exit_code == 2
    assert "cannot be written" in result.stderr
