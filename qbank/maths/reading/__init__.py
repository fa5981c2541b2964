"""Reading: text to expression trees, with remarks where a convention decided and errors with a place and a hint.

errors limits remarks            what can be said
lookalikes words latex tokens    text to tokens
choices cursor rules             what the rules of the grammar share
    functions roots exponents grammar audit reader   tokens to a tree
response                         what stands around an answer
"""

from __future__ import annotations

from qbank.maths.reading.errors import CODES, ReadingError
from qbank.maths.reading.reader import Reading, read
from qbank.maths.reading.remarks import REMARKS, Remark
from qbank.maths.reading.response import read_response

__all__ = ["CODES", "REMARKS", "Reading", "ReadingError", "Remark", "read", "read_response"]
