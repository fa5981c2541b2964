"""The independent reader, as the tests use it: found, set up once, and asked what it makes of items and tests.

It is kept beside the checkout (`../shared/player`, or QBANK_SHARED) and fetches what it needs itself; it is a test tool only,
and no part of it is in this project. Attempts at items go through `driver.mjs`, which starts browser and reader once.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from qbank.items.deck import Deck
from qbank.writers.qti import QTI3, package
from qbank.writers.qti.names import TEST_PATH

__all__ = ["attempt", "missing", "seen_in_test", "unpacked"]

_DRIVER = Path(__file__).with_name("driver.mjs")
#: pages that work side by side; more do not help on two cores
_PAGES = 2


def missing(shared: Path) -> str | None:
    """Why the browser cannot be used here, or None."""
    if not _script(shared).is_file():
        return f"the independent reader is not at {_script(shared)} (set QBANK_SHARED)"
    for tool in ("chromium", "node", "npm"):
        if shutil.which(tool) is None:
            return f"{tool} is not installed"
    return None


def attempt(attempts: Sequence[Mapping[str, object]], folder: Path, shared: Path) -> list[dict[str, Any]]:
    """What the reader makes of some attempts, one after another, in one browser.

    Args:
        attempts: as `driver.mjs` describes them; items are paths in the folder.
        folder: where the items lie.
        shared: the folder of reference material.

    Raises:
        RuntimeError: the reader did not run.
    """
    done = subprocess.run(
        ["node", str(_DRIVER), str(_reader(shared)), str(folder), str(_PAGES)],
        input=json.dumps(attempts),
        capture_output=True,
        text=True,
        check=False,
        timeout=1500,
    )
    if done.returncode:
        raise RuntimeError(f"the reader did not run:\n{done.stdout[-2000:]}\n{done.stderr[-2000:]}")
    results: list[dict[str, Any]] = json.loads(done.stdout)
    return results


def seen_in_test(deck: Deck, shared: Path, path: str = TEST_PATH) -> tuple[str, str]:
    """What a candidate and what a scorer sees of the first section of a deck's test.

    Args:
        deck: what the package holds.
        shared: where the reader lies.
        path: of the test in the package.

    Raises:
        RuntimeError: the reader did not run.
    """
    with unpacked(deck) as folder:
        done = _run(shared, "--test", str(folder / path), "--view", "scorer")
    try:
        seen = json.loads(done.stdout)
        return str(seen["text"]), str(seen["text_in_view"])
    except (ValueError, KeyError) as problem:
        raise RuntimeError(
            f"the reader did not run:\n{done.stdout[-2000:]}\n{done.stderr[-2000:]}"
        ) from problem


@contextmanager
def unpacked(deck: Deck, **options: Any) -> Iterator[Path]:
    """A folder with the files of a deck's package.

    Args:
        deck: the deck.
        options: of the package.
    """
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for artifact in package(deck, QTI3, **options):
            (folder / artifact.path).parent.mkdir(parents=True, exist_ok=True)
            with (folder / artifact.path).open("ab") as file:
                file.write(artifact.data)
        yield folder


def _script(shared: Path) -> Path:
    return shared / "player" / "run.sh"


def _reader(shared: Path) -> Path:
    """The folder with the reader's sources and packages; its own runner fetches them when it first shows an item."""
    folder = Path(os.environ.get("QTI_CHECK_DIR", Path.home() / ".cache" / "qti_check"))
    if not (folder / "node_modules").is_dir():
        done = _run(shared, str(shared / "player" / "items" / "a_choice.xml"))
        if done.returncode:
            raise RuntimeError(
                f"the reader could not be set up:\n{done.stdout[-2000:]}\n{done.stderr[-2000:]}"
            )
    return folder


def _run(shared: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    command = ["bash", str(_script(shared)), *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False, timeout=600)
