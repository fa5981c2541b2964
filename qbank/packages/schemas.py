"""Documents against the official XML Schemas, from a folder of the user's; nothing is ever fetched.

A document says in `xsi:schemaLocation` which schema its namespaces have, by the address where it is published. The file
is found in the folder by an OASIS XML catalog (`catalog.xml`) if there is one, else by its name; so are the schemas that
it imports in turn.
"""

from __future__ import annotations

import posixpath
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from lxml import etree

from qbank.packages.opening import PackageError
from qbank.packages.parsing import Element, XmlError, parse
from qbank.packages.problem import Problem

__all__ = ["Schemas"]

_LOCATION = "{http://www.w3.org/2001/XMLSchema-instance}schemaLocation"
_XSD = "http://www.w3.org/2001/XMLSchema"


class Schemas:
    """The schemas of a folder.

    Args:
        folder: where they lie, at any depth.

    Raises:
        PackageError: there are none.
    """

    def __init__(self, folder: Path) -> None:
        files = sorted(path for path in folder.rglob("*.xsd") if path.is_file())
        if not files:
            raise PackageError(f"there are no schemas (*.xsd) in {folder}")
        self._by_name: dict[str, Path] = {}
        for path in files:
            self._by_name.setdefault(path.name, path.resolve())
        self._by_address = _catalog(folder / "catalog.xml")
        self._compiled: dict[tuple[tuple[str, str], ...], etree.XMLSchema | str] = {}

    def find(self, address: str) -> Path | None:
        """The file of the schema published at an address, None when the folder does not have it."""
        return self._by_address.get(address) or self._by_name.get(posixpath.basename(urlsplit(address).path))

    def problems(self, member: str, root: Element) -> Iterator[Problem]:
        """What the schemas of a document do not allow in it.

        Args:
            member: where it lies.
            root: its root.
        """
        words = (root.get(_LOCATION) or "").split()
        pairs = tuple(zip(words[::2], words[1::2], strict=False))
        if etree.QName(root).namespace not in dict(pairs):
            yield Problem(member, "it does not say which schema it follows")
            return
        schema = self._schema(pairs)
        if isinstance(schema, str):
            yield Problem(member, schema)
        elif not schema.validate(root):
            log: Any = schema.error_log  # the published stubs do not know that it is iterable
            for error in log:
                yield Problem(f"{member}:{error.line}", error.message)

    def _schema(self, pairs: tuple[tuple[str, str], ...]) -> etree.XMLSchema | str:
        """The schema of these namespaces, or why there is none."""
        if pairs not in self._compiled:
            self._compiled[pairs] = self._compile(pairs)
        return self._compiled[pairs]

    def _compile(self, pairs: tuple[tuple[str, str], ...]) -> etree.XMLSchema | str:
        parser = etree.XMLParser(no_network=True, load_dtd=False, resolve_entities=False, huge_tree=False)
        parser.resolvers.add(_FromFolder(self))
        top = etree.Element(f"{{{_XSD}}}schema")
        for namespace, address in pairs:
            path = self.find(address)
            if path is None:
                return f"the schema {posixpath.basename(address)} is not in the folder"
            place = {"namespace": namespace, "schemaLocation": path.as_uri()}
            etree.SubElement(top, f"{{{_XSD}}}import", place)
        # read by the parser that knows the folder, which then serves the imports as well
        base: Any = {"base_url": "urn:qbank:imports"}
        try:
            return etree.XMLSchema(etree.fromstring(etree.tostring(top), parser, **base))
        except etree.XMLSchemaParseError as problem:
            return f"the schemas of the folder cannot be used: {problem}"


class _FromFolder(etree.Resolver):
    """Answers every address from the folder; an unknown one is answered by nothing rather than by the network."""

    def __init__(self, schemas: Schemas) -> None:
        super().__init__()
        self._schemas = schemas

    def resolve(self, system_url: str, _public_id: str, context: Any) -> Any:  # type: ignore[override]  # stubs leave out the context
        if urlsplit(system_url).scheme in ("", "file"):
            return None
        path = self._schemas.find(system_url)
        content = "" if path is None else path.read_bytes()
        return self.resolve_string(content, context, base_url=system_url if path is None else path.as_uri())


def _catalog(path: Path) -> dict[str, Path]:
    """The addresses of a catalog with their files, as far as these lie in its folder."""
    if not path.is_file():
        return {}
    try:
        root = parse(path.read_bytes())
    except (OSError, XmlError) as problem:
        raise PackageError(f"{path}: {problem}") from problem
    home = path.parent.resolve()
    found: dict[str, Path] = {}
    for entry in root.iter("{*}system", "{*}uri"):
        address, file = entry.get("systemId") or entry.get("name"), entry.get("uri")
        if address and file:
            there = (home / file).resolve()
            if there.is_relative_to(home) and there.is_file():
                found[str(address)] = there
    return found
