"""Storage: how many of which container, how many labels, what they weigh, and where they stand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from generator.drawings.bars import Bar, Chart
from generator.drawings.words import word
from generator.ground.units import show, show_number
from generator.ground.wording import N_, _, ngettext
from generator.handbook.desk import Desk
from generator.handbook.groups import grouped
from generator.handbook.page import Page
from generator.handbook.render import day
from generator.handbook.subjects import Section, subject_page
from generator.handbook.tables import Cell, Column, Table
from generator.shop.shop import Shop
from generator.workings.labelling import Tag
from generator.workings.storage import KindNeed, Need, ShelfUse, StorageStudy, Weight
from generator.workings.storage.told import lot_name

STORAGE = "material/storage"


def pages(desk: Desk) -> Iterator[Page]:
    """The page of storage."""
    yield _page(desk)


def _page(desk: Desk) -> Page:
    found, shop = desk.studies.material.storage, desk.shop
    return subject_page(
        STORAGE,
        _("Storage and labels"),
        "ML-07",
        (found.survey,),
        says=says(desk),
        sections=(_kinds(found), _lots(shop, found), _weights(shop, found)),
        tables=tuple(_places(desk, found)),
        workings=grouped(shop, found.survey.workings),
    )


def says(desk: Desk) -> str:
    """How many labels to print, what is short, and what the door is shut to."""
    found = desk.studies.material.storage
    told = [*(pause.says for pause in found.pauses), _labels(desk.studies.labels)]
    short = [_short(kind) for kind in found.kinds if kind.after_a_week > kind.container.owned]
    if short:
        told.append(_("Too few containers by the end of it: {list}.").format(list=", ".join(short)))
    else:
        told.append(_("There are containers enough for what stands here and what a week brings."))
    return " ".join(told)


def _labels(tags: tuple[Tag, ...]) -> str:
    """How many there are of each condition, as the print room sets them."""
    counts = Counter[str]()
    for tag in tags:
        counts[tag.condition] += tag.count
    total = counts.total()
    says = ngettext("Print {n} label for the week: {list}.",
                    "Print {n} labels for the week: {list}.", total)  # fmt: skip
    return says.format(n=total, list=", ".join(f"{n} {word(c)}" for c, n in counts.items()))


def _short(kind: KindNeed) -> str:
    missing = kind.after_a_week - kind.container.owned
    return _("{n} of {container}").format(n=missing, container=kind.container.name)


# --- kind by kind ------------------------------------------------------------------------------


def _kinds(found: StorageStudy) -> Section:
    lead = _("The dark part stands here now, the pale part comes in a week, the stroke is owned.")
    chart = Chart(
        _("Containers by the end of a week, against those owned"), "",
        tuple(map(_kind_bar, _tightest(found.kinds))),
    )  # fmt: skip
    columns = (
        Column(_("Container")), Column(_("Filled in a week"), True), Column(_("Stand here"), True),
        Column(_("After a week"), True), Column(_("At the limits"), True), Column(_("Owned"), True),
        Column(_("To get"), True),
    )  # fmt: skip
    rows = (*map(_kind_row, found.kinds), _all(found))
    return Section(
        _("How many, and how many labels"), lead, charts=(chart,) if found.kinds else (),
        tables=(Table(columns, rows),) if found.kinds else (),
    )  # fmt: skip


_DRAWN = 20
"""So many kinds are drawn: more bars than this are a table."""


def _tightest(kinds: tuple[KindNeed, ...]) -> list[KindNeed]:
    """Those that are short or nearest to it, in the order in which they are written."""
    ranked = sorted(kinds, key=lambda kind: kind.container.owned - kind.after_a_week)
    kept = {kind.container.id for kind in ranked[:_DRAWN]}
    return [kind for kind in kinds if kind.container.id in kept]


def _kind_bar(kind: KindNeed) -> Bar:
    owned = kind.container.owned
    shown = _("{n} of {owned}").format(n=kind.after_a_week, owned=owned)
    parts = (float(kind.now), float(kind.after_a_week - kind.now))
    return Bar(str(kind.container.name), parts, shown, float(owned))


def _kind_row(kind: KindNeed) -> tuple[Cell, ...]:
    box, missing = kind.container, kind.after_a_week - kind.container.owned
    return (
        Cell(str(box.name), record=box), Cell(str(kind.labels), style="strong"),
        Cell(str(kind.now), working=f"storage.containers.{box.id}"),
        Cell(str(kind.after_a_week)), Cell(str(kind.at_limit)), Cell(str(box.owned)),
        Cell(str(missing), style="sev fix") if missing > 0 else Cell(_("none")),
    )  # fmt: skip


def _all(found: StorageStudy) -> tuple[Cell, ...]:
    """All labels of a week together."""
    small = _("{n} for all that stands here now").format(n=found.labels_standing)
    return (
        Cell(_("All together"), style="strong"), Cell(str(found.labels), small, style="strong"),
        *(Cell("") for _column in range(5)),
    )  # fmt: skip


# --- lot by lot --------------------------------------------------------------------------------


def _lots(shop: Shop, found: StorageStudy) -> Section:
    before = [need for need in found.lots if need.condition != "flake"]
    after = [need for need in found.lots if need.condition == "flake"]
    tables = [
        _lot_table(shop, rows, title)
        for rows, title in ((before, _("Before granulating")), (after, _("As flake")))
        if rows
    ]
    lead = _("One container holds one polymer in one colour; each has its own label.")
    return Section(_("By polymer and colour"), lead, tables=tuple(tables))


def _lot_table(shop: Shop, needs: Iterable[Need], title: str) -> Table:
    columns = (
        Column(_("What")), Column(_("In")), Column(_("Labels a week"), True),
        Column(_("Stand here"), True), Column(_("After a week"), True), Column(_("Holds"), True),
        Column(_("Here now"), True), Column(_("A week brings"), True),
    )  # fmt: skip
    return Table(columns, tuple(tuple(_lot_row(shop, need)) for need in needs), title)


def _lot_row(shop: Shop, need: Need) -> Iterator[Cell]:
    key = ".".join(part for part in (need.polymer, need.colour, need.condition) if part)
    yield Cell(lot_name(shop, need), record=shop.polymers[need.polymer])
    if need.fill is None:
        yield Cell(_("not known"), _("nobody has written how dense it lies"))
        yield from (Cell("–") for _count in range(4))
    else:
        yield Cell(str(need.fill.container.name), record=need.fill.container)
        yield Cell(str(need.labels), style="strong")
        yield Cell(str(need.now), working=f"storage.lot.{key}")
        yield Cell(str(need.after_a_week))
        bound = _BOUND_WORDS.get(need.fill.bound, "")
        yield Cell(_kg(need.fill.content_kg), _(bound) if bound else "")
    yield Cell(_kg(need.now_kg))
    yield Cell(_kg(need.week_kg))


def _kg(mass_kg: float) -> str:
    return f"{mass_kg:.1f}\u202fkg"


_BOUND_WORDS = {"rating": N_("its rating"), "lift": N_("what one lifts")}
"""What bounds a filling, where it is not the container's own volume."""


# --- weight ------------------------------------------------------------------------------------


def _weights(shop: Shop, found: StorageStudy) -> Section:
    weights = sorted(found.weights, key=lambda w: w.lift.kg - w.full_kg)[:_DRAWN]
    lead = _("Empty and filled, by the heaviest that goes in; the stroke is what one person lifts.")
    bars = tuple(_weight_bar(shop, weight) for weight in weights)
    chart = Chart(_("Weight when full, against what one person lifts"), _("kg"), bars)
    return Section(_("Weight when full"), lead, charts=(chart,) if bars else ())


def _weight_bar(shop: Shop, weight: Weight) -> Bar:
    empty = weight.container.empty_kg
    shown = _("{full} of {lift} kg").format(
        full=f"{weight.full_kg:.1f}", lift=f"{weight.lift.kg:.1f}"
    )
    note = ""
    if weight.of:
        note = _("filled with {polymer}").format(polymer=shop.polymers[weight.of].name)
    parts = (empty, weight.full_kg - empty)
    return Bar(str(weight.container.name), parts, shown, weight.lift.kg, note=note)


# --- places ------------------------------------------------------------------------------------


def _places(desk: Desk, found: StorageStudy) -> Iterator[Section]:
    """Shelves, the floor, what burns, and quarantine, each where there is any."""
    shop = desk.shop
    if found.shelves:
        yield _shelves(shop, found)
    if found.floor:
        yield _floor(found)
    if desk.studies.bearing.fire:
        yield _fire(desk)
    if found.quarantine.boxes:
        yield _quarantine(found)


def _shelves(shop: Shop, found: StorageStudy) -> Section:
    used = [use for use in found.shelves if use.need_mm["week"]]
    chart = Chart(
        _("Shelf length taken by the end of a week, against what there is"), _("m"),
        tuple(_shelf_bar(shop, use) for use in used),
    )  # fmt: skip
    columns = (
        Column(_("Shelves at")), Column(_("Taken now, m"), True),
        Column(_("After a week, m"), True),
        Column(_("There are, m"), True), Column(_("Room for")),
    )  # fmt: skip
    rows = tuple(_shelf_row(shop, use) for use in found.shelves)
    return Section(
        _("Shelves"), charts=(chart,) if used else (), tables=(Table(columns, rows),)
    )  # fmt: skip


def _metres(length_mm: float) -> str:
    return f"{length_mm / 1000:.1f}"


def _shelf_bar(shop: Shop, use: ShelfUse) -> Bar:
    now, week, have = use.need_mm["now"], use.need_mm["week"], use.have_mm
    shown = _("{week} of {have} m").format(week=_metres(week), have=_metres(have))
    name = str(shop.stations[use.station].name)
    return Bar(name, (now / 1000, (week - now) / 1000), shown, have / 1000)


def _shelf_row(shop: Shop, use: ShelfUse) -> tuple[Cell, ...]:
    station = shop.stations[use.station]
    left = ", ".join(
        _("{n} more of {container}").format(n=n, container=shop.containers[kind].name)
        for kind, n in use.left.items()
        if n
    )
    return (
        Cell(str(station.name), record=station, number=station.number),
        Cell(_metres(use.need_mm["now"]), working=f"storage.shelf.{use.station}.{use.number + 1}"),
        Cell(_metres(use.need_mm["week"])), Cell(_metres(use.have_mm)),
        Cell(left or _("nothing more"), style="" if left else "sev fix"),
    )  # fmt: skip


def _floor(found: StorageStudy) -> Section:
    now, week = (sum(areas) for areas in zip(*((u.area_m2, u.week_m2) for u in found.floor),
                                             strict=True))  # fmt: skip
    lead = _("{now} m² now and {week} m² after a week, for what finds no shelf. No station stands "
             "on {free} m² of the room, aisles and working sides among them.")  # fmt: skip
    columns = (
        Column(_("Container")), Column(_("On the floor now"), True), Column(_("Stacked"), True),
        Column(_("Now, m²"), True), Column(_("After a week, m²"), True),
    )  # fmt: skip
    rows = tuple(
        (
            Cell(str(use.container.name), record=use.container), Cell(str(use.count)),
            Cell(str(use.high)), Cell(f"{use.area_m2:.1f}"), Cell(f"{use.week_m2:.1f}"),
        )
        for use in found.floor
    )  # fmt: skip
    told = lead.format(now=f"{now:.1f}", week=f"{week:.1f}", free=f"{found.free_floor_m2:.0f}")
    return Section(_("Floor"), told, tables=(Table(columns, rows),))


def _fire(desk: Desk) -> Section:
    columns = (Column(_("When")), Column(_("Fire load of the room, MJ/m²"), True))
    rows = tuple(
        (
            Cell(load.title[:1].upper() + load.title[1:]),
            Cell(show_number(load.density_mjm2, 0), working=f"bearing.fire.{load.key}"),
        )
        for load in desk.studies.bearing.fire
    )
    lead = _("What there is to burn, all stores together; the fire authority answers for it.")
    return Section(_("Fire load"), lead, tables=(Table(columns, rows),))


def _quarantine(found: StorageStudy) -> Section:
    kept = found.quarantine
    lead = _("{taken} of {places} places taken; nothing stays longer than {days}.").format(
        taken=len(kept.waiting), places=kept.places, days=show(kept.longest_d, "d")
    )
    columns = (
        Column(_("Label")), Column(_("Since")), Column(_("Days so far"), True),
        Column(_("Told apart or gone by")),
    )  # fmt: skip
    rows = tuple(
        (
            Cell(w.batch.batch), Cell(day(w.batch.date)), Cell(str(w.days)),
            Cell(day(w.leave_by), style="sev fix" if w.overdue else ""),
        )
        for w in kept.waiting
    )  # fmt: skip
    return Section(_("Quarantine"), lead, tables=(Table(columns, rows),) if rows else ())
