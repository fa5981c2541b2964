"""The manifest of a package: what it holds, what it is called, whose it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from qbank.items.deck import Deck
from qbank.writers.qti12.metadata import lom
from qbank.writers.tree import XSI_LOCATION, Element, add, document, indented, root

__all__ = [
    "CONTENT",
    "MANIFEST_PATH",
    "Packaging",
    "Resource",
    "cartridge",
    "manifest",
    "pictures_identifier",
]

#: the file that the standard looks for at the root of a package
MANIFEST_PATH = "imsmanifest.xml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Packaging:
    """One kind of package.

    Attributes:
        namespace: of the manifest.
        lom: namespace of the metadata inside it.
        locations: where the schemas of both are published.
        schema: what the package says it is.
        version: of that.
        kind: type of the resources; `{}` stands for what a resource is.
        organised: whether what a teacher sees of it is listed as the items of an organization.
    """

    namespace: str
    lom: str
    locations: tuple[str, str]
    schema: str
    version: str
    kind: str
    organised: bool


#: IMS Content Packaging 1.1.4, the package that QTI 1.2 documents travel in. The type is from memory.
CONTENT = Packaging(
    namespace="http://www.imsglobal.org/xsd/imscp_v1p1",
    lom="http://ltsc.ieee.org/xsd/LOM",
    locations=(
        "http://www.imsglobal.org/xsd/imscp_v1p1.xsd",
        "https://purl.imsglobal.org/spec/md/v1p3/schema/xsd/imsmd_loose_v1p3p2.xsd",
    ),
    schema="IMS Content",
    version="1.1.4",
    kind="imsqti_xmlv1p2",
    organised=False,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Resource:
    """One document of a package.

    Attributes:
        identifier: of the resource.
        path: where the document lies.
        title: what a teacher sees in the list of contents; None where the profile forbids to list it.
        kind: what it is, for the type of the resource.
    """

    identifier: str
    path: str
    title: str | None
    kind: str = ""


def cartridge(version: str) -> Packaging:
    """Common Cartridge of a version, "1.1" or "1.3". The names of 1.3 follow those of 1.1 by analogy."""
    short = f"v{version.replace('.', 'p')}"
    published = f"http://www.imsglobal.org/profile/cc/cc{short}/"
    return Packaging(
        namespace=f"http://www.imsglobal.org/xsd/imscc{short}/imscp_v1p1",
        lom=f"http://ltsc.ieee.org/xsd/imscc{short}/LOM/manifest",
        locations=(
            f"{published}cc{short}_imscp_v1p2_v1p0.xsd",
            f"{published}LOM/cc{short}_lommanifest_v1p0.xsd",
        ),
        schema="IMS Common Cartridge",
        version=f"{version}.0",
        kind=f"imsqti_xmlv1p2/imscc_xml{short}/{{}}",
        organised=True,
    )


def pictures_identifier(deck: Deck) -> str:
    """The identifier of the resource that holds the pictures of a package."""
    return f"pictures-{deck.bank}"


def manifest(
    deck: Deck, resources: Sequence[Resource], packaging: Packaging, pictures: Sequence[str] = ()
) -> bytes:
    """The bytes of a manifest.

    Args:
        deck: what the package holds.
        resources: its documents.
        packaging: the kind of package.
        pictures: the files of the pictures, which all documents share.
    """
    spaces = zip((packaging.namespace, packaging.lom), packaging.locations, strict=True)
    located = " ".join(f"{namespace} {location}" for namespace, location in spaces)
    attributes = {XSI_LOCATION: located, "identifier": f"manifest-{deck.bank}"}
    top = root("manifest", {"": packaging.namespace}, attributes)
    metadata = add(top, "metadata")
    add(metadata, "schema", text=packaging.schema)
    add(metadata, "schemaversion", text=packaging.version)
    metadata.parts.append(lom(deck, packaging.lom))
    organizations = add(top, "organizations")
    if packaging.organised:
        _organise(organizations, resources)
    listed = add(top, "resources")
    for resource in resources:
        described = _add_resource(listed, resource, packaging)
        if pictures:
            add(described, "dependency", {"identifierref": pictures_identifier(deck)})
    if pictures:
        shared = add(listed, "resource", {"identifier": pictures_identifier(deck), "type": "webcontent"})
        for path in pictures:
            add(shared, "file", {"href": path})
    return document(indented(top, 0))


def _organise(organizations: Element, resources: Sequence[Resource]) -> None:
    attributes = {"identifier": "organization", "structure": "rooted-hierarchy"}
    listed = add(add(organizations, "organization", attributes), "item", {"identifier": "contents"})
    for resource in resources:
        if resource.title is not None:
            names = {"identifier": f"entry-{resource.identifier}", "identifierref": resource.identifier}
            add(add(listed, "item", names), "title", text=resource.title)


def _add_resource(listed: Element, resource: Resource, packaging: Packaging) -> Element:
    attributes = {"identifier": resource.identifier, "type": packaging.kind.format(resource.kind)}
    if not packaging.organised:
        # the profile of a cartridge forbids it: the file below says it
        attributes["href"] = resource.path
    described = add(listed, "resource", attributes)
    add(described, "file", {"href": resource.path})
    return described
