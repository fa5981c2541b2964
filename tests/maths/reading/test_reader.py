"""Typed mathematics and Unicode mathematics: each row was read by a person, the expected tree written as an outline."""

from __future__ import annotations

import pytest

from qbank.maths.conventions import Conventions
from qbank.maths.expression import Symbol
from qbank.maths.reading import ReadingError, read
from tests.maths.reading.outline import outline

TYPED = [
    # numbers, letters, constants
    ("7", "7"),
    ("007", "7"),
    ("0.5", "0.5"),
    ("0.50", "0.50"),
    (".5", "0.5"),
    ("x", "x"),
    ("C", "C"),
    ("theta", "theta"),
    ("θ", "theta"),
    ("α", "alpha"),
    ("Ω", "Omega"),
    ("e", "e"),
    ("pi", "pi"),
    ("π", "pi"),
    ("2pi", "(* 2 pi)"),
    ("pix", "(* pi x)"),
    ("πx", "(* pi x)"),
    ("xpi", "(* x pi)"),
    ("oo", "infinity"),
    ("-oo", "(- infinity)"),
    ("∞", "infinity"),
    ("infinity", "infinity"),
    ("i", "i"),
    ("ij", "(* i j)"),
    ("xy", "(* x y)"),
    ("x y", "(* x y)"),
    ("3x", "(* 3 x)"),
    ("3 x", "(* 3 x)"),
    ("xe^x", "(* x (^ e x))"),
    ("½", "(/ 1 2)"),
    ("½x", "(* (/ 1 2) x)"),
    ("½x²", "(* (/ 1 2) (^ x 2))"),
    ("1½", "(+ 1 (/ 1 2))"),
    ("2½x", "(* (+ 2 (/ 1 2)) x)"),
    ("3/4", "(/ 3 4)"),
    ("2/4", "(/ 2 4)"),
    ("x_1", "x_1"),
    ("x₁", "x_1"),
    ("C_1", "C_1"),
    ("C1", "C_1"),
    ("c_1", "c_1"),
    ("C_{12}", "C_12"),
    ("C1 x + C2", "(+ (* C_1 x) C_2)"),
    ("k e^x", "(* k (^ e x))"),
    # sums, products, quotients, signs
    ("x+1", "(+ x 1)"),
    ("x-1", "(+ x (- 1))"),
    ("x−1", "(+ x (- 1))"),
    ("a-b+c", "(+ a (- b) c)"),
    ("a-(b+c)", "(+ a (- (+ b c)))"),
    ("(a+b)+c", "(+ (+ a b) c)"),
    ("a+(b+c)", "(+ a (+ b c))"),
    ("((a+b))", "(+ a b)"),
    ("(x)", "x"),
    ("(a*b)*c", "(* (* a b) c)"),
    ("a*(b*c)", "(* a (* b c))"),
    ("a*b*c", "(* a b c)"),
    ("-2x", "(- (* 2 x))"),
    ("-x^2", "(- (^ x 2))"),
    ("-x/2", "(- (/ x 2))"),
    ("--x", "(- (- x))"),
    ("+x", "x"),
    ("a - -b", "(+ a (- (- b)))"),
    ("a*-b", "(* a (- b))"),
    ("a/-b", "(/ a (- b))"),
    ("(-a)*b", "(* (- a) b)"),
    ("2x(x+1)", "(* 2 x (+ x 1))"),
    ("(x+1)(x-1)", "(* (+ x 1) (+ x (- 1)))"),
    ("(2)(3)", "(* 2 3)"),
    ("[x+1]", "(+ x 1)"),
    ("{x+1}", "(+ x 1)"),
    ("3·x", "(* 3 x)"),
    ("3×x", "(* 3 x)"),
    ("3⋅x", "(* 3 x)"),
    ("6÷2", "(/ 6 2)"),
    ("6∕2", "(/ 6 2)"),
    ("a/b/c", "(/ (/ a b) c)"),
    ("a*b/c*d", "(* (/ (* a b) c) d)"),
    ("a*(b/c)", "(* a (/ b c))"),
    ("x/2 + C/2", "(+ (/ x 2) (/ C 2))"),
    ("(1/2)x", "(* (/ 1 2) x)"),
    ("1/2*x", "(* (/ 1 2) x)"),
    ("1/2 x", "(* (/ 1 2) x)"),
    ("1/2 sin x", "(* (/ 1 2) (sin x))"),
    ("x^3/3 + C", "(+ (/ (^ x 3) 3) C)"),
    ("x(x+1)^2", "(* x (^ (+ x 1) 2))"),
    # powers and roots
    ("x^2", "(^ x 2)"),
    ("x**2", "(^ x 2)"),
    ("x²", "(^ x 2)"),
    ("x³", "(^ x 3)"),
    ("x¹⁰", "(^ x 10)"),
    ("x⁻¹", "(^ x (- 1))"),
    ("x⁽ⁿ⁺¹⁾", "(^ x (+ n 1))"),
    ("x³ᐟ²", "(^ x (/ 3 2))"),
    ("x^½", "(^ x (/ 1 2))"),
    ("x^-1", "(^ x (- 1))"),
    ("x**-2", "(^ x (- 2))"),
    ("x^(1/2)", "(^ x (/ 1 2))"),
    ("x^2^3", "(^ x (^ 2 3))"),
    ("(x^2)^3", "(^ (^ x 2) 3)"),
    ("2^(-x)", "(^ 2 (- x))"),
    ("10^x", "(^ 10 x)"),
    ("x^n", "(^ x n)"),
    ("x^2y", "(* (^ x 2) y)"),
    ("(x+1)²", "(^ (+ x 1) 2)"),
    ("e^x", "(^ e x)"),
    ("e^(2x)", "(^ e (* 2 x))"),
    ("e^-x", "(^ e (- x))"),
    ("e^-x^2", "(^ e (- (^ x 2)))"),
    ("e^x^2", "(^ e (^ x 2))"),
    ("e^√x", "(^ e (root 2 x))"),
    ("e^{2x}", "(^ e (* 2 x))"),
    ("exp(x)", "(exp x)"),
    ("exp x", "(exp x)"),
    ("exp(2x)^2", "(^ (exp (* 2 x)) 2)"),
    ("√x", "(root 2 x)"),
    ("√(1-x²)", "(root 2 (+ 1 (- (^ x 2))))"),
    ("√(x)²", "(^ (root 2 x) 2)"),
    ("√x + 1", "(+ (root 2 x) 1)"),
    ("2√x", "(* 2 (root 2 x))"),
    ("∛x", "(root 3 x)"),
    ("³√x", "(root 3 x)"),
    ("³√(x+1)", "(root 3 (+ x 1))"),
    ("∜(x+1)", "(root 4 (+ x 1))"),
    ("⁵√x", "(root 5 x)"),
    ("x ³√x", "(* x (root 3 x))"),
    ("sqrt(x)", "(root 2 x)"),
    ("sqrt x", "(root 2 x)"),
    ("sqrt2", "(root 2 2)"),
    ("sqrt(x)/2", "(/ (root 2 x) 2)"),
    ("sqrt[x+1]", "(root 2 (+ x 1))"),
    ("sqrt[3](x)", "(root 3 x)"),
    ("cbrt(x)", "(root 3 x)"),
    ("root(x, 5)", "(root 5 x)"),
    ("1/√x", "(/ 1 (root 2 x))"),
    ("1/√(1-x²)", "(/ 1 (root 2 (+ 1 (- (^ x 2)))))"),
    ("√-x", "(root 2 (- x))"),
    ("√|x|", "(root 2 (abs x))"),
    # functions
    ("sin x", "(sin x)"),
    ("sin(x)", "(sin x)"),
    ("sin[x]", "(sin x)"),
    ("sinx", "(sin x)"),
    ("sin2x", "(sin (* 2 x))"),
    ("sin 2x", "(sin (* 2 x))"),
    ("sin(2x)", "(sin (* 2 x))"),
    ("sin -x", "(sin (- x))"),
    ("sin ax", "(sin (* a x))"),
    ("sinax", "(sin (* a x))"),
    ("sin^2 x", "(^ (sin x) 2)"),
    ("sin^2(x)", "(^ (sin x) 2)"),
    ("sin²x", "(^ (sin x) 2)"),
    ("sin² x", "(^ (sin x) 2)"),
    ("sin^2x", "(^ (sin x) 2)"),
    ("sin²(2x)", "(^ (sin (* 2 x)) 2)"),
    ("sin^2 2x", "(^ (sin (* 2 x)) 2)"),
    ("sin^12x", "(^ (sin x) 12)"),
    ("sin^n x", "(^ (sin x) n)"),
    ("sin^(n+1) x", "(^ (sin x) (+ n 1))"),
    ("sin^(1/2) x", "(^ (sin x) (/ 1 2))"),
    ("sin^-1 x", "(arcsin x)"),
    ("sin⁻¹x", "(arcsin x)"),
    ("sin^(-1) x", "(arcsin x)"),
    ("sin^{-1}(x)", "(arcsin x)"),
    ("tan^-1 x", "(arctan x)"),
    ("tan^{-1}x", "(arctan x)"),
    ("cosec^-1 x", "(arccosec x)"),
    ("sinh^-1 x", "(arsinh x)"),
    ("sin^(-2) x", "(^ (sin x) (- 2))"),
    ("ln^-1 x", "(^ (ln x) (- 1))"),
    ("arcsin x", "(arcsin x)"),
    ("asin x", "(arcsin x)"),
    ("arsinh x", "(arsinh x)"),
    ("arcsinh x", "(arsinh x)"),
    ("asinh x", "(arsinh x)"),
    ("arctan(x/2)", "(arctan (/ x 2))"),
    ("arc tan x", "(arctan x)"),
    ("cosec^2 x", "(^ (cosec x) 2)"),
    ("csc²x", "(^ (cosec x) 2)"),
    ("tg x", "(tan x)"),
    ("ctg x", "(cot x)"),
    ("Sin x", "(sin x)"),
    ("Ln x", "(ln x)"),
    ("ln x", "(ln x)"),
    ("lnx", "(ln x)"),
    ("ln 2", "(ln 2)"),
    ("ln2x", "(ln (* 2 x))"),
    ("ln k", "(ln k)"),
    ("lnk", "(ln k)"),
    ("ln|x|", "(ln (abs x))"),
    ("ln|cos x|", "(ln (abs (cos x)))"),
    ("ln(|x|)", "(ln (abs x))"),
    ("ln abs(x)", "(ln (abs x))"),
    ("abs x", "(abs x)"),
    ("log_2(x)", "(/ (ln x) (ln 2))"),
    ("log_2 x", "(/ (ln x) (ln 2))"),
    ("log₂x", "(/ (ln x) (ln 2))"),
    ("log_a x", "(/ (ln x) (ln a))"),
    ("log_e x", "(ln x)"),
    ("lg x", "(/ (ln x) (ln 10))"),
    ("log_2^3 x", "(^ (/ (ln x) (ln 2)) 3)"),
    ("sin cos x", "(sin (cos x))"),
    ("ln sin x", "(ln (sin x))"),
    ("sin 2x cos 3x", "(* (sin (* 2 x)) (cos (* 3 x)))"),
    ("sin x cos x", "(* (sin x) (cos x))"),
    ("sin(x)cos(x)", "(* (sin x) (cos x))"),
    ("2sin x cos x", "(* 2 (sin x) (cos x))"),
    ("x sin x", "(* x (sin x))"),
    ("xsinx", "(* x (sin x))"),
    ("2sinx", "(* 2 (sin x))"),
    ("sinxcosx", "(* (sin x) (cos x))"),
    ("secxtanx", "(* (sec x) (tan x))"),
    ("e^xsinx", "(* (^ e x) (sin x))"),
    ("e^x sin x", "(* (^ e x) (sin x))"),
    ("sin x e^x", "(* (sin x) (^ e x))"),
    ("e^sin x cos x", "(* (^ e (sin x)) (cos x))"),
    ("sin x √x", "(* (sin x) (root 2 x))"),
    ("sin(x)(x+1)", "(* (sin x) (+ x 1))"),
    ("sin 2(x+1)", "(sin (* 2 (+ x 1)))"),
    ("sin 2√x", "(sin (* 2 (root 2 x)))"),
    ("sin½x", "(sin (* (/ 1 2) x))"),
    ("sin πx", "(sin (* pi x))"),
    ("sin pi x", "(sin (* pi x))"),
    ("sin θ", "(sin theta)"),
    ("costheta", "(cos theta)"),
    ("sin x / 2", "(/ (sin x) 2)"),
    ("sin(2x)/2", "(/ (sin (* 2 x)) 2)"),
    ("1/cos^2 x", "(/ 1 (^ (cos x) 2))"),
    ("tan x + x", "(+ (tan x) x)"),
    ("sin x*2", "(* (sin x) 2)"),
    ("ln|x|/2", "(/ (ln (abs x)) 2)"),
    ("ln10", "(ln 10)"),
    ("sin -1", "(sin (- 1))"),
    ("sin x/x", "(/ (sin x) x)"),
    ("kbcosx", "(* k b (cos x))"),
    ("sin 30°", "(sin (* 30 (/ pi 180)))"),
    ("90°", "(* 90 (/ pi 180))"),
    ("x°", "(* x (/ pi 180))"),
    # modulus
    ("|x|", "(abs x)"),
    ("|x|x||", "(abs (* x (abs x)))"),
    ("-|x|", "(- (abs x))"),
    ("2|x-1|", "(* 2 (abs (+ x (- 1))))"),
    ("|x||y|", "(* (abs x) (abs y))"),
    ("|x||x|", "(* (abs x) (abs x))"),
    ("||x|-1|", "(abs (+ (abs x) (- 1)))"),
    ("|sin|x||", "(abs (sin (abs x)))"),
    ("(|x|)", "(abs x)"),
    ("|(|x|)|", "(abs (abs x))"),
    ("|x|/x", "(/ (abs x) x)"),
    ("|x|+|x-1|", "(+ (abs x) (abs (+ x (- 1))))"),
    ("sin|x| cos|x|", "(* (sin (abs x)) (cos (abs x)))"),
    ("ln|sec x + tan x|", "(ln (abs (+ (sec x) (tan x))))"),
]

#: text, the tree, and the first alternative
AMBIGUOUS = [
    ("1/2x", "(* (/ 1 2) x)", "(/ 1 (* 2 x))"),
    ("1/2(x+1)", "(* (/ 1 2) (+ x 1))", "(/ 1 (* 2 (+ x 1)))"),
    ("1/2sin x", "(* (/ 1 2) (sin x))", "(/ 1 (* 2 (sin x)))"),
    ("x/2y", "(* (/ x 2) y)", "(/ x (* 2 y))"),
    ("1/x(x+1)", "(* (/ 1 x) (+ x 1))", "(/ 1 (* x (+ x 1)))"),
    ("1/(x+1)(x+2)", "(* (/ 1 (+ x 1)) (+ x 2))", "(/ 1 (* (+ x 1) (+ x 2)))"),
    ("3/4x^2", "(* (/ 3 4) (^ x 2))", "(/ 3 (* 4 (^ x 2)))"),
    ("x^3/3lnx", "(* (/ (^ x 3) 3) (ln x))", "(/ (^ x 3) (* 3 (ln x)))"),
    ("sin(2x)/2x", "(* (/ (sin (* 2 x)) 2) x)", "(/ (sin (* 2 x)) (* 2 x))"),
    ("e^2x", "(^ e (* 2 x))", "(* (^ e 2) x)"),
    ("e^-2x", "(^ e (- (* 2 x)))", "(* (^ e (- 2)) x)"),
    ("e^ax", "(^ e (* a x))", "(* (^ e a) x)"),
    ("e^2 x", "(* (^ e 2) x)", "(^ e (* 2 x))"),
    ("e^2sin x", "(* (^ e 2) (sin x))", "(^ e (* 2 (sin x)))"),
    ("e^x/2", "(/ (^ e x) 2)", "(^ e (/ x 2))"),
    ("e^2x/3", "(/ (^ e (* 2 x)) 3)", "(/ (* (^ e 2) x) 3)"),
    ("2^3x", "(* (^ 2 3) x)", "(^ 2 (* 3 x))"),
    ("a^2x", "(* (^ a 2) x)", "(^ a (* 2 x))"),
    ("x^1/2", "(^ x (/ 1 2))", "(/ (^ x 1) 2)"),
    ("x^-1/2", "(^ x (- (/ 1 2)))", "(/ (^ x (- 1)) 2)"),
    ("x^3/2", "(/ (^ x 3) 2)", "(^ x (/ 3 2))"),
    ("sin x^2", "(sin (^ x 2))", "(^ (sin x) 2)"),
    ("sin x²", "(sin (^ x 2))", "(^ (sin x) 2)"),
    ("sin(3x)^2", "(^ (sin (* 3 x)) 2)", "(sin (^ (* 3 x) 2))"),
    ("ln x^2", "(ln (^ x 2))", "(^ (ln x) 2)"),
    ("ln|x|^2", "(ln (^ (abs x) 2))", "(^ (ln (abs x)) 2)"),
    ("ln(x)^2", "(^ (ln x) 2)", "(ln (^ x 2))"),
    ("tan(x)^-1", "(^ (tan x) (- 1))", "(tan (^ x (- 1)))"),
    ("√2x", "(* (root 2 2) x)", "(root 2 (* 2 x))"),
    ("√x+1", "(+ (root 2 x) 1)", "(root 2 (+ x 1))"),
    ("√1-x^2+C", "(+ (root 2 1) (- (^ x 2)) C)", "(+ (root 2 (+ 1 (- (^ x 2)))) C)"),
    ("√x²", "(root 2 (^ x 2))", "(^ (root 2 x) 2)"),
    ("√x^3", "(root 2 (^ x 3))", "(^ (root 2 x) 3)"),
    ("x³√x", "(* (^ x 3) (root 2 x))", "(* x (root 3 x))"),
    ("sin x/2", "(/ (sin x) 2)", "(sin (/ x 2))"),
    ("sin πx/2", "(/ (sin (* pi x)) 2)", "(sin (/ (* pi x) 2))"),
    ("arctan x/a", "(/ (arctan x) a)", "(arctan (/ x a))"),
    ("sin-1(x)", "(arcsin x)", "(sin (- (* 1 x)))"),
    ("tan-1x", "(arctan x)", "(tan (- (* 1 x)))"),
    ("sin2(x)", "(sin (* 2 x))", "(^ (sin x) 2)"),
    ("ln 2/3", "(/ (ln 2) 3)", "(ln (/ 2 3))"),
    ("ln 2*x", "(* (ln 2) x)", "(ln (* 2 x))"),
    ("ln 2 sin x", "(* (ln 2) (sin x))", "(ln (* 2 (sin x)))"),
    ("sin 2 cos x", "(* (sin 2) (cos x))", "(sin (* 2 (cos x)))"),
    ("sin pi/4", "(sin (/ pi 4))", "(/ (sin pi) 4)"),
    ("sin 2*x", "(sin (* 2 x))", "(* (sin 2) x)"),
    ("sin 2*e^x", "(sin (* 2 (^ e x)))", "(* (sin 2) (^ e x))"),
    ("cos 1/2x", "(cos (* (/ 1 2) x))", "(* (/ (cos 1) 2) x)"),
    ("sin x(x+1)", "(* (sin x) (+ x 1))", "(sin (* x (+ x 1)))"),
    ("ln x (x+1)", "(* (ln x) (+ x 1))", "(ln (* x (+ x 1)))"),
    ("sin^22x", "(^ (sin (* 2 x)) 2)", "(^ (sin x) 22)"),
    ("log2(x)", "(/ (ln x) (ln 2))", "(ln (* 2 x))"),
    ("|2|x|+1|", "(abs (+ (* 2 (abs x)) 1))", "(* (abs 2) x (abs 1))"),
    ("|x|y|z|", "(* (abs x) y (abs z))", "(abs (* x (abs y) z))"),
    (r"2\frac{1}{3}", "(+ 2 (/ 1 3))", "(* 2 (/ 1 3))"),
    (r"\sin x^{2}", "(sin (^ x 2))", "(^ (sin x) 2)"),
    (r"\sin\left(3x\right)^{2}", "(^ (sin (* 3 x)) 2)", "(sin (^ (* 3 x) 2))"),
]


@pytest.mark.parametrize(("text", "expected"), TYPED)
def test_typed_text_gives_the_tree_as_written(text: str, expected: str) -> None:
    reading = read(text)
    assert outline(reading.tree) == expected
    assert reading.source == text
    assert not reading.alternatives
    assert "ambiguous-notation" not in {remark.identifier for remark in reading.remarks}


@pytest.mark.parametrize(("text", "expected", "other"), AMBIGUOUS)
def test_ambiguous_text_follows_the_convention_and_offers_the_other_reading(
    text: str, expected: str, other: str
) -> None:
    reading = read(text)
    assert outline(reading.tree) == expected
    assert outline(reading.alternatives[0]) == other
    assert [remark.identifier for remark in reading.remarks if remark.identifier == "ambiguous-notation"]
    assert reading.tree not in reading.alternatives


def test_alternatives_turn_all_places_of_one_kind_first_and_are_all_different() -> None:
    reading = read("1/2x + 1/3x + e^2x")
    assert [outline(tree) for tree in reading.alternatives[:3]] == [
        "(+ (/ 1 (* 2 x)) (/ 1 (* 3 x)) (^ e (* 2 x)))",
        "(+ (* (/ 1 2) x) (* (/ 1 3) x) (* (^ e 2) x))",
        "(+ (/ 1 (* 2 x)) (/ 1 (* 3 x)) (* (^ e 2) x))",
    ]
    assert len(set(reading.alternatives)) == len(reading.alternatives) == 5


def test_a_long_ambiguous_text_has_no_more_alternatives_than_its_length_allows() -> None:
    short, long = "1/2x + e^2x", " + ".join(["1/2x + e^2x"] * 90)
    assert len(read(short).alternatives) == 3
    assert len(read(long).alternatives) == 2


@pytest.mark.parametrize(
    "text", ["1/2*x", "(1/2)x", "1/2 x", "1/(2x)", "sin^2(x)", "(sin x)^2", "e^(2x)", "sin(x)**2"]
)
def test_what_is_certain_has_no_remark(text: str) -> None:
    assert read(text).remarks == ()


@pytest.mark.parametrize(
    ("text", "identifier", "place"),
    [
        ("2 + log x", "logarithm", (4, 7)),
        ("x + 30°", "degrees", (6, 7)),
        ("tan^-1 x", "inverse-function", (0, 6)),
        ("sin^(-2) x", "negative-function-power", (0, 8)),
        ("sin x cos x", "function-argument", (4, 5)),
        ("x + xsinx", "split-word", (4, 9)),
        ("1½", "mixed-number", (0, 2)),
        ("x + C2", "named-constant", (4, 6)),
        ("1 + 1/2x", "ambiguous-notation", (4, 8)),
    ],
)
def test_remarks_have_a_place_in_the_source(text: str, identifier: str, place: tuple[int, int]) -> None:
    found = [remark for remark in read(text).remarks if remark.identifier == identifier]
    assert [(remark.start, remark.end) for remark in found] == [place]
    assert found[0].sentence.endswith(".")


def test_a_remark_on_ambiguous_notation_names_both_readings() -> None:
    (remark,) = read("1/2x").remarks
    assert "(1/2)*x" in remark.sentence
    assert "1/(2*x)" in remark.sentence


# what the caller states ---------------------------------------------------------------------------------------


def test_names_of_several_letters_are_symbols_when_allowed() -> None:
    names = frozenset({"rate", "a1", "k_max"})
    assert outline(read("rate*x + a1 x", names=names).tree) == "(+ (* rate x) (* a1 x))"
    assert outline(read("2rate x", names=names).tree) == "(* 2 rate x)"
    assert outline(read("xrate", names=names).tree) == "(* x rate)"
    assert outline(read("k_max + 1", names=names).tree) == "(+ k_max 1)"
    with pytest.raises(ReadingError):
        read("rate*x")


@pytest.mark.parametrize(
    ("text", "plain", "with_a"),
    [("asin(x)", "(arcsin x)", "(* a (sin x))"), ("asinx", "(arcsin x)", "(* a (sin x))")],
)
def test_a_parameter_before_a_function_is_the_other_reading(text: str, plain: str, with_a: str) -> None:
    assert read(text).alternatives == ()
    reading = read(text, names=frozenset("a"))
    assert outline(reading.tree) == plain
    assert [outline(tree) for tree in reading.alternatives] == [with_a]


def test_e_is_a_letter_only_when_it_is_the_variable_or_a_name() -> None:
    assert outline(read("e^2", variable=Symbol("x")).tree) == "(^ e 2)"
    assert read("e", variable=Symbol("e")).tree == Symbol("e")
    assert read("e", names=frozenset("e")).tree == Symbol("e")
    assert read("e").tree != Symbol("e")


def test_short_greek_names_give_way_to_two_parameters() -> None:
    assert outline(read("xi").tree) == "xi"
    assert outline(read("xi", variable=Symbol("x"), names=frozenset("i")).tree) == "(* x i)"


def test_the_variable_decides_where_an_exponent_and_an_argument_end() -> None:
    assert outline(read("e^xt", variable=Symbol("x")).tree) == "(* (^ e x) t)"
    assert outline(read("e^xt", variable=Symbol("t")).tree) == "(^ e (* x t))"
    assert outline(read("sin n(x+1)", variable=Symbol("x")).tree) == "(sin (* n (+ x 1)))"
    assert outline(read("sin n(x+1)", variable=Symbol("n")).tree) == "(* (sin n) (+ x 1))"


def test_an_exponent_without_brackets_goes_on_over_all_letters_up_to_the_variable() -> None:
    assert (
        outline(read("e^abxc", names=frozenset("abcx"), variable=Symbol("x")).tree) == "(* (^ e (* a b x)) c)"
    )


def test_an_alternative_that_cannot_be_read_is_left_out() -> None:
    assert len(read("tan(9)^1000").alternatives) == 1
    assert read("tan(99999999999)^1000").alternatives == ()


def test_a_remark_quotes_a_long_part_in_short() -> None:
    (remark,) = read(f"1/2({'+'.join('x' * 60)})").remarks
    assert len(remark.sentence) < 250
    with pytest.raises(ReadingError):
        read("1/2(x")


def test_the_differential_of_another_letter_is_a_product() -> None:
    assert outline(read("dt + 1", variable=Symbol("x")).tree) == "(+ (* d t) 1)"
    assert outline(read("dx", names=frozenset("d")).tree) == "(* d x)"


def test_the_decimal_comma() -> None:
    comma = Conventions(decimal=",")
    assert outline(read("0,5x", conventions=comma).tree) == "(* 0.5 x)"
    assert outline(read("0{,}25", conventions=comma).tree) == "0.25"
    assert outline(read("root(8; 3) + root(x, 3)", conventions=comma).tree) == "(+ (root 3 8) (root 3 x))"
    with_point = read("0.5", conventions=comma)
    assert outline(with_point.tree) == "0.5"
    assert [remark.identifier for remark in with_point.remarks] == ["decimal-sign"]


def test_log_is_natural_without_remark_where_the_school_writes_it_so() -> None:
    assert outline(read("log x", conventions=Conventions(logarithm="log")).tree) == "(ln x)"
    assert read("log x", conventions=Conventions(logarithm="log")).remarks == ()


def test_text_around_latex_is_left_out() -> None:
    for text in ("$x^2$", "$$x^2$$", r"\(x^2\)", r" \[ x^2 \] "):
        assert outline(read(text).tree) == "(^ x 2)"


@pytest.mark.parametrize(
    ("text", "expected", "other"),
    [
        ("2e3", "2000", None),
        ("1.5E4x", "(* 15000 x)", None),
        ("1.5e-3x", "(* 0.0015 x)", None),
        ("2E-1", "0.2", None),
        (".5e2", "50", None),
        ("1/2e3", "(/ 1 2000)", None),
        # Euler's number first, as in a value of a definite integral
        ("2e-3", "(+ (* 2 e) (- 3))", "0.002"),
        ("1e+3 x", "(+ (* 1 e) (* 3 x))", "(* 1000 x)"),
        ("2e - 3", "(+ (* 2 e) (- 3))", None),
        ("2e-x", "(+ (* 2 e) (- x))", None),
    ],
)
def test_powers_of_ten(text: str, expected: str, other: str | None) -> None:
    reading = read(text, variable=Symbol("x"))
    assert outline(reading.tree) == expected
    assert [outline(tree) for tree in reading.alternatives] == ([] if other is None else [other])
    assert ("power-of-ten" in {remark.identifier for remark in reading.remarks}) == (
        other is None and "- 3" not in text and "-x" not in text
    )


@pytest.mark.parametrize("text", ["2e3^2", "2e3.5", "1e100"])
def test_a_power_of_ten_goes_no_further(text: str) -> None:
    with pytest.raises(ReadingError):
        read(text, variable=Symbol("x"))


def test_a_number_below_a_bracket_that_stands_apart_may_belong_to_the_argument() -> None:
    for text in ("arctan (x+1)/2", "tan^-1 (x+1)/2"):
        reading = read(text, variable=Symbol("x"))
        assert outline(reading.tree) == "(/ (arctan (+ x 1)) 2)"
        assert [outline(other) for other in reading.alternatives] == ["(arctan (/ (+ x 1) 2))"]
    assert read("arctan(x+1)/2", variable=Symbol("x")).alternatives == ()


@pytest.mark.parametrize("text", ["ln x/2", "ln (x)/2", "ln x/3 + C", "ln 2x/3"])
def test_a_number_below_a_logarithm_of_the_variable_is_not_read_into_it(text: str) -> None:
    # ln(x/2) differs from ln x by a constant: that reading would make an answer right that is wrong by a factor
    assert read(text, variable=Symbol("x")).alternatives == ()
