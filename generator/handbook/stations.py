"""A page for every station, and the list of them."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground import units
from generator.ground.finding import Finding
from generator.ground.wording import _, ngettext
from generator.handbook.desk import Desk
from generator.handbook.links import card_path, path_of
from generator.handbook.page import Page
from generator.handbook.plans import SHEET_PATH
from generator.handbook.render import render
from generator.handbook.station_figures import figures_at
from generator.handbook.station_walks import help_at
from generator.shop.records.machines import Machine
from generator.shop.records.people import Procedure
from generator.shop.records.room import Equipment
from generator.shop.records.stations import Station
from generator.workings.floor.lengths import metres
from generator.workings.settings import settings_of


def pages(desk: Desk) -> Iterator[Page]:
    """The list of stations, then a page for each."""
    yield _list(desk)
    for station in desk.shop.stations_by_number:
        yield _page(desk, station)


def _list(desk: Desk) -> Page:
    shop = desk.shop
    zones = [
        (zone, [s for s in shop.stations_by_number if s.zone == zone.id])
        for zone in shop.room.zones.values()
    ]
    path = "stations/index"
    body = render(
        "stations",
        path,
        shop=shop,
        sentence=_sentence(desk),
        zones=[(zone, stations) for zone, stations in zones if stations],
        machines=[m for s in shop.stations_by_number for m in shop.machines_at(s.id)],
        use_of=desk.use_of,
        sheet=SHEET_PATH,
        **desk.plans.on_page(path),
    )
    return Page(path, _("Stations"), "stations", "ST-00", body)


def _sentence(desk: Desk) -> str:
    stations = len(desk.shop.stations)
    hot = sum(any(m.is_hot for m in desk.shop.machines_at(s)) for s in desk.shop.stations)
    return ngettext(
        "{stations} station; {hot} of them heat plastic.",
        "{stations} stations; {hot} of them heat plastic.",
        stations,
    ).format(stations=stations, hot=hot)


def _page(desk: Desk, station: Station) -> Page:
    shop, path = desk.shop, path_of(station)
    machines = shop.machines_at(station.id)
    main, others = _procedures(desk, station)
    findings = desk.findings_on(*desk.subjects_at(station))
    isolators = shop.cut_offs(station.id)
    body = render(
        "station",
        path,
        shop=shop,
        station=station,
        use=station.use,
        machines=machines,
        powered=any(m.electric for m in machines),
        isolators=isolators,
        stop_lines={e.id: _stop_line(desk, machines, e) for e in isolators},
        locator=desk.plans.locator(station),
        card=f"{card_path(station.id)}.html",
        main_procedure=main,
        other_procedures=others,
        settings=settings_of(desk.shop, desk.refusals, *machines),
        help_rows=help_at(desk, station),
        worked=figures_at(desk, station),
        hazards=shop.hazards_at(station.id),
        findings=findings,
        counts=_counts(findings),
        grid=desk.plans.grid(station.at),
        size=f"{units.show_number(station.size[0])} × {units.show(station.size[1], 'mm')}",
        rates=_rates(machines),
        stage=shop.stage_of(station.id),
        out_of_use=[m for m in machines if desk.is_out_of_use(m)],
    )
    number = f"ST-{station.number:02d}"
    return Page(path, str(station.name), "station", number, body, station.origin)


def _stop_line(desk: Desk, machines: tuple[Machine, ...], thing: Equipment) -> str:
    """How far off a stop or an isolator is at the worst, and whether it is in sight."""
    views = [desk.studies.stopping.furthest(machine.id, thing.id) for machine in machines]
    view = max(filter(None, views), key=lambda v: (not v.in_sight, v.distance_mm), default=None)
    if view is None:
        return ""
    far = metres(view.distance_mm)
    says = _("{far} from where you stand") if view.in_sight else _("{far} away and out of sight")
    return says.format(far=far)


def _rates(machines: tuple[Machine, ...]) -> list[str]:
    return [
        _("{machine}, up to {rate}").format(
            machine=m.name, rate=units.show(m.capacity.throughput_kgh, "kgh")
        )
        for m in machines
        if m.capacity.throughput_kgh
    ]


def _procedures(desk: Desk, station: Station) -> tuple[Procedure | None, list[Procedure]]:
    main = desk.shop.main_procedure(station.id)
    return main, [p for p in desk.shop.procedures_at(station.id) if p is not main]


def _counts(findings: tuple[Finding, ...]) -> list[tuple[str, int]]:
    by_severity: dict[str, int] = {}
    for finding in findings:
        by_severity[finding.severity] = by_severity.get(finding.severity, 0) + 1
    return list(by_severity.items())
