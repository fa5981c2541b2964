"""The techniques of integration, one file each, and the planner that chooses among them."""

from __future__ import annotations

from qbank.techniques.planner import TECHNIQUES, solve, solve_all, solve_with, technique

__all__ = ["TECHNIQUES", "solve", "solve_all", "solve_with", "technique"]
