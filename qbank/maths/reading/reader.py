"""The reader itself: one text to one `Reading`.

    text --clean--> plain characters --tokenise--> tokens --grammar--> tree --audit--> Reading

The same reader serves typed mathematics, Unicode mathematics and LaTeX, and authors as well as students. It evaluates
nothing; its cost is bounded by `qbank.maths.reading.limits`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property, partial

from qbank.maths.conventions import DEFAULT, Conventions
from qbank.maths.expression import Expression, Symbol
from qbank.maths.reading import limits
from qbank.maths.reading.audit import audit
from qbank.maths.reading.choices import Choices, Place, turns
from qbank.maths.reading.errors import ReadingError
from qbank.maths.reading.grammar import Grammar
from qbank.maths.reading.lookalikes import CleanText, clean
from qbank.maths.reading.remarks import Remark
from qbank.maths.reading.tokens import Names, tokenise
from qbank.maths.reading.words import USUAL_VARIABLES
from qbank.messages import say

__all__ = ["Reading", "cleaned", "names_of", "read", "read_clean", "unwrapped"]

#: tokens read in all for the alternatives of one text, so that a long text costs no multiple of its length
_ALTERNATIVE_TOKENS = 2_000
#: what may stand around LaTeX mathematics
_WRAPPERS = (("$$", "$$"), ("$", "$"), (r"\(", r"\)"), (r"\[", r"\]"))


@dataclass(frozen=True)
class Reading:
    """How a text was understood.

    Attributes:
        tree: the expression, as written.
        remarks: the conventions that were followed, in the order of the text.
        source: the text as it was given.
        others: finds the alternatives, which few readers of a text ask for.
    """

    tree: Expression
    remarks: tuple[Remark, ...]
    source: str
    others: Callable[[], tuple[Expression, ...]] = field(default=tuple, repr=False, compare=False)

    @property
    def is_conditional(self) -> bool:
        """Whether it was said on which part of the line the expression holds."""
        return any(remark.identifier == "condition" for remark in self.remarks)

    @cached_property
    def alternatives(self) -> tuple[Expression, ...]:
        """The other readings of what is ambiguous, the likeliest first; all different from `tree` and each other."""
        return self.others()


def read(
    text: str,
    *,
    conventions: Conventions = DEFAULT,
    variable: Symbol | None = None,
    names: frozenset[str] = frozenset(),
) -> Reading:
    r"""Read an expression.

    Args:
        text: typed mathematics or LaTeX, at most 4,000 characters.
        conventions: the school's habits: what `log` and `0,5` mean.
        variable: the variable, when it is known; it decides whether `e` is a letter and where arguments end.
        names: names that are symbols although they have several letters, such as parameters of a bank.

    Returns:
        The tree as written, with remarks and alternatives.

    Raises:
        ReadingError: when the text cannot be read; see `qbank.maths.reading.errors.CODES`.

    >>> read("-2x").tree
    Negate(operand=Product(factors=(Integer(value=2), Symbol(name='x'))))
    >>> read(r"\frac{1}{2}").tree == read("1/2").tree
    True
    """
    return read_clean(unwrapped(cleaned(text)), names_of(conventions, variable, names))


def cleaned(text: str) -> CleanText:
    """The plain characters of a text, refused when it is too long."""
    if len(text) > limits.CHARACTERS:
        message = say(
            "the text has {count} characters, more than {limit}",
            count=str(len(text)),
            limit=str(limits.CHARACTERS),
        )
        raise ReadingError(
            "too-long",
            message,
            position=(limits.CHARACTERS, len(text)),
            hint=say("write a shorter expression"),
            source=text,
        )
    return clean(text)


def names_of(conventions: Conventions, variable: Symbol | None, names: frozenset[str]) -> Names:
    """What names may mean, from what the caller states."""
    variables = USUAL_VARIABLES if variable is None else frozenset({variable.name})
    allowed = names if variable is None else names | {variable.name}
    return Names(variables, allowed, conventions)


def read_clean(text: CleanText, names: Names) -> Reading:
    """Read a cleaned text."""
    choices = Choices()
    try:
        tree, size = _once(text, names, choices)
    except ReadingError:
        nested = _with_nested_bars(text, names, choices.asked)
        if nested is None:
            raise
        choices, tree, size = nested
    remarks = sorted((*text.remarks, *choices.remarks), key=lambda remark: (remark.start, remark.end))
    others = partial(_alternatives, text, names, choices, tree, size) if choices.asked else tuple
    return Reading(tree, tuple(dict.fromkeys(remarks)), text.source, others)


def _alternatives(
    text: CleanText, names: Names, choices: Choices, tree: Expression, size: int
) -> tuple[Expression, ...]:
    """The trees with some of the places read the other way, different from the usual one of so many tokens."""
    others: dict[Expression, None] = {}
    budget = _ALTERNATIVE_TOKENS
    for turned in turns(choices.asked):
        budget -= size
        if budget < 0:
            break
        other = _turned(text, names, choices.turned | turned)
        if other is not None and other != tree:
            others[other] = None
    return tuple(others)


def _with_nested_bars(
    text: CleanText, names: Names, asked: list[Place]
) -> tuple[Choices, Expression, int] | None:
    """A reading with modulus bars nested where they could be, for a text that has no other reading."""
    bars = [place for place in asked if place.kind == "bar"]
    for turned in turns(bars):
        choices = Choices(turned)
        try:
            tree, size = _once(text, names, choices)
        except ReadingError:
            continue
        return choices, tree, size
    return None


def _once(text: CleanText, names: Names, choices: Choices) -> tuple[Expression, int]:
    """One reading: the tree, and how many tokens it took."""
    tokens = tokenise(text, names, choices)
    grammar = Grammar(tokens, text.source, names, choices)
    try:
        tree = grammar.whole()
    except RecursionError:  # the caller's own stack leaves too little room
        grammar.too_nested()
    audit(tree, grammar.powers, len(tokens), text.source)
    return tree, len(tokens)


def _turned(text: CleanText, names: Names, turned: frozenset[Place]) -> Expression | None:
    """The tree with some places read the other way, if it can be read so."""
    try:
        return _once(text, names, Choices(turned))[0]
    except ReadingError:
        return None


def unwrapped(text: CleanText) -> CleanText:
    """The text without the signs that mark LaTeX mathematics."""
    plain = text.text
    if "$" not in plain and "\\" not in plain:
        return text
    start, end = len(plain) - len(plain.lstrip()), len(plain.rstrip())
    for opener, closer in _WRAPPERS:
        inner = end - start >= len(opener) + len(closer)
        if inner and plain.startswith(opener, start) and plain.endswith(closer, start, end):
            return text.part(start + len(opener), end - len(closer))
    return text
