"""Recurrence (reduction) formulae: derived with a letter for the power, then used down to the base case."""
