"""Arguments that several commands share, and how unusable input is reported: on standard error, with exit code 2."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import NoReturn

import click

from qbank.bank.loading import parse_bank, read_bank_file
from qbank.bank.model import Assessment, Bank, Template
from qbank.bank.problem import BankError
from qbank.maths.expression import Expression, Symbol
from qbank.maths.reading import ReadingError, read

__all__ = [
    "MATHEMATICS",
    "SHIPPED",
    "bank_argument",
    "fail",
    "find_template",
    "find_test",
    "open_bank",
    "open_bank_file",
    "read_argument",
    "refuse_mathematics",
]

#: the bank that comes with the package, used when none is named
SHIPPED = "saltmarrow-integration.yaml"

#: for commands whose argument is mathematics, which may begin with a minus sign; no option has a short name
MATHEMATICS = {"ignore_unknown_options": True}


def shipped_bank(_context: click.Context, _parameter: click.Parameter, path: Path | None) -> Path | None:
    """The file of a bank that comes with the package, when its identifier was given in place of a path."""
    if path is None or path.exists() or path.name != str(path):
        return path
    shipped = Path(str(files("qbank.bank") / "library" / f"{path.name}.yaml"))
    return shipped if shipped.is_file() else path


bank_argument = click.argument(
    "bank",
    required=False,
    type=click.Path(dir_okay=False, path_type=Path),
    callback=shipped_bank,
)


def fail(message: str) -> NoReturn:
    """Say why the input cannot be used, and leave with exit code 2."""
    click.echo(message, err=True)
    raise SystemExit(2)


def open_bank(path: Path | None) -> Bank:
    """The bank at a path, or the shipped one; leaves with every problem listed when it has any."""
    return open_bank_file(path)[0]


def open_bank_file(path: Path | None) -> tuple[Bank, bytes]:
    """The same with the bytes of the file, which is read once."""
    try:
        if path is not None:
            content = read_bank_file(path)
            return parse_bank(content, str(path)), content
        content = (files("qbank.bank") / "library" / SHIPPED).read_bytes()
        return parse_bank(content, SHIPPED), content
    except BankError as error:
        count = len(error.problems)
        fail(f"{error}\n{count} problem{'s' if count > 1 else ''}")


def find_template(bank: Bank, identifier: str) -> Template:
    """A template by name; leaves with the nearest names when there is none."""
    _insist("template", identifier, [template.identifier for template in bank.templates])
    return bank.template(identifier)


def find_test(bank: Bank, identifier: str) -> Assessment:
    """A test by name; leaves with the nearest names when there is none."""
    tests = {test.identifier: test for test in bank.tests}
    _insist("test", identifier, list(tests))
    return tests[identifier]


def _insist(what: str, identifier: str, names: list[str]) -> None:
    import difflib

    if identifier not in names:
        near = difflib.get_close_matches(identifier, names, 3, 0.4) or names or ["none"]
        fail(f"the bank has no {what} {identifier!r}; it has " + ", ".join(near))


def read_argument(text: str, what: str, variable: Symbol) -> Expression:
    """Mathematics given on the command line; leaves with a caret line when it cannot be read."""
    try:
        return read(text, variable=variable).tree
    except ReadingError as error:
        refuse_mathematics(f"{what}: {error.message}", error)


def refuse_mathematics(message: str, error: ReadingError) -> NoReturn:
    """Say what could not be read, with a caret under the place, and leave."""
    hint = f"\nhint: {error.hint}" if error.hint else ""
    fail(f"{message}\n{error.caret()}{hint}")
