"""Substitution of u for a function whose derivative stands beside it, and what is handed on after it."""
