"""What a format can carry of an item, as a table computed from the formats themselves."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["FEATURES", "OF_TESTS", "table"]

#: everything that a format may carry, in the order of the table: identifier -> what it is
FEATURES: Mapping[str, str] = MappingProxyType(
    {
        "choice": "single choice, marked by the system",
        "several-answers": "several right options, each with a share of the marks, marked by the system",
        "matching": "several integrals matched to what belongs to them, marked by the system",
        "first-step": "the first step of a solution, marked by the system",
        "find-fault": "the wrong line of a working, marked by the system",
        "complete-working": "lines of a working to be chosen, each with a share of the marks, marked by the system",
        "number-gaps": "numbers missing in the lines of a working, each with a share of the marks, marked by the system",
        "expression-gaps": "expressions missing in the lines of a working, marked by a person or by qbank",
        "numeric": "a number within bounds, marked by the system",
        "evaluation": "the value of an antiderivative, a number within bounds, marked by the system",
        "coefficients": "the coefficients of a given form, marked by the system by differentiation",
        "free-expression": "any expression, marked by a person or by qbank",
        "show-that": "a working towards a value that is given, marked by a person",
        "figure": "a picture of the question, in SVG, with its description in words",
        "rubric": "the key and the marks, for the person who marks",
        "feedback": "feedback for each option and each slip",
        "worked-solution": "the worked solution",
        "pools": "a clone of each template dealt to each student",
        "sections": "the sections of a test, with their titles",
        "time-limit": "the time limit of a test",
        "total-marks": "the total marks of a test",
        "shuffling": "options in another order for each student",
        "mathml": "mathematics as MathML",
        "pictures": "mathematics as pictures, with --math pictures",
        "tex": "mathematics as LaTeX that the system typesets, with --math tex",
        "spoken": "spoken words that assistive technology finds on every formula",
        "evidence": "proofs and witnesses",
    }
)

#: features that concern only a test that the bank declares
OF_TESTS = frozenset({"sections", "time-limit", "total-marks"})


def table(formats: Mapping[str, frozenset[str]]) -> list[str]:
    """The lines of a table: a row for each feature, a column for each format.

    Args:
        formats: by name, which features it carries.

    >>> " ".join(table({"a": frozenset({"choice"})})[1].split())
    'single choice, marked by the system yes'
    """
    width = max(len(title) for title in FEATURES.values())
    lines = ["  ".join((" " * width, *formats))]
    for feature, title in FEATURES.items():
        cells = (("yes" if feature in carried else "-").ljust(len(name)) for name, carried in formats.items())
        lines.append("  ".join((title.ljust(width), *cells)).rstrip())
    return lines
