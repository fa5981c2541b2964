"""An item said in the language of its bank: every sentence in it, wherever it stands, once and for all."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from qbank.maths.conventions import Conventions
from qbank.maths.equation import Equation
from qbank.maths.expression import Expression
from qbank.maths.verdict import Proof, Witness
from qbank.messages import Message, Prose, in_language

__all__ = ["translated"]

_T = TypeVar("_T")

#: what says nothing to people; trees are many
_SILENT = (Expression, Equation, Proof, Witness, Conventions)


def translated(value: _T, language: str) -> _T:
    """A frozen value with all that is said in it in a language.

    Args:
        value: an item, or a part of one: dataclasses and tuples of messages, prose and anything else.
        language: BCP 47 tag.

    >>> from qbank.messages import say
    >>> from qbank.techniques.presenting import Row
    >>> translated(Row(kind="step", statements=(), reason=say("Integrate term by term.")), "de").reason
    'Integriere Summand für Summand.'
    """
    found: _T = _translated(value, language)
    return found


def _translated(value: Any, language: str) -> Any:
    if isinstance(value, Message | Prose):
        return in_language(value, language)
    if isinstance(value, tuple):
        parts = tuple(_translated(part, language) for part in value)
        return parts if any(new is not old for new, old in zip(parts, value, strict=True)) else value
    if not is_dataclass(value) or isinstance(value, (*_SILENT, type)):
        return value
    changed = {}
    for field in fields(value):
        old = getattr(value, field.name)
        new = _translated(old, language)
        if new is not old:
            changed[field.name] = new
    return replace(value, **changed) if changed else value
