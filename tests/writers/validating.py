"""The standards body's schemas, by the validator that lies beside them; each is compiled once for all tests."""

from __future__ import annotations

import importlib.util
import io
from contextlib import redirect_stdout
from functools import cache
from pathlib import Path
from typing import Any

__all__ = ["validate"]


def validate(shared: Path, *paths: Path) -> None:
    """Insist that packages or documents are valid.

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
    assert not run.failed, told.getvalue()
    assert run.checked


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
