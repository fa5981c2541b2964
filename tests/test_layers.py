"""The layers as data: a module imports only from its own room and from the rooms below it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "qbank"

#: from the top down; a room may import from those after it
ROOMS = (
    "cli",
    "packages",
    "writers",
    "analysis",
    "marking",
    "authoring",
    "items",
    "bank",
    "techniques",
    "maths",
    "messages",
)

#: SymPy has one door, the disk another; a third-party package is known to the rooms named here and to no other
ONLY_IN = {
    "sympy": ("maths/oracle.py",),
    "flint": ("maths/",),
    "lxml": ("packages/", "writers/", "maths/notation/"),
    "ruamel": ("bank/source.py",),
    "jsonschema": ("bank/schema.py",),
    "click": ("cli/",),
    "numpy": ("analysis/figures.py",),
    "matplotlib": ("analysis/plots.py",),
    "jinja2": ("analysis/page.py",),
    "zipfile": ("packages/opening.py", "writers/archive.py"),
    "typst": ("writers/pictures/drawing.py",),
    "tempfile": ("writers/archive.py",),
}


def modules() -> list[Path]:
    found = sorted(PACKAGE.rglob("*.py"))
    assert len(found) > 50
    return found


def imports(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            assert node.module is not None
            yield node.module


def room(path: Path) -> str:
    parts = path.relative_to(PACKAGE).parts
    return parts[0] if len(parts) > 1 else ""


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_imports_go_down(path: Path) -> None:
    here = room(path)
    allowed = ROOMS if here in ("", "cli") else ROOMS[ROOMS.index(here) :]
    for name in imports(path):
        parts = name.split(".")
        if parts[0] == "qbank" and len(parts) > 1:
            assert parts[1] in allowed, f"{path} imports {name}"


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_each_outside_package_has_its_door(path: Path) -> None:
    inside = path.relative_to(PACKAGE).as_posix()
    for name in imports(path):
        doors = ONLY_IN.get(name.split(".")[0])
        if doors is not None:
            assert inside.startswith(doors), f"{path} imports {name}"


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_a_module_says_its_idea(path: Path) -> None:
    assert ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))), f"{path} has no opening docstring"
    assert path.stem not in ("utils", "helpers", "common", "misc", "base")


def test_no_text_is_evaluated() -> None:
    for path in modules():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                assert node.func.id not in ("eval", "exec", "compile", "sympify"), path
