"""Where an href leads: to a member, or to nothing that is opened."""

from __future__ import annotations

import pytest

from qbank.packages.manifest import target


@pytest.mark.parametrize(
    ("href", "folder", "member"),
    [
        ("items/a.xml", "", "items/a.xml"),
        ("a.xml", "items", "items/a.xml"),
        ("../a.xml", "items", "a.xml"),
        ("a.xml#part", "", "a.xml"),
        ("../a.xml", "", None),
        ("items/../../a.xml", "", None),
        ("%2e%2e/a.xml", "", None),
        ("/a.xml", "", None),
        ("//host.example/a.xml", "", None),
        ("https://host.example/a.xml", "", None),
        ("file:///etc/passwd", "", None),
        ("http://[broken", "", None),
        ("a\\b.xml", "", None),
        ("a%00.xml", "", None),
        ("", "", None),
        (".", "", None),
        ("#part", "", None),
    ],
)
def test_target(href: str, folder: str, member: str | None) -> None:
    assert target(href, folder) == member
