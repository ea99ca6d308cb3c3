"""Can people move and get out? The plan with its walks, and what each of them comes to."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings.layers import Worked
from generator.ground.wording import _
from generator.handbook.desk import Desk
from generator.handbook.figure import figure
from generator.handbook.groups import grouped
from generator.handbook.page import Page
from generator.handbook.subjects import Section, subject_page, worst_first
from generator.handbook.tables import Cell, Column, Table
from generator.shop.records.stations import Station
from generator.workings.floor.lengths import metres, mm
from generator.workings.routes import Journey, RouteStudy

_PATH = "room/floor"


def page(desk: Desk) -> Page:
    """Floor and walks."""
    floor, routes = desk.studies.floor, desk.studies.routes
    surveys = (floor.survey, routes.survey)
    findings = worst_first(f for survey in surveys for f in survey.findings)
    workings = [w for survey in (routes.survey, floor.survey) for w in survey.workings]
    return subject_page(
        _PATH,
        _("Floor and walks"),
        "RO-01",
        surveys,
        says=_says(routes),
        figure=figure(desk, _PATH, Worked(routes=routes), findings),
        tables=[_walks(desk)],
        workings=grouped(desk.shop, workings),
    )


def _says(routes: RouteStudy) -> str:
    """How everybody gets out, in a sentence."""
    reached = [r for r in routes.reaches.reaches if not r.stand.service]
    if not reached or not all(r.reached for r in reached):
        return ""
    tightest = min(routes.bottlenecks, key=lambda gap: gap.width_mm, default=None)
    farthest = max((way.exits[0].length_mm for way in routes.escape.ways if way.exits), default=0.0)
    aisle = mm(routes.ground.aisle.value)
    if tightest is None:
        return _("Every station is reached from every exit; the longest walk out is {far}.").format(
            far=metres(farthest)
        )
    return _(
        "Every station is reached from every exit: {width} are left at the tightest place, where "
        "{aisle} are needed. The longest walk to an exit is {far}."
    ).format(width=mm(tightest.width_mm), aisle=aisle, far=metres(farthest))


def _walks(desk: Desk) -> Section:
    columns = (
        Column(_("Station")),
        Column(_("Nearest exit"), figures=True),
        Column(_("Another exit"), figures=True),
        Column(_("Extinguisher"), figures=True),
        Column(_("First aid"), figures=True),
    )
    rows = tuple(tuple(_row(desk, station)) for station in desk.shop.stations_by_number)
    return Section(
        _("Walks from each station"),
        _(
            "As they are walked, around what stands in the way, from the side of the station that "
            "is farthest off."
        ),
        tables=(Table(columns, rows),),
    )


def _row(desk: Desk, station: Station) -> Iterator[Cell]:
    routes = desk.studies.routes
    yield Cell(str(station.name), record=station, number=station.number)
    first = routes.to_exit(station.id)
    doors = [id_ for id_ in routes.ground.exits if first and not first.end_id.endswith(f"/{id_}")]
    others = [w for id_ in doors if (w := routes.to_exit(station.id, id_))]
    second = min(others, key=lambda walk: round(walk.length_mm, 3), default=None)
    yield _walk(first, f"routes.exit-nearest.{station.id}")
    yield _walk(second, f"routes.exit-second.{station.id}")
    yield _walk(routes.nearest("extinguisher", station.id))
    yield _walk(routes.nearest("first-aid", station.id))


def _walk(walk: Journey | None, working: str = "") -> Cell:
    if walk is None:
        return Cell(_("none reached"), style="sev fix")
    return Cell(metres(walk.length_mm), small=walk.end.strip("“”"), working=working)
