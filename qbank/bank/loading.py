"""From the bytes of a bank file to a checked `Bank`: every problem found in one run.

    read_source  ->  schema_problems  ->  mathematics and names, template by template  ->  Bank

The bank is returned only when there is no problem at all, so nothing of it is ever silently left out.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from qbank.bank.assessment_loading import AssessmentBuilder
from qbank.bank.matching_loading import strangers
from qbank.bank.model import Bank, Template
from qbank.bank.problem import BankError, Place, Problem
from qbank.bank.schema import schema_problems
from qbank.bank.source import Source, pointer_to, read_source
from qbank.bank.template_loading import TemplateBuilder
from qbank.maths.conventions import Conventions

__all__ = ["load_bank", "parse_bank", "read_bank_file"]


def load_bank(path: Path) -> Bank:
    """Read and check a bank file.

    Args:
        path: a YAML or JSON file.

    Raises:
        BankError: the file cannot be read or has problems; all of them are in it.
    """
    return parse_bank(read_bank_file(path), str(path))


def read_bank_file(path: Path) -> bytes:
    """The bytes of a bank file, not yet looked at.

    Raises:
        BankError: the file cannot be read.
    """
    try:
        return path.read_bytes()
    except OSError as error:
        problem = Problem(
            file=str(path),
            place=Place(1, 1),
            pointer="",
            code="no-file",
            message=f"cannot be read: {error.strerror or error}",
            hint="check the name and whether you may read it",
        )
        raise BankError((problem,)) from error


def parse_bank(content: bytes, file: str) -> Bank:
    """Check the bytes of a bank file and build the bank.

    Args:
        content: UTF-8 text in YAML, or in JSON when `file` ends in `.json`.
        file: the file's name, for messages.

    Raises:
        BankError: there are problems; all of them are in it.
    """
    source = read_source(content, file)
    problems = schema_problems(source)
    if problems:
        # the shape is wrong somewhere: what stands inside cannot be trusted to be there
        raise BankError(problems)
    return _Builder(source).bank()


class _Builder:
    """Builds a bank from values of the right shape, gathering problems on the way; used once."""

    def __init__(self, source: Source) -> None:
        self._source = source
        self._problems: list[Problem] = []
        self._conventions = Conventions(**source.data.get("notation", {}), language=source.data["language"])

    def bank(self) -> Bank:
        data = self._source.data
        built = [
            TemplateBuilder(self._source, self._problems, self._conventions, index, raw).template()
            for index, raw in enumerate(data["templates"])
        ]
        self._unique_identifiers("templates")
        self._named_templates(built)
        self._unique_identifiers("tests")
        # a template with a fault of its own is known by name all the same: tests that name it are not blamed for it
        tests = [
            AssessmentBuilder(self._source, self._problems, built, index).assessment()
            for index, _ in enumerate(data.get("tests", ()))
        ]
        if self._problems:
            raise BankError(tuple(self._problems))
        return Bank(
            identifier=data["identifier"],
            title=data["title"],
            description=data.get("description", ""),
            language=data["language"],
            licence=data["licence"],
            authors=tuple(data.get("authors", ())),
            version=data["version"],
            conventions=self._conventions,
            templates=tuple(template for template in built if template is not None),
            tests=tuple(tests),
        )

    def _named_templates(self, built: list[Template | None]) -> None:
        """Templates that others name; only looked at when all of them are sound."""
        sound = [template for template in built if template is not None]
        for index, template in enumerate(built if len(sound) == len(built) else ()):
            for path, code, message, hint in strangers(template, sound) if template is not None else ():
                where = pointer_to("templates", index, *path)
                self._problems.append(self._source.problem(where, code, message, hint))

    def _unique_identifiers(self, group: str) -> None:
        seen: dict[str, int] = {}
        entries: list[dict[str, Any]] = self._source.data.get(group, [])
        for index, raw in enumerate(entries):
            name = raw["identifier"]
            if name in seen:
                where = pointer_to(group, index, "identifier")
                message = f"{group.removesuffix('s')} {name!r} stands here a second time"
                self._problems.append(
                    self._source.problem(where, "repeated-identifier", message, "give it another name")
                )
            seen[name] = index
