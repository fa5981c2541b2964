"""Trigonometric substitution for roots and powers of a quadratic."""
