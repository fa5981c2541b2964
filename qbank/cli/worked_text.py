"""Rows of a worked solution as JSON and as LaTeX."""

from __future__ import annotations

from typing import Any

from qbank.maths.notation import latex, plain
from qbank.techniques.presenting import Row

__all__ = ["aligned", "rows_as_json"]


def rows_as_json(found: tuple[Row, ...]) -> list[dict[str, Any]]:
    """Each row with its mathematics in plain text and LaTeX, its rule and its reason."""
    return [
        {
            "kind": row.kind,
            "plain": [plain(statement) for statement in row.statements],
            "latex": [latex(statement) for statement in row.statements],
            "rule": row.rule,
            "reason": row.reason,
        }
        for row in found
    ]


def aligned(found: tuple[Row, ...]) -> str:
    """The rows aligned at their equals signs, reasons beside them."""
    lines = []
    for row in found:
        written = r",\quad ".join(latex(statement) for statement in row.statements)
        reason = rf" && \text{{{row.reason}}}" if row.reason else ""
        lead = {"start": "&", "step": "&= ", "let": r"&\quad\text{let } "}.get(row.kind, r"&\quad ")
        lines.append(f"  {lead}{written}{reason}")
    return "\\begin{aligned}\n" + " \\\\\n".join(lines) + "\n\\end{aligned}"
