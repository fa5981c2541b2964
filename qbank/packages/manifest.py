"""The manifest of a package against its members: every href, every identifier, and no member that is not named."""

from __future__ import annotations

import posixpath
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from urllib.parse import unquote, urlsplit

from lxml import etree

from qbank.packages.parsing import Element, attribute, children, inside, line_of
from qbank.packages.problem import Problem
from qbank.writers.origin import BANK_PATHS, DRAW_PATH

__all__ = ["MANIFEST", "Manifest", "Resource", "manifest_problems", "read_manifest", "target"]

#: the file that the standard looks for at the root of a package
MANIFEST = "imsmanifest.xml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Resource:
    """One resource of a manifest.

    Attributes:
        identifier: its name in the manifest.
        type: what it is, in the standard's words.
        href: the member it begins with, None when it names none.
        files: the members it is made of, as far as they are well named.
        dependencies: identifiers of the resources it needs.
        line: where it stands.
        unusable: hrefs that name no member of any package.
    """

    identifier: str
    type: str
    href: str | None
    files: tuple[str, ...]
    dependencies: tuple[str, ...]
    line: int
    unusable: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Manifest:
    """The manifest of a package.

    Attributes:
        namespace: of its root, which tells the kind of package.
        identifiers: every identifier in it, with its line.
        resources: in the order of the file.
    """

    namespace: str
    identifiers: tuple[tuple[str, int], ...]
    resources: tuple[Resource, ...]

    def of_type(self, *starts: str) -> Iterator[Resource]:
        """The resources whose type begins in one of these ways."""
        return (resource for resource in self.resources if resource.type.startswith(starts))


def target(href: str, folder: str = "") -> str | None:
    """The member that an href names, None when it can name none: an address elsewhere, or a path that leads outside.

    Args:
        href: as it stands in the file.
        folder: of the member that it stands in.

    >>> target("../a%20b.xml", "items"), target("../../x", "items"), target("https://x.example/y"), target("/x")
    ('a b.xml', None, None, None)
    """
    try:
        address = urlsplit(href)
    except ValueError:
        return None
    path = unquote(address.path)
    if address.scheme or address.netloc or not path or path.startswith("/") or "\\" in path or "\0" in path:
        return None
    joined = posixpath.normpath(posixpath.join(folder, path))
    return None if joined.startswith("../") or joined in ("..", ".") else joined


def read_manifest(root: Element) -> Manifest:
    """The manifest from its document."""
    return Manifest(
        namespace=etree.QName(root).namespace or "",
        identifiers=tuple(
            (name, line_of(element))
            for element in root.iter()
            if (name := attribute(element, "identifier")) is not None
        ),
        resources=tuple(_resource(element) for element in inside(root, "resource")),
    )


def _resource(element: Element) -> Resource:
    href = attribute(element, "href")
    hrefs = [attribute(file, "href") or "" for file in children(element, "file")]
    named = [target(one) for one in hrefs]
    first = None if href is None else target(href)
    unusable = [one for one, found in zip(hrefs, named, strict=True) if found is None]
    if href is not None and first is None:
        unusable.append(href)
    return Resource(
        identifier=attribute(element, "identifier") or "",
        type=attribute(element, "type") or "",
        href=first,
        files=tuple(name for name in named if name is not None),
        dependencies=tuple(attribute(one, "identifierref") or "" for one in children(element, "dependency")),
        line=line_of(element),
        unusable=tuple(unusable),
    )


def manifest_problems(manifest: Manifest, members: Iterable[str]) -> Iterator[Problem]:
    """What does not fit between a manifest and the members of its package.

    Args:
        manifest: the manifest.
        members: the names of all members.
    """
    present = set(members)
    seen: dict[str, int] = {}
    for name, line in manifest.identifiers:
        if name in seen:
            yield _problem(line, f"the identifier {name!r} is already used in line {seen[name]}")
        seen.setdefault(name, line)
    known = {resource.identifier for resource in manifest.resources}
    for resource in manifest.resources:
        yield from _resource_problems(resource, present, known)
    # a system may show what is listed to students, so some formats carry their source unlisted
    named = {MANIFEST, DRAW_PATH, *BANK_PATHS} | {
        name for resource in manifest.resources for name in resource.files
    }
    for name in sorted(present - named):
        yield Problem(name, "the manifest does not name this member")


def _resource_problems(resource: Resource, present: set[str], known: set[str]) -> Iterator[Problem]:
    line = resource.line
    for href in resource.unusable:
        yield _problem(line, f"the href {href!r} leads out of the package")
    for name in resource.files:
        if name not in present:
            yield _problem(line, f"there is no member {name!r}")
    if resource.href is not None and resource.href not in resource.files:
        yield _problem(line, f"{resource.href!r} is not among the files of its resource")
    for name in resource.dependencies:
        if name not in known:
            yield _problem(line, f"there is no resource {name!r} to depend on")


def _problem(line: int, message: str) -> Problem:
    return Problem(f"{MANIFEST}:{line}", message)
