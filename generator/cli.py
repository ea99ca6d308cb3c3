"""The commands. Building and serving are MkDocs's own; these do what it does not."""

from __future__ import annotations

import datetime as dt
import json
import shutil
import sys
from pathlib import Path

import click

from generator.ground.finding import Finding, Severity
from generator.ground.report import as_json, as_terminal
from generator.ground.resources import resource
from generator.handbook import book, export
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings import check

_FAULTS, _STOPS = 2, 1

_shop_option = click.option(
    "--shop",
    "folder",
    type=click.Path(path_type=Path),
    default=Path("content/shop"),
    show_default=True,
    help="The shop's folder.",
)


@click.group()
@click.version_option(package_name="benchleaf")
def main() -> None:
    """Turn a shared plastics workshop's own YAML into its handbook.

    Build with `mkdocs build`, and look while you write with `mkdocs serve`.
    """


@main.command("check")
@_shop_option
@click.option("--json", "as_data", is_flag=True, help="Print JSON instead of sentences.")
def check_command(folder: Path, as_data: bool) -> None:
    """Say everything that is wrong, doubtful or unanswered.

    Exit status: 0 nothing that stops, 1 a finding says stop, 2 the data cannot be read.
    """
    loaded = load_shop(folder)
    found = loaded.findings if loaded.shop is None else _found_in(loaded.shop)
    if as_data:
        click.echo(json.dumps(as_json(found), ensure_ascii=False, indent=1))
    else:
        click.echo(as_terminal(found, colour=sys.stdout.isatty()))
    sys.exit(_status(found))


def _found_in(shop: Shop) -> tuple[Finding, ...]:
    return check.findings_of(check.surveys(shop))


def _status(found: tuple[Finding, ...]) -> int:
    severities = {finding.severity for finding in found}
    if Severity.FAULT in severities:
        return _FAULTS
    return _STOPS if Severity.STOP in severities else 0


@main.command("export")
@click.argument("target", type=click.Path(path_type=Path, file_okay=False))
@_shop_option
@click.option("--as-of", type=click.DateTime(["%Y-%m-%d"]), help="Tell what is due against a day.")
@click.option("--language", default="", help="One of the shop's languages; else its first.")
def export_command(target: Path, folder: Path, as_of: dt.datetime | None, language: str) -> None:
    """Write the handbook as plain Markdown and assets, for any static-site generator."""
    loaded = load_shop(folder)
    if loaded.shop is None:
        click.echo(as_terminal(loaded.findings, colour=sys.stderr.isatty()), err=True)
        sys.exit(_FAULTS)
    day = as_of.date() if as_of else dt.datetime.now().astimezone().date()
    made = book.make(loaded.shop, day, language or loaded.shop.shop.languages[0])
    try:
        count = export.write(made, loaded.shop, folder, target)
    except export.NotEmptyError as error:
        raise click.ClickException(str(error)) from None
    click.echo(f"{count} files in {target}")


@main.command("new")
@click.argument("target", type=click.Path(path_type=Path, file_okay=False))
def new_command(target: Path) -> None:
    """Put a copy of the demonstration shop in TARGET, to be made one's own."""
    if target.exists() and any(target.iterdir()):
        raise click.ClickException(f"{target} is not empty; name a new folder.")
    shutil.copytree(resource("content"), target / "content", dirs_exist_ok=True)
    (target / "mkdocs.yml").write_text(_STARTER, encoding="utf-8")
    click.echo(f"Now: cd {target} && mkdocs serve")


_STARTER = """\
site_name: A shared plastics workshop   # the shop's own name, from shop.yml, takes its place
docs_dir: content
use_directory_urls: false
theme:
  name: material
  font: false
plugins:
  - search
  - benchleaf
"""
