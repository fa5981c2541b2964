"""The sentences for people in the source: the arguments of `say`, `say_count` and `prose`, each written out in its call."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import chain
from pathlib import Path

from jinja2 import Environment, nodes

__all__ = ["PACKAGE", "Sentence", "bare_sentences", "sentences"]

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "qbank"

#: function -> how many of its first arguments are sentences: one, or the singular and the plural
_SAYING = {"say": 1, "prose": 1, "say_count": 2}
#: as people write one
_SENTENCE = re.compile(r"[A-Z{][^\n]* [^\n]*[.?!]")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sentence:
    """A sentence, where it stands, and the gaps that are filled there.

    Attributes:
        text: the sentence, of two forms that for one thing.
        plural: that for any other number; empty where nothing is counted.
        path: of its module.
        line: in it.
        filled: the gaps that the call fills; None where it does not say.
        ordered: whether formulas stand in the gaps, by whose order packages are read back.
    """

    text: str
    plural: str
    path: str
    line: int
    filled: frozenset[str] | None
    ordered: bool


@cache
def sentences() -> tuple[Sentence, ...]:
    """All of them, module by module.

    Raises:
        ValueError: a sentence is not written out in its call, so that no catalogue could hold it.
    """
    modules = (path for path in sorted(PACKAGE.rglob("*.py")) if path.parent != PACKAGE / "messages")
    pages = sorted(PACKAGE.rglob("*.j2"))
    found = (*map(_sentences_of, modules), *map(_sentences_of_page, pages))
    return tuple(chain.from_iterable(found))


def _sentences_of_page(path: Path) -> Iterator[Sentence]:
    place = path.relative_to(ROOT).as_posix()
    page = Environment(autoescape=True).parse(path.read_text(encoding="utf-8"))
    for node in page.find_all(nodes.Call):
        if isinstance(node.node, nodes.Name) and node.node.name == "say":
            (text,) = node.args
            if not isinstance(text, nodes.Const):
                raise ValueError(f"{place}:{node.lineno}: the sentence is to be written out in the call")
            filled = frozenset(word.key for word in node.kwargs)
            yield Sentence(
                text=text.value, plural="", path=place, line=node.lineno, filled=filled, ordered=False
            )


def _sentences_of(path: Path) -> Iterator[Sentence]:
    place = path.relative_to(ROOT).as_posix()
    tree = ast.parse(path.read_text(encoding="utf-8"))
    from_messages = (
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and node.module == "qbank.messages"
    )
    imported = {alias.name for node in from_messages for alias in node.names}
    # what `saying` gives is called `say`, too
    known = imported & set(_SAYING) | ({"say"} if "saying" in imported else set())
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call)]
    for node in sorted(calls, key=lambda call: (call.lineno, call.col_offset)):
        if not (isinstance(node.func, ast.Name) and node.func.id in known):
            continue
        count = _SAYING[node.func.id]
        texts = [one.value for one in node.args[:count] if isinstance(one, ast.Constant)]
        if len(texts) != count or not all(isinstance(text, str) and text for text in texts):
            raise ValueError(f"{place}:{node.lineno}: the sentence is to be written out in the call")
        filled = {word.arg for word in node.keywords} | ({"count"} if count == 2 else set())
        yield Sentence(
            text=str(texts[0]),
            plural=str(texts[1]) if count == 2 else "",
            path=place,
            line=node.lineno,
            ordered=node.func.id == "prose",
            filled=None if None in filled else frozenset(map(str, filled)),
        )


def bare_sentences(*rooms: str) -> Iterator[str]:
    """Sentences in these rooms that no catalogue can hold, as they do not stand in a call of these functions.

    What is raised, and documentation, is for other people.
    """
    for room in rooms:
        for path in sorted((PACKAGE / room).rglob("*.py")):
            tree = ast.parse(path.read_text(encoding="utf-8"))
            passed = {id(inner) for node in ast.walk(tree) if _is_passed(node) for inner in ast.walk(node)}
            for node in ast.walk(tree):
                if isinstance(node, ast.Constant | ast.JoinedStr) and id(node) not in passed:
                    text = node.value if isinstance(node, ast.Constant) else ast.unparse(node)[2:-1]
                    if isinstance(text, str) and _SENTENCE.fullmatch(text):
                        yield f"{path.relative_to(ROOT).as_posix()}:{node.lineno}: {text}"


def _is_passed(node: ast.AST) -> bool:
    """Whether what stands in a node is in the catalogue, or is not for students."""
    if isinstance(node, ast.Call):
        return isinstance(node.func, ast.Name) and node.func.id in _SAYING
    # an expression that stands alone is documentation
    return isinstance(node, ast.Raise | ast.Assert | ast.Expr) and not (
        isinstance(node, ast.Expr) and isinstance(node.value, ast.Call | ast.Yield | ast.YieldFrom)
    )
