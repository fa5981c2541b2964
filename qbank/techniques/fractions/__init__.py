"""Partial fractions: division first, the factors, and the letters found line by line."""
