"""The expression tree: mathematics exactly as it was written.

Nothing here reorders, evaluates or simplifies. `2/4` stays a quotient of two integers, `(1 - sin^2 x) cos x`
keeps its order and its bracket, `-3` is the negation of 3. A worked solution needs that: each line must show
what a teacher wrote. Folding numbers and dropping `1*` is the separate step `qbank.maths.tidying.tidy`.

    Integer  Decimal  Symbol  Constant                      leaves
    Sum  Product  Negate  Quotient  Power  Root  Apply      what is built from them
    Integral  Evaluated  Limit  Differential                the calculus of a worked line

Trees are immutable, hashable and compared by structure. Python's operators build nodes and do nothing else
(a chain of `+` or `*` grows one flat node):

>>> x = Symbol("x")
>>> sin(x) ** 2 + 1
Sum(terms=(Power(base=Apply(function='sin', argument=Symbol(name='x')), exponent=Integer(value=2)), Integer(value=1)))
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import field
from fractions import Fraction
from functools import lru_cache
from operator import attrgetter
from string import ascii_letters
from typing import Any, ClassVar, Final, Self, TypeAlias, TypeVar
from weakref import WeakValueDictionary

from qbank.maths.frozen import frozen
from qbank.maths.functions import FUNCTIONS
from qbank.maths.rationals import fraction

__all__ = [
    "INFINITY",
    "PI",
    "Apply",
    "Constant",
    "Decimal",
    "Differential",
    "E",
    "Evaluated",
    "Expression",
    "Integer",
    "Integral",
    "Limit",
    "Negate",
    "Number",
    "Power",
    "Product",
    "Quotient",
    "Root",
    "Sum",
    "Symbol",
    "as_fraction",
    "as_tree",
    "cos",
    "difference",
    "exp",
    "fraction",
    "ln",
    "opposite",
    "product",
    "rational",
    "sin",
    "sqrt",
    "sum_of",
    "tan",
]

Number: TypeAlias = "int | Fraction"


@frozen(eq=False)
class Expression:
    """The common part of all nodes: children, rebuilding, and operators that build trees as written."""

    #: names of the fields that hold child expressions, in reading order
    _parts: ClassVar[tuple[str, ...]] = ()
    #: whether two nodes that are equal are always one object
    _is_single: ClassVar[bool] = False
    #: what is asked of a node often, once it is known: its hash, and its symbols
    _hash: int | None = field(default=None, init=False, repr=False, compare=False)
    _symbols: frozenset[Symbol] | None = field(default=None, init=False, repr=False, compare=False)

    def __init_subclass__(cls) -> None:
        """Let a node compute its hash once: that walks all below it, and every look-up of a tree asks for it.

        Trees of different kinds are told apart at once: most that are compared are.
        Its children are found without a loop over its parts, as they are asked for at every step through a tree.
        """
        if "__match_args__" not in cls.__dict__:
            return  # not yet a dataclass; with its slots it is made a second time
        cls.children = _children_getter(cls)  # type: ignore[method-assign]
        if cls._is_single:
            return  # what Python does by itself, and at once: it is equal to itself only
        names: tuple[str, ...] = cls.__match_args__
        fields: Callable[[Any], Any] = attrgetter(*names)

        def once(self: Any) -> int:
            known: int | None = self._hash
            if known is None:
                known = hash(fields(self))
                self._hash = known
            return known

        def equal(self: Any, other: object) -> bool:
            return self is other or (self.__class__ is other.__class__ and fields(self) == fields(other))

        cls.__hash__ = once  # type: ignore[method-assign]  # as dataclasses do
        cls.__eq__ = equal  # type: ignore[method-assign]

    def __reduce__(self) -> tuple[type[Expression], tuple[Any, ...]]:
        """How a node is copied and pickled: without its hash, which differs from one process to the next."""
        return type(self), tuple(map(self.__getattribute__, self.__match_args__))

    @property
    def children(self) -> tuple[Expression, ...]:
        """The direct sub-expressions, in reading order.

        >>> (Symbol("x") / 2).children
        (Symbol(name='x'), Integer(value=2))
        """
        return ()

    def rebuild(self, change: Callable[[Expression], Expression]) -> Expression:
        """The same node with `change` applied to each direct child; itself when nothing changed."""
        if not self._parts:
            return self
        names: tuple[str, ...] = self.__match_args__
        given = [getattr(self, name) for name in names]
        changed = [
            tuple(map(change, one))
            if type(one) is tuple
            else change(one)
            if isinstance(one, Expression)
            else one
            for one in given
        ]
        return self if changed == given else type(self)(*changed)

    def walk(self) -> Iterator[Expression]:
        """This node and all below it, parents before children, left to right."""
        stack: list[Expression] = [self]
        while stack:
            node = stack.pop()
            yield node
            stack += node.children[::-1]

    def substitute(self, values: Mapping[Symbol, Expression]) -> Expression:
        """Replace symbols; the bound variable of an integral is left alone inside it.

        >>> x, u = Symbol("x"), Symbol("u")
        >>> (u ** 2).substitute({u: x + 1})
        Power(base=Sum(terms=(Symbol(name='x'), Integer(value=1))), exponent=Integer(value=2))
        """
        if isinstance(self, Symbol):
            return values.get(self, self)
        if isinstance(self, Limit):
            free = {name: value for name, value in values.items() if name != self.variable}
            return Limit(self.body.substitute(free), self.variable, self.to.substitute(values), self.side)
        if isinstance(self, (Integral, Evaluated)):
            inner = {name: value for name, value in values.items() if name != self.variable}
            limits = tuple(
                limit.substitute(values) if limit is not None else None for limit in (self.lower, self.upper)
            )
            if isinstance(self, Integral):
                return Integral(self.integrand.substitute(inner), self.variable, *limits)
            return Evaluated(self.antiderivative.substitute(inner), self.variable, *limits)  # type: ignore[arg-type]
        return self.rebuild(lambda child: child.substitute(values))

    def symbols(self) -> frozenset[Symbol]:
        """All symbols that occur, bound ones too."""
        known = self._symbols
        if known is None:
            known = self._symbols = _together(self.children)  # type: ignore[misc]  # as in `once`
        return known

    def holds(self, *kinds: type[Expression]) -> bool:
        """Whether a node of one of these kinds occurs.

        >>> (Symbol("x") ** 2).holds(Sum, Power)
        True
        """
        nodes: list[Expression] = [self]
        while nodes:
            node = nodes.pop()
            if type(node) in kinds:
                return True
            nodes += node.children
        return False

    def has(self, part: Expression) -> bool:
        """Whether `part` occurs as a sub-tree."""
        kind = type(part)
        return any(type(node) is kind and node == part for node in self.walk())

    def replaced(self, part: Expression, by: Expression) -> Expression:
        """The same tree with every occurrence of a part replaced.

        >>> x, u = Symbol("x"), Symbol("u")
        >>> (ln(x) / (1 + ln(x))).replaced(ln(x), u) == u / (1 + u)
        True
        """
        return by if self == part else self.rebuild(lambda child: child.replaced(part, by))

    def __add__(self, other: Expression | Number) -> Expression:
        return sum_of(self, as_tree(other))

    def __radd__(self, other: Number) -> Expression:
        return sum_of(as_tree(other), self)

    def __sub__(self, other: Expression | Number) -> Expression:
        return difference(self, as_tree(other))

    def __rsub__(self, other: Number) -> Expression:
        return difference(as_tree(other), self)

    def __mul__(self, other: Expression | Number) -> Expression:
        return product(self, as_tree(other))

    def __rmul__(self, other: Number) -> Expression:
        return product(as_tree(other), self)

    def __truediv__(self, other: Expression | Number) -> Expression:
        return Quotient(self, as_tree(other))

    def __rtruediv__(self, other: Number) -> Expression:
        return Quotient(as_tree(other), self)

    def __pow__(self, other: Expression | Number) -> Expression:
        return Power(self, as_tree(other))

    def __neg__(self) -> Expression:
        return Negate(self)


def _children_getter(kind: type[Expression]) -> Any:
    """What stands for the children of a kind of node: nothing, the field that holds them all, or a property."""
    parts, types = kind._parts, kind.__annotations__  # noqa: SLF001 - of the module itself
    if not parts:
        return ()
    if "tuple" in types[parts[0]]:
        return getattr(kind, parts[0])
    if any("None" in types[name] for name in parts):
        return property(
            lambda node: tuple([part for part in map(node.__getattribute__, parts) if part is not None])
        )
    get: Callable[[Any], Any] = attrgetter(*parts)  # a tuple of several
    return property(get if len(parts) > 1 else lambda node: (get(node),))


# Most nodes of a tree are letters and small numbers. Each of those is one object, so that comparing it ends at once.
@frozen(eq=False)
class Integer(Expression):
    """A whole number as written, so never negative: `-3` is `Negate(Integer(3))`.

    >>> Integer(2) is Integer(2)
    True
    """

    value: int

    def __new__(cls, value: int) -> Self:
        """The node of a number.

        Raises:
            ValueError: it is negative.
        """
        if 0 <= value < len(_SMALL):
            return _SMALL[value]  # type: ignore[return-value]  # no kind of node has kinds of its own
        if value < 0:
            raise ValueError(f"an Integer node is not negative (got {value}); use rational()")
        return _made(cls, "value", value)

    def __init__(self, value: int) -> None:
        """It is all there already."""


@frozen(eq=False)
class Decimal(Expression):
    """A decimal as typed, with a point: digits are kept (`0.50` is not `0.5`), the value is exact."""

    text: str

    @property
    def value(self) -> Fraction:
        """The exact value of the digits.

        >>> Decimal("0.125").value
        Fraction(1, 8)
        """
        return Fraction(self.text)


class _Forgettable:
    """What may be forgotten while it is still listed somewhere."""

    __slots__ = ("__weakref__",)


@frozen(eq=False)
class Symbol(Expression, _Forgettable):
    """A letter: the variable, a parameter or a constant of integration (`x`, `theta`, `C`, `C_1`).

    >>> Symbol("C_1") is Symbol("C_1")
    True
    """

    name: str
    _is_single: ClassVar[bool] = True

    def __new__(cls, name: str) -> Self:
        """The node of a name."""
        known = _LETTERS.get(name)
        if known is None:
            # names with indices come without end in what is typed: each is known only as long as it is used
            known = _NAMES.setdefault(name, _made(Symbol, "name", name))
        return known  # type: ignore[return-value]  # as above

    def __init__(self, name: str) -> None:
        """It is all there already."""

    def symbols(self) -> frozenset[Symbol]:
        """Itself."""
        known = self._symbols
        if known is None:
            known = self._symbols = frozenset((self,))  # type: ignore[misc]
        return known


_Atom = TypeVar("_Atom", bound=Expression)


def _made(kind: type[_Atom], field_name: str, content: Any) -> _Atom:
    """A new node with one field."""
    node: Any = object.__new__(kind)
    setattr(node, field_name, content)
    node._hash = node._symbols = None  # noqa: SLF001 - of the module itself
    made: _Atom = node
    return made


_SMALL: Final = tuple(_made(Integer, "value", value) for value in range(256))
_LETTERS: Final = {name: _made(Symbol, "name", name) for name in (*ascii_letters, "theta")}
_NAMES: Final = WeakValueDictionary[str, Symbol]()


@frozen(eq=False)
class Constant(Expression):
    """A number with a name of its own: `pi`, `e`, or `infinity` as a limit of integration."""

    name: str
    _is_single: ClassVar[bool] = True

    def __new__(cls, name: str) -> Self:
        """The node of a name.

        Raises:
            ValueError: no number is called so.
        """
        known = _CONSTANTS.get(name)
        if known is None:
            raise ValueError(f"unknown constant {name!r}; known are pi, e and infinity")
        return known  # type: ignore[return-value]  # as above

    def __init__(self, name: str) -> None:
        """It is all there already."""


_CONSTANTS: Final = {name: _made(Constant, "name", name) for name in ("pi", "e", "infinity")}


@frozen(eq=False)
class Sum(Expression):
    """Two or more terms; a subtracted term is a `Negate`."""

    terms: tuple[Expression, ...]
    _parts: ClassVar[tuple[str, ...]] = ("terms",)

    def __post_init__(self) -> None:
        if len(self.terms) < 2:
            raise ValueError("a Sum has at least two terms")

    def rebuild(self, change: Callable[[Expression], Expression]) -> Expression:
        """See `Expression.rebuild`: most that are rebuilt are of these kinds, which know their one or two parts."""
        terms = tuple(map(change, self.terms))
        return self if terms == self.terms else Sum(terms)


@frozen(eq=False)
class Product(Expression):
    """Two or more factors."""

    factors: tuple[Expression, ...]
    _parts: ClassVar[tuple[str, ...]] = ("factors",)

    def __post_init__(self) -> None:
        if len(self.factors) < 2:
            raise ValueError("a Product has at least two factors")

    def rebuild(self, change: Callable[[Expression], Expression]) -> Expression:
        """See `Sum.rebuild`."""
        factors = tuple(map(change, self.factors))
        return self if factors == self.factors else Product(factors)


@frozen(eq=False)
class Negate(Expression):
    """A minus sign in front."""

    operand: Expression
    _parts: ClassVar[tuple[str, ...]] = ("operand",)

    def rebuild(self, change: Callable[[Expression], Expression]) -> Expression:
        """See `Sum.rebuild`."""
        operand = change(self.operand)
        return self if operand is self.operand or operand == self.operand else Negate(operand)


@frozen(eq=False)
class Quotient(Expression):
    """A fraction, of numbers (`1/2`) or of anything else."""

    numerator: Expression
    denominator: Expression
    _parts: ClassVar[tuple[str, ...]] = ("numerator", "denominator")

    def rebuild(self, change: Callable[[Expression], Expression]) -> Expression:
        """See `Sum.rebuild`."""
        over, under = change(self.numerator), change(self.denominator)
        same = over is self.numerator and under is self.denominator
        return (
            self if same or (over == self.numerator and under == self.denominator) else Quotient(over, under)
        )


@frozen(eq=False)
class Power(Expression):
    """A base with an exponent; `sin^2 x` is the power of an `Apply`, `e^x` the power of the constant e."""

    base: Expression
    exponent: Expression
    _parts: ClassVar[tuple[str, ...]] = ("base", "exponent")

    def rebuild(self, change: Callable[[Expression], Expression]) -> Expression:
        """See `Sum.rebuild`."""
        base, exponent = change(self.base), change(self.exponent)
        same = base is self.base and exponent is self.exponent
        return self if same or (base == self.base and exponent == self.exponent) else Power(base, exponent)


@frozen(eq=False)
class Root(Expression):
    """A root under its sign: the square root (index 2) or an n-th root; real, so odd roots take any sign."""

    radicand: Expression
    index: int = 2
    _parts: ClassVar[tuple[str, ...]] = ("radicand",)

    def __post_init__(self) -> None:
        if self.index < 2:
            raise ValueError("the index of a root is at least 2")


@frozen(eq=False)
class Apply(Expression):
    """A named function of one argument; the names are the keys of `qbank.maths.functions.FUNCTIONS`."""

    function: str
    argument: Expression
    _parts: ClassVar[tuple[str, ...]] = ("argument",)

    def __post_init__(self) -> None:
        if self.function not in FUNCTIONS:
            raise ValueError(f"unknown function {self.function!r}")

    def rebuild(self, change: Callable[[Expression], Expression]) -> Expression:
        """See `Sum.rebuild`."""
        argument = change(self.argument)
        return (
            self if argument is self.argument or argument == self.argument else Apply(self.function, argument)
        )


@frozen(eq=False)
class Integral(Expression):
    """An integral still to be done: of `integrand` with respect to `variable`, with limits or without."""

    integrand: Expression
    variable: Symbol
    lower: Expression | None = None
    upper: Expression | None = None
    _parts: ClassVar[tuple[str, ...]] = ("integrand", "variable", "lower", "upper")

    def __post_init__(self) -> None:
        if (self.lower is None) != (self.upper is None):
            raise ValueError("an integral has both limits or none")


@frozen(eq=False)
class Evaluated(Expression):
    """An antiderivative in square brackets between limits: its value at the upper less that at the lower."""

    antiderivative: Expression
    variable: Symbol
    lower: Expression
    upper: Expression
    _parts: ClassVar[tuple[str, ...]] = ("antiderivative", "variable", "lower", "upper")


@frozen(eq=False)
class Limit(Expression):
    """What an expression tends to as its letter tends to a number or an infinity.

    The side is 1 when the letter comes from above, -1 from below, 0 where nothing is said: at an infinity.
    """

    body: Expression
    variable: Symbol
    to: Expression
    side: int = 0
    _parts: ClassVar[tuple[str, ...]] = ("body", "variable", "to")


@frozen(eq=False)
class Differential(Expression):
    """The `du` of a line such as `du = 2x dx`."""

    variable: Symbol
    _parts: ClassVar[tuple[str, ...]] = ("variable",)


def _together(trees: tuple[Expression, ...]) -> frozenset[Symbol]:
    """The symbols of several trees; one set for all that have the same."""
    found = _NO_SYMBOLS
    for tree in trees:
        more = tree.symbols()
        if more is not found and not more <= found:
            found = more if found <= more else found | more
    return found


_NO_SYMBOLS: Final = frozenset[Symbol]()


PI = Constant("pi")
E = Constant("e")
INFINITY = Constant("infinity")
_ZERO, _ONE = Integer(0), Integer(1)


def rational(numerator: Number, denominator: int = 1) -> Expression:
    """The tree of a rational number in lowest terms, as it is written: `3`, `-3`, `1/2`, `-(1/2)`.

    >>> rational(-2, 4)
    Negate(operand=Quotient(numerator=Integer(value=1), denominator=Integer(value=2)))
    """
    value = numerator if denominator == 1 else Fraction(numerator) / denominator
    return _rational(value.numerator, value.denominator)


@lru_cache(maxsize=1024)
def _rational(over: int, under: int) -> Expression:
    tree: Expression = Integer(abs(over))
    if under != 1:
        tree = Quotient(tree, Integer(under))
    return Negate(tree) if over < 0 else tree


def as_tree(value: Expression | Number) -> Expression:
    """A tree itself, or the tree of a Python integer or fraction."""
    return value if isinstance(value, Expression) else rational(value)


def as_fraction(tree: Expression) -> Fraction | None:
    """The value of a number as written (integer, decimal, fraction of those, negated), else None.

    >>> as_fraction(rational(-3, 6))
    Fraction(-1, 2)
    >>> as_fraction(Symbol("x")) is None
    True
    """
    match tree:
        case Integer(value):
            return fraction(value, 1)
        case Decimal():
            return tree.value
        case Negate(operand):
            inner = as_fraction(operand)
            return None if inner is None else -inner
        case Quotient(numerator, denominator):
            over, under = as_fraction(numerator), as_fraction(denominator)
            return None if over is None or not under else over / under
        case _:
            return None


def sum_of(*terms: Expression) -> Expression:
    """The sum of the terms, flattened one level; 0 of none, the term itself of one."""
    if len(terms) == 1:
        return terms[0]
    flat: list[Expression] = []
    for term in terms:
        if isinstance(term, Sum):
            flat += term.terms
        else:
            flat.append(term)
    return Sum(tuple(flat)) if flat else _ZERO


def difference(left: Expression, right: Expression) -> Expression:
    """`left - right`: the right side keeps its bracket when it is a sum."""
    return sum_of(left, Negate(right))


def opposite(tree: Expression) -> Expression:
    """Minus a tree, as it is written: the minus sign of one that has it is dropped.

    >>> opposite(-Symbol("x"))
    Symbol(name='x')
    """
    return tree.operand if isinstance(tree, Negate) else Negate(tree)


def product(*factors: Expression) -> Expression:
    """The product of the factors, flattened one level; 1 of none, the factor itself of one."""
    if len(factors) == 1:
        return factors[0]
    flat: list[Expression] = []
    for factor in factors:
        if isinstance(factor, Product):
            flat += factor.factors
        else:
            flat.append(factor)
    return Product(tuple(flat)) if flat else _ONE


def sin(argument: Expression) -> Expression:
    """The sine of an argument, as a node."""
    return Apply("sin", argument)


def cos(argument: Expression) -> Expression:
    """The cosine of an argument, as a node."""
    return Apply("cos", argument)


def tan(argument: Expression) -> Expression:
    """The tangent of an argument, as a node."""
    return Apply("tan", argument)


def ln(argument: Expression) -> Expression:
    """The natural logarithm of an argument, as a node."""
    return Apply("ln", argument)


def exp(argument: Expression) -> Expression:
    """The exponential as a teacher writes it: a power of e."""
    return Power(E, argument)


def sqrt(argument: Expression) -> Expression:
    """The square root of an argument, as a node."""
    return Root(argument)
