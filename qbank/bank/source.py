"""A YAML or JSON file as plain values, with the line and column of each.

The file is read event by event into dictionaries, lists and scalars; nothing is constructed from tags. Anchors,
aliases, tags, repeated keys, deep nesting and large files are refused, so that a bank from a stranger costs no more
than its size.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from typing import Any

from qbank.bank.problem import BankError, Place, Problem

__all__ = ["DEPTH_LIMIT", "SIZE_LIMIT", "Source", "pointer_to", "read_source"]

#: bytes; a bank of a thousand templates is a tenth of this
SIZE_LIMIT = 4 * 1024 * 1024
DEPTH_LIMIT = 20

_INTEGER = re.compile(r"[-+]?(0|[1-9][0-9]*)$")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?$")
_WORDS: dict[str, Any] = {
    "": None, "~": None, "null": None, "Null": None, "NULL": None,
    "true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False,
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """The values of a file and where they stand.

    Attributes:
        file: the file's name, for messages.
        data: dictionaries, lists, strings, integers, floats, booleans and None.
        places: the place of every value, by JSON pointer; of a mapping's key under the pointer followed by `#key`.
    """

    file: str
    data: Any
    places: dict[str, Place]

    def problem(self, pointer: str, code: str, message: str, hint: str = "") -> Problem:
        """A problem at a value, or at the nearest value around it that stands in the file."""
        near = pointer
        while near not in self.places and near:
            near = near.rpartition("/")[0]
        place = self.places.get(near, Place(1, 1))
        return Problem(file=self.file, place=place, pointer=pointer, code=code, message=message, hint=hint)


def pointer_to(*parts: str | int) -> str:
    """The JSON pointer of a path.

    >>> pointer_to("templates", 0, "a/b")
    '/templates/0/a~1b'
    """
    return "".join("/" + str(part).replace("~", "~0").replace("/", "~1") for part in parts)


def read_source(content: bytes, file: str) -> Source:
    """Read the bytes of a YAML or JSON file.

    Args:
        content: the file's bytes, UTF-8 (a byte order mark is allowed).
        file: its name; one that ends in `.json` is held to JSON's stricter syntax.

    Raises:
        BankError: the file is too large, not UTF-8, not well-formed, or uses what banks may not use.
    """
    if len(content) > SIZE_LIMIT:
        raise _refusal(file, Place(1, 1), "too-large", f"the file is larger than {SIZE_LIMIT} bytes")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise _refusal(
            file, Place(line, 1), "not-utf-8", "the file is not UTF-8 text", "save it with the encoding UTF-8"
        ) from error
    if file.lower().endswith(".json"):
        _insist_on_json(text, file)
        # a tab is white space in JSON but not in YAML; inside a JSON string it cannot stand
        text = text.replace("\t", " ")
    return _Composer(file).compose(text)


def _insist_on_json(text: str, file: str) -> None:
    try:
        json.loads(text)
    except json.JSONDecodeError as error:
        raise _refusal(file, Place(error.lineno, error.colno), "syntax", f"not JSON: {error.msg}") from error
    except RecursionError as error:
        raise _refusal(file, Place(1, 1), "too-deep", "values are nested too deeply") from error


def _refusal(file: str, place: Place, code: str, message: str, hint: str = "") -> BankError:
    problem = Problem(file=file, place=place, pointer="", code=code, message=message, hint=hint)
    return BankError((problem,))


@dataclass(slots=True)
class _Open:
    """A mapping or list being filled."""

    value: Any
    pointer: str
    key: str | None = None


class _Composer:
    """Turns the events of a YAML parser into values and places; one instance reads one file."""

    def __init__(self, file: str) -> None:
        self._file = file
        self._stack: list[_Open] = []
        self._places: dict[str, Place] = {}
        self._root: Any = None
        self._documents = 0

    def compose(self, text: str) -> Source:
        from ruamel.yaml import YAML
        from ruamel.yaml.error import YAMLError

        try:
            for event in YAML(typ="safe", pure=True).parse(text):
                self._take(event)
        except YAMLError as error:
            mark = getattr(error, "problem_mark", None)
            place = Place(mark.line + 1, mark.column + 1) if mark else Place(1, 1)
            what = getattr(error, "problem", None) or "cannot be read"
            raise _refusal(
                self._file,
                place,
                "syntax",
                f"not YAML: {what}",
                "check the indentation and the quotes on this line",
            ) from error
        if self._documents == 0:
            raise _refusal(self._file, Place(1, 1), "empty", "the file is empty")
        return Source(file=self._file, data=self._root, places=self._places)

    def _take(self, event: Any) -> None:
        name = type(event).__name__
        place = Place(event.start_mark.line + 1, event.start_mark.column + 1)
        if getattr(event, "anchor", None) is not None:
            raise _refusal(
                self._file, place, "alias", "anchors and aliases are not used in banks", "write the value out"
            )
        tag = getattr(event, "tag", None) or getattr(getattr(event, "ctag", None), "_handle", None)
        if tag is not None:
            raise _refusal(
                self._file, place, "tag", "tags are not used in banks", "leave the word with ! out"
            )
        match name:
            case "DocumentStartEvent":
                self._documents += 1
                if self._documents > 1:
                    raise _refusal(
                        self._file, place, "syntax", "a second document begins here", "one bank a file"
                    )
            case "ScalarEvent":
                self._scalar(event, place)
            case "MappingStartEvent":
                self._open({}, place)
            case "SequenceStartEvent":
                self._open([], place)
            case "MappingEndEvent" | "SequenceEndEvent":
                self._stack.pop()
            case _:
                pass

    def _scalar(self, event: Any, place: Place) -> None:
        top = self._stack[-1] if self._stack else None
        if top is not None and isinstance(top.value, dict) and top.key is None:
            self._key(top, event.value, place)
        else:
            self._put(event.value if event.style in ("'", '"', "|", ">") else _plain(event.value), place)

    def _key(self, top: _Open, key: str, place: Place) -> None:
        if key in top.value:
            raise _refusal(
                self._file, place, "repeated-key", f"{key!r} stands here a second time", "keep one of them"
            )
        top.key = key
        self._places[top.pointer + pointer_to(key) + "#key"] = place

    def _open(self, value: Any, place: Place) -> None:
        if len(self._stack) >= DEPTH_LIMIT:
            raise _refusal(
                self._file,
                place,
                "too-deep",
                "values are nested too deeply",
                "a bank needs no more than ten levels",
            )
        top = self._stack[-1] if self._stack else None
        if top is not None and isinstance(top.value, dict) and top.key is None:
            raise _refusal(self._file, place, "key", "a key must be a word", "put it in quotes")
        self._stack.append(_Open(value, self._put(value, place)))

    def _put(self, value: Any, place: Place) -> str:
        """Store a value in what is open; returns its pointer."""
        if not self._stack:
            self._root, pointer = value, ""
        else:
            top = self._stack[-1]
            if isinstance(top.value, dict):
                assert top.key is not None
                pointer = top.pointer + pointer_to(top.key)
                top.value[top.key], top.key = value, None
            else:
                pointer = top.pointer + pointer_to(len(top.value))
                top.value.append(value)
        self._places[pointer] = place
        return pointer


def _plain(text: str) -> Any:
    """A scalar without quotes, after the core schema of YAML 1.2.

    Source: YAML 1.2.2 specification, section 10.3.2.
    """
    if text in _WORDS:
        return _WORDS[text]
    if _INTEGER.match(text) and len(text) <= 40:
        return int(text)
    return float(text) if _FLOAT.match(text) else text
