"""The bytes of the sample deck in each format, and a line that stands for them; run in processes of their own."""

from __future__ import annotations

import hashlib

from qbank.writers import WRITERS
from tests.writers.sample_items import deck


def files(name: str) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for artifact in WRITERS[name].write(deck()):
        found[artifact.path] = found.get(artifact.path, b"") + artifact.data
    return found


def digest(name: str) -> str:
    return hashlib.sha256(repr(files(name)).encode()).hexdigest()


if __name__ == "__main__":
    for format_name in WRITERS:
        print(format_name, digest(format_name))
