"""Every phrase that a package adds to an item's own texts, in one place; writers say them in the item's language."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from qbank.items.item import Coefficients, Item, Matching, Numeric, Prose, SeveralAnswers
from qbank.items.tasks.asked import Asked, TaskGap, TaskQuestion
from qbank.items.wording import significant_figures
from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Integral, Symbol, rational
from qbank.messages import Message, prose, say, say_count
from qbank.techniques.presenting import Row, with_constant

__all__ = [
    "ANSWER",
    "BOX",
    "DECIMAL_WANTED",
    "EXPONENT_WANTED",
    "LEFT_BLANK",
    "MARKS_BY_LINE",
    "NOT_RIGHT",
    "PAIRS_PARTLY_RIGHT",
    "PARTLY_RIGHT",
    "RIGHT",
    "UNLISTED",
    "UNREAD",
    "UNREAD_BOXES",
    "WHICH_LINE",
    "WORKED_SOLUTION",
    "belongs_in_gap",
    "belongs_in_line",
    "belongs_there",
    "conclusion",
    "denominator",
    "expression_wanted",
    "gap",
    "marks",
    "marks_of_line",
    "mathematics",
    "number",
    "number_wanted",
    "numerator",
    "part",
    "typed",
    "whole_numbers_wanted",
]

#: before the box for a number
ANSWER = say("Answer:")
#: the accessible name of the box for a number
BOX = say("Answer, as a decimal number")
DECIMAL_WANTED = say("Type it with a decimal point, for example 0.125. Fractions and formulas are not read.")
RIGHT = say("Right.")
NOT_RIGHT = say("Not right.")
PAIRS_PARTLY_RIGHT = say("Not all of the pairs are right.")
PARTLY_RIGHT = say("Some of the numbers are right, but not all.")
UNREAD = say("No number was read. Type a decimal, for example 0.125.")
UNREAD_BOXES = say("Not all boxes could be read. Fill in each of them as described.")
#: after a number that is on no list of spellings
UNLISTED = say(
    "This is not on the list of accepted answers. Compare it with the worked solution; if your number is the right one,"
    " written in another way, tell your teacher."
)
WORKED_SOLUTION = say("Worked solution")
#: below the lines of a working
WHICH_LINE = say("Which line is it?")
#: where a line is left blank and its choice stands elsewhere
LEFT_BLANK = "\u2026"


def conclusion(item: Item) -> Iterator[Prose]:
    """What stands below a worked solution: the answer, where the working does not end with it."""
    match item.response:
        case Matching():
            yield from _pairs(item.response, item.variable)
            return
        case _ if not item.working or item.asks_for_value:
            yield _answer(item)
    match item.response:
        case SeveralAnswers():
            yield _right_options(item.response)
        case Coefficients():
            yield _numbers(item.response)


def _answer(item: Item) -> Prose:
    """The right answer of an item: an antiderivative with its constant, or a value."""
    if not item.asks_for_value:
        return prose("Answer: {answer}", answer=with_constant(item.key, item.conventions.constant))
    if not isinstance(item.response, Numeric):
        return prose("Answer: {answer}", answer=item.key)
    return prose(
        "Answer: {answer}, which is {decimal} to {accuracy}.",
        answer=item.key,
        decimal=item.response.decimal.replace(".", item.conventions.decimal),
        accuracy=significant_figures(item.response.figures),
    )


def mathematics(row: Row) -> Prose:
    """The mathematics of a row of working, with the words that open a substitution or an identity."""
    match row.kind:
        case "let":
            first, *others = row.statements
            chain: Prose = (first,)
            for one in others:
                chain = prose("{before}, so {after}", before=chain, after=one)
            return prose("Let {definition}", definition=chain)
        case "aside":
            return prose("Use {identities}", identities=_listed(row.statements))
        case _:
            return _listed(row.statements)


def _right_options(response: SeveralAnswers) -> Prose:
    """The options of several that are right."""
    return prose("The right options are {options}", options=_listed([one.answer for one in response.keys]))


def _numbers(response: Coefficients) -> Prose:
    """What the coefficients are: `So P = 27/8, Q = 9/16`."""
    pairs = zip(response.letters, response.values, strict=True)
    found = _listed([Equation(letter, rational(value)) for letter, value in pairs])
    if response.relations:
        return prose("So {numbers} (one of the right answers)", numbers=found)
    return prose("So {numbers}", numbers=found)


def _pairs(response: Matching, variable: Symbol) -> Iterator[Prose]:
    """The right pairs, an integral and its first step; the working of antiderivatives ends with them."""
    if response.shows == "antiderivative":
        return
    for row in response.rows:
        integral = Integral(row.integrand, variable)
        yield prose("{integral}: {step}", integral=integral, step=response.partner(row.partner).shown)


def _listed(statements: Sequence[Statement]) -> Prose:
    parts: Prose = tuple(part for one in statements for part in (", ", one))
    return parts[1:]


def belongs_in_line(number: int) -> Message:
    """Where a line of a working is left blank."""
    return say("What belongs in line {number}?", number=str(number))


def gap(place: int, count: int, asked: TaskGap) -> Message:
    """The accessible name of the box in a line.

    Args:
        place: the how manieth gap it is, counted from 1.
        count: how many gaps there are.
        asked: what belongs in it.
    """
    if asked.raised:
        return say(
            "Gap {place} of {count}, in line {number}: a number, as exponent",
            place=str(place),
            count=str(count),
            number=str(asked.line),
        )
    if asked.letter is None:
        return say(
            "Gap {place} of {count}, in line {number}: a number",
            place=str(place),
            count=str(count),
            number=str(asked.line),
        )
    return say(
        "Gap {place} of {count}, in line {number}: an expression in {letter}",
        place=str(place),
        count=str(count),
        number=str(asked.line),
        letter=asked.letter.name,
    )


def belongs_in_gap(asked: TaskGap) -> Prose:
    """Where a gap is shown by dots, and its box stands elsewhere."""
    if asked.raised:
        return prose("What exponent belongs in the gap of line {number}?", number=str(asked.line))
    if asked.letter is None:
        return prose("What number belongs in the gap of line {number}?", number=str(asked.line))
    return prose(
        "What expression in {letter} belongs in the gap of line {number}?",
        letter=asked.letter,
        number=str(asked.line),
    )


def belongs_there(asked: Asked) -> Prose:
    """For whoever marks: what belongs in a line, or in a gap of it."""
    if isinstance(asked, TaskQuestion):
        return prose("Line {number}: {right}", number=str(asked.line), right=asked.key.shown)
    if asked.letter is None:
        return prose("Line {number}: {right}", number=str(asked.line), right=asked.value)
    if asked.up_to_constant:
        return prose(
            "Line {number}: {right}, or any expression in {letter} that is equal to it up to a constant",
            number=str(asked.line),
            right=asked.value,
            letter=asked.letter,
        )
    return prose(
        "Line {number}: {right}, or any expression in {letter} that is equal to it",
        number=str(asked.line),
        right=asked.value,
        letter=asked.letter,
    )


def number_wanted(decimal: str) -> Message:
    """Where a number is typed into a line, and must be exact."""
    return say(
        "Type a number exactly: a whole number, a fraction in lowest terms such as {fraction}, or a decimal such as"
        " {decimal}.",
        fraction="3/4",
        decimal=f"0{decimal}75",
    )


#: below a line with a box that is an exponent, which a system may set little higher than the line
EXPONENT_WANTED = say("Type the exponent.")


def expression_wanted(letter: Symbol) -> Prose:
    """Below a line that has a gap for an expression."""
    return prose("Type an expression in {letter}.", letter=letter)


def marks(count: int) -> Message:
    """For whoever marks a free answer."""
    return say("Marks for a full answer: {count}.", count=str(count))


#: above the lines of a worked solution that earn marks
MARKS_BY_LINE = say("Marks by line, where there is working:")


def marks_of_line(count: int) -> Message:
    """After a line that earns marks."""
    return say_count("({count} mark)", "({count} marks)", count)


def typed(decimal: str) -> Message:
    """Where the system compares what is typed with a list of spellings."""
    return say(
        "Type the number alone, as a decimal such as {example}. Fractions and formulas are not read.",
        example=f"0{decimal}125",
    )


def part(number: int) -> Message:
    """A section of a test, whose own title would give the technique away."""
    return say("Part {number}", number=str(number))


def number(letter: str) -> Message:
    """The accessible name of the box for a coefficient as a decimal."""
    return say("{letter}, as a decimal number", letter=letter)


def numerator(letter: str) -> Message:
    """The accessible name of the upper box of a coefficient."""
    return say("Numerator of {letter}", letter=letter)


def denominator(letter: str) -> Message:
    """The accessible name of the lower box of a coefficient."""
    return say("Denominator of {letter}", letter=letter)


def whole_numbers_wanted(bound: int) -> Message:
    """Below the boxes of fractions."""
    return say(
        "Type a whole number from {lowest} to {highest} in each box. For a whole number the second box is 1.",
        lowest=f"\N{MINUS SIGN}{bound}",
        highest=str(bound),
    )
