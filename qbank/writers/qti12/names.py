"""Names of QTI 1.2, and in what the plain standard and the profile of Common Cartridge differ."""

from __future__ import annotations

from dataclasses import dataclass

from qbank.writers.figures import Figures
from qbank.writers.formulas import AS_MATHML, Formulas

__all__ = ["CARTRIDGE", "PLAIN", "RESPONSE", "SCORE", "SOLUTION", "Dialect", "feedback_name"]

RESPONSE, SCORE = "RESPONSE", "SCORE"
#: the profile's rules know a solution by this identifier
SOLUTION = "solution"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dialect:
    """One way of writing a `questestinterop` document.

    Attributes:
        namespace: of its elements; None where the standard is bound by a DTD, which knows no namespaces.
        location: where the schema of the namespace is published.
        percent: whether a score runs from 0 to 100, with the marks as a weight beside it, or is the marks themselves.
        formulas: how formulas are shown.
        figures: the figures of the package; without them none is shown.
    """

    namespace: str | None
    location: str
    percent: bool
    formulas: Formulas = AS_MATHML
    figures: Figures | None = None


#: QTI 1.2 as published in 2002, with a DTD
PLAIN = Dialect(namespace=None, location="", percent=False)

#: QTI 1.2.1 as profiled for Common Cartridge. Every version of it has the same namespace.
CARTRIDGE = Dialect(
    namespace="http://www.imsglobal.org/xsd/ims_qtiasiv1p2",
    location="http://www.imsglobal.org/profile/cc/ccv1p1/ccv1p1_qtiasiv1p2p1_v1p0.xsd",
    percent=True,
)


def feedback_name(key: str) -> str:
    """The identifier of what a student is told: after an option, or after one kind of number.

    >>> feedback_name("A")
    'feedback_A'
    """
    return f"feedback_{key}"
