"""`qbank export`: clones of a bank as packages and data files."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Literal, get_args

import click
from click.core import ParameterSource

from qbank.bank.model import Assessment, ResponseForm, Template
from qbank.cli.arguments import SHIPPED, bank_argument, fail, find_template, find_test, open_bank_file
from qbank.cli.passing import Passed
from qbank.cli.summary import tell_of_tests
from qbank.items.cloning import ShortageError
from qbank.items.decking import deal
from qbank.items.setting import SettingError, set_test
from qbank.writers import (
    USUAL,
    WRITERS,
    Options,
    OutputError,
    RefusalError,
    save,
    what_formats_carry,
)
from qbank.writers.carrying import FEATURES, OF_TESTS
from qbank.writers.formulas import MathMode
from qbank.writers.options import USUAL_OPTIONS
from qbank.writers.pictures import MissingRendererError, PictureFormat, ready

__all__ = ["command"]


def _list_formats(context: click.Context, _option: click.Parameter, wanted: bool) -> None:
    """Print the formats and the table of what they carry, and leave."""
    if not wanted:
        return
    for writer in WRITERS.values():
        click.echo(f"{writer.name}: {writer.title}")
        for feature, instead in writer.instead.items():
            click.echo(f"  instead of {FEATURES[feature]}: {instead}")
    click.echo()
    click.echo("\n".join(what_formats_carry()))
    context.exit()


def _tell_what_is_written_instead(
    formats: list[str], templates: tuple[Template, ...], test: Assessment | None, forms: int | None
) -> None:
    """Say on standard error what these templates have that a format cannot hold."""
    forms_of = [(template, template.responses) for template in templates]
    if test is not None:
        forms_of = [(one, part.forms_of(one)) for part in test.sections for one in part.templates]
    present: set[str] = {form for _, responses in forms_of for form in responses}
    present |= {
        f"{kind}-gaps" for one, responses in forms_of for kind in one.gaps if "complete-working" in responses
    }
    # what there is nothing of is not missed
    needless = {*get_args(ResponseForm), "number-gaps", "expression-gaps"} - present
    needless |= OF_TESTS if test is None else set()
    needless |= set() if forms is None else {"pools"}
    for name in formats:
        for feature, instead in WRITERS[name].instead.items():
            if feature not in needless:
                click.echo(f"{name} cannot carry {FEATURES[feature]}; written instead: {instead}", err=True)


def _check_choices(test: str | None, forms: int | None, purpose: str) -> None:
    """Leave when options contradict each other; say so when one is not heeded."""
    context = click.get_current_context()
    given = {
        name
        for name in ("wanted", "pick")
        if context.get_parameter_source(name) is ParameterSource.COMMANDLINE
    }
    if forms is not None and test is None:
        fail("--forms makes parallel forms of a test: name it with --test")
    if forms is not None and purpose == "bank":
        fail("--as bank files questions for the system to deal: it holds no --forms")
    if test is not None and {"wanted", "pick"} & given:
        fail("a test says itself what it deals from which templates: leave --template and --pick out")


def _size(test: Assessment, count: int, forms: int | None) -> int:
    """About how many items a test has, for a progress bar."""
    if forms is not None:
        return forms * sum(section.count for section in test.sections)
    return count * sum(min(section.count, len(section.templates)) for section in test.sections)


@click.command(name="export")
@bank_argument
@click.option(
    "--to",
    "names",
    type=click.Choice(list(WRITERS)),
    multiple=True,
    default=USUAL,
    show_default=True,
    help="Format; give it several times for several files.",
)
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("exports"),
    show_default=True,
    help="Folder to write to.",
)
@click.option(
    "--count", type=click.IntRange(1), default=10, show_default=True, help="Clones of each template."
)
@click.option("--seed", type=int, default=1, show_default=True, help="The same seed gives the same bytes.")
@click.option(
    "--template", "wanted", multiple=True, help="Only this template; give it several times for several."
)
@click.option("--test", "test_name", help="This test of the bank, with its sections.")
@click.option(
    "--forms",
    type=click.IntRange(1, 26),
    help="So many parallel forms of the test, A, B, ..., without a clone in common; pools to deal from when left out.",
)
@click.option(
    "--pick", type=click.IntRange(1), default=1, show_default=True, help="Clones dealt to each student."
)
@click.option(
    "--as",
    "purpose",
    type=click.Choice(["assessment", "bank"]),
    default="assessment",
    show_default=True,
    help="What a Common Cartridge holds: tests, ready to be set, or a question bank.",
)
@click.option(
    "--cc-version",
    type=click.Choice(["1.1", "1.3"]),
    default="1.1",
    show_default=True,
    help="Version of the Common Cartridge.",
)
@click.option(
    "--math",
    type=click.Choice(get_args(MathMode)),
    default=USUAL_OPTIONS.math,
    show_default=True,
    help="How packages show formulas: MathML, pictures, or LaTeX between \\( and \\) for a system that typesets it.",
)
@click.option(
    "--picture",
    type=click.Choice(get_args(PictureFormat)),
    default=USUAL_OPTIONS.picture,
    show_default=True,
    help="The format of --math pictures.",
)
@click.option(
    "--list",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_list_formats,
    help="Show what each format can carry, and exit.",
)
@click.option(
    "--without-source",
    is_flag=True,
    help="Leave the bank file out; it is in the package for `qbank recover`.",
)
@click.option("--force", is_flag=True, help="Overwrite files that qbank did not write.")
def command(  # noqa: PLR0913, PLR0917 - one for each option
    bank: Path | None,
    names: tuple[str, ...],
    out: Path,
    count: int,
    seed: int,
    wanted: tuple[str, ...],
    test_name: str | None,
    forms: int | None,
    pick: int,
    purpose: Literal["assessment", "bank"],
    cc_version: Literal["1.1", "1.3"],
    math: MathMode,
    picture: PictureFormat,
    without_source: bool,
    force: bool,
) -> None:
    """Write clones of BANK (the shipped one when left out), every key proved and every distractor refuted."""
    _check_choices(test_name, forms, purpose)
    if pick > count:
        fail(f"--pick {pick} deals more clones than --count {count} makes")
    loaded, content = open_bank_file(bank)
    test = None if test_name is None else find_test(loaded, test_name)
    templates = tuple(find_template(loaded, name) for name in wanted) or loaded.templates
    if test is not None:
        templates = tuple(dict.fromkeys(one for section in test.sections for one in section.templates))
    formats = list(dict.fromkeys(names))
    options = Options(purpose=purpose, cartridge=cc_version, math=math, picture=picture)
    _tell_what_is_written_instead(formats, templates, test, forms)
    for name in formats:
        if math not in WRITERS[name].maths:
            click.echo(f"--math {math} does not concern {name}", err=True)
    total = count * len(templates) * len(formats)
    if test is not None:
        # these items are built once for all formats
        total = _size(test, count, forms)
    file = None if without_source else (bank.name if bank else SHIPPED, content)
    passed = Passed()
    hidden = not sys.stderr.isatty()
    with click.progressbar(length=total, label="building items", file=sys.stderr, hidden=hidden) as bar:
        try:
            if math == "pictures" and any(math in WRITERS[name].maths for name in formats):
                ready()
            if test is None:
                deck = deal(
                    loaded,
                    count=count,
                    seed=seed,
                    templates=templates if wanted else None,
                    pick=pick,
                    watch=lambda: bar.update(1),
                    passed_over=passed,
                    file=file,
                )
            else:
                deck = set_test(
                    loaded,
                    test,
                    count=count,
                    seed=seed,
                    forms=forms,
                    watch=lambda: bar.update(1),
                    passed_over=passed,
                    file=file,
                )
            written = [
                save(
                    WRITERS[name],
                    deck,
                    out / WRITERS[name].file_name(deck, options),
                    options=options,
                    force=force,
                )
                for name in formats
            ]
        except (MissingRendererError, OutputError, RefusalError, SettingError, ShortageError) as error:
            fail(str(error))
    passed.tell()
    tell_of_tests(deck)
    for path in written:
        click.echo(path)
