"""Names that are the same in every generation: variables, files and identifiers of a package."""

from __future__ import annotations

import re

from qbank.items.deck import Deck, Paper, Part, Section
from qbank.writers.refusal import RefusalError

__all__ = [
    "FEEDBACK",
    "ITEM_TO_TOP",
    "LISTED",
    "MANIFEST_PATH",
    "MAXSCORE",
    "RESPONSE",
    "SCORE",
    "SOLUTION",
    "TEST_PATH",
    "XML_LANG",
    "Register",
    "assessment_identifier",
    "item_path",
    "manifest_identifier",
    "part_identifier",
    "section_identifier",
    "source_identifier",
    "test_path",
]

XML_LANG = "xml:lang"

#: the file that the standard looks for at the root of a package
MANIFEST_PATH = "imsmanifest.xml"
TEST_PATH = "test.xml"

RESPONSE, SCORE, MAXSCORE = "RESPONSE", "SCORE", "MAXSCORE"
#: which feedback on the response is shown
FEEDBACK = "FEEDBACK"
#: whether a number that was typed into a line is among the spellings that are accepted
LISTED = "LISTED"
#: whether the worked solution is shown
SOLUTION = "SOLUTION"

# Within an XML name without colon, the letters that are safe in a path of any system; no dot at an end, none doubled.
_IDENTIFIER = re.compile(r"[A-Za-z_][A-Za-z0-9_-]*(?:\.[A-Za-z0-9_-]+)*")
_LONGEST = 200


#: what leads from an item to the top of the package
ITEM_TO_TOP = "../../"


def item_path(section: Section, identifier: str) -> str:
    """Where an item lies in the package."""
    return f"items/{section.template}/{identifier}.xml"


def section_identifier(section: Section) -> str:
    """The identifier of a section of the test."""
    return f"section-{section.name or section.template}"


def part_identifier(part: Part) -> str:
    """The identifier of a section of a test as students see it."""
    return f"section-{part.identifier}"


def test_path(paper: Paper) -> str:
    """Where a test lies in the package, or one of its forms.

    Beside the items' folder, so that an item's path is its address in the test too.
    """
    return f"test-form-{paper.form.lower()}.xml" if paper.form else TEST_PATH


def assessment_identifier(deck: Deck) -> str:
    """The identifier of the test that all sections of a deck make up."""
    return f"test-{deck.bank}"


def manifest_identifier(deck: Deck) -> str:
    """The identifier of the manifest."""
    return f"manifest-{deck.bank}"


def source_identifier(deck: Deck) -> str:
    """The identifier of the source that a package carries."""
    return f"source-{deck.bank}"


class Register:
    """Sees to it that the identifiers of a package are names, and all different.

    They are compared without case, because they become file names and some file systems know no case.
    """

    def __init__(self) -> None:
        self._taken: set[str] = set()

    def add(self, identifier: str) -> str:
        """Take an identifier.

        Returns:
            The identifier.

        Raises:
            RefusalError: it is not a name, or taken.
        """
        if len(identifier) > _LONGEST or not _IDENTIFIER.fullmatch(identifier):
            what = "it cannot be an identifier in a package"
            hint = "an identifier begins with a letter; letters, digits, hyphens and underscores follow"
            raise RefusalError(repr(identifier[:60]), what, hint)
        # one text serves for both where it can: there may be a hundred thousand
        folded = identifier if identifier == (small := identifier.lower()) else small
        if folded in self._taken:
            what = "the identifier occurs twice in the package, large and small letters being the same"
            raise RefusalError(repr(identifier), what, "give one of the two another name")
        self._taken.add(folded)
        return identifier
