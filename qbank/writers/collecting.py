"""Python's collector of cycles, which looks seldom while an export is made.

It looks at all that is young after every few hundred objects that were made and kept. An export makes and keeps hardly anything but
trees and what is remembered of them, in which there are no cycles, and a twentieth of its time went into looking for some.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

__all__ = ["collected_seldom"]

#: how many times as many objects are made before it looks
_TIMES: Final = 50


@contextmanager
def collected_seldom() -> Iterator[None]:
    """A context in which the collector looks less often; it does not stop, so that memory stays bounded.

    >>> with collected_seldom():
    ...     seldom = gc.get_threshold()
    >>> seldom[0] == 50 * gc.get_threshold()[0]
    True
    """
    youngest, *older = gc.get_threshold()
    gc.set_threshold(youngest * _TIMES, *older)
    try:
        yield
    finally:
        gc.set_threshold(youngest, *older)
