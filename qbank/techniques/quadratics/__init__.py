"""Quotients with a quadratic, or its root, below the line: the numerator split, the square completed."""
