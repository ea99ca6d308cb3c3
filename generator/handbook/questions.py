"""Question sheets: one page for each outside person, holding only what is open for them."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from generator.drawings.stream import kg_words
from generator.ground import units
from generator.ground.finding import Finding, Severity
from generator.ground.wording import N_, _, ngettext
from generator.handbook.costs import price
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import day, render, where
from generator.handbook.words import word
from generator.shop.records.people import Contact
from generator.workings.waste import WASTE_WORDS

Figure = tuple[str, str, str]
"""A label, a value and where it was written."""

TITLES = {
    "electrician": N_("Questions for the electrician"),
    "fire": N_("Questions for the fire authority"),
    "ventilation": N_("Questions for the ventilation engineer"),
    "landlord": N_("Questions for the landlord"),
    "insurer": N_("Questions for the insurer"),
    "water": N_("Questions for the water company"),
    "waste": N_("Questions for the waste authority"),
    "maintainer": N_("Questions for the machine fitter"),
    "school": N_("Questions for the school"),
    "first-aid": N_("Questions for the first-aid trainer"),
}
"""Whom a finding may ask, and what their sheet is called."""

_ALWAYS = ("electrician", "fire", "ventilation", "landlord")


def pages(desk: Desk) -> Iterator[Page]:
    """The list of question sheets, then the sheets: the four always, others where asked."""
    open_for = {key: _open(desk, key) for key in TITLES}
    keys = [key for key in TITLES if open_for[key] or key in _ALWAYS]
    yield _list(desk, {key: open_for[key] for key in keys})
    for number, key in enumerate(keys, 1):
        yield _sheet(desk, key, open_for[key], number)


def _open(desk: Desk, key: str) -> list[Finding]:
    return [f for f in desk.findings if f.severity is Severity.ASK and f.asks == key]


def path_of(key: str) -> str:
    """Path of a person's sheet."""
    return f"questions/{key}"


def _count(findings: list[Finding]) -> str:
    return ngettext("{n} question open", "{n} questions open", len(findings)).format(
        n=len(findings)
    )


def _list(desk: Desk, open_for: dict[str, list[Finding]]) -> Page:
    path = "questions/index"
    total = sum(len(rows) for rows in open_for.values())
    rows = [
        {"title": _(TITLES[key]), "small": _count(found), "address": f"{path_of(key)}.html"}
        for key, found in open_for.items()
    ]
    sentence = ngettext(
        "{n} question that only a licensed or competent person can answer.",
        "{n} questions that only a licensed or competent person can answer.",
        total,
    ).format(n=total)
    body = render("question-list", path, rows=rows, sentence=sentence, as_of=desk.as_of)
    return Page(path, _("Question sheets"), "questions", "QU-00", body)


def _sheet(desk: Desk, key: str, findings: list[Finding], number: int) -> Page:
    path = path_of(key)
    body = render(
        "questions",
        path,
        title=_(TITLES[key]),
        sentence=_("{shop}, as of {day}: {count}.").format(
            shop=desk.shop.shop.name, day=day(desk.as_of), count=_count(findings)
        ),
        contact=_contact(desk, key),
        findings=findings,
        figures=list(_FIGURES[key](desk)) if key in _FIGURES else [],
    )
    return Page(path, _(TITLES[key]), "question-sheet", f"QU-{number:02d}", body)


def _contact(desk: Desk, key: str) -> Contact | None:
    return next((c for c in desk.shop.contacts.values() if key in c.answers), None)


def _electrician(desk: Desk) -> Iterator[Figure]:
    room = desk.shop.room
    supply = room.supply
    fuse = units.show(supply.main_fuse_a, "a")
    yield _("Supply and main fuse"), f"{supply.profile}, {fuse}", where(supply.origin)
    yield _("Earthing"), supply.earthing, where(supply.origin_of("earthing"))
    for circuit in room.circuits.values():
        device = units.show(circuit.device_a, "a")
        cable = units.show(circuit.section_mm2, "mm2")
        length = units.show(circuit.cable_m, "m")
        value = f"{device} {circuit.device_kind}, {'+'.join(circuit.phases)}, {cable}, {length}"
        yield str(circuit.name), value, where(circuit.origin)


def _fire(desk: Desk) -> Iterator[Figure]:
    shop = desk.shop
    most = str(shop.shop.most_people)
    yield _("People at most"), most, where(shop.shop.origin_of("most_people"))
    for door in shop.room.doors.values():
        width = units.show(door.clear_width_mm, "mm")
        way = _("way out") if door.exit else _("not a way out")
        yield (
            str(door.name),
            _("{width} clear, opens {way_it_opens}, {way}").format(
                width=width, way_it_opens=word(door.opens), way=way
            ),
            where(door.origin),
        )
    for thing in shop.equipment_of_kind("extinguisher", "alarm-point", "fire-blanket"):
        place = _("at {grid}").format(grid=desk.plans.grid(thing.at))
        rating = f"{thing.rating}, {place}" if thing.rating else place
        yield str(thing.name), rating, where(thing.origin)


def _ventilation(desk: Desk) -> Iterator[Figure]:
    room = desk.shop.room
    yield _("Height of the ceiling"), units.show(room.ceiling_mm, "mm"), where(room.origin)
    for hood in room.hoods.values():
        flow = _flow(hood.flow_m3h)
        opening = f"{units.show_number(hood.opening[0])} × {units.show(hood.opening[1], 'mm')}"
        yield str(hood.name), f"{word(hood.form)}, {opening}, {flow}", where(hood.origin)
    for fan in room.fans.values():
        yield str(fan.name), f"{word(fan.discharge)}, {_flow(fan.flow_m3h)}", where(fan.origin)


def _flow(flow_m3h: float | None) -> str:
    return _("not measured") if flow_m3h is None else units.show(flow_m3h, "m3h")


def _landlord(desk: Desk) -> Iterator[Figure]:
    room = desk.shop.room
    load = _("not recorded") if room.floor_kpa is None else units.show(room.floor_kpa, "kpa")
    yield _("What the floor may carry"), load, where(room.origin_of("floor_kpa"))
    yield (
        _("People at most"),
        str(desk.shop.shop.most_people),
        where(desk.shop.shop.origin_of("most_people")),
    )


def _insurer(desk: Desk) -> Iterator[Figure]:
    shop, found = desk.shop, desk.studies.material.costs
    yield _("People at most"), str(shop.shop.most_people), where(shop.shop.origin_of("most_people"))
    for cost in found.stages:
        name = str(cost.stage.name) if cost.stage else _("Belongs to no stage")
        value = _("{machines} of machines, {kit} of moulds, tools and containers").format(
            machines=price(shop, cost.total), kit=price(shop, cost.kit_total)
        )
        yield name, value, where(cost.stage.origin if cost.stage else shop.shop.origin)
    for machine in shop.machines.values():
        if hottest := max((s.surface_c for s in machine.hot_surfaces), default=0.0):
            yield str(machine.name), units.show(hottest, "c", 0), where(machine.origin)
    for load in desk.studies.bearing.fire:
        density = _("{n} MJ/m²").format(n=units.show_number(load.density_mjm2, 0))
        title = _("Fire load {case}").format(case=load.title)
        yield title, density, _("worked out")
    yield from _sold(desk)


def _sold(desk: Desk) -> Iterator[Figure]:
    for product in desk.shop.products.values():
        if product.per_week and product.price:
            words = _("{n} a week, {for_} Not for: {not_for}.").format(
                n=product.per_week, for_=str(product.made_for).rstrip(".") + ".",
                not_for=", ".join(str(use) for use in product.not_for),
            )  # fmt: skip
            yield str(product.name), words, where(product.origin)


_WATER = {"tap": N_("tap"), "drain": N_("drain"), "tap and drain": N_("tap and drain")}


def _water(desk: Desk) -> Iterator[Figure]:
    found, shop = desk.studies.material.waste.water, desk.shop
    for point in shop.room.water.values():
        drawn = point.use_per_week_l
        used = _("not measured") if drawn is None else units.show(drawn, "l", 0)
        mesh = point.catch_screen_mm
        screen = _("screen not written") if mesh is None else units.show(mesh, "mm", 2)
        name = f"{_(_WATER[point.kind])}, {desk.plans.place(point.at)}"
        yield name, f"{used}, {screen}", where(point.origin)
    yield _("Washed in a week"), kg_words(found.washed_kg), _("worked out")
    yield _("Washed off in a week"), kg_words(found.washed_off_kg), _("worked out")
    for used_up in shop.consumables.values():
        if used_up.kind == "cleaning" and used_up.use_per_week:
            amount = f"{units.show_number(used_up.use_per_week, 2)} {used_up.unit}"
            yield (
                str(used_up.name),
                _("{amount} a week").format(amount=amount),
                where(used_up.origin),
            )


def _waste(desk: Desk) -> Iterator[Figure]:
    shop = desk.shop
    for stream in desk.studies.material.waste.streams:
        if stream.way != "refuse":
            continue
        kg = _("not known") if stream.kg is None else kg_words(stream.kg)
        of = ", ".join(shop.polymers[p].code for p in stream.by_polymer)
        yield _(WASTE_WORDS[stream.key]), f"{kg}, {of}" if of else kg, _("worked out")
    for box in shop.containers.values():
        if {"purgings", "refuse"} & set(box.keeps):
            size = units.show(box.volume_l, "l", 0)
            yield str(box.name), f"{size}, {word(box.material)}", where(box.origin)


_FIGURES: dict[str, Callable[[Desk], Iterator[Figure]]] = {
    "electrician": _electrician,
    "fire": _fire,
    "ventilation": _ventilation,
    "landlord": _landlord,
    "insurer": _insurer,
    "water": _water,
    "waste": _waste,
}
