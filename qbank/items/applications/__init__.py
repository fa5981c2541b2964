"""Items that ask for an area, a volume, a length, a mean value or a way: worded, worked and drawn from one question."""
