"""Material: its list, and a page for every polymer, container, mould and blend."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from generator.ground import units
from generator.ground.wording import N_, _, ngettext
from generator.handbook import making, photos, swatches
from generator.handbook.desk import Desk
from generator.handbook.links import path_of
from generator.handbook.page import Page
from generator.handbook.portions import portions
from generator.handbook.render import render, where
from generator.handbook.words import word
from generator.reference import BOUND_WORDS, STATUS_WORDS, Value, reference
from generator.reference.records import Polymer as KnownPolymer
from generator.shop.records.material import Blend, Container, Mould, Polymer
from generator.workings import intake, loans
from generator.workings.heat import material_of
from generator.workings.moulding import in_hours
from generator.workings.settings import Table, settings_of
from generator.workings.storage import StorageStudy


def pages(desk: Desk) -> Iterator[Page]:
    """The list of material, then a page for each polymer, container, mould and blend."""
    shop = desk.shop
    yield _list(desk)
    for number, polymer in enumerate(shop.polymers.values(), 1):
        yield _polymer(desk, polymer, number)
    for number, container in enumerate(shop.containers.values(), 1):
        yield _container(desk, container, number)
    for number, mould in enumerate(shop.moulds.values(), 1):
        yield _mould(desk, mould, number)
    for number, blend in enumerate(shop.blends.values(), 1):
        yield _blend(desk, blend, number)


# --- the list ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Taken:
    """A line of what is taken at the door."""

    polymer: Polymer
    examples: str
    word: str
    why: str
    refused: bool


_ORDER = ("taken", "paused", "refused")


def taken_rows(desk: Desk) -> list[Taken]:
    """What is taken now, what is paused and what is refused, in that order."""
    rows = [_taken(desk, polymer) for polymer in desk.shop.polymers.values()]
    return sorted(rows, key=lambda row: _ORDER.index(_status(desk, row.polymer)))


def _status(desk: Desk, polymer: Polymer) -> str:
    return desk.studies.bringing.answer(polymer)


def _taken(desk: Desk, polymer: Polymer) -> Taken:
    status = _status(desk, polymer)
    return Taken(
        polymer=polymer,
        examples=", ".join(str(example) for example in polymer.examples[:3]),
        word=word(status),
        why=_why_now(desk, polymer, status),
        refused=status == "refused",
    )


def _why_now(desk: Desk, polymer: Polymer, status: str) -> str:
    if status == "paused":
        return desk.studies.bringing.why_paused(polymer)
    if status != "taken":
        return str(polymer.why or _("ask at the bench"))
    return desk.studies.bringing.room(polymer)


def _list(desk: Desk) -> Page:
    shop, path = desk.shop, "material/index"
    body = render(
        "material",
        path,
        shop=shop,
        sentence=_sentence(desk),
        taken=taken_rows(desk),
        containers=list(shop.containers.values()),
        blends=[(blend, _blend_line(desk, blend)) for blend in shop.blends.values()],
        moulds=list(shop.moulds.values()),
        products=list(shop.products.values()),
        donors=[_donor(desk, donor.id) for donor in shop.donors.values()],
    )
    return Page(path, _("Material"), "material", "ML-00", body)


def _sentence(desk: Desk) -> str:
    rows = taken_rows(desk)
    taken = [str(row.polymer.name) for row in rows if _status(desk, row.polymer) == "taken"]
    refused = [str(row.polymer.name) for row in rows if row.refused]
    return _("Taken now: {taken}. Refused, always: {refused}.").format(
        taken=", ".join(taken) or _("nothing"), refused=", ".join(refused) or _("nothing")
    )


def _donor(desk: Desk, id_: str) -> dict[str, object]:
    donor = desk.shop.donors[id_]
    brings = [f"{desk.shop.polymers[b.polymer].name} ({word(b.dirt)})" for b in donor.brings]
    return {
        "name": donor.name,
        "what": ", ".join(brings),
        "kg": sum(b.weekly_kg for b in donor.brings),
    }


def _blend_line(desk: Desk, blend: Blend) -> str:
    if desk.refusals.blend(blend):
        return _("Refused: do not make it")
    return ", ".join(
        f"{units.show(part.share_percent, 'percent')} {desk.shop.polymers[part.polymer].name}"
        for part in blend.parts
    )


# --- polymers ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Sourced:
    """A figure and where it comes from, in words."""

    label: str
    value: str
    source: str


def cited(value: Value) -> str:
    """The source of a reference figure with what kind of source that is."""
    return f"{_(value.cite)} ({_(STATUS_WORDS[value.status])})"


def _spread(value: Value, unit: str) -> str:
    if not value.is_range:
        return units.show(value.low, unit)
    return _("{low} to {high}").format(low=f"{value.low:g}", high=units.show(value.high, unit))


def _polymer(desk: Desk, polymer: Polymer, number: int) -> Page:
    shop, path = desk.shop, path_of(polymer)
    refused = desk.refusals.polymer(polymer.id)
    known = reference().find_polymer(polymer.code)
    stock = desk.stock.get(polymer.id, 0.0)
    body = render(
        "polymer",
        path,
        polymer=polymer,
        polymer_line=_polymer_line(polymer),
        refused=refused,
        stock_kg=stock,
        room_left=intake.room_for(polymer, stock).left_kg,
        window_rows=[] if refused else _windows(known),
        window_note=_window_note(known),
        machine_rows=list(_machine_rows(desk, polymer)),
        fume_words=_fumes(known),
        lots=desk.stock_by_lot.get(polymer.id, {}),
        store=shop.stations[polymer.store] if polymer.store else None,
        donors=[(d, b) for d in shop.donors.values() for b in d.brings if b.polymer == polymer.id],
        blends=[] if refused else _blends_with(desk, polymer),
        figures=[] if refused else list(_figures(polymer, known)),
        findings=desk.findings_on(f"polymers/{polymer.id}"),
    )
    return Page(path, str(polymer.name), "polymer", f"PO-{number:02d}", body, polymer.origin)


def _polymer_line(polymer: Polymer) -> str:
    material = material_of(polymer)
    known = reference().find_polymer(polymer.code)
    parts = [_(known.name)] if known else []
    parts.append(_("marked {code}").format(code=polymer.code))
    if polymer.recycling_code:
        parts.append(_("number {n} in the triangle").format(n=polymer.recycling_code))
    parts.extend(_("with {filler}").format(filler=_(f.name)) for f in material.fillers)
    return ", ".join(parts)


_PROCESSES = (
    ("injection", N_("Injection")),
    ("extrusion", N_("Extrusion")),
    ("press", N_("Press")),
)


def _windows(known: KnownPolymer | None) -> list[dict[str, str]]:
    if known is None:
        return []
    return [_window(known, process, title) for process, title in _PROCESSES]


def _window(known: KnownPolymer, process: str, title: str) -> dict[str, str]:
    window = reference().open_window(known.code, process)  # type: ignore[arg-type]
    if window.temperature is None:
        reason = _(window.reason) if window.reason else _("not run in an open machine")
        return {"title": _(title), "low": "–", "high": "–", "source": reason}
    return {
        "title": _(title),
        "low": units.show(window.temperature.low, "c"),
        "high": units.show(window.temperature.high, "c"),
        "source": cited(window.temperature),
    }


def _window_note(known: KnownPolymer | None) -> str:
    if known is None:
        return ""
    return _(
        "A small open machine is held to the extrusion and press windows; what closed industrial "
        "machines bear does not count here. A grade's own data sheet comes first."
    )


def _machine_rows(desk: Desk, polymer: Polymer) -> Iterator[dict[str, object]]:
    for machine in desk.shop.machines.values():
        for setting in machine.settings:
            if setting.polymer != polymer.id:
                continue
            refused, text = desk.refusals.setting(machine, setting), ""
            if not refused:
                text = _in_a_line(settings_of(desk.shop, desk.refusals, machine), polymer)
            if refused or text:
                origin = where(setting.origin)
                yield {"machine": machine, "refused": refused, "text": text, "origin": origin}


def _in_a_line(table: Table, polymer: Polymer) -> str:
    row = next(r for r in table.rows if r.polymer is polymer)
    return ", ".join(f"{c.title} {c.text}" for c in row.cells if c.text != "–")


def _fumes(known: KnownPolymer | None) -> str:
    return ", ".join(_(s) for fume in known.fumes for s in fume.species) if known else ""


def _blends_with(desk: Desk, polymer: Polymer) -> list[tuple[Blend, float]]:
    return [
        (blend, sum(p.share_percent for p in blend.parts if p.polymer == polymer.id))
        for blend in desk.shop.blends.values()
        if any(p.polymer == polymer.id for p in blend.parts)
    ]


_FIGURES = (
    ("density_kgm3", "density_solid", N_("Density, solid"), "kgm3"),
    ("flake_density_kgm3", "regrind_density", N_("Bulk density as flake"), "kgm3"),
    ("shrinkage_percent", "shrinkage", N_("Shrinkage"), "percent"),
    ("ejection_c", "ejection", N_("Cold enough to take out"), "c"),
    ("hot_hold_min", "longest_hot_hold", N_("Longest time hot"), "min"),
    ("", "mould", N_("Mould"), "c"),
    ("", "melting", N_("Melts"), "c"),
    ("", "max_moisture", N_("Water, at most"), "percent"),
)


def _figures(polymer: Polymer, known: KnownPolymer | None) -> Iterator[Sourced]:
    for own_field, known_field, label, unit in _FIGURES:
        own = getattr(polymer.own, own_field) if own_field else None
        table = getattr(known, known_field) if known else None
        if own is not None:
            source = _("the shop's own figure, {where}").format(
                where=where(polymer.own.origin_of(own_field))
            )
            yield Sourced(_(label), units.show(own, unit), source)
        elif table is not None:
            bound = _(BOUND_WORDS[table.bound]) + " " if table.bound else ""
            yield Sourced(_(label), bound + _spread(table, unit), cited(table))
    if known:
        yield from _drying(known)


def _drying(known: KnownPolymer) -> Iterator[Sourced]:
    for drying in known.drying:
        says = f"{_spread(drying.temperature, 'c')}, {_spread(drying.time, 'h')}"
        label = _("Drying, {form}").format(form=_(drying.form)) if drying.form else _("Drying")
        yield Sourced(label, says, cited(drying.temperature))


# --- containers --------------------------------------------------------------------------------

_FILL = 0.9
"""Nine tenths full: room for the lid and for levelling. An assumption of the storage figures."""


def _container(desk: Desk, container: Container, number: int) -> Page:
    path = path_of(container)
    body = render(
        "container",
        path,
        container=container,
        keeps=", ".join(word(k) for k in container.keeps),
        fills=_fills(desk, container) if "flake" in container.keeps else [],
        stations=_stations_with(desk, container.id),
        stock=_stock_in(desk, container.id),
        need=next((k for k in _storage(desk).kinds if k.container is container), None),
        outer=" × ".join(f"{length:g}" for length in container.outer) + "\u202fmm",
        findings=desk.findings_on(f"containers/{container.id}"),
    )
    title = str(container.name)
    return Page(path, title, "container", f"CO-{number:02d}", body, container.origin)


def _storage(desk: Desk) -> StorageStudy:
    return desk.studies.material.storage


def _fills(desk: Desk, container: Container) -> list[dict[str, object]]:
    return [
        row
        for polymer in desk.shop.polymers.values()
        if polymer.status == "taken" and not desk.refusals.polymer(polymer.id)
        for row in _fill(container, polymer)
    ]


def _fill(container: Container, polymer: Polymer) -> Iterator[dict[str, object]]:
    """The mass of flake in a container [kg]: volume × nine tenths × bulk density."""
    litres_m3 = container.volume_l / 1000 * _FILL
    own = polymer.own.flake_density_kgm3
    known = reference().find_polymer(polymer.code)
    if own is not None:
        text = units.show(round(litres_m3 * own, 1), "kg")
        source = where(polymer.own.origin_of("flake_density_kgm3"))
    elif known is not None:
        density = known.regrind_density
        low, high = (round(litres_m3 * d, 1) for d in (density.low, density.high))
        text = _("{low} to {high}").format(low=f"{low:g}", high=units.show(high, "kg"))
        source = cited(density)
    else:
        return
    yield {"polymer": polymer, "text": text, "source": source}


def _stations_with(desk: Desk, container: str) -> list[object]:
    return [
        s
        for s in desk.shop.stations_by_number
        if any(h.container == container for h in (*s.takes_in, *s.gives))
        or any(container in shelf.keeps for shelf in s.storage)
    ]


def _stock_in(desk: Desk, container: str) -> list[dict[str, object]]:
    return [
        {"what": _lot(desk, row.polymer, row.colour, row.form), "count": row.count, "kg": row.kg}
        for row in intake.latest_count(desk.shop)
        if row.container == container
    ]


def _lot(desk: Desk, polymer: str, colour: str, form: str) -> str:
    record = desk.shop.polymers[polymer]
    lot = record.colours.get(colour)
    parts = [str(record.name), str(lot.name) if lot else colour, word(form)]
    return ", ".join(part for part in parts if part)


# --- moulds and blends -------------------------------------------------------------------------


_LATEST_LOANS = 8
"""Times a mould was out that its page lists."""


def _mould(desk: Desk, mould: Mould, number: int) -> Page:
    shop, path = desk.shop, path_of(mould)
    body = render(
        "mould",
        path,
        shop=shop,
        mould=mould,
        products=[p for p in shop.products.values() if p.mould == mould.id],
        machines=[shop.machines[m] for m in mould.machines],
        home=shop.stations[mould.kept_at],
        makings=making.makings(desk, mould),
        book=[
            row
            for m in mould.machines
            for row in making.kept(desk, shop.machines[m])
            if row.mould is mould
        ],
        trial_anchor=making.trial_anchor,
        photo_of=partial(photos.shown, shop),
        in_hours=in_hours,
        shot_cm3=mould.cavities * mould.part_volume_cm3 + mould.sprue_cm3,
        outer=" × ".join(f"{length:g}" for length in mould.outer) + "\u202fmm",
        shots=loans.shots_by(shop, mould, desk.as_of),
        loans=loans.of_mould(shop, mould.id, desk.as_of)[:_LATEST_LOANS],
        out={o.loan: o for o in desk.studies.running.loans.out},
        where_of=partial(loans.where, shop),
        findings=desk.findings_on(
            f"moulds/{mould.id}",
            *(f"products/{p.id}" for p in shop.products.values() if p.mould == mould.id),
        ),
    )
    return Page(path, str(mould.name), "mould", f"MO-{number:02d}", body, mould.origin)


def _blend(desk: Desk, blend: Blend, number: int) -> Page:
    shop, path = desk.shop, path_of(blend)
    body = render(
        "blend",
        path,
        shop=shop,
        blend=blend,
        refused=desk.refusals.blend(blend),
        mix_sentence=_mix_sentence(blend),
        rows=_recipe(desk, blend),
        portions=portions(desk, blend),
        look=swatches.look(desk, blend),
        machines=[shop.machines[m] for m in blend.machines],
        products=[p for p in shop.products.values() if blend.id in p.blends],
        trials=[t for t in shop.logs.trials if t.blend == blend.id],
        findings=desk.findings_on(f"blends/{blend.id}"),
    )
    return Page(path, str(blend.name), "blend", f"BL-{number:02d}", body, blend.origin)


def _mix_sentence(blend: Blend) -> str:
    count = len(blend.parts) + len(blend.additives)
    parts = ngettext("One part", "{n} parts", count).format(n=count)
    look = {
        "speckle": _("{parts}; the flakes stay visible as speckle"),
        "melt": _("{parts}; it melts into one colour"),
    }
    return look[blend.mixes].format(parts=parts)


def _recipe(desk: Desk, blend: Blend) -> list[Mapping[str, object]]:
    flakes = [
        {
            "polymer": desk.shop.polymers[part.polymer],
            "colour": _colour_name(desk, part.polymer, part.colour),
            "share": part.share_percent,
            "origin": where(part.origin),
        }
        for part in blend.parts
    ]
    stirred_in = [
        {
            "polymer": None,
            "name": desk.shop.consumables[additive.consumable].name,
            "share": additive.share_percent,
            "origin": where(additive.origin),
        }
        for additive in blend.additives
    ]
    return [*flakes, *stirred_in]


def _colour_name(desk: Desk, polymer: str, colour: str | None) -> str:
    lot = desk.shop.polymers[polymer].colours.get(colour or "")
    return str(lot.name) if lot else ""
