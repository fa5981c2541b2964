"""What all tests share: derandomised properties, the golden switch, and where the reference material lies."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

ROOT = Path(__file__).resolve().parent.parent

settings.register_profile(
    "repeatable", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("repeatable")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update-goldens", action="store_true", help="write the golden files from what the code does now"
    )


@pytest.fixture
def update_goldens(request: pytest.FixtureRequest) -> bool:
    return bool(request.config.getoption("--update-goldens"))


@pytest.fixture(scope="session")
def shared() -> Path:
    """The folder of reference material beside the checkout; tests that need it skip without it."""
    folder = Path(os.environ.get("QBANK_SHARED", ROOT.parent / "shared"))
    if not (folder / "reference").is_dir():
        pytest.skip(f"the reference material is not at {folder} (set QBANK_SHARED)")
    return folder
