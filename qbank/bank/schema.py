"""The schemas that travel with the package, and a bank's faults against its schema as problems with hints."""

from __future__ import annotations

import difflib
import json
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Any

from qbank.bank.problem import Problem
from qbank.bank.source import Source, pointer_to

__all__ = ["document_faults", "schema", "schema_problems", "schema_text"]


def schema_text(name: str) -> str:
    """The text of a schema: `bank` or `items`.

    Raises:
        FileNotFoundError: there is no schema of that name.
    """
    package = files("qbank")
    # in a wheel the folder lies inside the package, in a checkout beside it
    for folder in (package / "schemas", package / ".." / "schemas"):
        file = folder / f"{name}.schema.json"
        if file.is_file():
            return file.read_text(encoding="utf-8")
    raise FileNotFoundError(f"no schema named {name!r}")


@cache
def schema(name: str) -> dict[str, Any]:
    """The schema as a value; the same object each time, not to be changed."""
    value: dict[str, Any] = json.loads(schema_text(name))
    return value


def schema_problems(source: Source) -> tuple[Problem, ...]:
    """Everything in a bank file that its schema does not allow."""
    from jsonschema import Draft202012Validator

    errors = Draft202012Validator(schema("bank")).iter_errors(source.data)
    return tuple(problem for error in errors for problem in _problems(source, error))


def document_faults(value: Any) -> Iterator[tuple[str, str]]:
    """Where a document of items differs from its schema: a JSON pointer and what is wrong there."""
    from jsonschema import Draft202012Validator

    for error in Draft202012Validator(schema("items")).iter_errors(value):
        yield pointer_to(*error.absolute_path), error.message


def _problems(source: Source, error: Any) -> list[Problem]:
    pointer = pointer_to(*error.absolute_path)
    rule, value = str(error.validator), error.instance
    if rule == "additionalProperties":
        known = list(error.schema.get("properties", {}))
        unknown = [key for key in value if key not in known]
        return [_unknown(source, pointer, key, known) for key in unknown]
    if rule == "required":
        missing = [name for name in error.validator_value if name not in value]
        # the rule reports once for each missing name; its message begins with the name
        name = next(name for name in missing if error.message.startswith(repr(name)))
        return [source.problem(pointer, "missing", f"{name!r} is missing", f"add a line {name}: ...")]
    return [source.problem(pointer, rule, _message(rule, error), _hint(error))]


def _unknown(source: Source, pointer: str, key: str, known: list[str]) -> Problem:
    near = difflib.get_close_matches(key, known, 1)
    hint = f"did you mean {near[0]!r}?" if near else "known here are " + ", ".join(known)
    place = pointer + pointer_to(key)
    at = f"{place}#key" if f"{place}#key" in source.places else place
    problem = source.problem(at, "unknown-name", f"{key!r} is not known here", hint)
    return Problem(**{**_fields(problem), "pointer": place})


def _fields(problem: Problem) -> dict[str, Any]:
    return {name: getattr(problem, name) for name in ("file", "place", "pointer", "code", "message", "hint")}


def _message(rule: str, error: Any) -> str:
    value, limit = error.instance, error.validator_value
    shown = json.dumps(value, ensure_ascii=False)
    shown = shown if len(shown) <= 60 else shown[:57] + "..."
    match rule:
        case "type":
            kinds = " or ".join(limit) if isinstance(limit, list) else limit
            return f"{shown} should be of type {kinds}"
        case "enum":
            return f"{shown} is not one of " + ", ".join(json.dumps(option) for option in limit)
        case "pattern":
            return f"{shown} is not written as it should be"
        case "minimum" | "maximum":
            return f"{shown} is {'below' if rule == 'minimum' else 'above'} {limit}"
        case "minItems" | "maxItems" | "minLength" | "maxLength" | "maxProperties":
            word = "at least" if rule.startswith("min") else "at most"
            return f"needs {word} {limit} {'characters' if rule.endswith('Length') else 'entries'}"
        case "uniqueItems":
            return f"{shown} has an entry twice"
        case _:
            return str(error.message)


def _hint(error: Any) -> str:
    if error.validator == "type" and isinstance(error.instance, float) and "string" in error.validator_value:
        return 'write an exact fraction in quotes, such as "1/2"'
    if error.validator == "enum" and isinstance(error.instance, str):
        near = difflib.get_close_matches(error.instance, [str(v) for v in error.validator_value], 1)
        if near:
            return f"did you mean {near[0]!r}?"
    return str(error.schema.get("x-hint", "")) if isinstance(error.schema, dict) else ""
