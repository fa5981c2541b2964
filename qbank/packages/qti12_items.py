"""An item of QTI 1.2 read back from its XML, in a package or in a cartridge: what students see, and what scores.

All that is shown is HTML in a text, with MathML or LaTeX in it, or pictures of formulas; it is read as the XML that it is.
What a person marks is an essay, with the answer in the worked solution: it may not score by itself.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from itertools import chain, combinations

from qbank.maths.equation import Equation, Statement
from qbank.maths.expression import Expression, Integral, Symbol, as_fraction
from qbank.packages.applications import asked_application, told_in
from qbank.packages.conditions import compared, full_score, score
from qbank.packages.evaluations import asked_integral, condition_of
from qbank.packages.forms import asked_by_form
from qbank.packages.formulas import FormulaError
from qbank.packages.matched import partner_shown, read_matched
from qbank.packages.parsing import Element, XmlError, attribute, children, inside, kind, line_of, parse
from qbank.packages.processing import ProcessingError
from qbank.packages.qti12_tasks import is_task, read_task
from qbank.packages.question import (
    Answers,
    Form,
    Matched,
    ModelAnswer,
    Offered,
    Options,
    Question,
    QuestionError,
    Several,
    Tried,
)
from qbank.packages.several import asked_of_several, read_several
from qbank.packages.shown import formulas_in
from qbank.packages.spelled import read_spelled
from qbank.techniques.first_step import FirstStep

__all__ = ["read_qti12_item"]

_NOTHING: frozenset[str] = frozenset()
#: a text that no item lists
_UNLISTED = frozenset({"no text of any list"})
_MOST_OPTIONS = 10


def read_qti12_item(item: Element, put_formulas: Callable[[Element], object]) -> Question:
    """The question of an item.

    Args:
        item: the `item` element.
        put_formulas: puts formulas in the place of pictures, in a piece of HTML.

    Raises:
        QuestionError: it is none of the kinds that are written here, or its scoring contradicts itself.
    """
    try:
        return _Reader(item, put_formulas).question()
    except (FormulaError, ProcessingError, XmlError) as problem:
        raise QuestionError(str(problem)) from problem


class _Reader:
    """One item, whose texts are read as they are needed."""

    def __init__(self, item: Element, put_formulas: Callable[[Element], object]) -> None:
        self._item = item
        self._put_formulas = put_formulas
        presentations = list(children(item, "presentation"))
        if len(presentations) != 1:
            raise QuestionError("an item has one presentation")
        self._presentation = presentations[0]
        given = [part for part in self._presentation if kind(part) in ("response_lid", "response_str")]
        many = len(given) > 1 and not is_task(given[0])
        if not given or (many and {kind(one) for one in given} != {"response_lid"}):
            raise QuestionError(f"it has {len(given)} responses, and one is read here, or several choices")
        self._given, *self._more = given

    def question(self) -> Question:
        pages = self._html(self._presentation)
        if is_task(self._given):
            return self._task(pages)
        shown = [statement for page in pages for statement in formulas_in(page)]
        if self._more or self._offers_steps():
            matched = self._matched(shown)
            return self._asked(matched.rows[0].integral, matched, [])
        applied = asked_application(" ".join(told_in(page, _NOTHING) for page in pages), shown)
        if kind(self._given) == "response_lid":
            if attribute(self._given, "rcardinality") == "Multiple":
                return self._asked(asked_of_several(shown), self._several(), [])
            if applied is not None:
                return self._asked(applied, self._options(), [])
            return self._asked(asked_integral(shown), self._options(), shown)
        texts = compared(self._item)
        if texts:
            words = " ".join(str(text) for page in pages for text in page.itertext())
            answers = read_spelled(words, texts, self._scores_fully)
            if applied is not None:
                return self._asked(applied, answers, [])
            return self._asked(asked_integral(shown), answers, shown)
        if any(self._score(given) for given in (_NOTHING, _UNLISTED)):
            raise QuestionError("an answer scores that nobody has read")
        if any(isinstance(statement, Integral) for statement in shown):
            return self._asked(asked_integral(shown), self._model_answer(), [])
        form, integral = asked_by_form(shown)
        return self._asked(integral, self._form(form), [])

    def _asked(self, integral: Integral, answers: Answers, shown: list[Statement]) -> Question:
        return Question(
            identifier=attribute(self._item, "ident") or "",
            integral=integral,
            answers=answers,
            condition=condition_of(integral, shown),
        )

    # ---- what is shown

    def _html(self, parent: Element) -> list[Element]:
        """The pieces of HTML right below an element."""
        return [
            self._page(text)
            for material in children(parent, "material")
            for text in children(material, "mattext")
        ]

    def _page(self, text: Element) -> Element:
        if attribute(text, "texttype") != "text/html":
            raise QuestionError(f"line {line_of(text)}: what is shown is not HTML")
        page = parse(f"<div>{text.text or ''}</div>".encode())
        self._put_formulas(page)
        return page

    def _solution(self) -> list[Element]:
        """The pieces of HTML that are shown after an answer only."""
        for feedback in children(self._item, "itemfeedback"):
            for flow in inside(feedback, "solutionmaterial"):
                pages = [page for part in children(flow, "flow_mat") for page in self._html(part)]
                if pages:
                    return pages
        raise QuestionError("it has no worked solution")

    # ---- what scores

    def _score(self, given: frozenset[str]) -> Fraction:
        return score(self._item, given)

    def _scores_fully(self, text: str) -> bool:
        """Whether a text scores full marks; no text may score a part of them, and none no marks at all."""
        found, full = self._score(frozenset({text})), full_score(self._item)
        if found not in (0, full) or self._score(_NOTHING) or self._score(_UNLISTED):
            raise QuestionError("a response scores neither full marks nor nothing, or nothing scores")
        return found == full

    def _offered(self) -> dict[str, Expression]:
        """The options with what each shows."""
        found: dict[str, Expression] = {}
        for label in inside(self._given, "response_label"):
            name = attribute(label, "ident") or ""
            shown = [statement for page in self._html(label) for statement in formulas_in(page)]
            if len(shown) != 1 or not isinstance(shown[0], Expression):
                raise QuestionError(f"line {line_of(label)}: an option shows one expression")
            if name in found:
                raise QuestionError("two options have the same identifier")
            found[name] = shown[0]
        if not set(compared(self._item)) <= set(found):
            raise QuestionError("the response is compared with something that is not offered")
        return found

    def _options(self) -> Options:
        offered = tuple(
            Offered(identifier=name, answer=answer, right=self._scores_fully(name))
            for name, answer in self._offered().items()
        )
        if sum(one.right for one in offered) != 1:
            raise QuestionError("there is not exactly one option that scores")
        return Options(offered=offered)

    def _several(self) -> Several:
        """Each option has its share, or the right ones together have all marks and other sets have none."""
        offered, full = self._offered(), full_score(self._item)
        if len(offered) > _MOST_OPTIONS:
            raise QuestionError("there are too many options for all sets of them to be tried")
        alone = tuple(name for name in offered if self._score(frozenset({name})) > 0)
        if alone:
            return read_several(offered, alone, full, lambda chosen: self._score(chosen or _NOTHING))
        sets = chain.from_iterable(combinations(offered, size) for size in range(len(offered) + 1))
        scores = {names: self._score(frozenset(names)) for names in sets}
        right = [names for names, found in scores.items() if found]
        if len(right) != 1 or scores[right[0]] != full:
            raise QuestionError("there is not exactly one set of options that scores")
        return Several(
            offered=tuple(
                Offered(identifier=name, answer=answer, right=name in right[0])
                for name, answer in offered.items()
            )
        )

    # ---- tasks about working

    def _task(self, pages: list[Element]) -> Question:
        """A choice for each question, the lines of the working in a list."""
        integral, task = read_task(
            self._item,
            pages,
            [(attribute(one, "ident") or "", self._labels(one)) for one in (self._given, *self._more)],
            self._solution,
        )
        return self._asked(integral, task, [])

    def _labels(self, given: Element) -> list[tuple[str, list[Element]]]:
        return [
            (attribute(label, "ident") or "", self._html(label)) for label in inside(given, "response_label")
        ]

    # ---- what is matched

    def _offers_steps(self) -> bool:
        """Whether the options are first steps and not antiderivatives."""
        if kind(self._given) != "response_lid":
            return False
        return all(isinstance(partner, FirstStep) for _, partner in self._partners(self._given))

    def _partners(self, given: Element) -> list[tuple[str, Expression | FirstStep]]:
        """The options of a choice, each one expression, one substitution, or a sentence."""
        found = []
        for label in inside(given, "response_label"):
            pages = self._html(label)
            shown = [statement for page in pages for statement in formulas_in(page)]
            text = "".join(str(part) for page in pages for part in page.itertext())
            found.append((attribute(label, "ident") or "", partner_shown(shown, text)))
        return found

    def _matched(self, shown: list[Statement]) -> Matched:
        """A choice for each integral, all of the same options; one alone has its integral in the question."""
        givens, partners = (self._given, *self._more), self._partners(self._given)
        if any(self._partners(one) != partners for one in self._more):
            raise QuestionError("the integrals have not all the same options")
        integrals: list[tuple[str, list[Statement]]] = []
        for one in givens:
            own = [statement for page in self._html(one) for statement in formulas_in(page)]
            integrals.append((attribute(one, "ident") or "", own if self._more else shown))
        keys = [
            f"{row} {name}"
            for row, _ in integrals
            for name, _ in partners
            if score(self._item, {row: name}) > 0
        ]

        def scored(pairs: frozenset[str] | None) -> Fraction:
            return score(self._item, dict(pair.split(" ", 1) for pair in pairs or ()))

        return read_matched(integrals, partners, keys, full_score(self._item), scored)

    # ---- what a person marks

    def _model_answer(self) -> ModelAnswer:
        """The first expression in the notes for the marker, which come before the worked solution."""
        notes, *_ = self._solution()
        for statement in formulas_in(notes):
            if isinstance(statement, Expression) and not isinstance(statement, Integral):
                return ModelAnswer(answer=statement)
        raise QuestionError("the marker is shown no answer")

    def _form(self, form: Expression) -> Form:
        """The coefficients, in the last paragraph of the worked solution."""
        *_, page = self._solution()
        values: dict[Symbol, Fraction] = {}
        for statement in formulas_in(page[-1]) if len(page) else ():
            if isinstance(statement, Equation) and isinstance(statement.left, Symbol):
                value = as_fraction(statement.right)
                if value is not None and form.has(statement.left):
                    values[statement.left] = value
        if not values:
            raise QuestionError("the marker is shown no coefficients")
        tried = Tried(values=tuple(values.values()), full=True)
        return Form(letters=tuple(values), form=form, tried=(tried,))
