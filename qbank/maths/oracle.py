"""The one door to SymPy: it proposes, it never decides.

An antiderivative or an exact value from here is a proposal like any other; whoever uses it has it proved. SymPy may
think for minutes, so a proposal is made in a process of its own that is killed when its time is up. Trees travel as
JSON and are built node by node on both sides: no text is ever evaluated.

    tree --JSON--> child process: to_sympy -> integrate -> from_sympy --JSON--> tree | nothing

SymPy is imported inside the functions only.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any, TypeAlias

from qbank.maths.expression import (
    INFINITY,
    PI,
    Apply,
    Constant,
    Decimal,
    E,
    Expression,
    Integer,
    Negate,
    Power,
    Product,
    Quotient,
    Root,
    Sum,
    Symbol,
    product,
    rational,
    sum_of,
)

__all__ = [
    "exact_definite",
    "from_sympy",
    "propose_antiderivative",
    "to_sympy",
    "tree_from_json",
    "tree_to_json",
]

#: an object of SymPy, which has no types
Foreign: TypeAlias = Any

#: our function -> SymPy's
_NAMES = {
    **{
        name: name
        for name in ("sin", "cos", "tan", "sec", "cot", "sinh", "cosh", "tanh", "sech", "coth", "exp")
    },
    "cosec": "csc",
    "cosech": "csch",
    "arcsin": "asin",
    "arccos": "acos",
    "arctan": "atan",
    "arcsec": "asec",
    "arccosec": "acsc",
    "arsinh": "asinh",
    "arcosh": "acosh",
    "artanh": "atanh",
    "arsech": "asech",
    "arcosech": "acsch",
    "arcoth": "acoth",
    "ln": "log",
    "abs": "Abs",
}
_OUR_NAMES = {theirs: ours for ours, theirs in _NAMES.items()}


# ---------------------------------------------------------------------- trees and SymPy's objects


def to_sympy(tree: Expression) -> Foreign:
    """The SymPy object of a tree; letters become real symbols.

    An odd root becomes SymPy's power, which is not real for negative numbers: good for a proposal, no more.

    Args:
        tree: an expression without signs of calculus.

    Raises:
        ValueError: for an integral sign, a differential or square brackets with limits.

    >>> to_sympy(Symbol("x") * rational(1, 2) + PI)
    x/2 + pi
    """
    import sympy

    match tree:
        case Integer(value):
            return sympy.Integer(value)
        case Decimal():
            return sympy.Rational(tree.value.numerator, tree.value.denominator)
        case Symbol(name):
            return sympy.Symbol(name, real=True)
        case Constant(name):
            return {"pi": sympy.pi, "e": sympy.E, "infinity": sympy.oo}[name]
        case Sum(terms):
            return sympy.Add(*(to_sympy(term) for term in terms))
        case Product(factors):
            return sympy.Mul(*(to_sympy(factor) for factor in factors))
        case Negate(operand):
            return -to_sympy(operand)
        case Quotient(numerator, denominator):
            return to_sympy(numerator) / to_sympy(denominator)
        case Power(base, exponent):
            return sympy.Pow(to_sympy(base), to_sympy(exponent))
        case Root(radicand, index):
            return sympy.Pow(to_sympy(radicand), sympy.Rational(1, index))
        case Apply("arccot", argument):  # ours is continuous, SymPy's jumps at 0
            return sympy.pi / 2 - sympy.atan(to_sympy(argument))
        case Apply(function, argument):
            return getattr(sympy, _NAMES[function])(to_sympy(argument))
        case _:
            raise ValueError(f"a {type(tree).__name__} has no counterpart")


def from_sympy(found: Foreign) -> Expression | None:
    """The tree of a SymPy object, written as a teacher would; None for anything outside the language.

    Error functions, sine integrals, piecewise answers, complex numbers and unevaluated integrals are outside.

    >>> import sympy
    >>> x = sympy.Symbol("x")
    >>> from_sympy(sympy.log(x) / 2)
    Quotient(numerator=Apply(function='ln', argument=Symbol(name='x')), denominator=Integer(value=2))
    >>> from_sympy(sympy.erf(x)) is None
    True
    """
    try:
        return _tree(found)
    except _OutsideError:
        return None


class _OutsideError(ValueError):
    """Something that the language cannot say."""


def _tree(found: Foreign) -> Expression:
    import sympy

    if found.is_Rational:
        return rational(Fraction(int(found.p), int(found.q)))
    if found.is_Symbol:
        return Symbol(str(found.name))
    if found.is_Add:
        return sum_of(*(_tree(term) for term in found.as_ordered_terms()))
    if found.is_Mul:
        return _quotient(found)
    if found.is_Pow:
        return _power(found)
    known = {sympy.pi: PI, sympy.E: E, sympy.oo: INFINITY, -sympy.oo: Negate(INFINITY)}.get(found)
    if known is not None:
        return known
    if isinstance(found, sympy.exp):
        return Power(E, _tree(found.args[0]))
    if isinstance(found, sympy.acot):
        return Apply("arctan", Quotient(Integer(1), _tree(found.args[0])))
    name = _OUR_NAMES.get(type(found).__name__)
    if name is None or len(found.args) != 1:
        raise _OutsideError(type(found).__name__)
    return Apply(name, _tree(found.args[0]))


def _quotient(found: Foreign) -> Expression:
    """A product with what has a negative power below the line and its sign in front."""
    if found.could_extract_minus_sign():
        return Negate(_tree(-found))
    over, under = found.as_numer_denom()
    if under.is_Mul or under.is_Pow or not under.is_Rational or under != 1:
        return Quotient(_factors(over), _factors(under))
    return _factors(found)


def _factors(found: Foreign) -> Expression:
    if not found.is_Mul:
        return _tree(found)
    return product(*(_tree(factor) for factor in found.as_ordered_factors()))


def _power(found: Foreign) -> Expression:
    import sympy

    base, exponent = found.base, found.exp
    if exponent.is_Rational and exponent < 0:
        return Quotient(Integer(1), _tree(sympy.Pow(base, -exponent)))
    if exponent.is_Rational and exponent.p == 1 and 2 <= exponent.q <= 64:
        return Root(_tree(base), int(exponent.q))
    return Power(_tree(base), _tree(exponent))


# ---------------------------------------------------------------------- trees as JSON


def tree_to_json(tree: Expression) -> Any:
    """A tree as nested lists: the node's name, then its fields in order.

    >>> tree_to_json(Symbol("x") + 1)
    ['Sum', [['Symbol', 'x'], ['Integer', 1]]]
    """
    names: tuple[str, ...] = tree.__match_args__
    return [type(tree).__name__, *(_part_to_json(getattr(tree, name)) for name in names)]


def _part_to_json(part: object) -> Any:
    if isinstance(part, Expression):
        return tree_to_json(part)
    return [_part_to_json(child) for child in part] if isinstance(part, tuple) else part


_NODES: dict[str, Callable[..., Expression]] = {
    kind.__name__: kind
    for kind in (Integer, Decimal, Symbol, Constant, Sum, Product, Negate, Quotient, Power, Root, Apply)
}


def tree_from_json(data: Any) -> Expression:
    """The tree of nested lists.

    Raises:
        ValueError: when they describe none.

    >>> tree_from_json(["Negate", ["Integer", 2]])
    Negate(operand=Integer(value=2))
    """
    match data:
        case [str(name), *parts] if name in _NODES:
            return _NODES[name](*(_part_from_json(part) for part in parts))
        case _:
            raise ValueError("not an expression")


def _part_from_json(part: Any) -> Any:
    match part:
        case [str(), *_]:
            return tree_from_json(part)
        case [*children]:
            return tuple(tree_from_json(child) for child in children)
        case _:
            return part


# ---------------------------------------------------------------------- proposals


def propose_antiderivative(
    integrand: Expression, variable: Symbol, *, seconds: float = 60
) -> Expression | None:
    """SymPy's antiderivative, not yet proved.

    Args:
        integrand: what to integrate.
        variable: the variable; other letters are real parameters.
        seconds: how long it may take, the start of the process included.

    Returns:
        A tree without constant of integration, or None: none found, none in the language, or no time left.

    >>> propose_antiderivative(Symbol("x"), Symbol("x"))
    Quotient(numerator=Power(base=Symbol(name='x'), exponent=Integer(value=2)), denominator=Integer(value=2))
    """
    return _ask({"integrand": tree_to_json(integrand), "variable": variable.name}, seconds)


def exact_definite(
    integrand: Expression, variable: Symbol, lower: Expression, upper: Expression, *, seconds: float = 60
) -> Expression | None:
    """SymPy's exact value of a definite integral, not yet proved.

    Args:
        integrand: what to integrate.
        variable: the variable.
        lower: the lower limit, perhaps minus infinity.
        upper: the upper limit.
        seconds: how long it may take, the start of the process included.

    Returns:
        The value as a tree, or None.

    >>> exact_definite(1 / Symbol("x"), Symbol("x"), Integer(1), Integer(2))
    Apply(function='ln', argument=Integer(value=2))
    """
    question = {
        "integrand": tree_to_json(integrand),
        "variable": variable.name,
        "limits": [tree_to_json(lower), tree_to_json(upper)],
    }
    return _ask(question, seconds)


def _ask(question: dict[str, Any], seconds: float) -> Expression | None:
    command = [sys.executable, "-m", "qbank.maths.oracle"]
    home = str(
        Path(__file__).resolve().parents[2]
    )  # the child finds the same package, wherever it is run from
    path = os.pathsep.join(part for part in (home, os.environ.get("PYTHONPATH", "")) if part)
    try:
        done = subprocess.run(  # noqa: S603 - our own module, run by the interpreter that runs us
            command,
            input=json.dumps(question),
            capture_output=True,
            text=True,
            timeout=seconds,
            check=False,
            env={**os.environ, "PYTHONPATH": path},
        )
    except subprocess.TimeoutExpired:
        return None
    if done.returncode != 0:
        return None
    answer = json.loads(done.stdout)
    return None if answer is None else tree_from_json(answer)


def answer(question: dict[str, Any]) -> Any:
    """What the child process replies: a tree as JSON, or None."""
    import sympy

    integrand = to_sympy(tree_from_json(question["integrand"]))
    variable = sympy.Symbol(question["variable"], real=True)
    if "limits" in question:
        lower, upper = (to_sympy(tree_from_json(limit)) for limit in question["limits"])
        found = sympy.integrate(integrand, (variable, lower, upper))
        if found.is_finite is False:
            return None
    else:
        found = _generic(sympy.integrate(integrand, variable))
    tree = from_sympy(found)
    return None if tree is None else tree_to_json(tree)


def _generic(found: Foreign) -> Foreign:
    """The branch of a piecewise answer that holds in general (it is proved later).

    That is the one for `n != -1`, where a condition has this form, else the last one.
    """
    import sympy

    branches = {}
    for piece in sorted(found.atoms(sympy.Piecewise), key=sympy.default_sort_key):
        general = [value for value, condition in piece.args if isinstance(condition, sympy.Ne)]
        branches[piece] = general[0] if general else piece.args[-1][0]
    return found.xreplace(branches)


def main() -> None:
    """Read a question from standard input, write the reply to standard output."""
    sys.stdout.write(json.dumps(answer(json.loads(sys.stdin.read()))))


if __name__ == "__main__":
    main()
