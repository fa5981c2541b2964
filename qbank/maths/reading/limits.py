"""How much one text may ask for: each limit has its own error code.

They keep the cost of reading, and of all later work on the tree, bounded whatever the text is.
"""

from __future__ import annotations

__all__ = ["CHARACTERS", "DIGITS", "EXPONENT", "NESTING", "NODES", "POWER_DIGITS", "TOKENS", "WORD"]

#: characters in a text
CHARACTERS = 4_000
#: levels of the tree, and of brackets in the text
NESTING = 100
#: names, numbers and signs in a text
TOKENS = 2_000
#: letters that stand together
WORD = 60
#: nodes of the tree
NODES = 2_000
#: digits of one number as written
DIGITS = 60
#: size of an exponent that is a number, and of the index of a root
EXPONENT = 1_000
#: decimal digits in the value of a power of numbers
POWER_DIGITS = 10_000
