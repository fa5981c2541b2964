"""The catalogue written anew from the source: the template, each translation brought up to date, and what is read at run time.

    python -m tests.messages.catalogue      writes them, and says which sentences want a translator

A sentence that has changed keeps its old translation, marked fuzzy, until a translator has looked at it.
"""

from __future__ import annotations

import sys
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog, Message
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from tests.messages.extraction import PACKAGE, sentences

__all__ = [
    "TEMPLATE",
    "compiled",
    "read",
    "template",
    "translations",
    "unfinished",
    "updated",
    "write",
    "written",
]

_FOLDER = PACKAGE / "messages" / "catalogue"
TEMPLATE = _FOLDER / "qbank.pot"

#: what a head holds; Babel would also say what day it is and which Babel, and the same input is to give the same bytes
_HEAD = ("Language", "Plural-Forms", "MIME-Version", "Content-Type", "Content-Transfer-Encoding")
_NO_DAY = datetime(1970, 1, 1, tzinfo=UTC)
_TITLE = "# The sentences of qbank, as they stand in its source."


class _Undated(Catalog):
    """A catalogue whose head says nothing that changes from day to day."""

    def _get_mime_headers(self) -> list[tuple[str, str]]:
        return [(name, value) for name, value in super()._get_mime_headers() if name in _HEAD]

    mime_headers = property(_get_mime_headers, Catalog._set_mime_headers)


def translations() -> tuple[Path, ...]:
    """The files that translators edit."""
    return tuple(sorted(_FOLDER.glob("*.po")))


def template() -> Catalog:
    """The sentences of the source, in the order of its modules."""
    found = Catalog(charset="utf-8", header_comment=_TITLE, fuzzy=False)
    for one in sentences():
        found.add((one.text, one.plural) if one.plural else one.text, locations=[(one.path, one.line)])
    return found


def read(path: Path) -> Catalog:
    """A translation as it stands."""
    with path.open("rb") as file:
        return read_po(file, locale=path.stem.replace("-", "_"), charset="utf-8")


def updated(path: Path) -> Catalog:
    """A translation brought up to date with the source."""
    found = read(path)
    found.update(template())
    return found


def unfinished(catalog: Catalog) -> list[Message]:
    """The sentences that want a translator."""
    return [one for one in catalog if one.id and (one.fuzzy or not one.string or not all(one.string))]


def written(catalog: Catalog) -> bytes:
    """The text of a catalogue, without the line numbers, which change too often."""
    out = BytesIO()
    write_po(
        out, _undated(catalog), include_lineno=False, ignore_obsolete=True, include_previous=True, width=0
    )
    return out.getvalue()


def compiled(catalog: Catalog) -> bytes:
    """What is read at run time."""
    out = BytesIO()
    write_mo(out, _undated(catalog))
    return out.getvalue()


def _undated(catalog: Catalog) -> Catalog:
    found = _Undated(
        locale=catalog.locale,
        charset="utf-8",
        header_comment=catalog.header_comment,
        creation_date=_NO_DAY,
        revision_date=_NO_DAY,
        fuzzy=False,
    )
    for one in catalog:
        if one.id:
            found[one.id] = one
    return found


def write() -> None:
    """Write all of it anew."""
    TEMPLATE.write_bytes(written(template()))
    for path in translations():
        catalog = updated(path)
        path.write_bytes(written(catalog))
        path.with_suffix(".mo").write_bytes(compiled(catalog))


if __name__ == "__main__":
    write()
    waiting = [(path.name, one) for path in translations() for one in unfinished(read(path))]
    for name, one in waiting:
        print(f"{name}: {one.id!r}")
    sys.exit(1 if waiting else 0)
