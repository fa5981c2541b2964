"""Marking: a response is read, differentiated and compared with the integrand; a mark says what and why."""

from qbank.marking.antiderivative import AntiderivativeMarker
from qbank.marking.definite import DefiniteMarker, NoValueError
from qbank.marking.mark import REMARKS, Mark, Outcome, Remark
from qbank.marking.table import TableError, TableSummary, mark_rows, mark_table

__all__ = [
    "REMARKS",
    "AntiderivativeMarker",
    "DefiniteMarker",
    "Mark",
    "NoValueError",
    "Outcome",
    "Remark",
    "TableError",
    "TableSummary",
    "mark_rows",
    "mark_table",
]
