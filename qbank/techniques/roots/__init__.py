"""Algebraic substitutions: u for a root, an exponential or a reciprocal."""
