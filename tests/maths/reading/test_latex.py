r"""LaTeX: each row was read by a person; the same grammar reads it as reads typed text."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from qbank.maths.expression import Expression
from qbank.maths.functions import FUNCTIONS
from qbank.maths.notation.latex import latex as latex_of
from qbank.maths.reading import ReadingError, latex, read
from qbank.maths.reading.words import SPELLINGS
from tests.maths.reading.outline import outline
from tests.maths.strategies import expressions

LATEX = [
    (r"\frac{1}{2}x^{2}", "(* (/ 1 2) (^ x 2))"),
    (r"\frac{x^{3}}{3}+C", "(+ (/ (^ x 3) 3) C)"),
    (r"\dfrac{1}{x}", "(/ 1 x)"),
    (r"\tfrac{1}{2}", "(/ 1 2)"),
    (r"\frac12", "(/ 1 2)"),
    (r"\frac1x", "(/ 1 x)"),
    (r"\frac x2", "(/ x 2)"),
    (r"\frac{1}2", "(/ 1 2)"),
    (r"\frac1{x+1}", "(/ 1 (+ x 1))"),
    (r"\sin x", "(sin x)"),
    (r"\sin^{2}x", "(^ (sin x) 2)"),
    (r"\sin^2 x", "(^ (sin x) 2)"),
    (r"\sin^22x", "(^ (sin (* 2 x)) 2)"),
    (r"\sin^{2} 3x", "(^ (sin (* 3 x)) 2)"),
    (r"\sin^{2}\left(3x\right)", "(^ (sin (* 3 x)) 2)"),
    (r"\sin\left(3x\right)^{2}", "(^ (sin (* 3 x)) 2)"),
    (r"\sin\frac{x}{2}", "(sin (/ x 2))"),
    (r"\sin\frac{1}{2}x", "(sin (* (/ 1 2) x))"),
    (r"\sin{x}", "(sin x)"),
    (r"\cos x\sin x", "(* (cos x) (sin x))"),
    (r"\tan^{-1}x", "(arctan x)"),
    (r"\tan^{-1}\left(\frac{x}{3}\right)", "(arctan (/ x 3))"),
    (r"\arctan x", "(arctan x)"),
    (r"\arcsin\frac{x}{a}", "(arcsin (/ x a))"),
    (r"\operatorname{cosec} x", "(cosec x)"),
    (r"\operatorname{cosec}^{2}x", "(^ (cosec x) 2)"),
    (r"\operatorname{arsinh}(x)", "(arsinh x)"),
    (r"\operatorname{arctan}\left(x\right)", "(arctan x)"),
    (r"\csc x\cot x", "(* (cosec x) (cot x))"),
    (r"\sec^{2}x", "(^ (sec x) 2)"),
    (r"\ln x", "(ln x)"),
    (r"\ln\left|x\right|", "(ln (abs x))"),
    (r"\ln|x|", "(ln (abs x))"),
    (r"\ln\left|\cos x\right|", "(ln (abs (cos x)))"),
    (r"\ln\lvert x+1\rvert", "(ln (abs (+ x 1)))"),
    (r"\left|\,x\,\right|", "(abs x)"),
    (r"\left| |x| - 1 \right|", "(abs (+ (abs x) (- 1)))"),
    (r"\log x", "(ln x)"),
    (r"\log_{2}x", "(/ (ln x) (ln 2))"),
    (r"\log_2 x", "(/ (ln x) (ln 2))"),
    (r"\log_{10}\left(x\right)", "(/ (ln x) (ln 10))"),
    (r"\lg x", "(/ (ln x) (ln 10))"),
    (r"\exp(x)", "(exp x)"),
    (r"\exp\left(-x^{2}\right)", "(exp (- (^ x 2)))"),
    (r"e^{x}\sin x", "(* (^ e x) (sin x))"),
    (r"\mathrm{e}^{x}", "(^ e x)"),
    (r"e^{\frac{x}{2}}", "(^ e (/ x 2))"),
    (r"\sqrt{x}", "(root 2 x)"),
    (r"\sqrt x", "(root 2 x)"),
    (r"\sqrt{1-x^{2}}", "(root 2 (+ 1 (- (^ x 2))))"),
    (r"\sqrt[3]{x}", "(root 3 x)"),
    (r"\frac{1}{\sqrt{1-x^2}}", "(/ 1 (root 2 (+ 1 (- (^ x 2)))))"),
    (r"\sqrt{x}^3", "(^ (root 2 x) 3)"),
    (r"\sqrt{2}x", "(* (root 2 2) x)"),
    (r"\sqrt2", "(root 2 2)"),
    (r"2\cdot x", "(* 2 x)"),
    (r"2\times x", "(* 2 x)"),
    (r"x\div 2", "(/ x 2)"),
    (r"x^{\frac{1}{2}}", "(^ x (/ 1 2))"),
    (r"\theta", "theta"),
    (r"\sin\theta", "(sin theta)"),
    (r"\cos^2\theta", "(^ (cos theta) 2)"),
    (r"\pi x", "(* pi x)"),
    (r"\frac{\pi}{4}", "(/ pi 4)"),
    (r"\alpha x+\beta", "(+ (* alpha x) beta)"),
    (r"\varphi", "phi"),
    (r"\infty", "infinity"),
    (r"-\infty", "(- infinity)"),
    (r"30^\circ", "(* 30 (/ pi 180))"),
    (r"30^{\circ}", "(* 30 (/ pi 180))"),
    (r"30\degree", "(* 30 (/ pi 180))"),
    (r"\left(x+1\right)^{2}", "(^ (+ x 1) 2)"),
    (r"\left[x+1\right]", "(+ x 1)"),
    (r"\bigl(x+1\bigr)", "(+ x 1)"),
    (r"{\sin x}^2", "(^ (sin x) 2)"),
    (r"\left(\sin x\right)^{2}", "(^ (sin x) 2)"),
    (r"2\,x", "(* 2 x)"),
    (r"x\;y", "(* x y)"),
    (
        r"\frac{1}{2}\ln\left|\frac{1+\sin x}{1-\sin x}\right|",
        "(* (/ 1 2) (ln (abs (/ (+ 1 (sin x)) (+ 1 (- (sin x)))))))",
    ),
    (r"-\frac{1}{2}\cos 2x", "(- (* (/ 1 2) (cos (* 2 x))))"),
    (r"2\frac{1}{3}", "(+ 2 (/ 1 3))"),
    (r"x^{2}\frac{1}{2}", "(* (^ x 2) (/ 1 2))"),
    (r"\text{C}", "C"),
    (r"x^2+\mathrm{C}", "(+ (^ x 2) C)"),
    (r"\displaystyle\frac{1}{2}", "(/ 1 2)"),
    (r"\sinh x", "(sinh x)"),
    (r"\cosh^2 x", "(^ (cosh x) 2)"),
    (r"\tanh^{-1}x", "(artanh x)"),
    (r"\sin x^{2}", "(sin (^ x 2))"),
    (r"\ln x^2", "(ln (^ x 2))"),
    (r"\cfrac{1}{2}", "(/ 1 2)"),
    (r"\(x\)", "x"),
    (r"\[x\]", "x"),
    (r"\sin 2x\cos 3x", "(* (sin (* 2 x)) (cos (* 3 x)))"),
    (r"\frac{\sin 2x}{2}", "(/ (sin (* 2 x)) 2)"),
    (r"\sin(x)\cos(x)", "(* (sin x) (cos x))"),
    (r"\sin\pi x", "(sin (* pi x))"),
    (r"\cos\frac{\pi x}{2}", "(cos (/ (* pi x) 2))"),
    (r"\ln 2", "(ln 2)"),
    (r"x\ln x-x", "(+ (* x (ln x)) (- x))"),
    (r"\tan x\sec x", "(* (tan x) (sec x))"),
]

#: LaTeX and typed text of the same thing
SAME = [
    (r"\vert x\vert + \left\vert x\right\vert", "|x| + |x|"),
    (r"\frac{1}{2}\sin^{2}x+C", "1/2 sin^2 x + C"),
    (r"-\frac{1}{3}\cos\left(3x\right)", "-(1/3) cos(3x)"),
    (r"\ln\left|\sec x+\tan x\right|", "ln|sec x + tan x|"),
    (r"\tan^{-1}\left(\frac{x}{a}\right)", "arctan(x/a)"),
    (r"\frac{x^{n+1}}{n+1}", "x^(n+1)/(n+1)"),
    (r"x e^{x}-e^{x}", "x e^x - e^x"),
    (r"\sqrt{x^{2}+1}", "√(x²+1)"),
    (r"\frac{2}{3}x^{\frac{3}{2}}", "(2/3) x^(3/2)"),
]


@pytest.mark.parametrize(("text", "expected"), LATEX)
def test_latex_gives_the_tree_as_written(text: str, expected: str) -> None:
    assert outline(read(text).tree) == expected


@pytest.mark.parametrize(("text", "typed"), SAME)
def test_latex_and_typed_text_give_the_same_tree(text: str, typed: str) -> None:
    assert read(text).tree == read(typed).tree


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_every_spelling_of_every_function_is_a_command_and_a_word_of_operatorname(name: str) -> None:
    for spelling in SPELLINGS[name]:
        assert outline(read(rf"\{spelling}\left(x\right)").tree) == f"({name} x)"
        assert outline(read(rf"\operatorname{{{spelling}}}x").tree) == f"({name} x)"


@settings(max_examples=80)
@given(tree=expressions())
def test_the_latex_of_the_notation_reads_back_to_the_same_tree(tree: Expression) -> None:
    names = frozenset(symbol.name for symbol in tree.symbols())
    try:
        reading = read(latex_of(tree), names=names)
    except ReadingError as error:
        refused = error.code
    else:
        refused = ""
        assert reading.tree == tree
    assert refused in ("", "exponent-too-large", "number-too-large")


def test_no_command_is_listed_twice() -> None:
    groups = [latex.COMMANDS, latex.SPACES, latex.SIZES, latex.WORDS, latex.UNSUPPORTED]
    names = [name for group in groups for name in group]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (r"\ln{\left(|x|\right)}", "(ln (abs x))"),
        (r"\left[\left|x\right|+\left(|y|\right)\right]", "(+ (abs x) (abs y))"),
        (r"\left.\frac{x^2}{2}\right.", "(/ (^ x 2) 2)"),
        (r"\boxed{x^2+\mathcal{C}}", "(+ (^ x 2) C)"),
        (r"x^2 + C \\", "(+ (^ x 2) C)"),
        (r"0{,}5x", "(* 0.5 x)"),
    ],
)
def test_what_editors_of_formulas_write(text: str, expected: str) -> None:
    assert outline(read(text).tree) == expected
