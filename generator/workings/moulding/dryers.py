"""Whether a polymer that drinks water can be dried here: a dryer set for it, checked and signed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from generator.ground.units import show
from generator.ground.wording import N_, _
from generator.reference import reference
from generator.reference.records import Drying
from generator.shop.records.machines import Machine, Setting
from generator.shop.records.material import Polymer
from generator.shop.shop import Shop
from generator.workings.heat import refusal_of

CHECK_WORDS = {
    "earth-continuity": N_("earth continuity"),
    "over-temperature-cut-out": N_("over-temperature cut-out"),
    "emergency-stop": N_("emergency stop"),
    "interlocks": N_("interlocks"),
    "run-down-time": N_("run-down time"),
    "no-restart": N_("no restart after a power cut"),
    "guards": N_("guards"),
}


@dataclass(frozen=True, slots=True)
class Dryness:
    """Whether a polymer can be dried: ``dryer`` is the machine looked at, "" where there is none.

    ``says`` is why not, or what is not known; "" where it can.
    """

    standing: Literal["dries", "not known", "cannot"]
    dryer: str
    says: str = ""


def dryness(shop: Shop, polymer: Polymer) -> Dryness:
    """Whether the shop can dry a polymer, by its best dryer; never what must not be heated."""
    if reason := refusal_of(polymer):
        return Dryness("cannot", "", reason)
    seen = [_looked_at(m, polymer) for m in shop.machines.values() if m.process == "drying"]
    order = ("dries", "not known", "cannot")
    found = min(seen, key=lambda d: order.index(d.standing), default=None)
    return found or Dryness("cannot", "", _("The shop has no dryer."))


def _looked_at(machine: Machine, polymer: Polymer) -> Dryness:
    setting = next((s for s in machine.settings if s.polymer == polymer.id), None)
    if setting is None or setting.drying_at_c is None or setting.drying_for_h is None:
        says = _("{dryer} has no drying temperature and time for it.").format(dryer=machine.name)
        return Dryness("cannot", machine.id, says)
    if short := _too_weak(machine, setting, polymer):
        return Dryness("cannot", machine.id, short)
    return _checked(machine)


def _too_weak(machine: Machine, setting: Setting, polymer: Polymer) -> str:
    """Why a dryer's setting does not dry it: it is under every tabled way."""
    at, hours = setting.drying_at_c or 0.0, setting.drying_for_h or 0.0
    known = reference().find_polymer(polymer.code)
    ways = known.drying if known else ()
    if not ways or any(_dries(way, at, hours) for way in ways):
        return ""
    return _("{dryer} is set to {at} for {hours}, and it wants {ways}.").format(
        dryer=machine.name,
        at=show(at, "c"),
        hours=show(hours, "h"),
        ways=_(" or ").join(_way(way) for way in ways),
    )


_COOLER_K = 10.0
"""A cooler dryer takes longer, but this much under the table it does not dry at all."""


def _dries(way: Drying, at_c: float, hours: float) -> bool:
    return at_c >= way.temperature.low - _COOLER_K and hours >= way.time.low


def _way(way: Drying) -> str:
    return _("{at} for {hours}").format(
        at=_span(way.temperature.low, way.temperature.high, "c"),
        hours=_span(way.time.low, way.time.high, "h"),
    )


def _span(low: float, high: float, unit: str) -> str:
    if low == high:
        return show(high, unit)
    return _("{low} to {high}").format(low=f"{low:g}", high=show(high, unit))


def _checked(machine: Machine) -> Dryness:
    """A dryer counts as working when every check before its first heat is done."""
    if not machine.first_heat:
        says = _("Nobody has written down that {dryer} was checked.").format(dryer=machine.name)
        return Dryness("not known", machine.id, says)
    waiting = [_(CHECK_WORDS[c.check]) for c in machine.first_heat if c.done is None]
    if waiting:
        says = _("{dryer} may not be heated yet: {checks} not signed.").format(
            dryer=machine.name, checks=", ".join(waiting)
        )
        return Dryness("cannot", machine.id, says)
    return Dryness("dries", machine.id)
