"""The commands. Building and serving are MkDocs's own; these do what it does not."""

from __future__ import annotations

import datetime as dt
import json
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NoReturn

import click

from generator.ground.asof import NoDateError, as_of
from generator.ground.finding import Finding, Severity, in_file_order
from generator.ground.nearest import nearest
from generator.ground.report import as_json, as_terminal, tally
from generator.ground.resources import resource
from generator.ground.wording import _, current_language, use
from generator.handbook import book, byhand, export
from generator.handbook.language import NoSuchLanguageError, language_of
from generator.shop import keyhelp
from generator.shop.competence import read_register, without_cells
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings import coverage
from generator.workings.check import Studies

_FAULTS, _STOPS = 2, 1

_shop_option = click.option(
    "--shop",
    "folder",
    type=click.Path(path_type=Path),
    default=Path("content/shop"),
    show_default=True,
    help="The shop's folder.",
)

_as_of_option = click.option(
    "--as-of",
    "as_of_day",
    type=click.DateTime(["%Y-%m-%d"]),
    help="Tell what is due against a day; else SOURCE_DATE_EPOCH, else today.",
)


@click.group()
@click.version_option(package_name="benchleaf", prog_name="benchleaf")
def main() -> None:
    """Turn a shared plastics workshop's own YAML into its handbook.

    Build with `mkdocs build`, and look while you write with `mkdocs serve`.
    """


@main.command("check")
@_shop_option
@_as_of_option
@click.option("--json", "as_data", is_flag=True, help="Print JSON instead of sentences.")
def check_command(folder: Path, as_of_day: dt.datetime | None, as_data: bool) -> None:
    """Say everything that is wrong, doubtful or unanswered.

    Where the shop's folder holds a register of competence, what it leaves uncovered is told too,
    by machine and role and without a name.

    Exit status: 0 nothing that stops, 1 a finding says stop, 2 the data cannot be read.
    """
    loaded = load_shop(folder)
    with _said_in_a_line():
        day = as_of(as_of_day)
    found = loaded.findings if loaded.shop is None else _found_in(loaded.shop, folder, day)
    if as_data:
        found = tuple(map(without_cells, found))
        click.echo(json.dumps(as_json(found), ensure_ascii=False, indent=1))
    else:
        click.echo(_with_total(found, sys.stdout.isatty()))
    sys.exit(_status(found))


def _found_in(shop: Shop, folder: Path, day: dt.date) -> tuple[Finding, ...]:
    """Findings on the shop, or what in hand-written pages keeps them from being published."""
    hand_written = byhand.files_in(byhand.folder_beside(folder), folder)
    if faults := byhand.faults(hand_written, shop):
        return faults
    register = read_register(folder, shop)
    if register is None:
        return Studies(shop, day).findings
    uncovered = coverage.study(shop, register, day).survey.findings
    return in_file_order((*Studies(shop, day).findings, *register.faults, *uncovered))


def _status(found: tuple[Finding, ...]) -> int:
    severities = {finding.severity for finding in found}
    if Severity.FAULT in severities:
        return _FAULTS
    return _STOPS if Severity.STOP in severities else 0


@main.command("export")
@click.argument("target", type=click.Path(path_type=Path, file_okay=False))
@_shop_option
@_as_of_option
@click.option("--language", default="", help="One of the shop's languages; else its first.")
def export_command(
    target: Path, folder: Path, as_of_day: dt.datetime | None, language: str
) -> None:
    """Write the handbook as plain Markdown and assets, for any static-site generator.

    Pages written by hand are taken from the folder around the shop's, where mkdocs.yml lies
    beside that.
    """
    loaded = load_shop(folder)
    if loaded.shop is None:
        _stop(loaded.findings)
    with _said_in_a_line(), use(language_of(loaded.shop, language)):
        made = book.make(loaded.shop, as_of(as_of_day), current_language())
        hand_written = byhand.files_in(byhand.folder_beside(folder), folder)
        if faults := byhand.faults(hand_written, loaded.shop, made):
            _stop(faults)
        count = export.write(made, loaded.shop, hand_written, target)
    click.echo(f"{count} files in {target}")


def _with_total(findings: tuple[Finding, ...], colour: bool) -> str:
    """The findings, and under them how many there are: the last line is the one in sight."""
    return "\n\n".join(filter(None, (as_terminal(findings, colour), tally(findings))))


def _stop(faults: tuple[Finding, ...]) -> NoReturn:
    click.echo(_with_total(faults, sys.stderr.isatty()), err=True)
    sys.exit(_FAULTS)


@contextmanager
def _said_in_a_line() -> Iterator[None]:
    """What the machine refuses, such as a full disk, is told in a line and not as a traceback."""
    try:
        yield
    except (export.NotEmptyError, NoDateError, NoSuchLanguageError, OSError) as error:
        raise click.ClickException(str(error)) from None


@main.command("keys")
@click.argument("noun", required=False)
def keys_command(noun: str | None) -> None:
    """List what may be written in a file of the shop (NOUN: stations, rota, competence ...)."""
    files: dict[str, Callable[[str], Iterator[str]]] = {}
    files |= {f"{name}.yml": keyhelp.lines for name in keyhelp.nouns()}
    files |= {f"{name}.csv": keyhelp.columns for name in keyhelp.tables()}
    if noun is None:
        click.echo("\n".join(files))
        return
    name = noun if noun in files else next((f for f in files if f[:-4] == noun), "")
    if name:
        click.echo("\n".join(files[name](name[:-4])))
    else:
        near = nearest(noun, [file[:-4] for file in files])
        hint = _(" Did you mean `{near}`?").format(near=near) if near else ""
        raise click.ClickException(_("A shop has no file {noun}.").format(noun=noun) + hint)


@main.command("new")
@click.argument("target", type=click.Path(path_type=Path, file_okay=False))
def new_command(target: Path) -> None:
    """Put a copy of the demonstration shop in TARGET, to be made one's own."""
    if target.exists() and any(target.iterdir()):
        raise click.ClickException(f"{target} is not empty; name a new folder.")
    with _said_in_a_line():
        shutil.copytree(resource("content"), target / "content", ignore=_NOT_TO_COPY)
        shutil.copy(resource("templates") / "start" / "mkdocs.yml", target / "mkdocs.yml")
    click.echo(f"Now: cd {target} && mkdocs serve")


_NOT_TO_COPY = shutil.ignore_patterns("pictures", "competence.csv", ".*")
"""The picture of this handbook's front page, and what is nobody else's."""
