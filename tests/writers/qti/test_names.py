"""Names of a package."""

from __future__ import annotations

import pytest

from qbank.writers.qti.names import Register


def test_an_identifier_is_taken_once() -> None:
    register = Register()
    assert register.add("a-1.b_2") == "a-1.b_2"
    with pytest.raises(ValueError, match="occurs twice"):
        register.add("A-1.b_2")
