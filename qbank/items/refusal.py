"""A draw that makes no good item."""

from __future__ import annotations

__all__ = ["DrawRefused"]


class DrawRefused(Exception):  # noqa: N818 - a refusal is an answer, not an error
    """This draw makes no good item; the text says why.

    Attributes:
        accident: whether it is an accident of this draw's numbers, which passing it over mends (a value on the
            border of rounding); otherwise the template should be changed.
    """

    def __init__(self, reason: str, *, accident: bool = False) -> None:
        super().__init__(reason)
        self.accident = accident
