"""What was found out about one question."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Finding"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """What was found out about one question.

    Attributes:
        proved: keys proved.
        agreeing: keys that agree with quadrature to many digits, without proof.
        refuted: wrong options shown to be wrong.
        problems: everything that is not as it should be; empty when the question is sound.
    """

    proved: int = 0
    agreeing: int = 0
    refuted: int = 0
    problems: tuple[str, ...] = ()
