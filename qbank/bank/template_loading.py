"""One template of a bank file, checked part by part.

The schema has settled the shape. Here the mathematics is read, letters are looked up, and what belongs together is
held together; each fault becomes a problem and the rest is still looked at.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from fractions import Fraction
from math import gcd
from typing import Any

from qbank.bank.application_loading import application_of
from qbank.bank.conditions import Condition, ConditionError, parse_condition
from qbank.bank.matching_loading import matched_with
from qbank.bank.model import AuthorDistractor, Derived, Find, Parameter, Template
from qbank.bank.policy_loading import policy_of
from qbank.bank.problem import Problem
from qbank.bank.source import Source, pointer_to
from qbank.bank.task_loading import TASKS, check_tasks
from qbank.maths.conventions import Conventions
from qbank.maths.expression import Expression, Symbol
from qbank.maths.reading import ReadingError, read
from qbank.techniques import TECHNIQUES
from qbank.techniques.definites.choosing import WAYS

__all__ = ["TemplateBuilder"]

#: letters that already mean something and cannot name a parameter
_RESERVED = frozenset({"e", "pi"})
#: numerators times denominators of one parameter
_FRACTION_LIMIT = 100_000


class TemplateBuilder:
    """Builds one template; a part that is wrong becomes a problem and the rest is still looked at."""

    def __init__(
        self,
        source: Source,
        problems: list[Problem],
        conventions: Conventions,
        index: int,
        raw: dict[str, Any],
    ) -> None:
        self._source = source
        self._problems = problems
        self._conventions = conventions
        self._raw = raw
        self._at = ("templates", index)
        self._variable = Symbol(raw.get("variable", "x"))
        self._parameters = {str(name) for name in raw.get("parameters", {})}

    def template(self) -> Template | None:
        """The template, or None when it has a problem (which is then in the list)."""
        raw, before = self._raw, len(self._problems)
        self._check_names()
        self._check_task()
        check_tasks(raw, self._report)
        parameters = tuple(self._parameter(name, value) for name, value in raw.get("parameters", {}).items())
        derived = self._derived()
        known = {*self._parameters, *(d.name for d in derived)}
        with_variable = {*known, self._variable.name}
        conditions = self._conditions(known)
        application = application_of(
            raw,
            self._report,
            lambda path, text: self._expression(path, text, with_variable),
            lambda path, text: self._expression(path, text, known),
        )
        integrand = None if application is None else application.integrand(self._variable)
        if "integrand" in raw:
            integrand = self._expression(("integrand",), raw["integrand"], with_variable)
        elif "application" not in raw:
            self._report((), "missing", "'integrand' is missing", "add a line integrand: ...")
        antiderivative = self._optional(("antiderivative",), raw.get("antiderivative"), with_variable)
        domain, limits = self._pair("domain", known), self._pair("limits", known)
        find = self._find(known)
        distractors = self._distractors(with_variable)
        offer = self._offer(with_variable)
        matching = matched_with(raw, self._report)
        policy = policy_of(raw, self._report)
        if len(self._problems) > before or integrand is None:
            return None
        definite = raw.get("task") == "definite" or application is not None
        return Template(
            identifier=raw["identifier"],
            title=raw["title"],
            technique=raw.get("technique"),
            tags=tuple(raw.get("tags", ())),
            variable=self._variable,
            parameters=parameters,
            derived=derived,
            conditions=conditions,
            integrand=integrand,
            antiderivative=antiderivative,
            domain=domain,
            task="definite" if definite else "antiderivative",
            limits=limits if application is None else application.limits,
            responses=tuple(raw.get("responses", ("numeric",) if definite else ("choice",))),
            options=raw.get("options", 4),
            figures=raw.get("figures", 3),
            entry=raw.get("entry", "fractions"),
            offer=offer,
            distractors=distractors,
            marks=raw.get("marks", 1),
            policy=policy,
            matching=matching,
            find=find,
            fading=raw.get("fading", 1),
            gaps=tuple(raw.get("gaps", ("line",))),
            application=application,
        )

    def _report(self, path: Iterable[str | int], code: str, message: str, hint: str = "") -> None:
        pointer = pointer_to(*self._at, *path)
        self._problems.append(self._source.problem(pointer, code, message, hint))

    def _check_names(self) -> None:
        for group in ("parameters", "derived"):
            for name in self._raw.get(group, {}):
                if name in _RESERVED:
                    self._report(
                        (group, name),
                        "reserved-name",
                        f"{name!r} is a number of its own",
                        "use another letter",
                    )
                if name == self._variable.name:
                    self._report(
                        (group, name), "reserved-name", f"{name!r} is the variable", "use another letter"
                    )
                if group == "derived" and name in self._parameters:
                    self._report(
                        (group, name), "repeated-name", f"{name!r} is a parameter already", "use another name"
                    )
        wanted, known = self._raw.get("technique"), [t.identifier for t in TECHNIQUES]
        if self._raw.get("task") == "definite":
            known += [way.identifier for way in WAYS]
        if wanted is not None and wanted not in known:
            near = difflib.get_close_matches(wanted, known, 1)
            hint = f"did you mean {near[0]!r}?" if near else "known are " + ", ".join(known)
            self._report(("technique",), "unknown-technique", f"there is no technique {wanted!r}", hint)

    def _check_task(self) -> None:
        raw = self._raw
        if "application" in raw:
            return
        definite = raw.get("task") == "definite"
        if definite and "limits" not in raw:
            self._report(
                (), "missing", "a definite integral needs limits", 'add a line limits: ["0", "pi/2"]'
            )
        if not definite and "limits" in raw:
            self._report(("limits",), "needless", "limits belong to the task definite", "add task: definite")
        if "technique" not in raw and "antiderivative" not in raw:
            self._report(
                (), "missing", "give a technique, or the antiderivative itself", "add a line technique: ..."
            )
        if not definite and "show-that" in raw.get("responses", ()):
            self._report(
                ("responses",),
                "unfit-response",
                "what is to be shown is the value of a definite integral",
                "add task: definite",
            )
        if not definite and "numeric" in raw.get("responses", ()):
            self._report(
                ("responses",),
                "unfit-response",
                "a number alone answers a definite integral only",
                "add task: definite, or use evaluation",
            )
        if definite and {
            "free-expression",
            "coefficients",
            "evaluation",
            "several-answers",
            "matching",
            *TASKS,
        } & set(raw.get("responses", ())):
            self._report(
                ("responses",),
                "unfit-response",
                "a definite integral is answered by a number or a choice",
                "use numeric",
            )
        for name in ("entry", "offer"):
            if name in raw and "coefficients" not in raw.get("responses", ()):
                self._report(
                    (name,),
                    "needless",
                    f"{name} belongs to the response form coefficients",
                    "add coefficients to the responses",
                )

    def _parameter(self, name: str, raw: dict[str, Any]) -> Parameter:
        path = ("parameters", name)
        match raw["kind"]:
            case "integer":
                values = [Fraction(n) for n in _range(raw)]
            case "listed":
                values = [Fraction(v) for v in raw["values"] if self._is_number(path, v)]
            case _:
                values = self._fractions(path, _range(raw["numerators"]), _range(raw["denominators"]))
        different = tuple(dict.fromkeys(values))
        if not different and not self._reported(path):
            self._report(path, "no-values", f"parameter {name!r} has no value to take", "widen its range")
        return Parameter(name=name, values=different)

    def _fractions(self, path: tuple[str, ...], over: list[int], under: list[int]) -> list[Fraction]:
        if len(over) * len(under) > _FRACTION_LIMIT:
            self._report(
                path, "too-many-values", f"more than {_FRACTION_LIMIT} fractions", "narrow the ranges"
            )
            return []
        return [Fraction(n, d) for d in under for n in over if d > 0 and gcd(n, d) == 1]

    def _reported(self, path: tuple[str, ...]) -> bool:
        pointer = pointer_to(*self._at, *path)
        return any(problem.pointer == pointer for problem in self._problems)

    def _is_number(self, path: tuple[str, ...], value: str | int) -> bool:
        if isinstance(value, str) and not int(value.partition("/")[2] or 1):
            self._report(path, "number", f"{value!r} divides by zero")
            return False
        return True

    def _derived(self) -> tuple[Derived, ...]:
        known, found = set(self._parameters), []
        for name, text in self._raw.get("derived", {}).items():
            meaning = self._expression(("derived", name), text, known)
            if meaning is not None:
                found.append(Derived(name=name, meaning=meaning))
            known.add(name)
        return tuple(found)

    def _conditions(self, known: set[str]) -> tuple[Condition, ...]:
        found = []
        for index, text in enumerate(self._raw.get("conditions", ())):
            path = ("conditions", index)
            try:
                condition = parse_condition(text, lambda part: self._read(part, known))
            except ConditionError as error:
                self._report(path, "condition", f"{text!r} is not understood", str(error))
            except ReadingError as error:
                self._reading_problem(path, error)
            else:
                for side in condition.sides:
                    self._known_letters(path, side, known)
                found.append(condition)
        return tuple(found)

    def _pair(self, name: str, known: set[str]) -> tuple[Expression, Expression] | None:
        raw = self._raw.get(name)
        if raw is None:
            return None
        lower, upper = (self._expression((name, i), text, known) for i, text in enumerate(raw))
        return None if lower is None or upper is None else (lower, upper)

    def _find(self, known: set[str]) -> Find | None:
        raw = self._raw.get("find")
        if raw is None:
            return None
        letter = raw["letter"]
        ends = [self._expression(("find", name), raw[name], known) for name in ("from", "to")]
        limits = self._raw.get("limits", ("", ""))
        if letter not in self._parameters or limits[1] != letter or letter in str(limits[0]):
            self._report(
                ("find", "letter"),
                "no-such-limit",
                f"{letter!r} is not a parameter that is the upper limit alone",
                f'write limits: ["0", {letter}] and give {letter} a range',
            )
        if set(self._raw.get("responses", ("numeric",))) != {"numeric"}:
            self._report(("responses",), "unfit-response", "a limit is found as a number", "use numeric")
        if ends[0] is None or ends[1] is None:
            return None
        return Find(letter=letter, lower=ends[0], upper=ends[1])

    def _distractors(self, known: set[str]) -> tuple[AuthorDistractor, ...]:
        found = []
        for index, raw in enumerate(self._raw.get("distractors", ())):
            answer = self._expression(("distractors", index, "answer"), raw["answer"], known)
            if answer is not None:
                found.append(AuthorDistractor(answer=answer, feedback=raw["feedback"]))
        return tuple(found)

    def _offer(self, known: set[str]) -> tuple[Expression, ...]:
        found = []
        for index, text in enumerate(self._raw.get("offer", ())):
            function = self._expression(("offer", index), text, known)
            if function is not None and self._variable not in function.symbols():
                self._report(
                    ("offer", index), "constant", f"{text!r} does not depend on {self._variable.name}"
                )
            elif function is not None:
                found.append(function)
        return tuple(found)

    def _optional(
        self, path: tuple[str | int, ...], text: str | int | None, known: set[str]
    ) -> Expression | None:
        return None if text is None else self._expression(path, text, known)

    def _expression(self, path: tuple[str | int, ...], text: str | int, known: set[str]) -> Expression | None:
        try:
            tree = self._read(str(text), known)
        except ReadingError as error:
            self._reading_problem(path, error)
            return None
        return tree if self._known_letters(path, tree, known) else None

    def _read(self, text: str, known: set[str]) -> Expression:
        return read(text, conventions=self._conventions, variable=self._variable, names=frozenset(known)).tree

    def _reading_problem(self, path: tuple[str | int, ...], error: ReadingError) -> None:
        self._report(path, f"mathematics-{error.code}", f"{error.message}\n{error.caret()}", error.hint)

    def _known_letters(self, path: tuple[str | int, ...], tree: Expression, known: set[str]) -> bool:
        unknown = sorted(symbol.name for symbol in tree.symbols() if symbol.name not in known)
        for name in unknown:
            hint = "known here are " + ", ".join(sorted(known)) if known else "no letters are known here"
            self._report(
                path, "unknown-letter", f"the letter {name!r} is neither a parameter nor the variable", hint
            )
        return not unknown


def _range(raw: dict[str, Any]) -> list[int]:
    left_out = set(raw.get("except", ()))
    return [n for n in range(raw["from"], raw["to"] + 1) if n not in left_out]
