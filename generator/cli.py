"""The commands. Building and serving are MkDocs's own; these do what it does not."""

from __future__ import annotations

import datetime as dt
import difflib
import json
import re
import shutil
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NoReturn

import click

from generator.ground.asof import NoDateError, as_of, day_in_settings
from generator.ground.finding import Finding, Severity, in_file_order
from generator.ground.nearest import nearest
from generator.ground.report import as_json, as_terminal, tally
from generator.ground.resources import resource
from generator.ground.wording import _, current_language, use
from generator.handbook import book, byhand, export
from generator.handbook.language import NoSuchLanguageError, language_of
from generator.handbook.print_room import Printing
from generator.press import labels, printed, wall
from generator.press.choosing import Choosing
from generator.press.engine import Press
from generator.press.order import Order, with_slash
from generator.press.sheet import Sheet
from generator.shop import keyhelp
from generator.shop.competence import read_register, without_cells
from generator.shop.load import load_shop
from generator.shop.patch import NoPatchError, with_timetable
from generator.shop.shop import Shop
from generator.workings import coverage
from generator.workings.check import Studies
from generator.workings.for_readers import for_readers
from generator.workings.labelling import CONDITIONS
from generator.workings.sessions import fixed, proofs, report
from generator.workings.sessions.demands import Line
from generator.workings.sessions.study import desk
from generator.workings.sessions.telling import Teller

_FAULTS, _STOPS = 2, 1

_shop_option = click.option(
    "--shop",
    "folder",
    type=click.Path(path_type=Path),
    default=Path("content/shop"),
    show_default=True,
    help="The shop's folder.",
)


class _Day(click.ParamType):  # type: ignore[type-arg]  # generic only in its later releases
    """A day; what is none is told with one that is, where Click would show a format."""

    name = "day"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> dt.date:
        """The day written, as year, month and day."""
        try:
            return value if isinstance(value, dt.date) else dt.date.fromisoformat(value)
        except ValueError:
            says = _("`{text}` is no date; write it as year, month and day: 2026-11-25.")
            self.fail(says.format(text=value), param, ctx)


_as_of_option = click.option(
    "--as-of",
    "as_of_day",
    type=_Day(),
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
def check_command(folder: Path, as_of_day: dt.date | None, as_data: bool) -> None:
    """Say everything that is wrong, doubtful or unanswered.

    Where the shop's folder holds a register of competence, what it leaves uncovered is told too,
    by machine and role and without a name.

    Without --as-of it is told against the day in mkdocs.yml, where one lies above the shop.

    Exit status: 0 nothing that stops, 1 a finding says stop, 2 the data cannot be read.
    """
    loaded = load_shop(folder)
    with _said_in_a_line():
        settled = None if as_of_day else day_in_settings(folder)
        day = as_of(as_of_day or settled)
    if settled and not as_data:
        says = _("Told against {day}, as mkdocs.yml says; `--as-of` names another day.")
        click.echo(says.format(day=day.isoformat()), err=True)
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
def export_command(target: Path, folder: Path, as_of_day: dt.date | None, language: str) -> None:
    """Write the handbook as plain Markdown and assets, for any static-site generator.

    Pages written by hand are taken from the folder around the shop's, where mkdocs.yml lies
    beside that.
    """
    loaded = load_shop(folder)
    if loaded.shop is None:
        _stop(loaded.findings)
    with _said_in_a_line(), use(language_of(loaded.shop, language)):
        printing = Printing(_site_url_beside(folder))
        made = book.make(loaded.shop, as_of(as_of_day), current_language(), printing)
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
    except (
        export.NotEmptyError, NoDateError, NoPatchError, NoSuchLanguageError, OSError,
    ) as error:  # fmt: skip
        raise click.ClickException(str(error)) from None


def _order(folder: Path, day: dt.date, language: str, first: int = 1) -> Order:
    """What is to be printed of a shop, as far as readers may know it; its faults stop here."""
    loaded = load_shop(folder)
    if loaded.shop is None:
        _stop(loaded.findings)
    shop = for_readers(loaded.shop)
    address = with_slash(shop.shop.site_address or _site_url_beside(folder))
    return Order(Studies(shop, day), language_of(shop, language), address, first)


_SITE_URL = re.compile(r"^site_url:\s*[\"']?(https?://[^\s\"'#]+)", re.MULTILINE)


def _site_url_beside(folder: Path) -> str:
    """Where mkdocs.yml says the handbook is published: its sheets bear that, and so their hash."""
    settings = folder.resolve().parent.parent / "mkdocs.yml"
    found = _SITE_URL.search(settings.read_text(encoding="utf-8")) if settings.is_file() else None
    return found[1] if found else ""


@main.command("labels")
@click.argument("target", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--from", "first", type=click.IntRange(1), default=1, show_default=True,
              help="The label of a started sheet to begin at.")  # fmt: skip
@click.option("--for", "conditions", multiple=True, type=click.Choice(CONDITIONS),
              help="Labels for this only; may be given again.")  # fmt: skip
@_shop_option
@_as_of_option
@click.option("--language", default="", help="One of the shop's languages; else its first.")
def labels_command(
    *,
    target: Path,
    first: int,
    conditions: tuple[str, ...],
    folder: Path,
    as_of_day: dt.date | None,
    language: str,
) -> None:
    """Write the labels a week needs to TARGET, a PDF, in one run over the shop's label sheets.

    The sheets are those that shop.yml names under `printer`; plain paper with marks to cut along
    where it names none.
    """
    with _said_in_a_line():
        order = _order(folder, as_of(as_of_day), language, first)
        most = labels.grid_of(order).on_a_sheet
        if first > most:
            raise click.ClickException(f"A sheet has {most} labels; there is no label {first}.")
        with use(order.language):
            run = labels.in_one_run(order, conditions)
        if run is None:
            raise click.ClickException("An ordinary week needs no such label.")
        shop = str(order.shop.shop.name)
        target.write_bytes(Press(shop, order.studies.running.as_of).pdf(run))
    click.echo(f"{target}: {run.hangs}")


@main.command("printed")
@click.argument("names", nargs=-1, metavar="[SHEET]...")
@click.option("--all", "everything", is_flag=True, help="Every sheet.")
@click.option("--station", "stations", multiple=True, metavar="ID", help="All about a station.")
@click.option("--stage", "stages", multiple=True, metavar="ID", help="All of a stage's stations.")
@click.option("--session", "sessions", multiple=True, metavar="ID", help="All for a session.")
@click.option("--wall", "walls", multiple=True, metavar="NUMBER", help="All that hangs on a wall.")
@click.option("--changed", is_flag=True, help="All that has changed or was never printed.")
@_shop_option
@_as_of_option
@click.option("--language", default="", help="One of the shop's languages; else its first.")
def printed_command(
    *,
    names: tuple[str, ...],
    everything: bool,
    changed: bool,
    folder: Path,
    as_of_day: dt.date | None,
    language: str,
    **about: tuple[str, ...],
) -> None:
    """Note in printed.csv that sheets were printed and hung; the print room tells by it what is
    out of date."""
    with _said_in_a_line():
        day = as_of(as_of_day)
        order = _order(folder, day, language)
        all_sheets = wall.sheets(order)
        keys = tuple(f"{noun}/{id_}" for noun, ids in about.items() for id_ in ids)
        chosen = _chosen(order, all_sheets, names, keys)
        if changed:
            states = printed.states(all_sheets, order.shop.logs.printed)
            chosen += [s for s in all_sheets if states[s.id].word != "current"]
        chosen = list(all_sheets) if everything else list({s.id: s for s in chosen}.values())
        if not chosen:
            raise click.ClickException("Name the sheets that were printed, or say --all.")
        path = printed.note(folder, chosen, day)
    click.echo(f"{len(chosen)} in {path}")


def _chosen(
    order: Order, all_sheets: tuple[Sheet, ...], names: tuple[str, ...], keys: tuple[str, ...]
) -> list[Sheet]:
    """The sheets of these names, and those about these things."""
    by_id = {sheet.id: sheet for sheet in all_sheets}
    choosing = Choosing(order)
    tags = {sheet.id: choosing.tags(sheet) for sheet in all_sheets} if keys else {}
    known = {tag for of_sheet in tags.values() for tag in of_sheet}
    for name in names:
        if name not in by_id:
            _no_such("sheet", name, by_id)
    for key in keys:
        noun, _slash, id_ = key.partition("/")
        if key not in known:
            _no_such(
                noun, id_, [tag.partition("/")[2] for tag in known if tag.startswith(f"{noun}/")]
            )
    about = [s for s in all_sheets if any(key in tags.get(s.id, ()) for key in keys)]
    return [*(by_id[name] for name in names), *about]


def _no_such(noun: str, id_: str, there: Iterable[str]) -> NoReturn:
    near = nearest(id_, sorted(there))
    hint = f"; did you mean `{near}`?" if near else "."
    raise click.ClickException(f"There is no {noun} `{id_}`{hint}")


@main.command("timetable")
@click.argument("session")
@_shop_option
@click.option(
    "--slot",
    default=5,
    show_default=True,
    type=click.IntRange(1, 60),
    help="Activities start at whole slots of so many minutes.",
)
@click.option(
    "--seed",
    default=1,
    show_default=True,
    type=click.IntRange(0, 2**31 - 1),
    help="The same seed gives the same timetable.",
)
@click.option(
    "--seconds",
    default=20.0,
    show_default=True,
    type=click.FloatRange(0.1, 3600),
    help="How much work to spend, in about so many seconds of one core.",
)
@click.option("--write", is_flag=True, help="Put the timetable into the session's file.")
@click.option("--explain", is_flag=True, help="Only say what stands against any timetable.")
def timetable_command(  # noqa: PLR0917 - one argument an option
    session: str, folder: Path, slot: int, seed: int, seconds: float, write: bool, explain: bool
) -> None:
    """Propose the best timetable for SESSION, with its proof, as a change to its file.

    Where nothing fits, say why: the demands that clash, and what would make it fit.

    Exit status: 0 a timetable, 1 none, 2 the data cannot be read.
    """
    loaded = load_shop(folder)
    if loaded.shop is None:
        _stop(loaded.findings)
    teller = _teller(loaded.shop, session)
    with _with_solver(), use(language_of(loaded.shop, "")):
        from generator.workings.sessions.proposing import propose  # noqa: PLC0415 - an extra

        found = propose(teller.demands, slot, seed, seconds)
        if found.status in ("impossible", "unknown") or explain:
            _say_why(teller, found.status, slot, seed)
    click.echo("\n".join(report.timetable(teller, found.lines)))
    click.echo("\n".join(report.status(found.goals, slot)))
    proof = proofs.written(found.goals, slot, seed, teller.demands, found.lines)
    _show_patch(teller, folder, found.lines, proof, write=write)


def _teller(shop: Shop, id_: str) -> Teller:
    """The session's demands and words; stops where no timetable could mend what is wrong."""
    if id_ not in shop.sessions:
        near = nearest(id_, shop.sessions)
        hint = _(" Did you mean `{near}`?").format(near=near) if near else ""
        raise click.ClickException(_("The shop has no session `{id}`.").format(id=id_) + hint)
    session, studies = shop.sessions[id_], Studies(shop, as_of(None))
    laid = desk(shop, studies.power, studies.moulding, studies.routes, studies.air)
    stops = [c for c in fixed.clashes(laid.around, session) if c.severity is Severity.STOP]
    if stops:
        click.echo("\n".join([_("No timetable mends this:"), *report.fixed(stops)]))
        sys.exit(_STOPS)
    return Teller(shop, session, laid.reader.demands(session))


@contextmanager
def _with_solver() -> Iterator[None]:
    """Where the solver is not installed, what would install it."""
    try:
        yield
    except ModuleNotFoundError as error:
        if not (error.name or "").startswith("ortools"):
            raise
        says = _('Proposing a timetable needs the solver: pip install "benchleaf[solve]"')
        raise click.ClickException(says) from None


def _say_why(teller: Teller, status: str, slot: int, seed: int) -> NoReturn:
    from generator.workings.sessions import why  # noqa: PLC0415 - an extra

    if status == "impossible":
        click.echo("\n".join(why.in_words(why.explain(teller, slot, seed))))
        sys.exit(_STOPS)
    if status == "unknown":
        says = _("No timetable was found, and no proof that there is none: give more --seconds.")
        click.echo(says)
        sys.exit(_STOPS)
    click.echo(_("Nothing stands against a timetable."))
    sys.exit(0)


def _show_patch(
    teller: Teller, folder: Path, lines: tuple[Line, ...], proof: str, *, write: bool
) -> None:
    """Show what changes in the session's file, and change it where that is asked for."""
    name = teller.session.origin.file
    path = folder / name
    with _said_in_a_line():
        old = path.read_text(encoding="utf-8")
        new = with_timetable(old, teller.session.id, report.rows(lines), proof)
        diff = difflib.unified_diff(
            old.splitlines(keepends=True), new.splitlines(keepends=True), name, name, n=1
        )
        click.echo("".join(diff).rstrip() or _("The file holds it already."))
        if new != old and not write:
            click.echo(_("Accept it with --write."))
        elif new != old:
            path.write_text(new, encoding="utf-8")
            click.echo(_("Written to {file}.").format(file=name))


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
