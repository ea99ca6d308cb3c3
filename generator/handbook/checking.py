"""The sheets that are gone through: opening, closing, and each machine's upkeep."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.wording import _, ngettext
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import day, render
from generator.workings import checksheets
from generator.workings.checksheets import Sheet, UpkeepSheet
from generator.workings.falling_due import State
from generator.workings.loans import out_of
from generator.workings.upkeep import Task

_UPKEEP = "running/upkeep"


def path_of_upkeep(machine: str) -> str:
    """Path of a machine's sheet of upkeep."""
    return f"{_UPKEEP}/{machine}"


def pages(desk: Desk) -> Iterator[Page]:
    """Opening, closing, and a sheet of upkeep for each machine that asks for any."""
    running = desk.studies.running
    yield _sheet(desk, checksheets.opening(running), _("Opening"), "RN-06")
    yield _sheet(desk, checksheets.closing(running), _("Closing"), "RN-07")
    for number, sheet in enumerate(checksheets.upkeep(running), 1):
        yield _upkeep(desk, sheet, number)


def _sheet(desk: Desk, sheet: Sheet, title: str, number: str) -> Page:
    path = f"running/{sheet.kind}"
    body = render(
        "check-sheet",
        path,
        sheet=sheet,
        title=title,
        as_of=desk.as_of,
        sentence=_sentence(sheet),
        signatures=max((p.people for p in sheet.procedures), default=1),
    )
    return Page(path, title, "check-sheet", number, body)


def _sentence(sheet: Sheet) -> str:
    places = sum(section.station is not None for section in sheet.sections)
    lines = ngettext("{n} line to tick", "{n} lines to tick", sheet.count).format(n=sheet.count)
    at = ngettext("at {n} station", "at {n} stations", places).format(n=places)
    return _("{lines}, {at} and in the room.").format(lines=lines, at=at)


def _upkeep(desk: Desk, sheet: UpkeepSheet, number: int) -> Page:
    path = path_of_upkeep(sheet.machine.id)
    out = desk.studies.running.loans.out
    body = render(
        "upkeep-sheet",
        path,
        shop=desk.shop,
        sheet=sheet,
        as_of=desk.as_of,
        sentence=_upkeep_sentence(sheet),
        states=[_state(task) for task in sheet.tasks],
        away={tool.id: out_of(out, tool) for tool in sheet.tools},
    )
    title = _("Upkeep of the {machine}").format(machine=str(sheet.machine.name).lower())
    return Page(path, title, "check-sheet", f"RN-02.{number}", body, sheet.machine.origin)


def _upkeep_sentence(sheet: UpkeepSheet) -> str:
    late = sum(task.state is State.OVERDUE for task in sheet.tasks)
    said = ngettext("{n} task, {late} overdue.", "{n} tasks, {late} overdue.", len(sheet.tasks))
    said = said.format(n=len(sheet.tasks), late=late)
    if sheet.lock_out:
        said += " " + _("Locked out before anything is opened.")
    return said


def _state(task: Task) -> str:
    if task.due is None:
        return _("every {period}, never logged").format(period=task.task.every)
    if task.state is State.OVERDUE:
        return _("overdue since {day}").format(day=day(task.due))
    return _("due on {day}").format(day=day(task.due))
