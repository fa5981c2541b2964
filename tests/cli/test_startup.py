"""Starting up imports nothing heavy."""

from __future__ import annotations

import subprocess
import sys

import pytest

HEAVY = ("sympy", "flint", "lxml", "jsonschema", "ruamel", "qbank.maths", "qbank.bank")


@pytest.mark.parametrize("statement", ["import qbank", "import qbank.cli", "from qbank.cli import main"])
def test_light(statement: str) -> None:
    code = f"import sys; {statement}; print(*sys.modules)"
    loaded = subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, text=True
    ).stdout.split()
    assert not [name for name in loaded if name.startswith(HEAVY)]


def test_the_public_names_are_there() -> None:
    import qbank

    for name in qbank.__all__:
        assert getattr(qbank, name) is not None
    with pytest.raises(AttributeError):
        qbank.nothing  # noqa: B018 - the access is the test
