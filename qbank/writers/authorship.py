"""Who wrote a bank and under what licence, as metadata of packages says it."""

from __future__ import annotations

from qbank.writers.characters import one_line

__all__ = ["card", "licence_line"]


def card(name: str) -> str:
    r"""A person as a vCard 3.0 (RFC 2426), which is what LOM asks for.

    >>> card("Example, A.").splitlines()[2]
    'FN:Example\\, A.'
    """
    escaped = one_line(name)
    for sign in "\\;,":
        escaped = escaped.replace(sign, "\\" + sign)
    return f"BEGIN:VCARD\nVERSION:3.0\nFN:{escaped}\nN:{escaped};;;;\nEND:VCARD"


def licence_line(licence: str) -> str:
    """A licence as the tag that SPDX (annex on short identifiers) defines.

    >>> licence_line("CC-BY-4.0")
    'SPDX-License-Identifier: CC-BY-4.0'
    """
    return f"SPDX-License-Identifier: {licence}"
