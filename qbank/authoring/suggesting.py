"""A template for an integrand: its letters get ranges, its technique is found, and conditions keep bad draws out.

Draws are built as they would be for an export. What is drawn but makes no good item (another technique fits, too few wrong
options) is told apart from what does by simple conditions on the letters; one is kept when it keeps out bad draws and
leaves most good ones.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations, islice, permutations

from qbank.authoring.sampling import sampled
from qbank.authoring.starting import bank_of
from qbank.bank.conditions import Condition, parse_condition
from qbank.bank.drawing import Draw, draws, fill
from qbank.bank.loading import parse_bank
from qbank.bank.model import Bank, Template
from qbank.items.building import build_item
from qbank.items.checking import check_template
from qbank.items.item import Item
from qbank.items.refusal import DrawRefused
from qbank.maths.expression import (
    Apply,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Root,
    Sum,
    Symbol,
    as_fraction,
    product,
    rational,
    sum_of,
)
from qbank.maths.notation import plain
from qbank.maths.reading import read
from qbank.maths.tidying import tidy
from qbank.techniques.planner import solve

__all__ = ["BUILT", "NoSuggestionError", "Suggestion", "suggest"]

#: draws that are built to see which are good
BUILT = 60
#: for each of them so many are looked at, whether their answer is of the kind wanted
_LOOKED = 7
#: clones that are shown
_SHOWN = 3
#: letters for numbers, in the order in which they are given
_LETTERS = "pabqmnrstuvw"
_MOST_LETTERS = 6
#: how far numbers that are added go from nought; further when there are too few clones
_REACHES = (9, 30)
_ENOUGH = 100
#: a condition has to leave this part of the good draws
_LEAVES = Fraction(2, 5)
_MOST_CONDITIONS = 3

_OTHER_KIND = "its answer is of another kind than that of the example"
_FACTOR = "{kind: integer, from: 2, to: 9}"
_ADDEND = "{{kind: integer, from: -{reach}, to: {reach}, except: [0]}}"
_EXPONENT = "{kind: integer, from: 2, to: 5}"


class NoSuggestionError(ValueError):
    """No template can be suggested; the text says why and what could be done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """A template that was tried.

    Attributes:
        bank: the text of a bank with that template alone.
        technique: the technique that works it.
        possible: how many different clones it has.
        exact: whether they were counted; otherwise it is an upper bound.
        tried: draws that were built.
        good: how many of them made an item.
        refused: why the others did not, most frequent reason first.
        samples: some clones.
    """

    bank: str
    technique: str
    possible: int
    exact: bool
    tried: int
    good: int
    refused: tuple[tuple[str, int], ...]
    samples: tuple[Item, ...]


def suggest(integrand: Expression, variable: Symbol, *, built: int = BUILT) -> Suggestion:
    """Suggest a template.

    Args:
        integrand: with letters for what is to vary; without any, its whole numbers are varied, and the clones are
            to have answers of the same kind.
        variable: the variable of integration.
        built: how many draws are built to see which are good.

    Raises:
        NoSuggestionError: nothing varies, no technique fits, or no draw makes an item.
    """
    example = integrand.symbols() <= {variable}
    general = _with_letters(integrand, variable) if example else integrand
    letters = [symbol for symbol in _in_order(general) if symbol != variable]
    if not letters:
        raise NoSuggestionError(
            "there is nothing to vary: write letters where clones shall have other numbers"
        )
    if len(letters) > _MOST_LETTERS:
        raise NoSuggestionError(
            f"{len(letters)} letters are too many to vary; leave the less important numbers as they are"
        )
    solution = solve(tidy(integrand), variable) if example else None
    best: Suggestion | None = None
    for reach in _REACHES:
        draft = _Draft(general, variable, {one.name: _range(general, one, reach) for one in letters}, built)
        if solution is None:
            draft = replace(draft, technique=_usual(draft))
        else:
            draft = replace(draft, technique=solution.technique, kind=_kind(solution.antiderivative))
        try:
            found = _settled(draft)
        except NoSuggestionError:
            if draft.kind is None:
                raise
            # answers like that of the example are rare: then of any kind
            found = _settled(replace(draft, kind=None))
        best = found if best is None or found.possible > best.possible else best
        if best.possible >= _ENOUGH:
            break
    assert best is not None
    return best


@dataclass(frozen=True, slots=True)
class _Draft:
    """A template to be tried: what is varied and how, and the kind of answer that is wanted."""

    general: Expression
    variable: Symbol
    ranges: dict[str, str]
    built: int
    technique: str = "standard-forms"
    conditions: tuple[str, ...] = ()
    kind: frozenset[str] | None = None

    def text(self) -> str:
        lines = [
            "  - identifier: suggested",
            "    title: A suggested template",
            f"    technique: {self.technique}",
        ]
        if self.variable.name != "x":
            lines.append(f"    variable: {self.variable.name}")
        lines.append("    parameters:")
        lines += [f"      {letter}: {values}" for letter, values in self.ranges.items()]
        if self.conditions:
            lines.append(f"    conditions: {json.dumps(list(self.conditions))}")
        lines.append(f"    integrand: {json.dumps(plain(self.general))}")
        lines += ["    responses: [choice, free-expression]", "    marks: 3"]
        return (
            bank_of("suggested-bank", "A bank with a suggested template", "en-GB") + "\n".join(lines) + "\n"
        )

    def bank(self) -> Bank:
        return parse_bank(self.text().encode(), "suggestion")


def _settled(draft: _Draft) -> Suggestion:
    """The draft with its conditions, tried."""
    known: dict[int, str | None] = {}
    found = _tried(draft, known)
    if not any(reason is None for _, reason in found):
        raise NoSuggestionError(f"no draw makes an item; the most frequent reason: {_reasons(found)[0][0]}")
    draft = replace(draft, conditions=_conditions(draft, found))
    found = _tried(draft, known)
    bank = draft.bank()
    template = bank.templates[0]
    report = check_template(bank, template, sample=1)
    return Suggestion(
        bank=draft.text(),
        technique=draft.technique,
        possible=report.possible,
        exact=report.exact,
        tried=len(found),
        good=sum(reason is None for _, reason in found),
        refused=tuple(_reasons(found)),
        samples=sampled(bank, template, ("free-expression",), _SHOWN, 1).items,
    )


def _with_letters(integrand: Expression, variable: Symbol) -> Expression:
    """The integrand with letters for its whole numbers, exponents and ones excepted."""
    free = (letter for letter in _LETTERS if letter != variable.name)

    def visit(node: Expression) -> Expression:
        if isinstance(node, Integer):
            return Symbol(letter) if abs(node.value) > 1 and (letter := next(free, "")) else node
        if isinstance(node, Power):
            return Power(
                visit(node.base),
                node.exponent if as_fraction(node.exponent) is not None else visit(node.exponent),
            )
        return node.rebuild(visit)

    return visit(integrand)


def _in_order(tree: Expression) -> list[Symbol]:
    """The letters in the order in which they are written."""
    return list(dict.fromkeys(node for node in tree.walk() if isinstance(node, Symbol)))


def _range(tree: Expression, letter: Symbol, reach: int) -> str:
    """The values of a letter, by where it stands; the reach is that of a number that is added."""
    for node in tree.walk():
        if isinstance(node, Power) and node.exponent == letter:
            return _EXPONENT
    if any(isinstance(node, Sum) and letter in node.terms for node in tree.walk()):
        return _ADDEND.format(reach=reach)
    return _FACTOR


def _usual(draft: _Draft) -> str:
    """The technique that works most draws."""
    # the loader wants a technique; which one makes no difference to what is drawn
    bank = draft.bank()
    counts: Counter[str] = Counter()
    for draw in islice(draws(bank, bank.templates[0], 1), draft.built):
        solution = solve(tidy(fill(draft.general, draw)), draft.variable)
        counts[solution.technique if solution else ""] += 1
    ranked = [name for name, _ in counts.most_common() if name]
    if not ranked:
        raise NoSuggestionError(
            "no technique works this integrand; give its antiderivative in a template of your own, and it will be proved"
        )
    return ranked[0]


#: a draw, and why it makes no item; None where it does
_Tried = tuple[Draw, str | None]


def _tried(draft: _Draft, known: dict[int, str | None]) -> list[_Tried]:
    """Draws of the draft, tried; what is known of a draw, by its point, does not depend on the conditions."""
    bank = draft.bank()
    template = bank.templates[0]
    found: list[_Tried] = []
    built = 0
    for draw in islice(draws(bank, template, 1), _LOOKED * draft.built):
        if draw.point not in known:
            known[draw.point] = _refusal(draft, bank, template, draw)
        reason = known[draw.point]
        found.append((draw, reason))
        built += reason != _OTHER_KIND
        if built == draft.built:
            break
    return found


def _refusal(draft: _Draft, bank: Bank, template: Template, draw: Draw) -> str | None:
    if draft.kind is not None:
        solution = solve(tidy(fill(draft.general, draw)), draft.variable)
        if solution is None or _kind(solution.antiderivative) != draft.kind:
            return _OTHER_KIND
    try:
        build_item(bank, template, draw, "choice")
    except DrawRefused as refusal:
        return str(refusal)
    return None


def _kind(answer: Expression) -> frozenset[str]:
    """What a student sees at once of an answer: its functions, and whether there are roots of numbers."""
    names = {node.function for node in answer.walk() if isinstance(node, Apply)} - {"abs"}
    if any(isinstance(node, Root) and not node.symbols() for node in answer.walk()):
        names.add("root of a number")
    return frozenset(names)


def _reasons(found: list[_Tried]) -> list[tuple[str, int]]:
    return Counter(reason for _, reason in found if reason is not None).most_common(_SHOWN)


def _conditions(draft: _Draft, found: list[_Tried]) -> tuple[str, ...]:
    """Conditions that keep bad draws out and most good ones in, the best first."""
    candidates = list(_candidates(draft.general, draft.variable))
    chosen: list[str] = []
    while len(chosen) < _MOST_CONDITIONS:
        good = sum(reason is None for _, reason in found)
        if good == len(found):
            break
        best, purest = None, Fraction(good, len(found))
        for candidate in candidates:
            left = [one for one in found if candidate.holds(dict(one[0].values))]
            kept = sum(reason is None for _, reason in left)
            if kept >= good * _LEAVES and Fraction(kept, len(left)) > purest:
                best, purest = candidate, Fraction(kept, len(left))
        if best is None:
            break
        chosen.append(best.text)
        found = [one for one in found if best.holds(dict(one[0].values))]
    return tuple(chosen)


def _candidates(general: Expression, variable: Symbol) -> Iterator[Condition]:
    """Simple conditions on the letters; those that say most about quadratics first."""
    letters = [symbol.name for symbol in _in_order(general) if symbol != variable]

    def condition(text: str) -> Condition:
        return parse_condition(text, lambda side: read(side).tree)

    for discriminant in _discriminants(general, variable):
        for text in ("{} < 0", "{} > 0", "square(-({}))", "square({})", "not square({})"):
            yield condition(text.format(discriminant))
    for first, second in combinations(letters, 2):
        yield condition(f"{first} != {second}")
        yield condition(f"coprime({first}, {second})")
    for first, second in permutations(letters, 2):
        yield condition(f"{first} > {second}")
        yield condition(f"not integer({first}/{second})")
    for letter in letters:
        yield condition(f"not square({letter})")
        yield condition(f"square({letter})")
        yield condition(f"{letter} > 0")
        yield condition(f"not integer({letter}/2)")
        yield condition(f"integer({letter}/2)")


def _discriminants(general: Expression, variable: Symbol) -> Iterator[str]:
    """The discriminant of each quadratic in the integrand that has letters."""
    for node in general.walk():
        if not isinstance(node, Sum) or node.symbols() == {variable}:
            continue
        parts: dict[int, list[Expression]] = {0: [], 1: [], 2: []}
        for term in node.terms:
            found = _power_of(variable, term)
            if found is None or found[0] > 2:
                break
            parts[found[0]].append(found[1])
        else:
            if parts[2]:
                square, linear, number = (
                    sum_of(*parts[power]) if parts[power] else rational(0) for power in (2, 1, 0)
                )
                yield plain(tidy(Power(linear, Integer(2)) - 4 * square * number))


def _power_of(variable: Symbol, term: Expression) -> tuple[int, Expression] | None:
    """A term as a power of the variable and what it is multiplied by; None when it is no such thing."""
    if variable not in term.symbols():
        return 0, term
    if term == variable:
        return 1, rational(1)
    if isinstance(term, Power) and term.base == variable and isinstance(term.exponent, Integer):
        return term.exponent.value, rational(1)
    if isinstance(term, Negate):
        inner = _power_of(variable, term.operand)
        return None if inner is None else (inner[0], Negate(inner[1]))
    if isinstance(term, Product):
        found = [_power_of(variable, factor) for factor in term.factors]
        known = [one for one in found if one is not None]
        if len(known) == len(found):
            return sum(power for power, _ in known), product(*(factor for _, factor in known))
    return None
