"""qbank: banks of randomised integration items, proved and marked by differentiation."""

__version__ = "0.1.0"
