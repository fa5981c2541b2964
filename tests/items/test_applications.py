"""Items of applications: worded whole, answered by numbers or options, with a picture of what is asked."""

from __future__ import annotations

import pytest
from lxml import etree

from qbank.bank.drawing import draws
from qbank.bank.loading import parse_bank
from qbank.bank.model import Bank
from qbank.bank.problem import BankError
from qbank.items.building import build_item
from qbank.items.item import Choice, Item, Numeric
from qbank.maths.notation import plain
from qbank.writers.figures import figure_file, svg
from qbank.writers.plain_json import item_value

SVG = "{http://www.w3.org/2000/svg}"


def bank(*applications: str) -> Bank:
    templates = "".join(
        f"  - {{identifier: t{number}, title: T, variable: {'t' if '2 t' in one else 'x'},"
        f" parameters: {{a: {{kind: listed, values: [5]}}}}, responses: [numeric, choice], application: {one}}}\n"
        for number, one in enumerate(applications)
    )
    head = 'identifier: b\ntitle: B\nlanguage: en\nlicence: CC-BY-4.0\nversion: "1.0.0"\ntemplates:\n'
    return parse_bank((head + templates).encode(), "b.yaml")


def first(application: str, form: str = "numeric") -> Item:
    own = bank(application)
    template = own.templates[0]
    return build_item(own, template, next(draws(own, template, 5)), form)  # type: ignore[arg-type]


def asked(item: Item) -> str:
    return "".join(piece if isinstance(piece, str) else plain(piece) for piece in item.prompt)


ALL = {
    "{kind: area, curves: ['a x - x^2'], limits: ['0', 'a'], unit: metres}": (
        "Find the area of the region between the curve y = 5x - x^2 and the horizontal axis from x = 0 to x = 5. "
        "Both axes are in metres. Give the answer in square metres as a decimal number, correct to 3 significant figures."
    ),
    "{kind: area, curves: ['a x - x^2', 'x']}": (
        "Find the area of the region enclosed by the curves y = 5x - x^2 and y = x. "
        "Give a decimal number, correct to 3 significant figures."
    ),
    "{kind: volume, curves: ['a - x'], limits: ['0', 'a'], unit: centimetres, setting: A lamp is turned.}": (
        "A lamp is turned. A region lies between the curve y = 5 - x and the horizontal axis from x = 0 to x = 5. "
        "It is turned once about the horizontal axis. Find the volume of the solid. Both axes are in centimetres. "
        "Give the answer in cubic centimetres as a decimal number, correct to 3 significant figures."
    ),
    "{kind: arc-length, curves: ['a x'], limits: ['0', '1']}": (
        "Find the length of the curve y = 5x from x = 0 to x = 1. Give a decimal number, correct to 3 significant figures."
    ),
    "{kind: mean-value, curves: ['a + sin(x)'], limits: ['0', 'pi'], unit: degrees}": (
        "Find the mean value of y = 5 + sin x from x = 0 to x = pi. The values are in degrees. Give the answer in degrees "
        "as a decimal number, correct to 3 significant figures. Angles are in radians."
    ),
    "{kind: displacement, curves: ['a - 2 t'], limits: ['1', 'a'], unit: metres, time: seconds}": (
        "The velocity along a straight line is v = 5 - 2t, in metres per second, and the time t is in seconds. "
        "Find the displacement from t = 1 to t = 5. "
        "Give the answer in metres as a decimal number, correct to 3 significant figures."
    ),
    "{kind: distance, curves: ['a - 2 t'], limits: ['0', 'a + 1']}": (
        "A body moves along a straight line with the velocity v = 5 - 2t. Find the distance travelled from t = 0 to t = 6. "
        "Give a decimal number, correct to 3 significant figures."
    ),
}


@pytest.mark.parametrize("application", ALL)
def test_the_question_in_words(application: str) -> None:
    assert asked(first(application)) == ALL[application]


@pytest.mark.parametrize("application", ALL)
def test_the_picture(application: str) -> None:
    item = first(application)
    assert item.figure is not None
    text = svg(item.figure)
    top = etree.fromstring(text.encode())
    assert top.tag == f"{SVG}svg"
    # the name and the words that assistive technology finds (WAI-ARIA graphics module, SVG accessibility)
    assert top.get("role") == "img"
    named = {element.get("id"): element.text for element in top}
    assert [named[name] for name in (top.get("aria-labelledby") or "").split()] == [
        item.figure.title,
        item.figure.description,
    ]
    assert item.figure.description.startswith("The curve")
    # nothing of it reaches out, and no number has more than two decimals
    tags = {etree.QName(element).localname for element in top.iter()}
    assert tags <= {
        "svg",
        "title",
        "desc",
        "defs",
        "clipPath",
        "rect",
        "g",
        "path",
        "circle",
        "text",
        "tspan",
    }
    for element in top.iter(f"{SVG}path"):
        numbers = (element.get("d") or "").replace(",", " ").translate(str.maketrans("MLCZ", "    ")).split()
        assert all(len(number.partition(".")[2]) <= 2 for number in numbers)
    words = "".join(map(str, top.itertext()))
    assert plain(item.key) not in {"".join(map(str, label.itertext())) for label in top.iter(f"{SVG}text")}, (
        words
    )
    assert figure_file(item.figure) == figure_file(first(application).figure)  # type: ignore[arg-type]


def test_the_picture_stands_in_the_document() -> None:
    item = first(next(iter(ALL)))
    assert item.figure is not None
    figure = item_value(item)["figure"]
    assert figure == {
        "svg": svg(item.figure),
        "title": item.figure.title,
        "description": item.figure.description,
    }


def test_options_and_numbers() -> None:
    choice = first("{kind: area, curves: ['a x - x^2', 'x'], unit: metres}", "choice")
    assert isinstance(choice.response, Choice)
    assert choice.response.key.answer == choice.key
    assert asked(choice).endswith("Both axes are in metres. The answer is in square metres.")
    number = first("{kind: volume, curves: ['a x - x^2']}")
    assert isinstance(number.response, Numeric)
    assert {"volume-pi-forgotten", "volume-square-forgotten"} <= {slip.slip for slip in number.response.slips}


@pytest.mark.parametrize(
    ("application", "message"),
    [
        ("{kind: arc-length, curves: [x]}", "needs two limits"),
        ("{kind: mean-value, curves: [x, '1'], limits: ['0', '1']}", "asked of one curve"),
        ("{kind: area, curves: [x], unit: cubits}", "no unit of length"),
        ("{kind: area, curves: [x], time: seconds}", "belongs to a velocity"),
        (
            "{kind: distance, curves: ['2 t'], limits: ['0', '1'], unit: metres}",
            "a unit of length and one of time",
        ),
        ("{kind: area, curves: [b x]}", "'b' is neither a parameter nor the variable"),
        ("{kind: area, curves: [x], limits: ['x', '1']}", "neither a parameter nor the variable"),
        ("{kind: area, curves: [x], limits: [x]}", "limits"),
        ("{kind: length, curves: [x]}", "is not one of"),
    ],
)
def test_a_faulty_application_is_told(application: str, message: str) -> None:
    with pytest.raises(BankError) as caught:
        bank(application)
    assert any(message in str(problem) or message in problem.message for problem in caught.value.problems)


def test_what_an_application_says_is_not_said_again() -> None:
    text = bank.__doc__ or ""
    head = f'identifier: b{text}\ntitle: B\nlanguage: en\nlicence: CC-BY-4.0\nversion: "1.0.0"\ntemplates:\n'
    one = "  - {identifier: a, title: A, integrand: x, responses: [evaluation], application: {kind: area, curves: [x]}}"
    with pytest.raises(BankError) as caught:
        parse_bank((head + one).encode(), "b.yaml")
    assert {problem.code for problem in caught.value.problems} == {"needless", "unfit-response"}
    with pytest.raises(BankError) as caught:
        parse_bank((head + "  - {identifier: a, title: A, technique: standard-forms}").encode(), "b.yaml")
    assert any("'integrand' is missing" in problem.message for problem in caught.value.problems)
