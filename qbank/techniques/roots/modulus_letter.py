"""A modulus inside a function: u is the modulus, and the sign of the variable stands in front.

int e^|x| dx            u = |x|    (|x|/x) int e^u du = (|x|/x) (e^|x| - 1)
int cos x e^(-|x|) dx   the cosine is even: (|x|/x) int cos u e^(-u) du
int sin x e^|x| dx      the sine is odd: int sin u e^u du, no sign is left

On either side of the place where the modulus is 0 its sign is a constant; the constant of integration is chosen for which
both sides meet there.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from qbank.maths.constant_factor import number
from qbank.maths.deciding import decide_equal
from qbank.maths.expression import Apply, Expression, Integral, Negate, Quotient, Symbol, product
from qbank.maths.notation import plain
from qbank.maths.polynomial import as_linear, polynomial_tree
from qbank.maths.tidying import scaled, tidy
from qbank.maths.verdict import Proved
from qbank.messages import say, together
from qbank.techniques.carrying import Solver, carry, multiplied, solved_beside
from qbank.techniques.circular.circular_powers import spare_letter
from qbank.techniques.roots.sign_plan import SignPlan, meets, sign_plan
from qbank.techniques.slips import slips_of
from qbank.techniques.standard import standard_forms
from qbank.techniques.substituting.substitution_search import put_back
from qbank.techniques.technique import Slip, Technique
from qbank.techniques.working import WorkedSolution, Working

__all__ = ["modulus_letter"]

_IDENTIFIER = "modulus-as-letter"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """`integrand dx = sign * outer du / slope`.

    Attributes:
        letter: u.
        slope: of what stands in the modulus.
        plan: the sign, or 1, and what stands in the modulus.
        solution: the working of the integral in u.
        back: its antiderivative with the modulus put back.
        joined: the same with the constant with which both sides meet.
    """

    letter: Symbol
    slope: Fraction
    plan: SignPlan
    solution: WorkedSolution
    back: Expression
    joined: Expression

    @property
    def modulus(self) -> Expression:
        """What the letter stands for."""
        return Apply("abs", self.plan.inside)

    def both_sides(self, back: Expression) -> Expression:
        """A wrong answer with the sign in front, and with the constant that a student would choose for it."""
        joined = self.plan.joined(back)
        return self.plan.with_sign(back if joined is None else joined)

    def put_back(self, in_letter: Expression, modulus: Expression | None = None) -> Expression:
        """An antiderivative in u with the modulus put back, or what a slip puts there."""
        whole = multiplied(number(1 / self.slope), in_letter)
        return put_back(whole, self.letter, self.modulus if modulus is None else modulus)


def modulus_letter(solve: Solver) -> Technique:
    """The technique, given what solves the integral in u."""

    @lru_cache(maxsize=64)
    def find(integrand: Expression, variable: Symbol) -> _Found | None:
        inside = _inside(integrand, variable)
        linear = None if inside is None else as_linear(inside, variable)
        if inside is None or linear is None or _is_factor(integrand, variable):
            return None
        letter = spare_letter(product(integrand, variable))
        seen = _in_letter(integrand, variable, letter, inside)
        solution = None if seen is None else solved_beside(integrand, solve, seen[0], letter)
        if seen is None or solution is None:
            return None
        plan = SignPlan(
            variable=variable,
            inside=inside,
            taken=None,
            signed=seen[1],
            core=seen[0],
            whole=None,
            meets=seen[1] and meets(integrand, inside, variable),
        )
        whole = multiplied(number(1 / linear[0]), solution.antiderivative)
        back = put_back(whole, letter, Apply("abs", inside))
        joined = plan.joined(back)
        if joined is None:
            return None
        return _Found(letter=letter, slope=linear[0], plan=plan, solution=solution, back=back, joined=joined)

    def work(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        found = find(integrand, variable)
        return None if found is None else _worked(integrand, variable, found)

    slip = slips_of("modulus-letter", find)

    def bars_dropped(found: _Found) -> Expression:
        return found.put_back(found.solution.antiderivative, found.plan.inside)

    def carried(one: Slip) -> Slip:
        """A slip in the integral in u, where that is a standard form."""

        def wrong(found: _Found) -> Expression | None:
            if found.solution.technique != standard_forms.TECHNIQUE.identifier:
                return None
            changed = one.answer(found.solution)
            return None if changed is None else found.both_sides(found.put_back(changed))

        return slip(one.identifier, one.sentence, wrong)

    return Technique(
        identifier=_IDENTIFIER,
        title="A modulus as the new letter",
        work=work,
        slips=(
            slip(
                "sign-forgotten",
                say(
                    "Where what stands in the modulus is negative, the modulus falls: the answer has the other sign there."
                ),
                lambda found: found.back if found.plan.signed else None,
            ),
            slip(
                "bars-dropped",
                say("Without the bars this holds where what stands in them is positive, and only there."),
                bars_dropped,
            ),
            slip(
                "slope-forgotten",
                say("The coefficient inside comes out when you differentiate, so you must divide by it."),
                lambda found: (
                    None
                    if found.slope == 1
                    else found.both_sides(multiplied(number(found.slope), found.back))
                ),
            ),
            *map(carried, standard_forms.TECHNIQUE.slips),
        ),
    )


def _inside(integrand: Expression, variable: Symbol) -> Expression | None:
    """What stands in the only modulus with the variable, if it is linear with numbers."""
    found = {
        node.argument
        for node in integrand.walk()
        if isinstance(node, Apply) and node.function == "abs" and variable in node.symbols()
    }
    if len(found) != 1:
        return None
    inside = found.pop()
    linear = as_linear(inside, variable)
    return inside if linear is not None and linear[0] else None


def _is_factor(integrand: Expression, variable: Symbol) -> bool:
    """Whether the modulus is a factor and stands nowhere else, so that taking the sign out is shorter."""
    plan = sign_plan(integrand, variable)
    return plan is not None and _inside(plan.core, variable) is None


def _in_letter(
    integrand: Expression, variable: Symbol, letter: Symbol, inside: Expression
) -> tuple[Expression, bool] | None:
    """The integrand in u, and whether the sign stands in front of its integral."""
    linear = as_linear(inside, variable)
    assert linear is not None  # it was seen to be
    written = integrand.replaced(Apply("abs", inside), letter)
    if variable not in written.symbols():
        return written, True
    there = polynomial_tree((-linear[1] / linear[0], 1 / linear[0]), letter)
    beyond = polynomial_tree((-linear[1] / linear[0], -1 / linear[0]), letter)
    one, other = (tidy(written.substitute({variable: place})) for place in (there, beyond))
    if isinstance(decide_equal(one, other, letter), Proved):
        return one, True
    if isinstance(decide_equal(one, tidy(Negate(other)), letter), Proved):
        return one, False
    return None


def _worked(integrand: Expression, variable: Symbol, found: _Found) -> WorkedSolution:
    plan, inside = found.plan, plain(found.plan.inside)
    working = Working(_IDENTIFIER, integrand, variable)
    rate = scaled(found.slope, Quotient(found.modulus, plan.inside))
    said = say("The modulus becomes the letter; its derivative is 1 or -1 times that of what stands in it.")
    working.let(found.letter, found.modulus, rate, said)
    said = say("Write everything in {letter}.", letter=found.letter.name)
    if plan.signed:
        said = together(
            said,
            say(
                "The modulus of {inside} over {inside} is 1 where {inside} is positive and -1 where it is negative: a constant on each "
                "piece, so it stands in front.",
                inside=inside,
            ),
        )

    def around(line: Expression) -> Expression:
        return plan.with_sign(multiplied(number(1 / found.slope), line))

    working.step(around(Integral(plan.core, found.letter)), "substitution", said)
    carry(working, found.solution.lines, around)
    said = say("Put the function back for {letter}.", letter=found.letter.name)
    working.step(plan.with_sign(found.back), "substitute-back", said)
    if found.joined != found.back:
        said = say(
            "Both sides must meet where {inside} is 0: choose the constant with which the value there is 0.",
            inside=inside,
        )
        working.step(plan.with_sign(found.joined), "constant", said)
    return working.finish()
