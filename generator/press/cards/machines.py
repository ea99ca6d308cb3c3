"""Machine cards: how hot for which polymer, how it is left dead, and what keeps it well."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings.words import word
from generator.ground.units import show
from generator.ground.wording import _
from generator.press.cards import blocks
from generator.press.cards.blocks import LEADING, Block, Card, Pictures, as_sheet
from generator.press.order import Order
from generator.press.sheet import Plain, Sheet
from generator.shop.records.machines import Machine
from generator.workings import commissioning
from generator.workings.settings import Row, settings_of

KIND = "machine"


def sheets(order: Order) -> Iterator[Sheet]:
    """A card for each machine, in file order."""
    for number, machine in enumerate(order.shop.machines.values(), 1):
        yield as_sheet(order, _card(order, machine, number))


def _card(order: Order, machine: Machine, number: int) -> Card:
    station, pictures = order.shop.stations[machine.station], Pictures()
    return Card(
        id=f"machine-{machine.id}",
        kind=KIND,
        number=f"MC-{number:02d}",
        label=_("Machine card"),
        title=str(machine.name),
        says="",
        blocks=[
            *_not_now(machine),
            _who(order, machine),
            *_settings(order, pictures, machine),
            *_dead(order, pictures, machine),
            *_upkeep(machine),
        ],
        pictures=pictures,
        about=(f"machines/{machine.id}", f"stations/{station.id}"),
        hangs=_("at station {number}, {name}").format(number=station.number, name=station.name),
        badge=str(station.number),
    )


def _not_now(machine: Machine) -> Iterator[Block]:
    if out := machine.out_of_use:
        yield blocks.band(_("Out of use: {because}").format(because=out.because))
    if commissioning.sheet_of(machine).is_open:
        yield blocks.band(_("Not signed for first use: nobody starts it."))


def _who(order: Order, machine: Machine) -> Block:
    use = machine.use or order.shop.stations[machine.station].use
    heat = machine.heat
    return blocks.facts(
        (_("Alone"), word(use.alone)),
        (_("With somebody authorised"), word(use.beside) if use.beside else ""),
        (_("From"), show(use.least_age_years, "years") if use.least_age_years else ""),
        (_("Hot after"), show(heat.heat_up_min + heat.soak_min, "min", 0) if heat else ""),
        (_("Cold after"), show(heat.cool_down_min, "min", 0) if heat else ""),
        (_("Runs on for"), show(machine.run_down_s, "s") if machine.run_down_s else ""),
    )


# --- settings ----------------------------------------------------------------------------------


def _settings(order: Order, pictures: Pictures, machine: Machine) -> Iterator[Block]:
    table = settings_of(order.shop, order.studies.refusals, machine)
    if not table:
        return
    heads = ["", _("Polymer"), *(column.title for column in table.columns)]
    rows = (_setting(row, pictures) for row in table.rows if not row.refused)
    yield blocks.table(_("Settings"), heads, rows, wide=len(heads) - 1)
    cleaned = [f"{row.polymer.code}: {row.clean_down}" for row in table.rows if row.clean_down]
    if cleaned:
        yield blocks.listed(_("Clean down"), cleaned)
    for row in table.rows:
        if row.refused:
            says = _("Never {polymer}: {why}")
            yield blocks.band(says.format(polymer=row.polymer.name, why=row.refused))


def _setting(row: Row, pictures: Pictures) -> list[Plain]:
    cells: list[Plain] = [blocks.lines(cell.text, cell.window) for cell in row.cells]
    return [blocks.shown(pictures.mark(row.polymer)), row.polymer.code, *cells]


# --- dead --------------------------------------------------------------------------------------


def _dead(order: Order, pictures: Pictures, machine: Machine) -> Iterator[Block]:
    cuts = order.shop.isolators_of(machine.id)
    if cuts:
        sign = {"isolator": "M021", "emergency-stop": "E020"}
        rows = [
            (
                pictures.sign(sign[e.kind], LEADING) if e.kind in sign else None,
                str(e.name),
                _("place {grid}, {height} up").format(
                    grid=order.atlas.grid_place(e.at), height=show(e.height_mm, "mm", 0)
                ),
            )
            for e in cuts
        ]
        yield blocks.pictured(_("Turn it off"), rows)
    if machine.lock_out:
        steps = map(str, machine.lock_out)
        yield blocks.listed(_("Lock it off before you open it"), steps, numbered=True)


# --- upkeep ------------------------------------------------------------------------------------


def _upkeep(machine: Machine) -> Iterator[Block]:
    if not machine.upkeep:
        return
    heads = (_("What"), _("Every"), _("Who"), _("Lock"))
    rows = (
        (str(u.what), str(u.every), word(u.who), _("yes") if u.lock_out else "")
        for u in machine.upkeep.values()
    )
    yield blocks.table(_("Upkeep"), heads, rows)
