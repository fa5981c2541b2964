"""The ways to evaluate a definite integral, one small module each; `choosing` puts them in teaching order."""
