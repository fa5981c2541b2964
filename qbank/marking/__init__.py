"""Marking: a response is read, differentiated and compared with the integrand; a mark says what and why."""

from qbank.marking.antiderivative import AntiderivativeMarker
from qbank.marking.coefficients import CoefficientsMarker
from qbank.marking.definite import DefiniteMarker, NoValueError
from qbank.marking.entry import Entry, Marked, mark_entry
from qbank.marking.evaluation import EvaluationMarker
from qbank.marking.mark import REMARKS, Mark, Outcome, Remark
from qbank.marking.matching import MatchingMarker
from qbank.marking.rows import TableError
from qbank.marking.running import Workers, mark_entries
from qbank.marking.several import SeveralMarker
from qbank.marking.table import MarkedTable
from qbank.marking.tasks import TaskMarker

__all__ = [
    "REMARKS",
    "AntiderivativeMarker",
    "CoefficientsMarker",
    "DefiniteMarker",
    "Entry",
    "EvaluationMarker",
    "Mark",
    "Marked",
    "MarkedTable",
    "MatchingMarker",
    "NoValueError",
    "Outcome",
    "Remark",
    "SeveralMarker",
    "TableError",
    "TaskMarker",
    "Workers",
    "mark_entries",
    "mark_entry",
]
