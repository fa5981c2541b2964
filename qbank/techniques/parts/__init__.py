"""Integration by parts: which factor is taken, the run of repeated parts, and their slips."""
