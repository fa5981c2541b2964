"""The policies of the items of a package, from the bank file that it carries."""

from __future__ import annotations

import re
from collections.abc import Mapping

from qbank.bank.loading import parse_bank
from qbank.bank.policy import ACCEPTING, Policy
from qbank.bank.problem import BankError
from qbank.packages.opening import PackageError
from qbank.packages.recovering import Recovered

__all__ = ["policies_of", "policy_for"]

#: what follows the name of the template in the identifier of an item
_OF_THE_CLONE = re.compile(r"-[0-9]+-[a-z-]+$")


def policies_of(source: Recovered | None) -> Mapping[str, Policy]:
    """The policies by template; none for a package without its source.

    Raises:
        PackageError: the bank file in it cannot be used.
    """
    if source is None:
        return {}
    try:
        bank = parse_bank(source.source.content, source.source.name)
    except BankError as error:
        raise PackageError(f"the bank file in it cannot be used: {error}") from error
    return {template.identifier: template.policy for template in bank.templates}


def policy_for(item: str, policies: Mapping[str, Policy]) -> Policy:
    """The policy of an item; that of a bank which says nothing where it is not known.

    >>> half = policy_for("powers-0012-free-expression", {"powers": Policy(constant=0 * Policy().constant)})
    >>> half.constant
    Fraction(0, 1)
    """
    return policies.get(_OF_THE_CLONE.sub("", item), ACCEPTING)
