"""What a bank is once it has been read and checked: frozen values, mathematics as trees."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from qbank.bank.application import Application
from qbank.bank.conditions import Condition
from qbank.bank.policy import Policy
from qbank.maths.conventions import Conventions
from qbank.maths.expression import Expression, Symbol

__all__ = [
    "Assessment",
    "AssessmentSection",
    "AuthorDistractor",
    "Bank",
    "Derived",
    "Find",
    "GapKind",
    "MatchedWith",
    "Parameter",
    "ResponseForm",
    "Task",
    "Template",
]

Task = Literal["antiderivative", "definite"]
ResponseForm = Literal[
    "choice",
    "several-answers",
    "matching",
    "numeric",
    "evaluation",
    "coefficients",
    "free-expression",
    "show-that",
    "first-step",
    "find-fault",
    "complete-working",
]
#: what is left blank in a working: a line, to be chosen, or a number or an expression in a line, to be typed
GapKind = Literal["line", "number", "expression"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Parameter:
    """A template variable: a name and the values it is drawn from, each once, in the order of the file."""

    name: str
    values: tuple[Fraction, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Derived:
    """A value computed from the parameters and from the derived values before it."""

    name: str
    meaning: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class AuthorDistractor:
    """A wrong antiderivative of the author's own, and what a student who picks it is told."""

    answer: Expression
    feedback: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchedWith:
    """With what a template's integrals stand in a matching.

    Attributes:
        others: identifiers of templates whose integrals stand beside them; none for clones of the template alone.
        show: what is matched to an integral.
    """

    others: tuple[str, ...] = ()
    show: Literal["antiderivative", "first-step"] = "antiderivative"


@dataclass(frozen=True, slots=True, kw_only=True)
class Find:
    """A limit that students are to find from the value of the integral.

    Attributes:
        letter: the parameter that is the upper limit.
        lower: the question says that it lies above this.
        upper: and below this.
    """

    letter: str
    lower: Expression
    upper: Expression


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """One kind of question, with letters where clones differ.

    Attributes:
        identifier: unique in the bank.
        title: shown to people.
        technique: identifier of the technique, None when the author gives the antiderivative.
        tags: words to find it by.
        variable: of integration.
        parameters: what is drawn.
        derived: what is computed from it.
        conditions: what must hold of a draw.
        integrand: with parameters as letters.
        antiderivative: the author's own, or None.
        domain: ends of the interval on which the question is asked, or None.
        task: what is asked.
        limits: of a definite integral, else None.
        responses: response forms, taken in turn.
        options: options of a choice.
        figures: significant figures of a numeric response, and of the smallest coefficient in decimals.
        entry: how coefficients are typed.
        offer: functions added to the form whose coefficients are asked for.
        distractors: the author's own.
        marks: for a full answer.
        policy: on answers that lack something, and on slips.
        matching: with what its integrals stand in a matching.
        fading: how much of a working that is to be completed is left blank: 1 for one line, 3 for all but the first.
        gaps: what may be left blank in it.
        application: the question that definite integrals answer, where one is asked.
        find: the limit that is asked for, or None.
    """

    identifier: str
    title: str
    technique: str | None
    tags: tuple[str, ...]
    variable: Symbol
    parameters: tuple[Parameter, ...]
    derived: tuple[Derived, ...]
    conditions: tuple[Condition, ...]
    integrand: Expression
    antiderivative: Expression | None
    domain: tuple[Expression, Expression] | None
    task: Task
    limits: tuple[Expression, Expression] | None
    responses: tuple[ResponseForm, ...]
    options: int
    figures: int
    entry: Literal["fractions", "decimals"]
    offer: tuple[Expression, ...]
    distractors: tuple[AuthorDistractor, ...]
    marks: int
    policy: Policy
    matching: MatchedWith = MatchedWith()
    find: Find | None = None
    fading: Literal[1, 2, 3] = 1
    gaps: tuple[GapKind, ...] = ("line",)
    application: Application | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AssessmentSection:
    """A section of a test, as its author declares it.

    Attributes:
        title: shown to students.
        count: items that each student is dealt.
        marks: for a full answer to each; None for those of the template.
        order: whether the items rise in difficulty, or come as they are drawn.
        templates: those that its items may come from, in the order of the bank.
        responses: the response forms that its items may have; None for any.
        difficulty: the least and the greatest difficulty of its items; None where there is no such bound.
    """

    title: str
    count: int
    marks: int | None
    order: Literal["rising", "drawn"]
    templates: tuple[Template, ...]
    responses: tuple[ResponseForm, ...] | None
    difficulty: tuple[int | None, int | None]

    def forms_of(self, template: Template) -> tuple[ResponseForm, ...]:
        """The response forms of one of the templates that the items may have."""
        wanted = template.responses if self.responses is None else self.responses
        return tuple(form for form in template.responses if form in wanted)


@dataclass(frozen=True, slots=True, kw_only=True)
class Assessment:
    """A test, as its author declares it.

    Attributes:
        identifier: unique among the tests of the bank.
        title: shown to students.
        instructions: what students read before they begin; may be empty.
        minutes: time limit, None for none.
        shuffle: whether options, and items of sections that do not rise, may stand in another order for each student.
        sections: in the order of the test.
    """

    identifier: str
    title: str
    instructions: str
    minutes: int | None
    shuffle: bool
    sections: tuple[AssessmentSection, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bank:
    """A checked bank."""

    identifier: str
    title: str
    description: str
    language: str
    licence: str
    authors: tuple[str, ...]
    version: str
    conventions: Conventions
    templates: tuple[Template, ...]
    tests: tuple[Assessment, ...] = ()

    def template(self, identifier: str) -> Template:
        """The template of that name.

        Raises:
            KeyError: there is none.
        """
        for template in self.templates:
            if template.identifier == identifier:
                return template
        raise KeyError(identifier)
