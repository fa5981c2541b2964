"""The planner: which technique a teacher would take, and the worked solution that it gives.

The techniques stand in teaching order; the first that fits is taken, after those that say of the integrand that they come
first for it. A sum whose terms need different techniques is
split by the last of them, `term-by-term`, which asks the others for each term.
"""

from __future__ import annotations

from collections.abc import Iterator

from qbank.maths.expression import (
    Differential,
    Evaluated,
    Expression,
    Integral,
    Power,
    Symbol,
    as_fraction,
)
from qbank.maths.tidying import tidy
from qbank.maths.verdict import Refuted
from qbank.techniques.carrying import Solver
from qbank.techniques.circular import (
    even_powers,
    odd_powers,
    odd_secants,
    product_to_sum,
    shifted_angles,
    tangent_secant,
)
from qbank.techniques.circular.double_angle_first import double_angle_first
from qbank.techniques.circular.double_angle_products import double_angle_products
from qbank.techniques.circular.multiple_angles import multiple_angles
from qbank.techniques.circular.sign_of_function import sign_of_function
from qbank.techniques.fractions import biquadratic, letter_fractions, partial_fractions
from qbank.techniques.half_angle import (
    circular_denominator_powers,
    half_angle_substitution,
    rational_circular,
)
from qbank.techniques.hyperbolic import hyperbolic_exponentials, hyperbolic_powers, rational_hyperbolic
from qbank.techniques.hyperbolic.hyperbolic_substitution import hyperbolic_substitution
from qbank.techniques.parts import exponential_product
from qbank.techniques.parts.by_parts import by_parts
from qbank.techniques.quadratics import quadratic_denominator, root_of_quadratic
from qbank.techniques.recurrence import recurrence_formulae
from qbank.techniques.roots import root_by_parts
from qbank.techniques.roots.algebraic_substitution import algebraic_substitution
from qbank.techniques.roots.conjugates import conjugates
from qbank.techniques.roots.letter_square import letter_square
from qbank.techniques.roots.modulus_letter import modulus_letter
from qbank.techniques.roots.quotient_letter import quotient_letter
from qbank.techniques.roots.reciprocal import reciprocal_substitution
from qbank.techniques.roots.root_above import root_above
from qbank.techniques.roots.root_of_fraction import root_of_fraction
from qbank.techniques.roots.root_of_tangent import root_of_tangent
from qbank.techniques.roots.scaled_letter import scaled_letter
from qbank.techniques.roots.variable_sign import variable_sign
from qbank.techniques.standard import standard_forms
from qbank.techniques.substituting import substitution, variable_powers
from qbank.techniques.substituting.logarithm_substitution import logarithm_substitution
from qbank.techniques.substituting.logarithm_undone import logarithm_undone
from qbank.techniques.substituting.substitute_then import substitute_then
from qbank.techniques.technique import Technique
from qbank.techniques.term_by_term import term_by_term
from qbank.techniques.trigonometric.inverse_substitution import inverse_substitution
from qbank.techniques.trigonometric.trigonometric_substitution import trigonometric_substitution
from qbank.techniques.working import UnprovedLineError, WorkedSolution

__all__ = ["TECHNIQUES", "solve", "solve_all", "solve_with", "technique"]

_FAMILIES: tuple[Technique, ...] = (
    standard_forms.TECHNIQUE,
    substitution.TECHNIQUE,
    odd_powers.TECHNIQUE,
    even_powers.TECHNIQUE,
    product_to_sum.TECHNIQUE,
    tangent_secant.TECHNIQUE,
    odd_secants.TECHNIQUE,
    hyperbolic_powers.TECHNIQUE,
    hyperbolic_exponentials.TECHNIQUE,
    quadratic_denominator.TECHNIQUE,
    root_of_quadratic.TECHNIQUE,
)


def _work(which: Technique, integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    """One technique's solution.

    A line that is refuted is an error of this program and is not hidden. A line that could not be settled (an
    integrand that is real nowhere, numbers beyond the time budget) only means that no solution can be shown.
    """
    try:
        return which.work(integrand, variable)
    except UnprovedLineError as error:
        if isinstance(error.verdict, Refuted):
            raise
        return None


def _in_order(
    techniques: tuple[Technique, ...], integrand: Expression, variable: Symbol
) -> Iterator[Technique]:
    """Those that come first for this integrand, then the others."""
    first = [known for known in techniques if known.first_for and known.first_for(integrand, variable)]
    yield from first
    yield from (known for known in techniques if known not in first) if first else techniques


def _first_of(techniques: tuple[Technique, ...]) -> Solver:
    """What takes the first of some techniques that fits."""

    def solve_first(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        ordered = _in_order(techniques, integrand, variable)
        solutions = (_work(which, integrand, variable) for which in ordered)
        return next((solution for solution in solutions if solution is not None), None)

    return solve_first


def _everywhere(solve: Solver) -> Solver:
    """What takes no solution with a letter that is introduced on a part of the line only.

    After a substitution that part would be one of another letter.
    """

    def solve_everywhere(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
        solution = solve(integrand, variable)
        return None if solution is None or any(line.domain for line in solution.lines) else solution

    return solve_everywhere


#: where a substitution makes a shorter way, it is taken before these
_LATER: tuple[Technique, ...] = (
    partial_fractions.TECHNIQUE,
    biquadratic.TECHNIQUE,
    letter_fractions.TECHNIQUE,
)

#: for any fraction of sines and cosines, or of hyperbolic functions, where there is no shorter way
_LAST: tuple[Technique, ...] = (
    rational_circular.TECHNIQUE,
    circular_denominator_powers.TECHNIQUE,
    half_angle_substitution.TECHNIQUE,
    rational_hyperbolic.TECHNIQUE,
)

#: what is left in one angle is for these
_ONE_ANGLE = (odd_powers.TECHNIQUE, even_powers.TECHNIQUE, tangent_secant.TECHNIQUE, odd_secants.TECHNIQUE)
_DOUBLE = double_angle_products(
    _first_of((standard_forms.TECHNIQUE, *_ONE_ANGLE, rational_circular.TECHNIQUE)),
    (*_ONE_ANGLE, rational_circular.TECHNIQUE),
)

_FUNCTION_SIGN = sign_of_function(
    _first_of(
        (
            standard_forms.TECHNIQUE,
            *_ONE_ANGLE,
            product_to_sum.TECHNIQUE,
            hyperbolic_powers.TECHNIQUE,
            rational_circular.TECHNIQUE,
        )
    )
)

#: the integral in t is a sum of products of circular functions
_CIRCULAR = _first_of((*_FAMILIES, term_by_term(_first_of(_FAMILIES), ())))
_TRIGONOMETRIC = trigonometric_substitution(_CIRCULAR)

#: what is left by parts is for one of these; parts again are part of the technique itself
_SHORT = (*_FAMILIES, substitute_then(_first_of((*_FAMILIES[2:], *_LATER)), ()), *_LATER, *_LAST)
_BEHIND = (*_SHORT, algebraic_substitution(_first_of(_SHORT)), _TRIGONOMETRIC)
_RECIPROCAL = reciprocal_substitution(_everywhere(_first_of(_BEHIND)))
_PARTS = by_parts(_first_of((*_BEHIND, variable_sign(_first_of(_BEHIND)), _RECIPROCAL)))
_ROOTS = algebraic_substitution(_everywhere(_first_of((*_SHORT, _PARTS, _TRIGONOMETRIC))))
_PARTS_OF_SUMS = term_by_term(_first_of((*_FAMILIES, _PARTS)), ())
_ANGLES = multiple_angles(_first_of((*_FAMILIES, _PARTS, _PARTS_OF_SUMS)))
_EXPONENTIALS = (*_FAMILIES, _PARTS, exponential_product.TECHNIQUE, _ANGLES, _PARTS_OF_SUMS)
_LOGARITHM = logarithm_substitution(_first_of((*_EXPONENTIALS, *_LATER)), (exponential_product.TECHNIQUE,))
_INVERSE = inverse_substitution(_first_of((*_FAMILIES, _PARTS, _ANGLES, _PARTS_OF_SUMS)))
_WITHOUT_SIGN = _first_of((*_SHORT, _PARTS, _ROOTS, _TRIGONOMETRIC))
_SIGN, _MODULUS = variable_sign(_WITHOUT_SIGN), modulus_letter(_WITHOUT_SIGN)
_PLAIN_ROOTS = (*_FAMILIES, _ROOTS, _TRIGONOMETRIC, _SIGN, _RECIPROCAL)
_WITHOUT_FRACTION = _first_of((*_PLAIN_ROOTS, term_by_term(_first_of(_PLAIN_ROOTS), ())))
_SCALED = scaled_letter(
    _everywhere(_first_of((*_PLAIN_ROOTS, *_LATER, term_by_term(_first_of(_PLAIN_ROOTS), ()))))
)
_LETTER_ROOTS = (*_FAMILIES, root_by_parts.TECHNIQUE, _SCALED)
_LETTER_SQUARE = letter_square(_first_of((*_LETTER_ROOTS, term_by_term(_first_of(_LETTER_ROOTS), ()))))
_QUOTIENT_LETTER = quotient_letter(_first_of((standard_forms.TECHNIQUE,)))
_ROOT_ABOVE = root_above(_WITHOUT_FRACTION)
_CONJUGATES, _ROOT_OF_FRACTION = conjugates(_WITHOUT_FRACTION), root_of_fraction(_WITHOUT_FRACTION)

#: after a substitution, what is left is for one of the others
_AFTER = (
    *_FAMILIES[2:],
    _PARTS,
    exponential_product.TECHNIQUE,
    recurrence_formulae.TECHNIQUE,
    _ROOTS,
    *_LATER,
    _TRIGONOMETRIC,
    *_LAST,
)
_THEN = substitute_then(_everywhere(_first_of(_AFTER)), _AFTER)
_FIRST_DOUBLE = double_angle_first(_first_of((substitution.TECHNIQUE, _PARTS, _THEN)))
_ROOT_OF_TANGENT = root_of_tangent(_first_of((substitution.TECHNIQUE, _THEN, *_LATER)))
_SINGLE = (
    *_FAMILIES,
    _DOUBLE,
    _PARTS,
    exponential_product.TECHNIQUE,
    recurrence_formulae.TECHNIQUE,
    _ROOTS,
    _THEN,
    *_LATER,
    _TRIGONOMETRIC,
    _SIGN,
    _MODULUS,
    _RECIPROCAL,
    _ROOT_ABOVE,
    _FUNCTION_SIGN,
    _ROOT_OF_TANGENT,
    _SCALED,
    root_by_parts.TECHNIQUE,
    _LETTER_SQUARE,
    _CONJUGATES,
    _ROOT_OF_FRACTION,
    _QUOTIENT_LETTER,
    _ANGLES,
    _FIRST_DOUBLE,
    shifted_angles.TECHNIQUE,
    _INVERSE,
    _LOGARITHM,
    variable_powers.TECHNIQUE,
)

#: another way beside the tangent and the secant
_HYPERBOLIC = hyperbolic_substitution(
    _first_of((standard_forms.TECHNIQUE, hyperbolic_powers.TECHNIQUE, rational_hyperbolic.TECHNIQUE))
)

TECHNIQUES: tuple[Technique, ...] = (
    *_SINGLE,
    term_by_term(
        _first_of((*_SINGLE, *_LAST)),
        (*_FAMILIES, _PARTS, recurrence_formulae.TECHNIQUE, _ROOTS, *_LATER, _TRIGONOMETRIC, *_LAST),
        _LAST,
    ),
    *_LAST,
    _HYPERBOLIC,
    logarithm_undone(_first_of((*_SINGLE, *_LAST))),
)
"""All techniques, in teaching order."""

#: an exponent with a larger numerator or denominator is declined unseen
_EXPONENT_LIMIT = 10**6
#: longer integrands are declined unseen
_SIZE_LIMIT = 150
#: so are integrands nested more deeply; the work grows with a high power of the depth
_DEPTH_LIMIT = 16


def solve(integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    """The worked solution by the first technique that fits, or None.

    Args:
        integrand: any expression.
        variable: with respect to what.

    Raises:
        UnprovedLineError: a technique wrote a line that is wrong: an error of this program.

    >>> x = Symbol("x")
    >>> solve(3 * x**2, x).antiderivative == x**3
    True
    """
    return next(_solutions(integrand, variable), None)


def solve_all(integrand: Expression, variable: Symbol) -> tuple[WorkedSolution, ...]:
    """The worked solutions by every technique that fits, in teaching order."""
    return tuple(_solutions(integrand, variable))


def solve_with(identifier: str, integrand: Expression, variable: Symbol) -> WorkedSolution | None:
    """The worked solution by one technique, or None when it does not fit.

    Raises:
        KeyError: no technique has this identifier.
        UnprovedLineError: see `solve`.
    """
    which = technique(identifier)
    return _work(which, integrand, variable) if _is_plain(integrand) else None


def technique(identifier: str) -> Technique:
    """A technique by its identifier.

    Raises:
        KeyError: no technique has this identifier.

    >>> technique("substitution").title
    'Substitution: a function and its derivative'
    """
    return _BY_IDENTIFIER[identifier]


_BY_IDENTIFIER = {known.identifier: known for known in TECHNIQUES}


def _solutions(integrand: Expression, variable: Symbol) -> Iterator[WorkedSolution]:
    if not _is_plain(integrand):
        return
    for known in _in_order(TECHNIQUES, integrand, variable):
        solution = _work(known, integrand, variable)
        if solution is not None:
            yield solution


def _is_plain(integrand: Expression) -> bool:
    """Whether it is of moderate size, has no enormous exponent, and holds no integral, limits or differential."""
    level: tuple[Expression, ...] = (integrand,)
    size = 0
    for _ in range(_DEPTH_LIMIT):
        size += len(level)
        if size > _SIZE_LIMIT or any(map(_is_beyond, level)):
            return False
        level = tuple([child for node in level for child in node.children])
        if not level:
            return True
    return False


def _is_beyond(node: Expression) -> bool:
    """Whether a node is still to be worked out, or is a power with an enormous exponent."""
    if not isinstance(node, Power):
        return isinstance(node, (Integral, Evaluated, Differential))
    exponent = as_fraction(tidy(node.exponent))
    return exponent is not None and max(abs(exponent.numerator), exponent.denominator) > _EXPONENT_LIMIT
