"""Files of a package, and its texts as a learning system would read them."""

from __future__ import annotations

from collections.abc import Iterable
from html.parser import HTMLParser
from typing import Any

from lxml import etree

from qbank.writers import Artifact


def members(artifacts: Iterable[Artifact]) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for artifact in artifacts:
        found[artifact.path] = found.get(artifact.path, b"") + artifact.data
    return found


def html_texts(document: bytes) -> list[str]:
    """What stands in each `mattext`: unescaped once, by the XML parser, it is HTML."""
    return texts(etree.fromstring(document))


def texts(top: Any) -> list[str]:
    """The same of an element."""
    found = []
    for element in top.iter("{*}mattext"):
        assert element.get("texttype") == "text/html"
        assert not len(element)
        found.append(element.text or "")
    return found


class Seen(HTMLParser):
    """Tags, attributes and text of HTML as the parser of Python's standard library sees them."""

    def __init__(self, html: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, tuple[str, ...]]] = []
        self.text = ""
        self.odd: list[str] = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, tuple(sorted(name for name, _ in attrs))))

    def handle_data(self, data: str) -> None:
        self.text += data

    def handle_comment(self, data: str) -> None:
        self.odd.append(data)

    def handle_decl(self, decl: str) -> None:
        self.odd.append(decl)

    def handle_pi(self, data: str) -> None:
        self.odd.append(data)

    def unknown_decl(self, data: str) -> None:
        self.odd.append(data)


def as_xml(html: str) -> Any:
    """The same HTML read as XML, which it is too."""
    return etree.fromstring(f"<div>{html}</div>")
