"""Does the air carry the fumes, and is there enough of it? Hoods, curves and what is counted."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings.curves import Course, Level, Plot
from generator.drawings.layers import Worked
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.handbook.desk import Desk
from generator.handbook.figure import figure
from generator.handbook.groups import grouped
from generator.handbook.page import Page
from generator.handbook.subjects import Section, subject_page, worst_first
from generator.handbook.tables import Cell, Column, Table, verdict_cell
from generator.reference import reference
from generator.shop.shop import Shop
from generator.workings.air import AirStudy, Crowd, Dilution, HoodAir, RoomAir, WhatIf

_PATH = "room/air"
_CLEARED_PERCENT = 10.0


def page(desk: Desk) -> Page:
    """Air."""
    air = desk.studies.air
    findings = worst_first(air.survey.findings)
    return subject_page(
        _PATH,
        _("Air"),
        "RO-03",
        (air.survey,),
        says=_says(desk.shop, air),
        figure=figure(desk, _PATH, Worked(air=air), findings),
        sections=charts(desk),
        tables=[_hoods(desk.shop, air)] if air.hoods.hoods else [],
        workings=grouped(desk.shop, air.survey.workings),
    )


def _says(shop: Shop, air: AirStudy) -> str:
    """How many hoods draw what they must, in a sentence."""
    hoods = air.hoods.hoods
    without = sum(f.rule == "air.no-hood" for f in air.survey.findings)
    if not hoods:
        return ""
    enough = sum(hood.verdict == "holds" for hood in hoods)
    says = ngettext(
        "{n} hood of {all} draws what it must, as measured",
        "{n} hoods of {all} draw what they must, as measured",
        enough,
    ).format(n=enough, all=len(hoods))
    if without:
        more = ngettext("{n} hot machine has none", "{n} hot machines have none", without).format(
            n=without
        )
        says = f"{says}; {more}"
    counted = show(air.room.counted_m3h, "m3h", 0)
    return _("{says}. {counted} of outdoor air counts, for {people} people at most.").format(
        says=says, counted=counted, people=shop.shop.most_people
    )


def charts(desk: Desk) -> list[Section]:
    """How the room clears and fills, and carbon dioxide over each session."""
    sections = (_clearing(desk.shop, desk.studies.air), _carbon_dioxide(desk.studies.air))
    return [section for section in sections if section.plots]


# --- curves --------------------------------------------------------------------------------------


def _clearing(shop: Shop, air: AirStudy) -> Section:
    plots = [*_purge(air.room), *_what_if(air.fume.what_if)]
    plots += [_build_up(shop, dilution) for dilution in air.fume.dilutions]
    return Section(
        _("Build-up and clearing"),
        _("By the flows that were measured. No curve says that fume is caught."),
        plots=tuple(plots),
    )


def _purge(room: RoomAir) -> Iterator[Plot]:
    if room.purge:
        yield Plot(
            _("How the room clears once nothing more comes off"),
            "; ".join(_ends(curve.label, curve.points) for curve in room.purge),
            _("minutes"),
            _("left in the air, %"),
            tuple(Course(curve.points, curve.label) for curve in room.purge),
            (Level(_CLEARED_PERCENT, _("a tenth is left")),),
            most_y=100.0,
        )


def _ends(label: str, points: tuple[tuple[float, float], ...]) -> str:
    minutes, value = points[-1]
    return _("{label}: {value} after {minutes} min").format(
        label=label, value=f"{value:.3g}", minutes=f"{minutes:.0f}"
    )


def _what_if(what: WhatIf | None) -> Iterator[Plot]:
    if what:
        yield Plot(
            _("What if: by published ranges, no figure of this shop"),
            "; ".join(_ends(curve.label, curve.points) for curve in (what.high, what.low)),
            _("minutes"),
            _("in the air, {unit}").format(unit=what.high.unit),
            tuple(Course(curve.points, curve.label) for curve in (what.high, what.low)),
        )


def _build_up(shop: Shop, dilution: Dilution) -> Plot:
    curve, aim = dilution.build_up, dilution.aim_mgm3
    levels = (Level(aim, _("aim")),) if aim is not None else ()
    return Plot(
        _("{machine}: {what}").format(
            machine=shop.machines[dilution.machine].name, what=curve.label
        ),
        _ends(curve.label, curve.points),
        _("minutes"),
        _("in the air, {unit}").format(unit=curve.unit),
        (Course(curve.points, curve.label),),
        levels,
    )


def _carbon_dioxide(air: AirStudy) -> Section:
    crowds = air.people.crowds
    reach = max((y for c in crowds for _x, y in c.fans_off.points), default=0.0)
    return Section(
        _("Carbon dioxide, session by session"),
        _("It tells how much outdoor air people have; it never proves that fume is caught."),
        plots=tuple(_crowd(crowd, reach) for crowd in crowds),
    )


def _crowd(crowd: Crowd, reach: float) -> Plot:
    outdoors = reference().limit("carbon-dioxide-outdoor").low
    people = ngettext("{n} person", "{n} people", crowd.people).format(n=crowd.people)
    with_fans = _("with the fans on, as measured")
    pairs = ((with_fans, crowd.carbon_dioxide), (crowd.fans_off.label, crowd.fans_off))
    return Plot(
        _("{name}: {people}").format(name=crowd.name, people=people),
        "; ".join(_ends(words, curve.points) for words, curve in pairs),
        _("minutes"),
        _("carbon dioxide, ppm"),
        tuple(Course(curve.points, _to_end(words, curve.points[-1][1])) for words, curve in pairs),
        (Level(outdoors, _("outdoors: {ppm}").format(ppm=show(outdoors, "ppm", 0))),),
        most_y=reach,
    )


def _to_end(words: str, value: float) -> str:
    return _("{words}: {value} at the end").format(words=words, value=show(value, "ppm", 0))


# --- hoods ---------------------------------------------------------------------------------------


def _hoods(shop: Shop, air: AirStudy) -> Section:
    columns = (
        Column(_("Hood")),
        Column(_("Form")),
        Column(_("Must draw"), figures=True),
        Column(_("Draws"), figures=True),
        Column(_("In its duct"), figures=True),
        Column(_("Verdict")),
    )
    rows = tuple(tuple(_hood_row(shop, hood)) for hood in air.hoods.hoods)
    return Section(_("Hoods"), tables=(Table(columns, rows),))


def _forms() -> dict[str, str]:
    return {"plain": _("plain"), "flanged": _("flanged"), "canopy": _("canopy")}


def _hood_row(shop: Shop, air: HoodAir) -> Iterator[Cell]:
    hood, station = air.hood, shop.stations[air.station]
    yield Cell(str(hood.name), record=station, number=station.number)
    width, depth = hood.opening
    yield Cell(
        _forms()[hood.form],
        small=_("{width} × {depth}, {away} off").format(
            width=f"{width:.0f}", depth=show(depth, "mm", 0), away=show(hood.distance_mm, "mm", 0)
        ),
    )
    yield Cell(show(air.need_m3h, "m3h", 0), working=f"air.hood.{hood.id}.flow")
    yield _draws(air)
    duct = air.branch
    known = duct.velocity_ms is not None and duct.basis != "needed"
    yield Cell(
        show(duct.velocity_ms, "ms", 1) if known and duct.velocity_ms is not None else "",
        small=_("settles: too slow") if duct.too_slow else "",
    )
    yield verdict_cell(air.verdict)


def _draws(air: HoodAir) -> Cell:
    if not air.outside:
        return Cell(_("gives it back"), small=_("counts as nothing"))
    if air.has_m3h is not None:
        how = _("measured") if air.measured else _("written, not measured")
        return Cell(show(air.has_m3h, "m3h", 0), small=how)
    if air.left_m3h is not None:
        return Cell(show(air.left_m3h, "m3h", 0), small=_("at most: what the fan leaves it"))
    return Cell(_("not recorded"))
