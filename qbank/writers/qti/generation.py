"""The generations of QTI as a table: namespaces, words of the manifest, and what each of them has not.

The names of elements and attributes are written as in 3.0 everywhere in this room (`qti-assessment-item`,
`response-identifier`); the older generations write the same names without the prefix and in camel case
(`assessmentItem`, `responseIdentifier`). Names of XHTML and of ARIA are the same in all.

Sources: the published schemas and examples of each generation. Not to be had, and so written by analogy: for 2.2 the
schema of the metadata (its elements here are those of 2.1) and the type of a test's resource (after the item's);
for 2.1 the schema of the manifest, whose words are those of the official 2.2 example with the number changed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

__all__ = ["LOM", "MATHML", "QTI3", "QTI21", "QTI22", "Generation"]

LOM = "http://ltsc.ieee.org/xsd/LOM"
MATHML = "http://www.w3.org/1998/Math/MathML"

_XSD = "http://www.imsglobal.org/xsd/"
_PURL = "https://purl.imsglobal.org/spec/"
_LOM_LOCATION = _PURL + "md/v1p3/schema/xsd/imsmd_loose_v1p3p2.xsd"


# told apart by which it is, so that it is quickly looked up
@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Generation:
    """What differs from one generation to another.

    Attributes:
        version: as people write it.
        items: namespace of items and tests.
        package: namespace of the manifest.
        metadata: namespace of what the manifest says of an item.
        locations: where the schemas of the three are published, in that order.
        schema: what the manifest calls the kind of package.
        schema_version: of the manifest.
        resource: how the types of items and tests end in the manifest.
        hyphenated: whether names look like `qti-assessment-item` rather than `assessmentItem`.
        content_bodies: whether feedback and rubrics hold their text in a `qti-content-body`.
        aria: whether elements may have a `role` and an `aria-label`.
        human_scoring: whether an outcome can say that a person scores it.
        scoring_mode: whether the manifest can say so.
        styled_math: whether `math` takes `displaystyle` itself (MathML 3) or wants an `mstyle` for it (MathML 2).
    """

    version: str
    items: str
    package: str
    metadata: str
    locations: tuple[str, str, str]
    schema: str
    schema_version: str
    resource: str
    hyphenated: bool
    content_bodies: bool
    aria: bool
    human_scoring: bool
    scoring_mode: bool
    styled_math: bool

    def name(self, word: str) -> str:
        """An element's or attribute's name in this generation.

        Args:
            word: the name in 3.0.

        >>> QTI22.name("qti-text-entry-interaction"), QTI22.name("base-type"), QTI22.name("aria-label")
        ('textEntryInteraction', 'baseType', 'aria-label')
        >>> QTI3.name("base-type")
        'base-type'
        """
        return word if self.hyphenated else _camel_case(word)

    def item_locations(self) -> str:
        """The value of `xsi:schemaLocation` for items and tests."""
        return f"{self.items} {self.locations[0]}"

    def manifest_locations(self) -> str:
        """The value of `xsi:schemaLocation` for the manifest."""
        _, package, metadata = self.locations
        return f"{self.package} {package} {LOM} {_LOM_LOCATION} {self.metadata} {metadata}"


@cache
def _camel_case(word: str) -> str:
    if word.startswith(("aria-", "{")):
        return word
    first, *others = word.removeprefix("qti-").split("-")
    return first + "".join(other.capitalize() for other in others)


QTI3 = Generation(
    version="3.0",
    items=_XSD + "imsqtiasi_v3p0",
    package=_XSD + "qti/qtiv3p0/imscp_v1p1",
    metadata=_XSD + "imsqti_metadata_v3p0",
    locations=(
        _PURL + "qti/v3p0/schema/xsd/imsqti_asiv3p0_v1p0.xsd",
        _PURL + "qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd",
        _PURL + "qti/v3p0/schema/xsd/imsqti_metadatav3p0_v1p0.xsd",
    ),
    schema="QTI Package",
    schema_version="3.0.0",
    resource="xmlv3p0",
    hyphenated=True,
    content_bodies=True,
    aria=True,
    human_scoring=True,
    scoring_mode=True,
    styled_math=True,
)

QTI22 = Generation(
    version="2.2",
    items=_XSD + "imsqti_v2p2",
    package=_XSD + "imscp_v1p1",
    metadata=_XSD + "imsqti_metadata_v2p2",
    locations=(
        _XSD + "qti/qtiv2p2/imsqti_v2p2p2.xsd",
        _XSD + "qti/qtiv2p2/qtiv2p2_imscpv1p2_v1p0.xsd",
        _XSD + "qti/qtiv2p2/imsqti_metadata_v2p2.xsd",
    ),
    schema="QTIv2.2 Package",
    schema_version="1.0.0",
    resource="xmlv2p2",
    hyphenated=False,
    content_bodies=False,
    aria=True,
    human_scoring=True,
    scoring_mode=False,
    styled_math=False,
)

QTI21 = replace(
    QTI22,
    version="2.1",
    items=_XSD + "imsqti_v2p1",
    metadata=_XSD + "imsqti_metadata_v2p1",
    locations=(
        _XSD + "qti/qtiv2p1/imsqti_v2p1.xsd",
        _XSD + "qti/qtiv2p1/qtiv2p1_imscpv1p2_v1p0.xsd",
        _XSD + "qti/qtiv2p1/imsqti_metadata_v2p1.xsd",
    ),
    schema="QTIv2.1 Package",
    resource="xmlv2p1",
    aria=False,
    human_scoring=False,
)
