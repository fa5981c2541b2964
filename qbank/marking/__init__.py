"""Marking: a response is read, differentiated and compared with the integrand; a mark says what and why."""

from qbank.marking.antiderivative import AntiderivativeMarker
from qbank.marking.coefficients import CoefficientsMarker
from qbank.marking.definite import DefiniteMarker, NoValueError
from qbank.marking.mark import REMARKS, Mark, Outcome, Remark
from qbank.marking.table import MarkedTable, TableError, mark_rows

__all__ = [
    "REMARKS",
    "AntiderivativeMarker",
    "CoefficientsMarker",
    "DefiniteMarker",
    "Mark",
    "MarkedTable",
    "NoValueError",
    "Outcome",
    "Remark",
    "TableError",
    "mark_rows",
]
