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


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line(
        "markers", "no_cover: no lines are counted (for runs without the coverage plugin)"
    )


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The browser comes first, for the other processes to work beside it; of sweeps no coverage is taken.

    A sweep over the reference material runs the same code again and again, at twice the time where lines are counted;
    and what is covered must not depend on that material.
    """
    items.sort(key=lambda item: item.get_closest_marker("browser") is None)
    for item in items:
        if item.get_closest_marker("reference") is not None:
            item.add_marker("no_cover")


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
