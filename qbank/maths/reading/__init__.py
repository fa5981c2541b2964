r"""Reading: text to expression trees, with remarks where a convention decided and errors with a place and a hint.

One reader serves authors and students, typed mathematics, Unicode and LaTeX. The way of a text:

    lookalikes   characters that mean the same become one, places kept
    tokens       numbers, names, signs; words, latex and raised hold the vocabularies
    grammar      tokens to a tree; functions, roots, exponents, brackets hold its parts, rules and cursor what they share
    audit        the bounds of the tree (limits has the numbers)
    reader       the reading and, from choices, its alternatives
    response     what stands around an answer: y =, ∫ ... dx =, a full stop; asides such as "where C is a constant"

`errors.CODES` and `remarks.REMARKS` list everything that can be said.

>>> reading = read("1/2x")
>>> reading.remarks[0].sentence
'1/2x is read as (1/2)*x; the other reading is 1/(2*x).'
>>> reading.alternatives == (read("1/(2x)").tree,)
True
"""

from __future__ import annotations

from qbank.maths.reading.errors import CODES, ReadingError
from qbank.maths.reading.reader import Reading, read
from qbank.maths.reading.remarks import REMARKS, Remark
from qbank.maths.reading.response import read_response

__all__ = ["CODES", "REMARKS", "Reading", "ReadingError", "Remark", "read", "read_response"]
