"""This week: what limits it, where the material goes, the hours, the stock and the carrying."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from generator.drawings import bars, curves, stream
from generator.drawings.layers import Worked
from generator.ground.wording import _
from generator.ground.working import Working
from generator.handbook.desk import Desk
from generator.handbook.figure import figure
from generator.handbook.groups import Fold, Group
from generator.handbook.page import Page
from generator.handbook.subjects import Section, subject_page
from generator.handbook.tables import Cell, Column, Table
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.flow import PLACE_WORDS, FlowStudy, Leg, Level, Limit
from generator.workings.flow.mass import Place

WEEK = "material/week"
_CLEARLY = 1e-3
"""Kilograms a week below which a link is only rounding."""


def pages(desk: Desk) -> Iterator[Page]:
    """The page of the ordinary week."""
    yield _week(desk)


def _week(desk: Desk) -> Page:
    flow = desk.studies.material.flow
    return subject_page(
        WEEK,
        _("This week"),
        "ML-06",
        (flow.survey,),
        says=flow.says,
        sections=(
            _masses(desk.shop, flow), _hours(flow), _carrying(desk, flow), _stock(desk.shop, flow)
        ),
        tables=(_more(flow),),
        workings=_groups(desk.shop, flow.survey.workings),
    )  # fmt: skip


def _hours(flow: FlowStudy) -> Section:
    ranked = tuple(_bar(limit) for limit in flow.limits.ranked)
    charts = (bars.Chart(_("Hours a week wanted, against hours there are"), _("h"), ranked),)
    return Section(
        _("Hours, the tightest first"), charts=charts if ranked else (), tables=(_ranking(flow),)
    )


def _bar(limit: Limit) -> bars.Bar:
    shown = _("{want} of {have} h").format(want=f"{limit.want_h:.1f}", have=f"{limit.have_h:.1f}")
    return bars.Bar(limit.name, (limit.want_h,), shown, limit.have_h)


def _ranking(flow: FlowStudy) -> Table:
    rows = tuple(
        (
            Cell(limit.name),
            Cell(f"{limit.want_h:.1f}"),
            Cell(f"{limit.have_h:.1f}"),
            Cell(f"{limit.spare_h:.1f}".replace("-", "\u2212")),
        )
        for limit in flow.limits.ranked
    )
    columns = (
        Column(_("What")), Column(_("Wanted, h"), True), Column(_("There, h"), True),
        Column(_("Left over, h"), True),
    )  # fmt: skip
    return Table(columns, rows)


def _masses(shop: Shop, flow: FlowStudy) -> Section:
    summed: dict[tuple[Place, Place, str], float] = {}
    for link in flow.masses.links:
        way = (link.start, link.end, link.polymer)
        summed[way] = summed.get(way, 0.0) + link.kg
    columns = (
        Column(_("From")), Column(_("To")), Column(_("Material")), Column(_("kg a week"), True),
    )  # fmt: skip
    rows = tuple(_link(shop, way, kg) for way, kg in summed.items() if kg >= _CLEARLY)
    drawn = stream.stream(shop, flow)
    return Section(
        _("Where a week's material goes"),
        _upper_bounds(shop, flow),
        pictures=((stream.wide(drawn), stream.phone(drawn)),) if drawn else (),
        tables=(Table(columns, rows, fold=_("Every way in kg a week, by polymer")),),
    )


def _upper_bounds(shop: Shop, flow: FlowStudy) -> str:
    """What is drawn as if it lost nothing where nobody knows what it loses."""
    names = ", ".join(str(shop.polymers[p].name) for p in shop.polymers if p in flow.masses.at_most)
    if not names:
        return ""
    return _("{names}: at most so much, since not every loss is known.").format(names=names)


def _link(shop: Shop, way: tuple[Place, Place, str], kg: float) -> tuple[Cell, ...]:
    start, end, polymer = way
    what = str(shop.polymers[polymer].name) if polymer else _("Stirred in")
    return Cell(_(PLACE_WORDS[start])), Cell(_(PLACE_WORDS[end])), Cell(what), Cell(f"{kg:.2f}")


def _stock(shop: Shop, flow: FlowStudy) -> Section:
    plots = tuple(_plot(shop, level) for level in flow.stores)
    return Section(_("Stock over the weeks to come"), plots=plots)


def _plot(shop: Shop, level: Level) -> curves.Plot:
    name, last = str(shop.polymers[level.polymer].name), len(level.weeks) - 1
    says = _("{name}: {now} kg now, {then} kg after {weeks} weeks").format(
        name=name, now=f"{level.weeks[0]:.0f}", then=f"{level.weeks[-1]:.0f}", weeks=last
    )
    course = curves.Course(tuple((float(n), kg) for n, kg in enumerate(level.weeks)), name)
    limit = level.limit_kg
    most = () if limit is None else (curves.Level(limit, _("the shop's own limit")),)
    return curves.Plot(name, says, _("weeks"), _("kg"), (course,), most)


def _more(flow: FlowStudy) -> Section:
    columns = (
        Column(_("One more")), Column(_("More in products, kg"), True),
        Column(_("More flake, kg"), True),
    )  # fmt: skip
    rows = tuple(
        (Cell(more.says), Cell(f"{more.products_kg:.1f}"), Cell(f"{more.flake_kg:.1f}"))
        for more in flow.limits.more
    )
    return Section(_("What one more would change"), tables=(Table(columns, rows),))


def _carrying(desk: Desk, flow: FlowStudy) -> Section:
    lead = _("{kgm} kg·m a week, as far as it is known.").format(kgm=f"{flow.carried_kgm:.0f}")
    columns = (
        Column(_("From")), Column(_("To")), Column(_("What")), Column(_("Way, m"), True),
        Column(_("kg·m a week"), True),
    )  # fmt: skip
    legs = sorted(flow.legs, key=lambda leg: -(leg.kgm or 0.0))
    table = Table(columns, tuple(_leg(desk.shop, leg) for leg in legs))
    drawn = figure(desk, WEEK, Worked(flow=flow), ()) if legs else None
    return Section(_("Carrying"), lead, figure=drawn, tables=(table,))


def _leg(shop: Shop, leg: Leg) -> tuple[Cell, ...]:
    start, end = shop.stations[leg.start], shop.stations[leg.end]
    way = Cell(f"{leg.way_mm / 1000:.1f}", "" if leg.basis == "walked" else _("straight line"))
    kgm = _("not known") if leg.kgm is None else f"{leg.kgm:.{1 if leg.kgm < 1 else 0}f}"
    return _at(start), _at(end), Cell(leg.what), way, Cell(kgm)


def _at(station: Station) -> Cell:
    return Cell(str(station.name), record=station, number=station.number)


def _groups(shop: Shop, workings: Iterable[Working]) -> tuple[Group, ...]:
    """Every working in a fold of what it is about."""
    found: dict[str, list[Working]] = {}
    for working in workings:
        found.setdefault(_about(shop, working.subject), []).append(working)
    folds = tuple(Fold(name, tuple(rows), 0) for name, rows in found.items())
    return (Group(_("What it is about"), folds),) if folds else ()


def _about(shop: Shop, subject: str) -> str:
    noun, _slash, id_ = subject.rpartition("/")
    records: Mapping[str, object] = getattr(shop, noun, None) or {}
    record = records.get(id_) if isinstance(records, Mapping) else None
    return str(getattr(record, "name", "") or _("The week as a whole"))
