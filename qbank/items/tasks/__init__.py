"""Tasks about working: choose the first step, find the fault, complete the working."""
