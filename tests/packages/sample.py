"""Packages of a small bank for these tests, and copies of them with something changed."""

from __future__ import annotations

import json
import zipfile
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from qbank.bank.loading import parse_bank
from qbank.items.decking import deal
from qbank.packages.verifying import verify
from qbank.writers import WRITERS, save

BANK = """
identifier: small
title: A small bank
language: en-GB
licence: CC0-1.0
version: "1.0.0"
templates:
  - identifier: sine-squared
    title: The square of a sine
    technique: even-powers
    parameters:
      p: {kind: integer, from: 2, to: 4}
      a: {kind: integer, from: 2, to: 4}
    integrand: p sin(a x)^2
    responses: [choice, free-expression]
    marks: 3
  - identifier: between-limits
    title: Between limits
    technique: even-powers
    parameters:
      p: {kind: integer, from: 2, to: 6}
    task: definite
    limits: ["0", "pi/3"]
    integrand: p cos(2x)^2
    responses: [numeric, choice]
"""


#: coefficients: exact, as decimals, and of functions that depend on each other
FORMS = """
identifier: forms
title: Forms
language: en-GB
licence: CC0-1.0
version: "1.0.0"
templates:
  - identifier: exact
    title: Exact
    technique: even-powers
    parameters: {p: {kind: integer, from: 2, to: 4}}
    integrand: p sin(2x)^2
    responses: [coefficients]
    marks: 3
  - identifier: dependent
    title: Dependent
    technique: substitution
    parameters: {p: {kind: integer, from: 2, to: 4}}
    integrand: p sin(x) cos(x)
    responses: [coefficients]
    offer: ["sin^2 x", "cos^2 x"]
    marks: 3
  - identifier: decimals
    title: Decimals
    technique: even-powers
    parameters: {p: {kind: listed, values: [7]}, a: {kind: listed, values: [4]}}
    integrand: p sin(a x)^2
    responses: [coefficients]
    entry: decimals
    marks: 3
"""


@cache
def content(form: str, *, source: bool = True, bank: str = BANK, count: int = 2) -> bytes:
    """A package of the small bank, two clones of each template."""
    import tempfile

    file = ("small.yaml", bank.encode()) if source else None
    deck = deal(parse_bank(bank.encode(), "small.yaml"), count=count, seed=1, file=file)
    with tempfile.TemporaryDirectory() as folder:
        return save(WRITERS[form], deck, Path(folder) / "package").read_bytes()


def written(folder: Path, form: str, *, source: bool = True, bank: str = BANK, count: int = 2) -> Path:
    path = folder / f"package{WRITERS[form].suffix}"
    path.write_bytes(content(form, source=source, bank=bank, count=count))
    return path


def members(path: Path) -> dict[str, bytes]:
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def zipped(path: Path, parts: Mapping[str, bytes]) -> Path:
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return path


def changed(folder: Path, form: str, change: Callable[[dict[str, bytes]], object]) -> Path:
    """A copy of a package whose members were changed."""
    path = written(folder, form)
    parts = members(path)
    before = dict(parts)
    change(parts)
    assert parts != before, "the change changes nothing"
    return zipped(path, parts)


def problems_of_changed_item(
    folder: Path, bank: str, template: str, change: Callable[[str], str]
) -> list[str]:
    """What verify says of the QTI 3 package of a bank where the text of one template's item was changed."""
    path = written(folder, "qti3", bank=bank, count=1)
    parts = members(path)
    member = next(one for one in parts if f"items/{template}/" in one)
    before = parts[member].decode()
    parts[member] = change(before).encode()
    assert parts[member].decode() != before, "the change changes nothing"
    return [str(problem) for problem in verify(zipped(path, parts)).problems]


def problems_of_changed_json(
    folder: Path, bank: str, change: Callable[[dict[str, Any]], object]
) -> list[str]:
    """What verify says of the generic JSON of a bank whose first item was changed."""
    path = written(folder, "json", bank=bank, count=1)
    value = json.loads(path.read_bytes())
    change(value["items"][0])
    path.write_text(json.dumps(value), encoding="utf-8")
    return [str(problem) for problem in verify(path).problems]


def first(parts: Mapping[str, bytes], form: str) -> str:
    """The member that is the first item of a form."""
    return next(name for name in parts if name.endswith(f"-{form}.xml"))
