"""What workings share in showing: inputs with the place they were read from, stations by number."""

from __future__ import annotations

from generator.ground.origin import Origin
from generator.ground.units import UNITS
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Source
from generator.reference.records import Value
from generator.shop.fields import Record, unit_of
from generator.shop.shop import Shop


def own(name: str, record: Record, field: str) -> Input:
    """A quantity the shop wrote, in the unit of its field.

    Raises ValueError for a field that holds no number.
    """
    value = getattr(record, field)
    if not isinstance(value, int | float):
        raise ValueError(f"{field} holds no number")
    unit = unit_of(field)
    symbol = UNITS[unit].symbol if unit else ""
    return Input(name, Quantity(float(value), symbol), record.origin_of(field))


def given(name: str, value: float, unit: str, origin: Origin | Source) -> Input:
    """A value with its unit as shown, and where it comes from."""
    return Input(name, Quantity(value, unit), origin)


def tabled(name: str, value: Value, figure: float | None = None) -> Input:
    """A figure of the reference tables; ``figure`` names one end of a range."""
    chosen = value.middle if figure is None else figure
    return Input(name, Quantity(chosen, value.unit), value.source_record)


def worked_out() -> Source:
    """Where a figure comes from that was worked out before: its own working shows how."""
    return Source(_("Worked out from the figures here"), "")


def at_station(shop: Shop, station: str) -> str:
    """A station as a sentence names it: ``station 12, Platen press``."""
    found = shop.stations[station]
    return _("station {number}, {name}").format(number=found.number, name=found.name)
