"""The bank got back from a package, byte for byte, with what it takes to draw the same items again."""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from qbank.bank.source import SIZE_LIMIT
from qbank.items.source import Source
from qbank.packages.document import read_json
from qbank.packages.opening import Package, PackageError, is_zip, read_document
from qbank.writers.origin import BANK_PATHS, DRAW_PATH

__all__ = ["Recovered", "recover", "source_in", "source_of"]

#: file names that are the same on every system and mean nothing to a shell
_FILE_NAME = re.compile(r"[A-Za-z0-9_][A-Za-z0-9_.-]{0,99}\.(?:ya?ml|json)", re.IGNORECASE)
_NO_SOURCE = "it does not carry its source (it was exported without, or in a format that cannot carry it)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Recovered:
    """A bank that came out of a package.

    Attributes:
        source: the bank file and how it was drawn from; its `name` is safe to give to a file.
        version: of the program that drew the items.
    """

    source: Source
    version: str


def recover(path: Path) -> Recovered:
    """The source of a package.

    Args:
        path: a zip or a JSON document.

    Raises:
        PackageError: the file cannot be used, carries no source, or its source is damaged.
    """
    if is_zip(path):
        with Package(path) as package:
            found = source_in(package)
    else:
        found = source_of(read_json(read_document(path)))
    if found is None:
        raise PackageError(_NO_SOURCE)
    return found


def source_in(package: Package) -> Recovered | None:
    """The source among the members of a package, None when it has none.

    Raises:
        PackageError: the source is damaged.
    """
    if DRAW_PATH not in package:
        return None
    value = read_json(package.read(DRAW_PATH))
    file = value.get("file")
    if file not in BANK_PATHS:
        raise PackageError(f"{DRAW_PATH} names no bank file")
    return _recovered(value, package.read(file))


def source_of(document: dict[str, Any]) -> Recovered | None:
    """The source in a JSON document, None when it has none.

    Raises:
        PackageError: the source is damaged.
    """
    value = document.get("source")
    if value is None:
        return None
    content = value.get("content") if isinstance(value, dict) else None
    if not isinstance(content, str):
        raise PackageError("its source is not a bank file")
    return _recovered(value, content.encode("utf-8", "replace"))


def _recovered(value: dict[str, Any], content: bytes) -> Recovered:
    if len(content) > SIZE_LIMIT:
        raise PackageError(f"the bank has more than {SIZE_LIMIT} bytes, which none may have")
    if hashlib.sha256(content).hexdigest() != value.get("sha256"):
        raise PackageError("the bank in it is not the one it was exported with: their SHA-256 differ")
    name, seed, count, pick = (value.get(key) for key in ("name", "seed", "count", "pick"))
    templates, test, forms = (value.get(key) for key in ("templates", "test", "forms"))
    optional = (number for number in (pick, forms) if number is not None)
    numbers = all(type(number) is int for number in (seed, count, *optional))
    names = isinstance(templates, list) and all(isinstance(one, str) for one in templates)
    if not numbers or not (names or templates is None) or not (test is None or isinstance(test, str)):
        raise PackageError("it does not say how its items were drawn")
    suffix = ".json" if isinstance(name, str) and name.lower().endswith(".json") else ".yaml"
    safe = isinstance(name, str) and _FILE_NAME.fullmatch(name)
    source = Source(
        name=str(name) if safe else f"bank{suffix}",
        content=content,
        seed=seed,  # type: ignore[arg-type]  # checked above
        count=count,  # type: ignore[arg-type]  # checked above
        templates=None if templates is None else tuple(templates),
        pick=pick,
        test=test,
        forms=forms,
    )
    return Recovered(source=source, version=str(value.get("version")))
