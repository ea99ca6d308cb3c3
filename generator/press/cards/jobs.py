"""Procedures on paper: a card for the work of every day, a sheet on the wall for a bad one."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings.atlas import Atlas
from generator.drawings.words import word
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.press.cards import blocks
from generator.press.cards.blocks import LEADING, Block, Card, Pictures, as_sheet
from generator.press.order import Order
from generator.press.sheet import Plain, Sheet
from generator.shop.records.people import Procedure, Step
from generator.shop.records.room import Equipment
from generator.shop.shop import Shop

PROCEDURE, BAD_DAY = "procedure", "bad-day"

_ON_THE_WALL = 4.2
"""Height of type [mm] of what is read standing before it."""


def procedures(order: Order) -> Iterator[Sheet]:
    """A card for each procedure but those of a bad day."""
    for number, procedure in enumerate(order.shop.procedures.values(), 1):
        if procedure.kind != BAD_DAY:
            yield as_sheet(order, _procedure(order, procedure, number))


def bad_days(order: Order) -> Iterator[Sheet]:
    """A sheet for each thing that can go wrong, with this shop's own red buttons and isolators."""
    found = (p for p in order.shop.procedures.values() if p.kind == BAD_DAY)
    for number, procedure in enumerate(found, 1):
        yield as_sheet(order, _bad_day(order, procedure, number))


def _procedure(order: Order, procedure: Procedure, number: int) -> Card:
    shop, pictures = order.shop, Pictures()
    refused = order.studies.refusals.procedure(procedure)
    return Card(
        id=f"procedure-{procedure.id}",
        kind=PROCEDURE,
        number=f"PC-{number:02d}",
        label=_("Procedure card"),
        title=str(procedure.name),
        says=_("Done when: {what}").format(what=procedure.done_when),
        blocks=[
            *(blocks.band(_("Refused: {why}").format(why=why)) for why in refused),
            _who(procedure),
            *_worn(shop, pictures, procedure),
            *_needed(shop, procedure),
            _steps(procedure),
        ],
        pictures=pictures,
        about=_about(procedure),
        hangs=_hangs(shop, procedure),
        badge=_badge(shop, procedure),
    )


def _bad_day(order: Order, procedure: Procedure, number: int) -> Card:
    shop, pictures = order.shop, Pictures()
    return Card(
        id=f"bad-day-{procedure.id}",
        kind=BAD_DAY,
        number=f"BD-{number:02d}",
        label=_("Bad day"),
        title=str(procedure.name),
        says=_("Call {number} if anybody is hurt or anything burns. You are at: {address}").format(
            number=shop.shop.emergency_number, address=shop.shop.address
        ),
        blocks=[
            _steps(procedure, reasons=False),
            blocks.facts((_("It is over when"), str(procedure.done_when))),
            *_worn(shop, pictures, procedure),
            *_cuts(order.atlas, shop, pictures, procedure),
        ],
        pictures=pictures,
        about=_about(procedure),
        hangs=_hangs(shop, procedure),
        badge=_badge(shop, procedure),
        size=_ON_THE_WALL,
    )


def _about(procedure: Procedure) -> tuple[str, ...]:
    station = (f"stations/{procedure.station}",) if procedure.station else ()
    return (f"procedures/{procedure.id}", *station)


def _badge(shop: Shop, procedure: Procedure) -> str:
    return str(shop.stations[procedure.station].number) if procedure.station else ""


def _hangs(shop: Shop, procedure: Procedure) -> str:
    if procedure.station is None:
        return _("by the ways out") if procedure.kind == BAD_DAY else _("at the bench, in the hand")
    station = shop.stations[procedure.station]
    return _("at station {number}, {name}").format(number=station.number, name=station.name)


def _who(procedure: Procedure) -> Block:
    people = ngettext("{n} person", "{n} people", procedure.people).format(n=procedure.people)
    age = show(procedure.least_age_years, "years") if procedure.least_age_years else ""
    lock = _("your own, with its tag") if procedure.lock_out else ""
    return blocks.facts(
        (_("Who"), word(procedure.level)),
        (_("From"), age),
        (_("How many"), people),
        (_("About"), show(procedure.takes_min, "min")),
        (_("Lock"), lock),
    )


def _worn(shop: Shop, pictures: Pictures, procedure: Procedure) -> Iterator[Block]:
    station = shop.stations[procedure.station] if procedure.station else None
    if codes := procedure.ppe or (station.ppe if station else ()):
        yield blocks.wear(pictures, _("Wear"), codes)


def _needed(shop: Shop, procedure: Procedure) -> Iterator[Block]:
    names = [
        *(str(shop.tools[id_].name) for id_ in procedure.tools),
        *(str(shop.consumables[id_].name) for id_ in procedure.consumables),
        *(str(shop.moulds[id_].name) for id_ in procedure.moulds),
    ]
    if names:
        yield blocks.facts((_("To hand"), ", ".join(names)))


def _steps(procedure: Procedure, *, reasons: bool = True) -> Block:
    """The breakdown; without reasons where it is read in a hurry."""
    heads = (_("Step"), _("Key point"), *((_("Reason"),) if reasons else ()))
    rows = (_row(n, step) for n, step in enumerate(procedure.steps, 1))
    return blocks.steps(_("Steps"), heads, rows)


def _row(number: int, step: Step) -> Block:
    held = step.hold
    says = _("Hold point: {until} Let go by: {who}.")
    hold = says.format(until=_stopped(str(held.until)), who=word(held.who)) if held else ""
    row: dict[str, Plain] = {
        "n": str(number), "do": str(step.do), "key": str(step.key_point),
        "why": str(step.reason), "hold": hold,
    }  # fmt: skip
    return row


def _stopped(words: str) -> str:
    return words if words.endswith((".", "!", "?")) else f"{words}."


# --- what cuts the power -----------------------------------------------------------------------


def _cuts(atlas: Atlas, shop: Shop, pictures: Pictures, procedure: Procedure) -> Iterator[Block]:
    """Red buttons and isolators of the machines it is about; where it names none, every button."""
    kinds = {"emergency-stop": _("Red buttons")}
    if procedure.machines:
        kinds["isolator"] = _("Isolators")
    for kind, title in kinds.items():
        found = [e for e in shop.equipment_of_kind(kind) if _is_of(procedure, e)]
        rows = [_cut(atlas, shop, pictures, e) for e in found]
        if rows:
            yield blocks.pictured(title, rows)
    yield blocks.band(_("This sheet cuts no power. Only what is named here does."))


def _is_of(procedure: Procedure, equipment: Equipment) -> bool:
    return not procedure.machines or bool({*procedure.machines} & {*equipment.isolates})


_SIGN = {"emergency-stop": "E020", "isolator": "M021"}


def _cut(
    atlas: Atlas, shop: Shop, pictures: Pictures, equipment: Equipment
) -> tuple[Plain, str, str]:
    """A button: its name, where it is on the plan, and which machines it stops."""
    machines = ", ".join(str(shop.machines[id_].name) for id_ in equipment.isolates)
    place = _("place {grid}, {height} up").format(
        grid=atlas.grid_place(equipment.at), height=show(equipment.height_mm, "mm", 0)
    )
    small = _("{place}. Stops: {machines}").format(place=place, machines=machines)
    return (
        pictures.sign(_SIGN[equipment.kind], LEADING),
        str(equipment.name),
        small if machines else place,
    )
