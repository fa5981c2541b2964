"""The standards body's schemas, by the validator that lies beside them; each is compiled once for all tests."""

from __future__ import annotations

import importlib.util
import io
from contextlib import redirect_stdout
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

__all__ = ["Findings", "findings", "validate"]


class Findings(NamedTuple):
    """How many documents are valid, how many are not, and what was said of these."""

    valid: int
    invalid: int
    told: str


def findings(shared: Path, *paths: Path) -> Findings:
    """What the validator finds.

    Args:
        shared: the folder of reference material.
        paths: packages, folders or XML files.
    """
    validator = _validator(shared / "standards" / "validate.py")
    run = validator.Run()
    run.schemas = _schemas(validator)
    with redirect_stdout(io.StringIO()) as told:
        for path in paths:
            run.argument(path)
    return Findings(len(run.checked - run.failed), len(run.failed), told.getvalue())


def validate(shared: Path, *paths: Path) -> None:
    """Insist that packages or documents are valid, and that there is something to look at."""
    found = findings(shared, *paths)
    assert not found.invalid, found.told
    assert found.valid


@cache
def _validator(script: Path) -> Any:
    """The script as a module."""
    found = importlib.util.spec_from_file_location("standards_validator", script)
    assert found is not None
    assert found.loader is not None
    module = importlib.util.module_from_spec(found)
    found.loader.exec_module(module)
    return module


@cache
def _schemas(validator: Any) -> Any:
    """Those of a run: to compile them takes seconds, to use them hardly any time."""
    return validator.Schemas()
