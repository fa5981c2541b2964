"""Standard forms with a linear inside: one term at a time, sums of them, and the habits that go wrong in them."""
