"""qbank: banks of randomised integration items, proved, exported and marked by differentiation.

The public names, each imported from its room when it is first used (so that starting up costs nothing):

>>> import qbank
>>> x = qbank.Symbol("x")
>>> marker = qbank.AntiderivativeMarker(qbank.read("cos(x)^3").tree, x)
>>> marker.mark("sin x - sin^3 x/3 + C").outcome
'correct'
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from qbank.bank.loading import load_bank as load_bank
    from qbank.bank.loading import parse_bank as parse_bank
    from qbank.bank.model import Assessment as Assessment
    from qbank.bank.model import Bank as Bank
    from qbank.bank.model import Template as Template
    from qbank.bank.problem import BankError as BankError
    from qbank.items.checking import check_template as check_template
    from qbank.items.cloning import ShortageError as ShortageError
    from qbank.items.cloning import clones as clones
    from qbank.items.item import Item as Item
    from qbank.items.setting import SettingError as SettingError
    from qbank.items.setting import set_test as set_test
    from qbank.marking import AntiderivativeMarker as AntiderivativeMarker
    from qbank.marking import CoefficientsMarker as CoefficientsMarker
    from qbank.marking import DefiniteMarker as DefiniteMarker
    from qbank.marking import EvaluationMarker as EvaluationMarker
    from qbank.marking import Mark as Mark
    from qbank.marking import MatchingMarker as MatchingMarker
    from qbank.marking import SeveralMarker as SeveralMarker
    from qbank.marking import TaskMarker as TaskMarker
    from qbank.maths.conventions import Conventions as Conventions
    from qbank.maths.deciding import decide_antiderivative as decide_antiderivative
    from qbank.maths.expression import Expression as Expression
    from qbank.maths.expression import Symbol as Symbol
    from qbank.maths.reading import ReadingError as ReadingError
    from qbank.maths.reading import read as read
    from qbank.techniques import solve as solve

__version__ = "0.1.0"

_HOME = {
    "AntiderivativeMarker": "qbank.marking",
    "Assessment": "qbank.bank.model",
    "Bank": "qbank.bank.model",
    "BankError": "qbank.bank.problem",
    "CoefficientsMarker": "qbank.marking",
    "Conventions": "qbank.maths.conventions",
    "DefiniteMarker": "qbank.marking",
    "EvaluationMarker": "qbank.marking",
    "Expression": "qbank.maths.expression",
    "Item": "qbank.items.item",
    "Mark": "qbank.marking",
    "MatchingMarker": "qbank.marking",
    "ReadingError": "qbank.maths.reading",
    "SettingError": "qbank.items.setting",
    "SeveralMarker": "qbank.marking",
    "TaskMarker": "qbank.marking",
    "ShortageError": "qbank.items.cloning",
    "Symbol": "qbank.maths.expression",
    "Template": "qbank.bank.model",
    "check_template": "qbank.items.checking",
    "clones": "qbank.items.cloning",
    "decide_antiderivative": "qbank.maths.deciding",
    "load_bank": "qbank.bank.loading",
    "parse_bank": "qbank.bank.loading",
    "read": "qbank.maths.reading",
    "set_test": "qbank.items.setting",
    "solve": "qbank.techniques",
}

__all__ = ["__version__", *_HOME]  # noqa: PLE0604 - the names are the table's keys


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module 'qbank' has no attribute {name!r}")
    return getattr(import_module(_HOME[name]), name)
