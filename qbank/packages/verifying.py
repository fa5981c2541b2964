"""A package verified: its structure, and the key of every item proved again from the item itself.

Items are read and let go one at a time, so that a large package needs little memory.
"""

from __future__ import annotations

import posixpath
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from qbank.packages.document import document_problems, read_entry, read_json
from qbank.packages.finding import Finding
from qbank.packages.items import read_item
from qbank.packages.manifest import MANIFEST, manifest_problems, read_manifest
from qbank.packages.opening import Package, PackageError, is_zip, read_document
from qbank.packages.parsing import Element, XmlError, attribute, inside, kind, parse
from qbank.packages.pictures import Gallery
from qbank.packages.problem import Problem
from qbank.packages.proving import prove
from qbank.packages.qti12_items import read_qti12_item
from qbank.packages.question import Question, QuestionError
from qbank.packages.recovering import source_in, source_of
from qbank.packages.schemas import Schemas
from qbank.packages.structure import QTI, assessment_problems, item_problems, unnamed_problems
from qbank.writers.origin import DRAW_PATH

__all__ = ["Report", "Row", "verify"]

#: what stands for the root of a cartridge in an address, by the rules of its profile (from memory)
_ROOT = "$IMS-CC-FILEBASE$/"
#: how the row of items that could not be read is called
UNREAD = "not read back"


@dataclass(slots=True, kw_only=True)
class Row:
    """What was found out about the items of one kind.

    Attributes:
        items: how many there are.
        proved: keys proved.
        agreeing: keys that agree with quadrature to many digits.
        refuted: wrong options refuted.
        faulty: items with a problem.
    """

    items: int = 0
    proved: int = 0
    agreeing: int = 0
    refuted: int = 0
    faulty: int = 0


@dataclass(slots=True, kw_only=True)
class Report:
    """What a verification found.

    Attributes:
        format: the kind of package, for people.
        rows: for each kind of item, in the order of their first appearance.
        problems: everything that is wrong, in the order in which it was found.
        source: whether it carries the bank that it was made from, undamaged.
        validated: how many documents were checked against schemas.
    """

    format: str
    rows: dict[str, Row] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    source: bool = False
    validated: int = 0

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong."""
        return not self.problems

    def add(self, row: str, finding: Finding, place: str, others: int = 0) -> None:
        """Count an item.

        Args:
            row: its kind.
            finding: what was found about its key.
            place: where it lies.
            others: how many problems it has besides.
        """
        into = self.rows.setdefault(row, Row())
        into.items += 1
        into.proved += finding.proved
        into.agreeing += finding.agreeing
        into.refuted += finding.refuted
        into.faulty += bool(finding.problems or others)
        self.problems += [Problem(place, message) for message in finding.problems]


def verify(
    path: Path, *, schemas: Schemas | None = None, watch: Callable[[], object] = lambda: None
) -> Report:
    """Verify a package.

    Args:
        path: a zip or a JSON document.
        schemas: the official schemas, when the user has them.
        watch: called after each item, for a progress display.

    Raises:
        PackageError: the file cannot be used at all.
    """
    if is_zip(path):
        with Package(path) as package:
            return _Verification(package, schemas, watch).report()
    value = read_json(read_document(path))
    report = Report(format="generic JSON")
    report.problems += document_problems(value)
    if report.sound:
        _see_source(report, "/source", lambda: source_of(value))
        for entry in value["items"]:
            _count(report, lambda entry=entry: read_entry(entry), entry["identifier"])  # type: ignore[misc]
            watch()
        if not report.rows:
            report.problems.append(Problem("/items", "there are no items"))
    return report


def _see_source(report: Report, place: str, read: Callable[[], object]) -> None:
    try:
        report.source = read() is not None
    except PackageError as problem:
        report.problems.append(Problem(place, str(problem)))


def _count(report: Report, read: Callable[[], Question], place: str, others: int = 0) -> None:
    try:
        question = read()
    except QuestionError as problem:
        report.add(UNREAD, Finding(problems=(str(problem),)), place, others)
        return
    report.add(question.kind, prove(question), place, others)


class _Verification:
    """One pass over the members of a package."""

    def __init__(self, package: Package, schemas: Schemas | None, watch: Callable[[], object]) -> None:
        self._package = package
        self._gallery = Gallery(package.read)
        self._schemas = schemas
        self._watch = watch
        if MANIFEST not in package:
            raise PackageError(f"it has no {MANIFEST} at its root")
        root = self._parsed(MANIFEST)
        if root is None or kind(root) != "manifest":
            raise PackageError(f"{MANIFEST} is not a manifest")
        self._manifest = read_manifest(root)
        self._report = Report(format="package")
        self._validate(MANIFEST, root)

    def _parsed(self, member: str) -> Element | None:
        try:
            return parse(self._package.read(member))
        except XmlError as problem:
            if member == MANIFEST:
                raise PackageError(f"{MANIFEST}: {problem}") from problem
            self._report.problems.append(Problem(f"{member}:{problem.line}", str(problem)))
            return None

    def report(self) -> Report:
        report = self._report
        report.problems += manifest_problems(self._manifest, self._package.names)
        declared = {
            resource.href: resource.identifier for resource in self._manifest.of_type("imsqti_item_xml")
        }
        items: dict[str, str] = {}
        tests: list[tuple[str, Element]] = []
        for member in self._documents():
            root = self._parsed(member)
            if root is None:
                continue
            self._validate(member, root)
            match kind(root):
                case "assessmentitem":
                    items[member] = attribute(root, "identifier") or ""
                    self._item(member, root, declared.get(member))
                case "assessmenttest":
                    tests.append((member, root))
                case "questestinterop":
                    self._questions(member, root)
                case other:
                    report.problems.append(
                        Problem(member, f"a document of the kind {other!r} is not verified")
                    )
        self._whole(items, tests)
        _see_source(report, DRAW_PATH, lambda: source_in(self._package))
        return report

    def _documents(self) -> Iterator[str]:
        return (name for name in self._package.names if name.endswith(".xml") and name != MANIFEST)

    def _item(self, member: str, root: Element, declared: str | None) -> None:
        report, before = self._report, len(self._report.problems)
        generation = QTI.get(root.nsmap.get(root.prefix) or "")
        if generation is None:
            report.problems.append(Problem(member, "its namespace is not that of QTI 2.1, 2.2 or 3.0"))
        elif report.format not in ("package", generation):
            report.problems.append(Problem(member, f"it is of {generation}, others are of {report.format}"))
        else:
            report.format = generation
        if declared is None:
            report.problems.append(Problem(member, "the manifest does not list it as an item"))
        elif declared != attribute(root, "identifier"):
            report.problems.append(Problem(member, f"the manifest calls it {declared!r}"))
        report.problems += item_problems(member, root)
        _count(report, lambda: self._question(member, root), member, len(report.problems) - before)
        self._watch()

    def _question(self, member: str, root: Element) -> Question:
        self._gallery.put_formulas(root, member)
        return read_item(root)

    def _questions(self, member: str, root: Element) -> None:
        """The items of a document of QTI 1.2, which holds many."""
        self._report.format = "QTI 1.2"
        seen: set[str] = set()
        for item in inside(root, "item"):
            name = attribute(item, "ident") or ""
            place = f"{member}: {name}"
            if name in seen:
                self._report.problems.append(Problem(place, "another item has the same identifier"))
            _count(self._report, partial(self._listed_question, member, item), place, int(name in seen))
            seen.add(name)
            self._watch()

    def _listed_question(self, member: str, item: Element) -> Question:
        return read_qti12_item(item, partial(self._put_formulas, member))

    def _put_formulas(self, member: str, page: Element) -> None:
        """Put formulas in the place of pictures, whose addresses in a cartridge begin at its root."""
        for image in inside(page, "img"):
            source = image.get("src", "")
            if source.startswith(_ROOT):
                image.set(
                    "src", posixpath.relpath(source.removeprefix(_ROOT), posixpath.dirname(member) or ".")
                )
        self._gallery.put_formulas(page, member)

    def _whole(self, items: dict[str, str], tests: list[tuple[str, Element]]) -> None:
        """What can be said only when everything was seen."""
        problems = self._report.problems
        if not self._report.rows:
            problems.append(Problem(MANIFEST, "there are no items"))
        seen: dict[str, str] = {}
        for member, identifier in items.items():
            if identifier in seen:
                problems.append(Problem(member, f"{seen[identifier]} has the same identifier"))
            seen.setdefault(identifier, member)
        named: dict[str, str] = {}
        for member, test in tests:
            problems += assessment_problems(member, test, items, named)
        if tests:
            problems += unnamed_problems(items, named)

    def _validate(self, member: str, root: Element) -> None:
        if self._schemas is not None:
            self._report.validated += 1
            self._report.problems += self._schemas.problems(member, root)
